"""The ascent of a diver as it stands: where he is, what is due, which delay runs. Rules A1 to A9, X1 to X5.

Everything follows from the effective marks, the state's instant and the tables: an undone mark leaves no
trace in it.
"""

from dataclasses import dataclass, replace
from functools import lru_cache

from shared.clock import Instant
from shared.units import NS_PER_S
from station.core.books import Books
from station.core.by_table.asked import AscentAsked, Change, Left, Place, asked_of
from station.core.by_table.bottom import KEPT
from station.core.by_table.entry import DiveEntry
from station.core.by_table.following import Early, Follower, Missed, resumed
from station.core.decompression.answers import Gas, NotCovered
from station.core.decompression.ascent import AscentPlan
from station.core.decompression.change import PlanChange
from station.core.decompression.course import Course
from station.core.decompression.delays import late_at_first_stop, late_leaving_stop
from station.core.decompression.legs import DueStop, Leg, Position, What
from station.core.decompression.parameters import (
    AIR_BREAK_S,
    CHAMBER_FIRST_FSW,
    COMPRESSION_RATE_FSW_MIN,
    DELAY_IGNORED_S,
    SURFACE_INTERVAL_FROM_FSW,
    UNDRESSING_S,
)
from station.core.decompression.progress import left_stop
from station.core.decompression.travel import planned_travel_s, travel_s
from station.core.state import DiverState, State

_STAYS = (What.CHAMBER, What.CHAMBER_BREAK)


@dataclass(frozen=True, slots=True)
class Followed:
    """An ascent in seconds from leaving the bottom.

    `first` is the plan on leaving, `plan` as it stands, a running delay counted; None where the tables have
    no answer, which is then in `refused`. `stop` is where he is, `next_stop` the one after. `over_s` is how
    long that stop has been over, `late_s` how late he is on his way. `legs` are dived and planned ones.
    """

    first: AscentPlan | None
    plan: AscentPlan | None
    refused: NotCovered | None
    changes: tuple[Change, ...]
    place: Place
    stop: DueStop | None = None
    next_stop: DueStop | None = None
    stop_left_s: int | None = None
    over_s: int = 0
    late_s: int = 0
    gas: Gas = Gas.AIR
    waits_for_oxygen: bool = False
    on_oxygen: bool = False
    early: Early | None = None
    missed: Missed | None = None
    interval_s: int | None = None
    interval_runs: bool = False
    chamber_leg: Leg | None = None
    legs: tuple[Leg, ...] = ()

    @property
    def ends_s(self) -> int | None:
        """When he is at the surface for good."""
        return self.legs[-1].end_s if self.legs and self.plan is not None else None


@dataclass(frozen=True, slots=True)
class Ascent:
    """The ascent of a diver: when he left the bottom, with which entry, and how it goes."""

    left: Left
    entry: DiveEntry
    now_s: int
    found: Followed

    def at(self, second: int) -> Instant:
        """Station time of a second of the ascent."""
        return Instant(self.left.at + second * NS_PER_S)


def ascent_of(state: State, diver: DiverState, books: Books) -> Ascent | NotCovered | None:
    """The ascent of a diver at the state's instant; None while he has not left the bottom."""
    asked = asked_of(state, diver, books)
    if asked is None or isinstance(asked, NotCovered):
        return asked
    left, entered, question = asked
    return Ascent(left, entered, question.now_s, followed(books, question))


@lru_cache(maxsize=KEPT)
def followed(books: Books, asked: AscentAsked) -> Followed:
    """The ascent that follows from these moments."""
    follower = Follower.begin(books, asked)
    first = follower.plan
    follower.follow()
    found = _now(follower)
    return replace(found, first=first)


