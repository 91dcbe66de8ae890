"""Being late: what a delay adds, by where it was and for how long."""

from dataclasses import replace

from shared.units import S_PER_MIN
from station.core.tables.table_set import TableSet

from .answers import MEDICAL_OFFICER, Gas, NotCovered
from .ascent import AscentPlan, Due, what_is_due
from .change import PlanChange
from .course import Course
from .durations import clock_words, minutes_down, minutes_up
from .legs import DueStop, Leg, Position, What
from .parameters import (
    AIR_BREAK_S,
    DEEP_DELAY_FSW,
    DELAY_IGNORED_S,
    OXYGEN_PERIOD_S,
    SURFACE_INTERVAL_FROM_FSW,
)
from .rules import RULES
from .schedule import Schedule, TableEntry, enter
from .travel import first_stop_clock_s, later_stop_clock_s, planned_travel_s, travel_s

_ON_AIR = "on air, counts for nothing"


def deep_delay_s(stage_fsw: float, passed_50_s: int) -> int:
    """Delay lost deeper than 50 fsw, from the second at which the diver passed it. Rule A4."""
    return max(0, passed_50_s - planned_travel_s(stage_fsw, min(stage_fsw, DEEP_DELAY_FSW)))


def late_at_first_stop(
    tables: TableSet,
    plan: AscentPlan,
    arrived_s: int,
    *,
    deep_s: int = 0,
    present_fsw: float | None = None,
    on_oxygen_s: int | None = None,
) -> PlanChange:
    """Arrival at the first stop, `arrived_s` after leaving the bottom, in time or late.

    Rule A4. `deep_s` of the delay was deeper than 50 fsw. `present_fsw` is where the diver is when there is
    no stop in the water: by itself the surface, 40 fsw on the way to a chamber. `on_oxygen_s` is when oxygen
    was confirmed. A diver who is already up when stops become due has omitted them: rule O1.
    Source: USN Diving Manual Rev 4 Change A, p. 14-7, 14-8 [P]; 50-fsw split [S]; no stop in the water [own].
    """
    present = _where(plan, present_fsw)
    planned_s = planned_travel_s(plan.stage_fsw, present)
    late_s = arrived_s - planned_s
    way = Leg(plan.stage_fsw, present, 0, arrived_s, Gas.AIR, What.TRAVEL, _late_words(late_s))
    clock_s = first_stop_clock_s(arrived_s, planned_s, on_oxygen_s) if plan.due else None
    here = replace(plan, done=(way,) if arrived_s else (), start=Position(arrived_s, present, clock_s))
    if late_s <= DELAY_IGNORED_S:
        return PlanChange(RULES["A4"], _ignored(late_s), 0, changed=False, old=plan, new=here)
    late_min = minutes_up(late_s)
    deep_min = late_min if not plan.due else min(late_min, minutes_up(max(0, deep_s)))
    again = _enter_again(tables, here, deep_min, present)
    if isinstance(again, NotCovered):
        return PlanChange(RULES["A4"], again.sentence, late_min, changed=True, old=plan, new=again)
    rest_min = late_min - deep_min
    first = tuple(replace(stop, due_s=stop.due_s + rest_min * S_PER_MIN) for stop in again.due[:1])
    new = replace(again, due=first + again.due[1:])
    said = f"{clock_words(late_s)} late: {deep_min} min to bottom time, {rest_min} min to the first stop"
    if new.due and present <= 0:
        omitted = NotCovered(RULES["O1"], f"{said}: at the surface with stops due", MEDICAL_OFFICER)
        return PlanChange(RULES["A4"], said, late_min, changed=True, old=plan, new=omitted)
    return PlanChange(RULES["A4"], said, late_min, changed=True, old=plan, new=new)


def _where(plan: AscentPlan, present_fsw: float | None) -> float:
    """Level at which an ascent to the first stop is judged. Rule A4."""
    if plan.due:
        return plan.due[0].level_fsw
    if present_fsw is not None:
        return present_fsw
    return min(plan.stage_fsw, SURFACE_INTERVAL_FROM_FSW) if plan.chamber else 0.0


