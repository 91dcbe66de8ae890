"""What a record is made of: plain frozen values, and NumPy arrays for what was measured once a second.

Units. `..._fsw` is feet of sea water as a gauge shows it (a pressure), `..._psig` pounds per square inch
gauge, `..._psi` a difference of such pressures, `..._s` seconds. An `Instant` is whole nanoseconds of
station time since the log began; `Record.utc` labels it. Arrays of one profile have one length; what was
not heard at a second is NaN there, never 0. None is not known.
"""

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from shared.clock import Instant
from shared.gauges import Gauge
from station.core.depth import Depth
from station.core.phase import Phase
from station.core.settings import DiverSettings, Settings
from station.core.state import Gap, Priority
from station.core.timekeeping import Times
from station.log.fault import Finding
from station.log.header import Header
from station.plain import Plain

Floats: TypeAlias = NDArray[np.float64]

_UNIX_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)


@dataclass(frozen=True, slots=True, eq=False)
class Profile:
    """One diver over one dive, once a station second, as the log's own trace rounds it (to a hundredth).

    `at_s` is station time in seconds since the log began; `depth_fsw` the gauge depth, uncorrected;
    `supply_psig` what he breathes from, `required_psig` the minimum it must have, `margin_psi` what is over.
    """

    at_s: Floats
    depth_fsw: Floats
    supply_psig: Floats
    required_psig: Floats
    margin_psi: Floats


@dataclass(frozen=True, slots=True, eq=False)
class BankTrace:
    """One supply's store over the whole log, once a station second."""

    name: str
    title: str
    at_s: Floats
    pressure_psig: Floats


@dataclass(frozen=True, slots=True)
class Correction:
    """A later word on a mark: it happened at `to`, or not at all (None)."""

    at: Instant
    to: Instant | None
    by: str
    reason: str
    seq: int


@dataclass(frozen=True, slots=True)
class MarkMade:
    """A moment of a dive as it was first marked, and every later word on it.

    `at` is the instant that holds now, None when the mark was taken back. A mark that nobody made and that
    the depth trace holds has the number 0.
    """

    number: int
    seq: int
    kind: str
    at: Instant | None
    first_at: Instant
    pressed_at: Instant
    by: str
    stop_fsw: float | None
    corrections: tuple[Correction, ...]


@dataclass(frozen=True, slots=True)
class AlarmRun:
    """One alarm from its raise to its end; what never happened is None.

    `measured` and `limit` are the figures at the raise in the unit of the alarm's catalogue entry; `what`
    is its sentence in the station's units, `action` what it asked for.
    """

    seq: int
    id: str
    subject: str
    priority: Priority
    raised_at: Instant
    acknowledged_at: Instant | None
    acknowledged_by: str
    returned_at: Instant | None
    measured: float | None
    limit: float | None
    what: str
    action: str


@dataclass(frozen=True, slots=True)
class Entry:
    """Something that somebody did at a window, or that the station found out about itself.

    `kind` is the stored name of the act or fact, `details` its own values under their stored names;
    `diver` is "" and `dive` 0 where it is about the station. `refused` says why it was not taken.
    """

    seq: int
    at: Instant
    by: str
    kind: str
    diver: str
    dive: int
    details: dict[str, Plain]
    refused: str = ""


@dataclass(frozen=True, slots=True)
class PlanStep:
    """A change of the plan of an ascent, as the log holds it: which rule, what it said, the rows."""

    seq: int
    at: Instant
    rule: str
    sentence: str
    details: dict[str, Plain]


@dataclass(frozen=True, slots=True)
class LegLine:
    """One leg of an ascent, planned or done: seconds from leaving the bottom."""

    from_fsw: float
    to_fsw: float
    start_s: int
    end_s: int
    gas: str
    what: str
    reason: str


@dataclass(frozen=True, slots=True)
class ScheduleRow:
    """The row that a dive came up by: table, edition, stops as (fsw, minutes), legs planned and as done.

    `edition` names the tables that this record was worked out with; the log's own stands in its header.
    """

    table: str
    edition: str
    depth_fsw: int
    time_min: int | None
    residual_min: int
    stops: tuple[tuple[int, int], ...]
    total_ascent_s: int
    group: str | None
    category: str
    exceptional: bool
    planned: tuple[LegLine, ...] = ()
    done: tuple[LegLine, ...] = ()


@dataclass(frozen=True, slots=True)
class Told:
    """A particular that somebody wrote down: what, when, by whom; the last holds, earlier ones stay."""

    key: str
    value: str
    at: Instant | None
    by: str
    seq: int | None


@dataclass(frozen=True, slots=True, eq=False)
class Dive:
    """One dive of one diver.

    `post` is the diver as the station file describes him, `phase`, `times` and `depth` as they stood at the
    end of the dive (of the log, where it is unfinished). `least_margin` is the least air margin in psi under
    water with its instant. `no_schedule` says why there is no `schedule`.
    `particulars` are those of the diver; those of the station stand in the record.
    """

    diver: str
    number: int
    post: DiverSettings
    phase: Phase
    times: Times
    depth: Depth
    deepest_gauge_fsw: float | None
    planned_depth_fsw: float | None
    planned_bottom_min: int | None
    marks: tuple[MarkMade, ...]
    profile: Profile
    least_margin: tuple[float, Instant] | None
    alarms: tuple[AlarmRun, ...]
    entries: tuple[Entry, ...]
    plan_steps: tuple[PlanStep, ...]
    schedule: ScheduleRow | None
    no_schedule: str
    gaps: tuple[Gap, ...]
    particulars: tuple[Told, ...]


@dataclass(frozen=True, slots=True)
class Integrity:
    """What the log says of itself. `head` is the head of its chain in hexadecimal, as stored."""

    head: str
    closed: bool
    batches: int
    arrivals: int
    findings: tuple[Finding, ...]

    @property
    def sound(self) -> bool:
        """Whether everything holds."""
        return not self.findings


@dataclass(frozen=True, slots=True, eq=False)
class Record:
    """One log, read as a whole: a station day with the dives that were made.

    `ends` is the last instant of the log. `entries` and `alarms` are those of no dive: the station's, and
    those of a diver who made none. `particulars` are the station's.
    """

    path: Path
    header: Header
    settings: Settings
    ends: Instant
    dives: tuple[Dive, ...]
    banks: tuple[BankTrace, ...]
    gauges: tuple[Gauge, ...]
    gauge_faults: dict[str, int]
    alarms: tuple[AlarmRun, ...]
    entries: tuple[Entry, ...]
    gaps: tuple[Gap, ...]
    particulars: tuple[Told, ...]
    integrity: Integrity

    def utc(self, at: Instant) -> datetime:
        """The UTC label of an instant, to the microsecond."""
        return _UNIX_EPOCH + timedelta(microseconds=(self.header.utc_epoch_ns + at) // 1000)

    def of(self, diver: str) -> tuple[Dive, ...]:
        """The dives of one diver's post, in their order."""
        return tuple(dive for dive in self.dives if dive.diver == diver)