def _now(follower: Follower) -> Followed:
    """How things stand at the present second."""
    bare = Followed(
        None,
        follower.plan,
        follower.refused,
        tuple(follower.changes),
        follower.place,
        waits_for_oxygen=follower.waits_for_oxygen,
        on_oxygen=follower.on_oxygen,
        gas=Gas.OXYGEN if follower.on_oxygen else Gas.AIR,
        early=follower.early,
        missed=follower.missed,
    )
    plan = follower.plan
    if plan is None:
        return bare
    match follower.place:
        case Place.STOP:
            return _at_stop(follower, plan, bare)
        case Place.WAY | Place.HELD:
            return _on_the_way(follower, plan, bare)
        case Place.SURFACE if plan.chamber is not None:
            return _interval(follower, plan, bare)
        case Place.CHAMBER | Place.LEFT_CHAMBER:
            return _in_chamber(follower, plan, bare)
        case _:
            return replace(bare, legs=plan.done)


def _at_stop(follower: Follower, plan: AscentPlan, bare: Followed) -> Followed:
    now_s = follower.asked.now_s
    plan = follower.with_away(plan, max(now_s, plan.start.at_s), 0)
    if follower.off_s is not None:
        plan = resumed(plan, follower.off_s, _back_on_s(plan, follower.off_s, now_s))
    served = plan.served()
    over_s = 0 if follower.waits_for_oxygen else max(0, now_s - served.at_s)
    left_s = plan.due[0].due_s if follower.waits_for_oxygen else max(0, served.at_s - now_s)
    there = replace(
        bare,
        plan=plan,
        changes=tuple(follower.changes),
        stop=plan.due[0],
        next_stop=plan.due[1] if len(plan.due) > 1 else None,
        stop_left_s=left_s,
        over_s=over_s,
        legs=plan.legs,
    )
    return _overstayed(follower, plan, there) if over_s > 0 else there


def _overstayed(follower: Follower, plan: AscentPlan, there: Followed) -> Followed:
    """A stop that is over and not left: what leaving it now would make of the plan. Rules A5, A6."""
    now_s, tables = follower.asked.now_s, follower.books.tables
    if plan.due[0].gas is Gas.OXYGEN:
        change = left_stop(tables, plan, now_s)
    else:
        change = late_leaving_stop(tables, plan, now_s, still_there=True)
    found = _with_running(there, change)
    new = found.plan
    if new is None or plan.due[0].gas is Gas.OXYGEN or not new.due or not change.changed:
        return found
    return replace(
        found,
        stop=new.due[0],
        next_stop=new.due[1] if len(new.due) > 1 else None,
        stop_left_s=max(0, new.served().at_s - now_s),
    )


def _back_on_s(plan: AscentPlan, off_s: int, now_s: int) -> int:
    """When oxygen is breathed again: after the whole break where one was due, else not before now."""
    breaks = [leg.start_s for leg in plan.served().legs if leg.what is What.AIR_BREAK]
    is_due = any(abs(start_s - off_s) <= DELAY_IGNORED_S for start_s in breaks)
    return max(now_s, off_s + AIR_BREAK_S) if is_due else max(now_s, off_s)


def _on_the_way(follower: Follower, plan: AscentPlan, bare: Followed) -> Followed:
    now_s = follower.asked.now_s
    due_s, change = _if_there_now(follower, plan)
    found = replace(
        bare,
        next_stop=plan.due[0] if plan.due else None,
        late_s=max(0, now_s - due_s),
        legs=plan.legs,
    )
    if plan.chamber is not None and not plan.due and _began(follower, plan):
        found = _with_interval(follower, plan, found)
    if change is None:
        return found
    found = _with_running(found, change)
    new = found.plan
    return found if new is None else replace(found, next_stop=new.due[0] if new.due else None)