def late_leaving_stop(
    tables: TableSet, plan: AscentPlan, left_s: int, *, still_there: bool = False
) -> PlanChange:
    """Leaving the present stop at `left_s`, in time or late; `still_there` asks before he has left.

    Rule A5: at 50 fsw or deeper past 1:00 the delay goes to bottom time; the minutes served count, the delay
    does not. Shallower on air nothing changes, and no overstay is credited to the next stop.
    Source: USN Diving Manual Rev 4 Change A, p. 14-8 [P, mixed-gas twin]; Rev 6, 7 [M]; exactly 50 fsw [own].
    """
    served = plan.served()
    late_s = left_s - served.at_s
    stop = plan.due[0]
    here = _left(plan, served, left_s)
    if late_s <= DELAY_IGNORED_S or stop.gas is Gas.OXYGEN or stop.depth_fsw < DEEP_DELAY_FSW:
        said = _ignored(late_s) if late_s <= DELAY_IGNORED_S else f"{clock_words(late_s)} late: no change"
        new = _standing(plan, here, left_s, 0) if still_there else here
        return PlanChange(RULES["A5"], said, 0, changed=False, old=plan, new=new)
    late_min = minutes_up(late_s)
    again = _enter_again(tables, here, late_min, here.start.depth_fsw)
    if isinstance(again, NotCovered):
        return PlanChange(RULES["A5"], again.sentence, late_min, changed=True, old=plan, new=again)
    present = next((due for due in again.due if due.depth_fsw == stop.depth_fsw), None)
    later = tuple(due for due in again.due if due.depth_fsw < stop.depth_fsw)
    new = replace(again, due=_after(later))
    if still_there and present is not None:
        new = _standing(plan, new, left_s, max(0, present.due_s - stop.due_s))
    said = f"{clock_words(late_s)} late at {stop.depth_fsw} fsw: {late_min} min to bottom time"
    return PlanChange(RULES["A5"], said, late_min, changed=True, old=plan, new=new)


def late_between_stops(
    tables: TableSet,
    plan: AscentPlan,
    arrived_s: int,
    *,
    delay_fsw: float | None = None,
    on_oxygen_s: int | None = None,
) -> PlanChange:
    """Arrival at a later stop, in time or late; `delay_fsw` is where it was lost (the stop left, by itself).

    Rules A5 and A2. Past 1:00 the stop clock starts at the end of the delay, except between oxygen stops.
    Sources as for `late_leaving_stop`.
    """
    stop, left = plan.due[0], plan.start
    planned_s = travel_s(left.depth_fsw, stop.level_fsw)
    late_s = arrived_s - left.at_s - planned_s
    here = _arrived(plan, arrived_s, on_oxygen_s)
    lost_fsw = left.depth_fsw if delay_fsw is None else delay_fsw
    if late_s <= DELAY_IGNORED_S or here.start.gas is Gas.OXYGEN or lost_fsw < DEEP_DELAY_FSW:
        said = _ignored(late_s) if late_s <= DELAY_IGNORED_S else f"{clock_words(late_s)} late: no change"
        return PlanChange(RULES["A5"], said, 0, changed=False, old=plan, new=here)
    late_min = minutes_up(late_s)
    again = _enter_again(tables, here, late_min, stop.level_fsw)
    if isinstance(again, NotCovered):
        return PlanChange(RULES["A5"], again.sentence, late_min, changed=True, old=plan, new=again)
    due = _after(tuple(later for later in again.due if later.depth_fsw <= stop.depth_fsw))
    said = f"{clock_words(late_s)} late at {lost_fsw:g} fsw: {late_min} min to bottom time"
    new = replace(again, due=due)
    return PlanChange(RULES["A5"], said, late_min, changed=True, old=plan, new=new)


