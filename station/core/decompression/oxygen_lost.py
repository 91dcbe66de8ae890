"""Leaving the oxygen plan: oxygen lost for good, the diver taken to the chamber, the interval overrun."""

from dataclasses import replace

from shared.units import S_PER_MIN

from .answers import MEDICAL_OFFICER, Gas, NotCovered
from .ascent import AscentPlan
from .change import PlanChange
from .course import ChamberPart
from .legs import DueStop, Leg, Position, What
from .oxygen import air_left_min
from .parameters import SURFACE_INTERVAL_FROM_FSW
from .rules import RULES
from .surface import IntervalVerdict, WaterLeft, interval_verdict, periods_left


def oxygen_lost(plan: AscentPlan, lost_s: int, air_from_s: int) -> PlanChange:
    """Oxygen stopped at `lost_s` and is given up for good at `air_from_s`: the rest on air.

    Rule X2: the present stop in proportion, later stops by the air row in full; air breathed while oxygen
    might come back counts for nothing. Source: from memory, unverified [M].
    Raises ValueError when no oxygen stop is due.
    """
    stop = plan.due[0] if plan.due else None
    row = plan.schedule.row
    if stop is None or stop.gas is not Gas.OXYGEN or row is None:
        raise ValueError("oxygen is lost where none is due")
    left_min = (stop.due_s - served_s(plan, lost_s)) / S_PER_MIN
    air_min = air_left_min(row, stop.depth_fsw, max(0.0, left_min))
    present = replace(stop, gas=Gas.AIR, due_s=air_min * S_PER_MIN)
    later = tuple(
        DueStop(due.depth_fsw, due.level_fsw, row.air.minutes_at(due.depth_fsw) * S_PER_MIN, Gas.AIR, True)
        for due in plan.due[1:]
    )
    arrived = plan.start.clock_s is not None
    start = Position(air_from_s, stop.level_fsw, air_from_s) if arrived else replace(plan.start, gas=Gas.AIR)
    done = plan.done + (legs_until(plan, lost_s, air_from_s) if arrived else ())
    new = replace(plan, done=done, start=start, due=(present, *later), chamber=None)
    said = f"oxygen lost for good at {stop.depth_fsw} fsw: {air_min} min of air there, then the air stops"
    return PlanChange(RULES["X2"], said, 0, changed=True, old=plan, new=new)


def to_chamber(plan: AscentPlan, left_water_s: int, present_fsw: float | None = None) -> PlanChange:
    """The diver leaves his water stops at `left_water_s` for the chamber.

    Between two stops `present_fsw` is where he is (where he left the last one, by itself).
    Rule X3: with stops at 40 fsw and deeper still due these come first and the printed periods hold; else the
    periods of what is left. Sources: study notes [S], computed [C]; air part from memory [M].
    Raises ValueError when nothing is due.
    """
    row = plan.schedule.row
    if row is None or not plan.due:
        raise ValueError("no stop is due: there is nothing to do in a chamber")
    deep = tuple(stop for stop in plan.due if stop.depth_fsw >= SURFACE_INTERVAL_FROM_FSW)
    if deep:
        periods, start, done = row.chamber_periods, plan.start, plan.done
    else:
        periods = periods_left(row, _water_left(plan, left_water_s))
        legs = legs_until(plan, left_water_s, left_water_s, present_fsw)
        start = Position(left_water_s, legs[-1].to_fsw if legs else plan.start.depth_fsw)
        done = plan.done + legs
    new = replace(plan, done=done, start=start, due=deep, chamber=ChamberPart(periods))
    said = f"to the chamber: {periods:g} oxygen periods"
    return PlanChange(RULES["X3"], said, 0, changed=True, old=plan, new=new)


def reached_chamber(plan: AscentPlan, interval_s: int) -> PlanChange:
    """The diver is at 50 fsw in the chamber, `interval_s` after the surface interval began.

    Rule X4; past 7:00 no figure but the medical officer. Source: Rev 4 Change A, p. 14-7 [P]; notes [S].
    Raises ValueError when no chamber is planned.
    """
    if plan.chamber is None:
        raise ValueError("no chamber is planned")
    verdict = interval_verdict(interval_s, plan.chamber.periods)
    if verdict is IntervalVerdict.AS_PLANNED:
        return PlanChange(RULES["X4"], verdict.value, 0, changed=False, old=plan, new=plan)
    if verdict is IntervalVerdict.HALF_PERIOD_MORE:
        new = replace(plan, chamber=replace(plan.chamber, late=True))
        return PlanChange(RULES["X4"], verdict.value, 0, changed=True, old=plan, new=new)
    answer = NotCovered(RULES["X4"], f"surface interval over 7:00: {verdict}", MEDICAL_OFFICER)
    return PlanChange(RULES["X4"], verdict.value, 0, changed=True, old=plan, new=answer)


def served_s(plan: AscentPlan, at_s: int) -> int:
    """Seconds of the present stop that count at an instant: its gas breathed since its clock started."""
    start, stop = plan.start, plan.due[0]
    if start.clock_s is None:
        return 0
    before_s = max(0, start.at_s - start.clock_s)
    legs = plan.served().legs
    counted = (leg for leg in legs if leg.what is What.STOP and leg.start_s < at_s)
    return min(stop.due_s, before_s + sum(min(leg.end_s, at_s) - leg.start_s for leg in counted))


def _water_left(plan: AscentPlan, at_s: int) -> tuple[WaterLeft, ...]:
    served = (served_s(plan, at_s),) + (0,) * len(plan.due[1:])
    return tuple(
        WaterLeft(stop.depth_fsw, (stop.due_s - done_s) / S_PER_MIN, stop.gas is Gas.AIR)
        for stop, done_s in zip(plan.due, served, strict=True)
    )


def legs_until(
    plan: AscentPlan, stopped_s: int, until_s: int, present_fsw: float | None = None
) -> tuple[Leg, ...]:
    """The way or the present stop as dived until `stopped_s`, then air that counts for nothing."""
    begun = plan.start
    if begun.clock_s is None:
        here_fsw = begun.depth_fsw if present_fsw is None else present_fsw
        way = Leg(begun.depth_fsw, here_fsw, begun.at_s, until_s, begun.gas, What.TRAVEL, "called up")
        return (way,) if begun.at_s < until_s else ()
    legs = [leg for leg in plan.served().legs if leg.start_s < stopped_s]
    cut = [replace(leg, end_s=min(leg.end_s, stopped_s)) for leg in legs]
    reached_s = cut[-1].end_s if cut else begun.at_s
    level_fsw = plan.due[0].level_fsw
    if reached_s < until_s:
        words = "on air, counts for nothing"
        cut.append(Leg(level_fsw, level_fsw, reached_s, until_s, Gas.AIR, What.DELAY, words))
    return tuple(cut)