def _if_there_now(follower: Follower, plan: AscentPlan) -> tuple[int, PlanChange | None]:
    """When he is due where he goes, and past that what arriving there now would make of the plan."""
    now_s, start, asked = follower.asked.now_s, plan.start, follower.asked
    if plan.due:
        due_s = start.at_s + travel_s(start.depth_fsw, plan.due[0].level_fsw)
        on_oxygen_s = now_s if plan.due[0].gas is Gas.OXYGEN and not follower.on_oxygen else None
        if now_s <= due_s:
            return due_s, None
        return due_s, follower.arrival(plan, now_s, on_oxygen_s)
    if plan.done:
        return start.at_s + travel_s(start.depth_fsw, 0), None
    if plan.chamber is not None:
        present_fsw = min(plan.stage_fsw, float(SURFACE_INTERVAL_FROM_FSW))
        at_s = now_s if asked.passed_40_s is None else min(now_s, asked.passed_40_s)
    else:
        present_fsw, at_s = min(plan.stage_fsw, asked.shown_fsw or 0.0), now_s
    due_s = planned_travel_s(plan.stage_fsw, present_fsw)
    if at_s <= due_s:
        return due_s, None
    return due_s, late_at_first_stop(follower.books.tables, plan, at_s, present_fsw=present_fsw)


def _with_running(found: Followed, change: PlanChange) -> Followed:
    """A delay that still runs, as if it ended now."""
    if change.changed:
        running = Change(0, 0, change)
        found = replace(found, changes=(*found.changes, running))
    if isinstance(change.new, NotCovered):
        return replace(found, plan=None, refused=change.new, legs=())
    return replace(found, plan=change.new, legs=change.new.legs)


def _began(follower: Follower, plan: AscentPlan) -> bool:
    """Whether the surface interval runs: the last water stop is left, or 40 fsw is passed. Rule X4."""
    asked = follower.asked
    if follower.interval_from_s is not None or asked.passed_40_s is not None:
        return True
    if plan.stage_fsw > SURFACE_INTERVAL_FROM_FSW and asked.shown_fsw is not None:
        return False
    return asked.now_s >= follower.passed_40(plan)


def _with_interval(follower: Follower, plan: AscentPlan, found: Followed) -> Followed:
    runs_s = follower.asked.now_s - follower.interval_start_s(plan)
    return replace(found, interval_s=max(0, runs_s), interval_runs=True)


def _interval(follower: Follower, plan: AscentPlan, bare: Followed) -> Followed:
    """At the surface on the way to the chamber: undressing, compression, the chamber as planned."""
    now_s, up_s = follower.asked.now_s, plan.start.at_s
    course = Course.of(plan.start, ())
    course.hold(max(UNDRESSING_S, now_s - up_s), Gas.AIR, What.UNDRESSING, "undressing, at most 3:30")
    down = float(CHAMBER_FIRST_FSW)
    course.travel(down, Gas.AIR, "to 50 fsw in the chamber", What.COMPRESSION, COMPRESSION_RATE_FSW_MIN)
    if plan.chamber is not None:
        course.chamber(plan.chamber)
    return _with_interval(follower, plan, replace(bare, legs=plan.done + tuple(course.legs)))


def _in_chamber(follower: Follower, plan: AscentPlan, bare: Followed) -> Followed:
    """The chamber's periods run from oxygen confirmed; until it is, from now. Rule X5."""
    now_s, reached_s = follower.asked.now_s, plan.start.at_s
    confirmed_s = follower.chamber_oxygen_s
    course = Course.of(Position(reached_s, plan.start.depth_fsw), ())
    begins_s = max(reached_s, now_s) if confirmed_s is None else confirmed_s
    course.hold(begins_s - reached_s, Gas.AIR, What.WAIT, "oxygen is not confirmed")
    if plan.chamber is not None:
        course.chamber(plan.chamber)
    legs = plan.done + tuple(course.legs)
    here = next((leg for leg in course.legs if leg.start_s <= now_s < leg.end_s), None)
    stays = here is not None and here.what in _STAYS
    interval_s = None
    if follower.chamber_s is not None:
        interval_s = max(0, follower.chamber_s - follower.interval_start_s(plan))
    return replace(
        bare,
        waits_for_oxygen=confirmed_s is None and plan.chamber is not None,
        chamber_leg=here,
        stop_left_s=here.end_s - now_s if here is not None and stays else None,
        interval_s=interval_s,
        legs=legs,
    )
