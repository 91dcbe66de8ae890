"""One set of printed tables as plain values: what the parser makes of a folder of files."""

from dataclasses import dataclass
from enum import StrEnum


class Category(StrEnum):
    """Class of a schedule. Names of our own for the printed classes; derivation in `rederive` [C]."""

    NORMAL = "normal"
    OXYGEN_OR_CHAMBER = "oxygen_or_chamber_recommended"
    EXCEPTIONAL_ON_AIR = "exceptional_on_air"
    EXCEPTIONAL_IN_WATER = "exceptional_in_water"
    EXCEPTIONAL_ANY_MODE = "exceptional_any_mode"
    EXCEPTIONAL_200 = "exceptional_200_and_deeper"


class ResidualMark(StrEnum):
    """Words that stand in the place of a residual nitrogen time."""

    UNDEFINED = "undefined"
    USE_30_FSW = "use_30fsw"


@dataclass(frozen=True, slots=True)
class Stop:
    """A stop as printed."""

    depth_fsw: int
    minutes: int


@dataclass(frozen=True, slots=True)
class Profile:
    """One printed line of a schedule: stops deepest first, total ascent in seconds."""

    stops: tuple[Stop, ...]
    total_ascent_s: int

    def minutes_at(self, depth_fsw: int) -> int:
        """Minutes of the stop at `depth_fsw`, 0 where there is none."""
        return sum(stop.minutes for stop in self.stops if stop.depth_fsw == depth_fsw)


@dataclass(frozen=True, slots=True)
class ScheduleRow:
    """One schedule of Table 9-9: what is common to both lines, then the line on air and the one on oxygen.

    `group` is None where the table gives none; `first_stop_s` is the printed travel to the first stop.
    """

    depth_fsw: int
    time_min: int
    first_stop_s: int
    chamber_periods: float
    group: str | None
    category: Category
    air: Profile
    oxygen: Profile


@dataclass(frozen=True, slots=True)
class DepthBlock:
    """All schedules of one depth, shortest first."""

    depth_fsw: int
    rows: tuple[ScheduleRow, ...]


@dataclass(frozen=True, slots=True)
class GroupTime:
    """Longest bottom time that ends in `group`; None: that group whatever the time."""

    group: str
    longest_min: int | None


@dataclass(frozen=True, slots=True)
class NoStopRow:
    """No-stop limit of one depth (None: unlimited) and the groups that its times end in."""

    depth_fsw: int
    limit_min: int | None
    groups: tuple[GroupTime, ...]


@dataclass(frozen=True, slots=True)
class CreditSpan:
    """Surface interval, in whole minutes, that takes one group to another (None: no longer repetitive)."""

    from_group: str
    to_group: str | None
    first_min: int
    last_min: int | None


@dataclass(frozen=True, slots=True)
class ResidualRow:
    """Residual nitrogen time at one depth by group, in the order of the table's groups."""

    depth_fsw: int
    cells: tuple[int | ResidualMark, ...]


@dataclass(frozen=True, slots=True)
class AltitudeGroup:
    """Group in which a diver stands on arriving at an altitude."""

    altitude_ft: int
    group: str


@dataclass(frozen=True, slots=True)
class AltitudeWait:
    """Minutes to wait before each increase in altitude (in the order of `wait_increases_ft`)."""

    group: str
    minutes: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class EquivalentAirDepth:
    """Equivalent air depth of one mix at one depth; None past the limits of the table."""

    depth_fsw: int
    oxygen_percent: int
    ead_fsw: int | None
    longest_exposure_min: int | None
    status: str


@dataclass(frozen=True, slots=True)
class Note:
    """A doubt about one cell, kept visible wherever its row is shown. `*` stands for every row or column."""

    id: str
    file: str
    row: str
    column: str
    sentence: str


@dataclass(frozen=True, slots=True)
class KnownDifference:
    """A cell that breaks a rule or differs from the model, and by how it stands in print."""

    check: str
    row: str
    printed: str
    derived: str


@dataclass(frozen=True, slots=True)
class TableSet:
    """A whole set. `groups` ascend; `printed` maps a file to the name of its table in print."""

    id: str
    title: str
    document: str
    dated: str
    rights: str
    read: str
    printed: tuple[tuple[str, str], ...]
    groups: tuple[str, ...]
    no_stop: tuple[NoStopRow, ...]
    shallow_no_stop: tuple[NoStopRow, ...]
    credit: tuple[CreditSpan, ...]
    residual: tuple[ResidualRow, ...]
    shallow_residual: tuple[ResidualRow, ...]
    blocks: tuple[DepthBlock, ...]
    altitude_groups: tuple[AltitudeGroup, ...]
    wait_increases_ft: tuple[int, ...]
    altitude_waits: tuple[AltitudeWait, ...]
    equivalent_air_depths: tuple[EquivalentAirDepth, ...]
    notes: tuple[Note, ...]
    known_differences: tuple[KnownDifference, ...]

    @property
    def depths(self) -> tuple[int, ...]:
        """Every depth that a dive can be entered at, ascending."""
        no_stop = {row.depth_fsw for row in self.no_stop}
        return tuple(sorted(no_stop | {block.depth_fsw for block in self.blocks}))

    @property
    def shallow_depths(self) -> tuple[int, ...]:
        """Depths of the no-stop table by single feet, ascending."""
        return tuple(row.depth_fsw for row in self.shallow_no_stop)

    def name_of(self, file: str) -> str:
        """What a file is called in print, with the title of the set: `USN Rev 7 9-9`."""
        return f"{self.title} {dict(self.printed)[file]}"
