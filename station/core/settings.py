"""The settings in force: the station file, read and checked, as plain values."""

from dataclasses import dataclass, field
from enum import StrEnum

from shared.gauges import Gauge
from station.core.parameters import Parameters


class Units(StrEnum):
    """What the windows show; the core stays in fsw and psi."""

    US = "us"
    METRIC = "metric"


class Role(StrEnum):
    """What a diver of this station is there for."""

    DIVER = "diver"
    STANDBY = "standby"


@dataclass(frozen=True, slots=True)
class DiverSettings:
    """One diver's post: who fills it, in what dress, on which supply, for what dive.

    `equipment` names a class of `station.core.air.equipment`. `planned_depth_fsw` is the depth as it
    enters the table (corrected); `planned_bottom_min` whole minutes. None where there is no plan.
    """

    name: str
    person: str
    role: Role
    equipment: str
    supply: str
    planned_depth_fsw: float | None = None
    planned_bottom_min: int | None = None
    tender: str = ""


@dataclass(frozen=True, slots=True)
class SupplySettings:
    """One source of air: "primary", "secondary", "reserve"; `title` is what the panel's label says."""

    name: str
    title: str


@dataclass(frozen=True, slots=True)
class Settings:
    """Everything that the station file settles."""

    station: str
    job: str
    supervisor: str
    units: Units
    divers: tuple[DiverSettings, ...]
    supplies: tuple[SupplySettings, ...]
    gauges: tuple[Gauge, ...]
    parameters: Parameters = field(default_factory=Parameters)
