"""What a gauge is, as the station file describes it: where it speaks, how, and when it was proved."""

from dataclasses import dataclass
from enum import StrEnum


class Channel(StrEnum):
    """What a gauge measures. The unit inside the program stands beside each."""

    DEPTH = "depth"  # fsw, at the diver, before the pneumofathometer correction
    SUPPLY = "supply"  # psig, at the diver's manifold
    BANK = "bank"  # psig, in the flasks or the volume tank of a supply


UNIT_OF: dict[Channel, str] = {Channel.DEPTH: "fsw", Channel.SUPPLY: "psig", Channel.BANK: "psig"}
"""The unit of each channel inside the program."""


class GaugeRole(StrEnum):
    """What a gauge is there for, where two measure the same thing."""

    MAIN = "main"
    CHECK = "check"  # a second depth gauge, held against the first: 46 CFR 197.458


class XdrUnit(StrEnum):
    """Pressure units that an XDR sentence may carry. NMEA 0183 XDR update, 2019."""

    BAR = "bar"
    PASCAL = "pascal"


class WireUnit(StrEnum):
    """Units that a number on the wire may be in, where the format leaves it to the station file."""

    BAR = "bar"
    PASCAL = "pascal"
    KILOPASCAL = "kPa"
    MEGAPASCAL = "MPa"
    PSI = "psi"
    FSW = "fsw"
    MSW = "msw"


DEPTH_UNITS: frozenset[WireUnit] = frozenset({WireUnit.FSW, WireUnit.MSW})
"""Units that only a depth gauge shows."""


@dataclass(frozen=True, slots=True)
class Loop:
    """A 4-20 mA current behind the number on the wire: the value at 4 mA and at 20 mA, in the wire's unit."""

    at_4_ma: float
    at_20_ma: float


class Meaning(StrEnum):
    """What a gauge's own status word says of the value beside it."""

    GOOD = "good"
    NO_VALUE = "no_value"
    OUT_OF_RANGE = "out_of_range"
    FAULT = "fault"


@dataclass(frozen=True, slots=True)
class Status:
    """One status word of a gauge and its meaning; a word that is not in the station file is a fault."""

    word: str
    meaning: Meaning


@dataclass(frozen=True, slots=True)
class NmeaXdr:
    """Format: NMEA 0183 `XDR` sentences; the transducer's name picks the group."""

    transducer: str
    unit: XdrUnit


@dataclass(frozen=True, slots=True)
class NmeaGeneric:
    """Format: NMEA 0183 `XDR` group of type `G`, generic: its unit is what the station file says.

    `letter` is what the group's unit field must hold; empty where the gauge leaves it empty.
    """

    transducer: str
    unit: WireUnit
    letter: str = ""
    loop: Loop | None = None


@dataclass(frozen=True, slots=True)
class NmeaProprietary:
    """Format: one field of a proprietary NMEA 0183 sentence, `$P` and the maker's own letters.

    Fields count from 1 behind the address. A `name_field`, `unit_field` or `status_field` of 0 means that
    there is none; `name` and `unit_text` are what the first two must hold.
    """

    address: str
    field: int
    unit: WireUnit
    name_field: int = 0
    name: str = ""
    unit_field: int = 0
    unit_text: str = ""
    status_field: int = 0
    statuses: tuple[Status, ...] = ()
    loop: Loop | None = None


@dataclass(frozen=True, slots=True)
class NmeaDepth:
    """Format: NMEA 0183 `DPT`, metres of water under a transducer; a diver's only where somebody says so."""

    talker: str


class LineEnding(StrEnum):
    """What ends a line of text."""

    CR = "cr"
    LF = "lf"
    CRLF = "crlf"
    NONE = "none"  # only for a poll


@dataclass(frozen=True, slots=True)
class AsciiText:
    """Format: a line of ASCII text that `pattern` picks apart: `value`, maybe `unit` and `status`.

    With a `poll` the gauge speaks when asked; `echo` says that it repeats the poll first. `decimals` is the
    place of a decimal point that the gauge does not send. The number in `unit` (in mA with a `loop`) is
    scale * sent + offset. `unit_text` is what the group `unit` must hold. See `shared.wire.pattern`.
    """

    pattern: str
    unit: WireUnit
    ending: LineEnding = LineEnding.CRLF
    poll: str = ""
    poll_ending: LineEnding = LineEnding.CR
    echo: bool = False
    unit_text: str = ""
    decimals: int = 0
    scale: float = 1.0
    offset: float = 0.0
    statuses: tuple[Status, ...] = ()
    loop: Loop | None = None


class RegisterTable(StrEnum):
    """Which registers a Modbus read asks for."""

    HOLDING = "holding"  # function 03
    INPUT = "input"  # function 04


class NumberKind(StrEnum):
    """How one or two Modbus registers make a number."""

    INT16 = "int16"
    UINT16 = "uint16"
    INT32 = "int32"
    UINT32 = "uint32"
    FLOAT32 = "float32"


class ByteOrder(StrEnum):
    """In which order the four bytes of a number come, `A` being the most significant."""

    ABCD = "abcd"
    CDAB = "cdab"
    BADC = "badc"
    DCBA = "dcba"


@dataclass(frozen=True, slots=True)
class ModbusRegister:
    """Format: registers of a Modbus RTU device, read by functions 03 and 04; `register` counts from 0.

    The number in `unit` (in mA with a `loop`) is scale * sent + offset. Makers differ in `order`: the day on
    which it was proved against the gauge's own display is `order_confirmed_on`, an ISO date. A number of 16
    bits has one order, the standard's.
    """

    device: int
    table: RegisterTable
    register: int
    number: NumberKind
    unit: WireUnit
    order: ByteOrder = ByteOrder.ABCD
    order_confirmed_on: str = ""
    scale: float = 1.0
    offset: float = 0.0
    loop: Loop | None = None


Format = NmeaXdr | NmeaGeneric | NmeaProprietary | NmeaDepth | AsciiText | ModbusRegister
"""The closed set of wire formats; each is a dataclass of its own."""


def is_polled(wire: Format) -> bool:
    """Whether a gauge of this format speaks only when it is asked."""
    return isinstance(wire, ModbusRegister) or (isinstance(wire, AsciiText) and wire.poll != "")


@dataclass(frozen=True, slots=True)
class Calibration:
    """Correction proved against a master gauge: true = (shown - zero) * span, in the channel's unit.

    `on` and `due` are ISO dates; 29 CFR 1910.430(g)(2) asks for six months at most between two.
    """

    zero: float = 0.0
    span: float = 1.0
    on: str | None = None
    due: str | None = None
    by: str = ""
    certificate: str = ""


@dataclass(frozen=True, slots=True)
class Gauge:
    """One instrument on one line.

    `subject` is the diver's name for depth and supply, the supply's name for a bank.
    `port` is the address as the station file writes it; it names the line everywhere.
    `low` and `high` bound what the instrument can show, in the channel's unit: outside is a fault.
    `every_s` is its nominal period: a reading older than three of them is stale.
    """

    name: str
    channel: Channel
    subject: str
    port: str
    format: Format
    low: float
    high: float
    every_s: float = 1.0
    calibration: Calibration = Calibration()
    role: GaugeRole = GaugeRole.MAIN


def ports_of(gauges: tuple[Gauge, ...]) -> tuple[str, ...]:
    """The lines that the gauges speak on, each once, in the order of the station file."""
    return tuple(dict.fromkeys(gauge.port for gauge in gauges))