def oxygen_overstay(plan: AscentPlan, left_s: int, *, oxygen_s: int | None = None) -> PlanChange:
    """Leaving an oxygen stop at `left_s`; overstay on oxygen at 30 fsw comes off the 20-fsw stop.

    Rule A6. `oxygen_s` of the overstay were on oxygen; by itself all of it, to 30 minutes unbroken, then air.
    Only whole minutes are credited [own], none for 1:00 or less; late leaving 20 fsw changes nothing.
    Source: USN Diving Manual Rev 4 Change A, p. 14-8 [P, first half]; the rest from memory [M].
    """
    served = plan.served()
    late_s = left_s - served.at_s
    run_s = _run_s(served.legs) + (plan.start.run_s if _unbroken(served.legs) else 0)
    if late_s <= DELAY_IGNORED_S:
        here = _left(plan, served, left_s)
        here = replace(here, start=replace(here.start, run_s=run_s + max(0, late_s)))
        return PlanChange(RULES["A6"], _ignored(late_s), 0, changed=False, old=plan, new=here)
    allowed_s = max(0, min(late_s, OXYGEN_PERIOD_S - run_s))
    breathed_s = allowed_s if oxygen_s is None else min(allowed_s, oxygen_s)
    here = _overstayed(plan, served, left_s, breathed_s, run_s)
    credit_min = minutes_down(breathed_s) if here.due else 0
    said = f"{clock_words(late_s)} late, {credit_min} min of oxygen come off the next stop"
    if credit_min == 0:
        return PlanChange(RULES["A6"], said, 0, changed=False, old=plan, new=here)
    due_s = max(0, here.due[0].due_s - credit_min * S_PER_MIN)
    new = replace(here, due=(replace(here.due[0], due_s=due_s), *here.due[1:]))
    return PlanChange(RULES["A6"], said, credit_min, changed=True, old=plan, new=new)


def _overstayed(plan: AscentPlan, served: Course, left_s: int, breathed_s: int, run_s: int) -> AscentPlan:
    """The plan after an overstay of which only the first part was on oxygen. Rule A6."""
    here = _left(plan, served, served.at_s + breathed_s)
    here = replace(here, start=replace(here.start, run_s=run_s + breathed_s))
    if here.start.at_s == left_s:
        return here
    level_fsw, shift_s = here.start.depth_fsw, here.start.at_s
    on_air = Leg(level_fsw, level_fsw, shift_s, left_s, Gas.AIR, What.DELAY, _ON_AIR)
    start = Position(left_s, level_fsw, run_s=_run_after_air_s(here.start.run_s, left_s - shift_s))
    due = tuple(
        replace(stop, counts_travel=False) if place == 0 else stop for place, stop in enumerate(here.due)
    )
    return replace(here, done=(*here.done, on_air), start=start, due=due)


def _run_after_air_s(run_s: int, air_s: int) -> int:
    """Oxygen that still counts as unbroken after air: only a whole air break ends a run. Rule X1."""
    return 0 if air_s >= AIR_BREAK_S else run_s


def _enter_again(
    tables: TableSet, plan: AscentPlan, added_min: int, highest_fsw: float
) -> AscentPlan | NotCovered:
    """The same ascent with delay added to bottom time, no stop deeper than the diver. Rules A4, A5."""
    entry: TableEntry = replace(plan.entry, added_min=plan.entry.added_min + added_min)
    found: Schedule | NotCovered = enter(tables, entry)
    if isinstance(found, NotCovered):
        return found
    due: Due = what_is_due(found, highest_fsw, plan.ratio)
    return replace(plan, entry=entry, schedule=found, due=due.stops, chamber=due.chamber)


def _left(plan: AscentPlan, served: Course, left_s: int) -> AscentPlan:
    """The plan once the present stop is left: what was done, overstay as delay, the rest due."""
    done = [leg if leg.end_s <= left_s else replace(leg, end_s=left_s) for leg in served.legs]
    done = [leg for leg in done if leg.start_s < leg.end_s]
    level_fsw = plan.due[0].level_fsw
    if served.at_s < left_s:
        done.append(
            Leg(level_fsw, level_fsw, served.at_s, left_s, served.gas, What.DELAY, "overstayed, not credited")
        )
    run_s = _run_s(served.legs)
    start = Position(left_s, level_fsw, None, 0, plan.due[0].gas, run_s)
    return replace(plan, done=plan.done + tuple(done), start=start, due=plan.due[1:])


