"""A dive planned ahead: everything the tables say of it, and what the next row and depth would cost."""

from dataclasses import dataclass, replace

from station.core.tables.table_set import TableSet

from .altitude import altitude_counts, equivalent_depth_fsw, pressure_ratio, unzeroed_gauge_fsw
from .answers import MANUAL, Mode, NotCovered
from .ascent import AscentPlan, ascent_plan
from .correction import BeyondCorrectionError, maximum_depth_fsw, whole_gauge_fsw
from .gas_model.opinion import Opinion, second_opinion
from .repetitive import Standing, after_interval
from .rule import Rule
from .rules import RULES
from .schedule import NextDepth, NextRow, Schedule, TableEntry, enter, next_deeper, next_longer


@dataclass(frozen=True, slots=True)
class PlanAsked:
    """What is asked: depth as read on the gauge (or `corrected` already), bottom time, mode.

    `group` is the group in which the diver surfaced `interval_s` ago; without an interval it is his group at
    the dive. None is a diver who is not repetitive. `zeroed`: the gauge was zeroed where it is.
    """

    depth_fsw: float
    bottom_s: int
    mode: Mode = Mode.AIR
    corrected: bool = False
    group: str | None = None
    interval_s: int | None = None
    altitude_ft: float = 0.0
    cold: bool = False
    shallow: bool = False
    zeroed: bool = True


@dataclass(frozen=True, slots=True)
class PlanDepth:
    """From the reading to what enters the table; None where a step was not taken. `ratio` is rule N4."""

    gauge_fsw: float | None
    correction_fsw: float | None
    max_fsw: float
    equivalent_fsw: float | None
    ratio: float

    @property
    def entered_fsw(self) -> float:
        """The depth that enters the table."""
        return self.max_fsw if self.equivalent_fsw is None else self.equivalent_fsw

    @property
    def stage_fsw(self) -> float:
        """The stage depth that travel is planned from: the reading where there is one. Rule D3."""
        return self.max_fsw if self.gauge_fsw is None else self.gauge_fsw


@dataclass(frozen=True, slots=True)
class Plan:
    """A planned dive. Without a schedule `answer` says why, and all that follows from one is None."""

    asked: PlanAsked
    depth: PlanDepth | None
    group_at_dive: str | None
    answer: Schedule | NotCovered
    ascent: AscentPlan | None
    opinion: Opinion | None
    next_deeper: NextDepth | None
    next_longer: NextRow | None
    rules: tuple[Rule, ...]


def plan_dive(tables: TableSet, asked: PlanAsked) -> Plan:
    """The whole plan of a dive. Rules D2 to D4, D8, S1 to S9, A1, A8, N1, N2, N4."""
    depth = plan_depth(asked)
    if isinstance(depth, NotCovered):
        return _unanswered(asked, None, depth)
    group = group_at_dive(tables, asked)
    if isinstance(group, NotCovered):
        return _unanswered(asked, depth, group)
    entry = TableEntry(
        depth.entered_fsw, asked.bottom_s, asked.mode, group, longer=asked.cold, shallow=asked.shallow
    )
    answer = enter(tables, entry)
    if isinstance(answer, NotCovered):
        return replace(_unanswered(asked, depth, answer), group_at_dive=group)
    ascent = ascent_plan(tables, entry, depth.stage_fsw, depth.ratio)
    return Plan(
        asked,
        depth,
        group,
        answer,
        ascent if isinstance(ascent, AscentPlan) else None,
        None if depth.equivalent_fsw is not None else opinion_on(answer),
        next_deeper(tables, entry),
        next_longer(tables, entry),
        tuple(RULES[id_] for id_ in _rules_used(asked, answer)),
    )


def plan_depth(asked: PlanAsked) -> PlanDepth | NotCovered:
    """Reading, correction, maximum depth and its equivalent at altitude, in that order. Rules D8, D2, N4."""
    gauge_fsw = correction_fsw = None
    max_fsw = asked.depth_fsw
    if not asked.corrected:
        gauge_fsw = (
            asked.depth_fsw if asked.zeroed else unzeroed_gauge_fsw(asked.depth_fsw, asked.altitude_ft)
        )
        try:
            max_fsw = maximum_depth_fsw(gauge_fsw)
        except BeyondCorrectionError as beyond:
            return NotCovered(RULES["D2"], str(beyond), MANUAL)
        correction_fsw = max_fsw - whole_gauge_fsw(gauge_fsw)
    if not altitude_counts(asked.altitude_ft, max_fsw):
        return PlanDepth(gauge_fsw, correction_fsw, max_fsw, None, 1.0)
    ratio = pressure_ratio(asked.altitude_ft)
    if isinstance(ratio, NotCovered):
        return ratio
    return PlanDepth(gauge_fsw, correction_fsw, max_fsw, equivalent_depth_fsw(max_fsw, ratio), ratio)


def group_at_dive(tables: TableSet, asked: PlanAsked) -> str | NotCovered | None:
    """Repetitive group when the diver leaves the surface; None when he is not repetitive. Rules N1 and N2."""
    if asked.interval_s is None:
        return asked.group
    after = after_interval(tables, asked.group, asked.interval_s)
    if isinstance(after, NotCovered):
        return after
    if after.standing is Standing.ONE_DIVE:
        return NotCovered(
            RULES["N1"],
            "Under 10 minutes at the surface this is one dive with the last: enter both bottom times added, "
            "at the deeper depth, with the group before the first.",
            MANUAL,
        )
    return after.group


def opinion_on(answer: Schedule) -> Opinion | None:
    """The gas model beside the printed row; None where the table has no limit to compare."""
    if answer.time_min is None:
        return None
    oxygen = answer.mode is Mode.AIR_OXYGEN
    profile = None if answer.row is None else (answer.row.oxygen if oxygen else answer.row.air)
    stops = profile.stops if profile else ()
    printed = tuple((stop.depth_fsw, stop.minutes) for stop in stops)
    return second_opinion(answer.depth_fsw, answer.time_min, printed, oxygen=oxygen)


def _unanswered(asked: PlanAsked, depth: PlanDepth | None, answer: NotCovered) -> Plan:
    return Plan(asked, depth, None, answer, None, None, None, None, (answer.rule,))


def _rules_used(asked: PlanAsked, answer: Schedule) -> tuple[str, ...]:
    used = ["T2", "S1", "S2", "S4", "S6", "S8", "A1", "A2", "A8"]
    if not asked.corrected:
        used[:0] = ["D2", "D3"] if asked.zeroed else ["D8", "D2", "D3"]
    used.insert(0, "D4")
    optional = {
        "S7": asked.cold,
        "S9": asked.shallow or answer.time_min is None,
        "N1": asked.interval_s is not None,
        "N2": asked.group is not None,
        "N4": asked.altitude_ft > 0,
        "X1": answer.mode is Mode.AIR_OXYGEN and bool(answer.stops),
        "X4": answer.mode is Mode.CHAMBER and answer.chamber_periods > 0,
        "X5": answer.mode is Mode.CHAMBER and answer.chamber_periods > 0,
    }
    return (*used, *(id_ for id_, applies in optional.items() if applies))
