"""The settings in force: the station file, read and checked, as plain values."""

from dataclasses import dataclass, field
from enum import StrEnum

from shared.gauges import Gauge
from station.core.air.numbers import BANK_TEMPERATURE_F, EMERGENCY_REGULATOR_PSI
from station.core.parameters import Parameters

DEFAULT_RULES = "USN"
"""The profile of rules where a station names none: a key of `station.core.air.reserve.RESERVES`."""

DEFAULT_TABLES = "usn_rev7"
"""The table set that comes with the program."""


class Units(StrEnum):
    """What the windows show; the core stays in fsw and psi."""

    US = "us"
    METRIC = "metric"


class Role(StrEnum):
    """What a diver of this station is there for."""

    DIVER = "diver"
    STANDBY = "standby"


@dataclass(frozen=True, slots=True)
class History:
    """What a diver brings along, in the words of `station.core.inputs.EnterHistory`; UTC is RFC 3339."""

    group: str
    surfaced_utc: str | None = None


@dataclass(frozen=True, slots=True)
class EmergencyGas:
    """The cylinder that a diver carries. `cylinder` is the trade's word for its size, rule G7.

    `regulator_psi` is what its first stage gives over the pressure of the depth.
    """

    cylinder: str
    pressure_psig: float
    regulator_psi: float = EMERGENCY_REGULATOR_PSI


@dataclass(frozen=True, slots=True)
class DiverSettings:
    """One diver's post: who fills it, in what dress, on which supply, for what dive.

    `equipment` names a class of `station.core.air.equipment`. `planned_depth_fsw` is the depth as it
    enters the table (corrected); `planned_bottom_min` whole minutes. None where there is no plan. `history`
    None: nobody has told what he brings along. `hose_ft` is the length of his pneumofathometer hose; None
    where his depth gauge stands at no hose, or the log is older than this rule.
    """

    name: str
    person: str
    role: Role
    equipment: str
    supply: str
    planned_depth_fsw: float | None = None
    planned_bottom_min: int | None = None
    tender: str = ""
    history: History | None = None
    hose_ft: float | None = None
    emergency_gas: EmergencyGas | None = None


class SupplyKind(StrEnum):
    """Where a supply has its air from; a compressor counts by its volume tank alone, rule G5."""

    BANK = "bank"
    COMPRESSOR = "compressor"


class SupplyRole(StrEnum):
    """What a supply is there for. A secondary, or a reserve, must bring everybody up, rule G5."""

    PRIMARY = "primary"
    SECONDARY = "secondary"
    RESERVE = "reserve"


@dataclass(frozen=True, slots=True)
class SupplySettings:
    """One source of air; `title` is what the panel's label says.

    `volume_cuft` is the floodable volume of all flasks, or of the volume tank; None: nobody has told, and no
    content is worked out.
    """

    name: str
    title: str
    kind: SupplyKind = SupplyKind.BANK
    role: SupplyRole = SupplyRole.PRIMARY
    volume_cuft: float | None = None
    temperature_f: float = BANK_TEMPERATURE_F


class HornSignal(StrEnum):
    """The signal of a serial line that a horn's relay hangs on."""

    RTS = "rts"
    DTR = "dtr"


@dataclass(frozen=True, slots=True)
class HornSettings:
    """A relay that switches a horn or a beacon, on one signal of a line of its own."""

    port: str
    signal: HornSignal = HornSignal.RTS


@dataclass(frozen=True, slots=True)
class Settings:
    """Everything that the station file settles.

    `tables` names the table set. `order_lead_s` is how long the team needs from the order to leaving the
    bottom. `chamber` and `oxygen` are what is on the station, `medical_officer` whom to call.
    `gauges_zeroed`: the depth gauges were zeroed at this altitude. `rules` is the profile of reserves.
    `copy_to` is the folder on a second medium that the log is copied to, "" for none. `horn` is a
    relay for one, None where there is none.
    """

    station: str
    job: str
    supervisor: str
    units: Units
    divers: tuple[DiverSettings, ...]
    supplies: tuple[SupplySettings, ...]
    gauges: tuple[Gauge, ...]
    parameters: Parameters = field(default_factory=Parameters)
    tables: str = DEFAULT_TABLES
    order_lead_s: int = 60
    altitude_ft: float = 0.0
    gauges_zeroed: bool = True
    chamber: bool = False
    oxygen: bool = False
    medical_officer: str = ""
    rules: str = DEFAULT_RULES
    copy_to: str = ""
    horn: HornSettings | None = None