def _arrived(plan: AscentPlan, arrived_s: int, on_oxygen_s: int | None) -> AscentPlan:
    """The plan once a later stop is reached: the way as dived, the stop clock as rule A2 has it."""
    stop, left = plan.due[0], plan.start
    on_oxygen = left.gas is Gas.OXYGEN and stop.gas is Gas.OXYGEN
    planned_s = travel_s(left.depth_fsw, stop.level_fsw)
    late_s = arrived_s - left.at_s - planned_s
    if on_oxygen and late_s > DELAY_IGNORED_S and left.run_s + arrived_s - left.at_s > OXYGEN_PERIOD_S:
        return _shifted_to_air(plan, arrived_s, on_oxygen_s)
    if stop.counts_travel:
        clock_s = later_stop_clock_s(left.at_s, arrived_s, planned_s, on_oxygen=on_oxygen)
    else:
        clock_s = first_stop_clock_s(arrived_s, left.at_s + planned_s, on_oxygen_s)
    gas = Gas.OXYGEN if on_oxygen else Gas.AIR
    way = Leg(left.depth_fsw, stop.level_fsw, left.at_s, arrived_s, gas, What.TRAVEL, _late_words(late_s))
    run_s = left.run_s + (arrived_s - left.at_s if on_oxygen else 0)
    start = Position(arrived_s, stop.level_fsw, clock_s, 0, gas, run_s)
    return replace(plan, done=plan.done + ((way,) if arrived_s > left.at_s else ()), start=start)


def _shifted_to_air(plan: AscentPlan, arrived_s: int, on_oxygen_s: int | None) -> AscentPlan:
    """The plan after a way between oxygen stops so long that he had to shift to air on it. Rule A6.

    Oxygen to 30 minutes unbroken counts for the stop, the air after it for nothing.
    """
    stop, left = plan.due[0], plan.start
    breathed_s = max(0, OXYGEN_PERIOD_S - left.run_s)
    shift_s = left.at_s + breathed_s
    held = Leg(
        left.depth_fsw, left.depth_fsw, left.at_s, shift_s, Gas.OXYGEN, What.DELAY, "held up on oxygen"
    )
    way = Leg(left.depth_fsw, stop.level_fsw, shift_s, arrived_s, Gas.AIR, What.TRAVEL, _ON_AIR)
    run_s = _run_after_air_s(left.run_s + breathed_s, arrived_s - shift_s)
    clock_s = first_stop_clock_s(arrived_s, arrived_s, on_oxygen_s)
    due = (replace(stop, due_s=max(0, stop.due_s - breathed_s)), *plan.due[1:])
    done = plan.done + ((held,) if breathed_s else ()) + (way,)
    start = Position(arrived_s, stop.level_fsw, clock_s, run_s=run_s)
    return replace(plan, done=done, start=start, due=due)


def _standing(plan: AscentPlan, after: AscentPlan, now_s: int, left_s: int) -> AscentPlan:
    """A plan for a diver who has not left his stop and has `left_s` more to serve there."""
    present = replace(plan.due[0], due_s=left_s)
    start = replace(after.start, clock_s=now_s)
    return replace(after, start=start, due=(present, *after.due))


def _after(due: tuple[DueStop, ...]) -> tuple[DueStop, ...]:
    """Stops that follow on a stop in the water: the first one's clock starts on leaving that one."""
    return tuple(
        replace(stop, counts_travel=True) if place == 0 and stop.gas is Gas.AIR else stop
        for place, stop in enumerate(due)
    )


def _run_s(legs: list[Leg]) -> int:
    """Oxygen breathed unbroken at the end of these legs."""
    run_s = 0
    for leg in legs:
        run_s = run_s + leg.end_s - leg.start_s if leg.gas is Gas.OXYGEN else 0
    return run_s


def _unbroken(legs: list[Leg]) -> bool:
    return all(leg.gas is Gas.OXYGEN for leg in legs)


def _ignored(late_s: int) -> str:
    return f"{_late_words(late_s)}: ignored" if late_s > 0 else _late_words(late_s)


def _late_words(late_s: int) -> str:
    if late_s == 0:
        return "in time"
    return f"{clock_words(late_s)} late" if late_s > 0 else f"{clock_words(-late_s)} early"
