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


class XdrUnit(StrEnum):
    """Pressure units that an XDR sentence may carry. NMEA 0183 XDR update, 2019."""

    BAR = "bar"
    PASCAL = "pascal"


@dataclass(frozen=True, slots=True)
class NmeaXdr:
    """Format: NMEA 0183 `XDR` sentences; the transducer's name picks the group."""

    transducer: str
    unit: XdrUnit


Format = NmeaXdr
"""The closed set of wire formats; each is a dataclass of its own."""


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


def ports_of(gauges: tuple[Gauge, ...]) -> tuple[str, ...]:
    """The lines that the gauges speak on, each once, in the order of the station file."""
    return tuple(dict.fromkeys(gauge.port for gauge in gauges))
