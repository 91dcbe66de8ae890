"""What one alarm of the catalogue is made of."""

from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from station.core.alarms.watched import Watch
from station.core.phase import Phase
from station.core.state import Priority

ALWAYS: Final = frozenset(Phase)


class About(StrEnum):
    """Whose alarm it is."""

    DIVER = "diver"
    SUPPLY = "supply"
    GAUGE = "gauge"
    STATION = "station"


class Figure(StrEnum):
    """What `measured` and `limit` of an entry are, so that the words can round them and name the unit."""

    PRESSURE = "psi"
    DEPTH = "fsw"
    RATE = "fsw/min"
    MINUTES = "min"
    SECONDS = "s"
    FREE_AIR = "scf"
    DAYS = "days"


@dataclass(frozen=True, slots=True)
class Entry:
    """One alarm. Raised when its watched quantity has stood beyond the limit for `dwell_s`.

    Returned when it has stood within by more than `dead_band` (in the quantity's unit) for `release_s`.
    Only in `phases` for a diver's alarm. `source` says where priority and limit come from.
    """

    id: str
    about: About
    priority: Priority
    watch: Watch
    figure: Figure
    dwell_s: float
    release_s: float
    dead_band: float
    phases: frozenset[Phase]
    sentence: str
    action: str
    causes: str
    source: str
