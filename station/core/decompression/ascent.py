"""The plan of one ascent: what has been done, what is still due, and the schedule behind it."""

from dataclasses import dataclass, replace

from shared.units import S_PER_MIN
from station.core.tables.table_set import TableSet

from .altitude import whole_stop_fsw
from .answers import Gas, Mode, NotCovered
from .course import ChamberPart, Course, course_legs, first_stop_course
from .legs import DueStop, Leg, Position
from .parameters import FIRST_OXYGEN_STOP_FSW
from .schedule import Schedule, TableEntry, enter
from .travel import planned_travel_s


@dataclass(frozen=True, slots=True)
class AscentPlan:
    """One ascent, from leaving the bottom at the stage depth (second 0).

    `ratio` is local over sea-level pressure (rule N4). `done` are the legs as dived, `due` the stops left,
    `start` where the rest starts, `chamber` the part after the water.
    """

    entry: TableEntry
    schedule: Schedule
    stage_fsw: float
    ratio: float
    done: tuple[Leg, ...]
    start: Position
    due: tuple[DueStop, ...]
    chamber: ChamberPart | None

    @property
    def legs(self) -> tuple[Leg, ...]:
        """The whole ascent: as dived, then as planned. Rule A8."""
        return self.done + course_legs(self.start, self.due, self.chamber)

    @property
    def ends_s(self) -> int:
        """When the diver is at the surface for good, in seconds from leaving the bottom."""
        legs = self.legs
        return legs[-1].end_s if legs else self.start.at_s

    @property
    def first_stop_travel_s(self) -> int:
        """Planned travel to the first stop, to the surface where there is none. Rule A1."""
        return planned_travel_s(self.stage_fsw, self.due[0].level_fsw if self.due else 0.0)

    def served(self) -> Course:
        """The course when the present stop has been served. Raises ValueError when no stop is due."""
        if not self.due:
            raise ValueError("no stop is due")
        return first_stop_course(self.start, self.due)


@dataclass(frozen=True, slots=True)
class Due:
    """What a schedule asks for from a depth on."""

    stops: tuple[DueStop, ...]
    chamber: ChamberPart | None


def ascent_plan(
    tables: TableSet, entry: TableEntry, stage_fsw: float, ratio: float = 1.0
) -> AscentPlan | NotCovered:
    """The ascent for a table entry from a stage depth (gauge, uncorrected), as it is planned.

    Rules A1, A2, A8, N4. Source: USN Diving Manual Rev 4 Change A, p. 14-3, 14-7 [P].
    """
    found = enter(tables, entry)
    if isinstance(found, NotCovered):
        return found
    due = what_is_due(found, stage_fsw, ratio)
    plan = AscentPlan(entry, found, stage_fsw, ratio, (), Position(0, stage_fsw), due.stops, due.chamber)
    return replace(plan, start=replace(plan.start, not_before_s=plan.first_stop_travel_s))


def what_is_due(found: Schedule, highest_fsw: float, ratio: float) -> Due:
    """The stops of a schedule, none taken deeper than the diver is, and its chamber part.

    Rules A1, A2, N4: stop levels scale with local pressure; chamber stops don't.
    """
    stops: list[DueStop] = []
    for place, stop in enumerate(found.stops):
        oxygen = found.mode is Mode.AIR_OXYGEN and stop.depth_fsw <= FIRST_OXYGEN_STOP_FSW
        first = place == 0 or (oxygen and stops[-1].gas is Gas.AIR)
        level_fsw = min(float(whole_stop_fsw(stop.depth_fsw, ratio)), highest_fsw)
        gas = Gas.OXYGEN if oxygen else Gas.AIR
        stops.append(DueStop(stop.depth_fsw, level_fsw, stop.minutes * S_PER_MIN, gas, not first))
    in_chamber = found.mode is Mode.CHAMBER and found.chamber_periods > 0
    return Due(tuple(stops), ChamberPart(found.chamber_periods) if in_chamber else None)
