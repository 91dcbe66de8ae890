"""What the supervisor chooses, what is told of a diver: taken, or refused with the reason. Rules S7, S8."""

from dataclasses import replace

from shared.clock import Instant, after
from shared.units import S_PER_MIN
from station.core.books import Books
from station.core.by_table.asked import left_bottom
from station.core.by_table.bottom import schedule_of
from station.core.by_table.coming_up import Ascent, ascent_of
from station.core.by_table.history import instant_of_utc, why_no_history, with_history
from station.core.decompression.answers import Gas, Mode, NotCovered
from station.core.decompression.schedule import Schedule
from station.core.facts import Fact
from station.core.inputs import (
    BindDivers,
    ChooseCold,
    ChooseMode,
    ChooseRow,
    EnterHistory,
    MarkKind,
    OperatorEvent,
    PartDivers,
)
from station.core.marking import refused
from station.core.phase import Phase
from station.core.state import DiverState, ModeShift, PastDive, State
from station.core.timekeeping import holding_of, phase_of, times_of

ByDiver = EnterHistory | ChooseMode | ChooseRow | ChooseCold
Outcome = tuple[DiverState, tuple[Fact, ...]]

_NO_REASON = "a choice needs a reason"


def choose(state: State, diver: DiverState, event: OperatorEvent, act: ByDiver, books: Books) -> Outcome:
    """The diver after a choice, or after what is told of him."""
    match act:
        case EnterHistory():
            return _told(state, diver, event, act, books)
        case ChooseMode():
            return _mode(state, diver, event, act, books)
        case ChooseRow() if act.reason.strip():
            return replace(diver, row=act.row), ()
        case ChooseCold() if act.reason.strip():
            return replace(diver, cold=act.cold), ()
        case ChooseRow() | ChooseCold():
            return diver, refused(event, _NO_REASON)


def _told(state: State, diver: DiverState, event: OperatorEvent, act: EnterHistory, books: Books) -> Outcome:
    reason = why_no_history(act.group, books.tables.groups)
    at: Instant | None = None
    if not reason and act.interval_s is not None:
        at = after(event.at, -act.interval_s)
        reason = "" if act.interval_s > 0 else "a surface interval is longer than zero"
    elif not reason and act.surfaced_utc is not None:
        try:
            at = instant_of_utc(act.surfaced_utc, state.utc_epoch_ns)
        except ValueError as error:
            reason = str(error)
    if at is not None and not reason and at > event.at:
        reason = "he would have surfaced in the future"
    if reason:
        return diver, refused(event, reason)
    return with_history(diver, act.group, at), ()


def _mode(state: State, diver: DiverState, event: OperatorEvent, act: ChooseMode, books: Books) -> Outcome:
    if not act.reason.strip():
        return diver, refused(event, _NO_REASON)
    if not _stops_begun(diver):
        return replace(diver, mode=act.mode), ()
    reason = _why_no_shift(state, diver, act, books)
    if reason:
        return diver, refused(event, reason)
    shift = ModeShift(state.seq, diver.dive, event.at, act.mode, act.reason)
    return replace(diver, shifts=(*diver.shifts, shift)), ()


def _stops_begun(diver: DiverState) -> bool:
    """Whether he has been at a stop, or at the surface, since he left the bottom for good."""
    left = left_bottom(holding_of(diver))
    begun = (MarkKind.REACHED_STOP, MarkKind.REACHED_SURFACE)
    return left is not None and any(mark.kind in begun for mark in left.later)


def _why_no_shift(state: State, diver: DiverState, act: ChooseMode, books: Books) -> str:
    """Once at a stop only what a rule covers: oxygen given up (X2), the chamber (X3)."""
    found = ascent_of(state, diver, books)
    plan = found.found.plan if isinstance(found, Ascent) else None
    if plan is None or not plan.due:
        return f"no stop of {diver.name} is due: there is nothing to change"
    if act.mode is Mode.AIR and plan.due[0].gas is not Gas.OXYGEN:
        return f"the next stop of {diver.name} is on air already"
    if act.mode is Mode.AIR_OXYGEN:
        return "no rule of the tables goes over to oxygen once a stop has begun"
    return ""


def bind(state: State, event: OperatorEvent, act: BindDivers) -> tuple[State, tuple[Fact, ...]]:
    """Bind divers to one schedule, before or during the dive."""
    known = [diver.name for diver in state.divers]
    names = tuple(dict.fromkeys(act.divers))
    if strangers := [name for name in names if name not in known]:
        return state, refused(event, f"there is no diver {strangers[0]!r} at this station")
    if len(names) < 2:
        return state, refused(event, "one schedule is for two divers or more")
    if not act.reason.strip():
        return state, refused(event, _NO_REASON)
    return replace(state, bound=names), ()


def part(state: State, event: OperatorEvent, act: PartDivers) -> tuple[State, tuple[Fact, ...]]:
    """Let the bound divers come up each by his own schedule again."""
    if not state.bound:
        return state, refused(event, "no divers are bound to one schedule")
    if not act.reason.strip():
        return state, refused(event, _NO_REASON)
    return replace(state, bound=()), ()


def past_dive(state: State, diver: DiverState, books: Books) -> PastDive | None:
    """What the present dive, now over, leaves for the next; None while he is not up. Rules N1, S4.

    Without an answer of the tables there is no group, which the next dive is told.
    """
    up_at = times_of(diver, state.now).reached_surface
    if phase_of(diver) not in (Phase.SURFACED, Phase.DONE) or up_at is None:
        return None
    found, now = ascent_of(state, diver, books), schedule_of(state, diver, books)
    plan = found.found.plan if isinstance(found, Ascent) else None
    if plan is not None:
        answer: Schedule | NotCovered | None = plan.schedule
    else:
        answer = None if now is None or isinstance(found, Ascent) else now.answer
    entered = None if now is None else now.entry
    added_s = 0 if plan is None else plan.entry.added_min * S_PER_MIN
    return PastDive(
        answer.group if isinstance(answer, Schedule) else None,
        up_at,
        None if entered is None else entered.max_fsw,
        None if entered is None else entered.entry.bottom_s + added_s,
        None if entered is None else entered.entry.group,
        isinstance(answer, Schedule) and answer.exceptional,
    )
