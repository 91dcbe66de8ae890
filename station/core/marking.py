"""An operator's word on a mark: taken, or refused with the reason that the window shows. Rule T1."""

from dataclasses import replace
from math import isfinite

from shared.clock import EPOCH, Instant, after
from station.core.facts import Fact, MarkAmended, MarkTaken, Refused
from station.core.hose.trust import HoseState
from station.core.inputs import (
    AmendMark,
    MarkKind,
    NextDive,
    OperatorEvent,
    RowChoice,
    SetMark,
    UndoMark,
)
from station.core.parameters import Parameters
from station.core.phase import Phase, next_phase
from station.core.state import Amendment, DiverState, Mark, PastDive
from station.core.timekeeping import (
    dive_before_ended,
    effective_marks,
    holding_marks,
    phase_of,
    stage_depth_fsw,
)

Outcome = tuple[DiverState, tuple[Fact, ...]]

_OF_STOPS = (MarkKind.REACHED_STOP, MarkKind.LEFT_STOP)
_OF_ASCENT = (MarkKind.LEFT_BOTTOM, *_OF_STOPS)
_OF_GAS = (MarkKind.ON_OXYGEN, MarkKind.OFF_OXYGEN)


def refused(event: OperatorEvent, reason: str) -> tuple[Fact, ...]:
    """The one fact of an act that is not taken."""
    return (Refused(event.at, type(event.act).__name__, reason),)


def set_mark(
    diver: DiverState, event: OperatorEvent, act: SetMark, *, seq: int, number: int, parameters: Parameters
) -> Outcome:
    """Take a mark with its number, or say why not."""
    at = _instant_of(diver, act, event.at)
    reason = _why_not(diver, act, parameters) or _why_not_at(diver, event, act, at)
    if reason:
        return diver, refused(event, reason)
    stop_fsw = _present_stop_fsw(diver) if act.kind in _OF_GAS else act.stop_fsw
    depth_fsw = stage_depth_fsw(diver, at, parameters.steady_window_s)
    taken = Mark(number, seq, act.dive, act.kind, at, event.at, event.by, stop_fsw, depth_fsw)
    # A mark begins another phase: only what holds without a mark outlasts it, so that it can be undone.
    lasting = tuple(made for made in diver.proposals if made.holds)
    diver = replace(diver, marks=(*diver.marks, taken), proposals=lasting)
    return diver, (MarkTaken(diver.name, taken),)


def _present_stop_fsw(diver: DiverState) -> float | None:
    """The stop at which a change of gas is marked: what he breathes does not take him from it."""
    return _holding(diver)[-1].stop_fsw if phase_of(diver) is Phase.AT_STOP else None


def _why_not(diver: DiverState, act: SetMark, parameters: Parameters) -> str:
    if act.dive != diver.dive:
        return f"dive {act.dive} of {diver.name} is not the present one ({diver.dive})"
    if act.back_s not in parameters.mark_steps_back_s:
        return f"a mark is set back by one of {parameters.mark_steps_back_s} s, not {act.back_s}"
    if act.kind in _OF_STOPS and not _is_depth(act.stop_fsw):
        return f"{act.kind.value} needs the depth of the stop"
    if act.kind is MarkKind.LEFT_SURFACE and _start_is_unmarked(diver):
        return ""
    phase = phase_of(diver)
    if next_phase(phase, act.kind) is None:
        return f"{act.kind.value} has no place while {diver.name} is {phase.value.replace('_', ' ')}"
    reason = _why_not_this_stop(diver, act) if phase is Phase.AT_STOP else ""
    return reason or _why_not_again(diver, act)


def _is_depth(stop_fsw: float | None) -> bool:
    return stop_fsw is not None and isfinite(stop_fsw) and stop_fsw > 0


def _start_is_unmarked(diver: DiverState) -> bool:
    return all(mark.kind is not MarkKind.LEFT_SURFACE or mark.number == 0 for mark in effective_marks(diver))


def _why_not_this_stop(diver: DiverState, act: SetMark) -> str:
    reached = (mark for mark in reversed(_holding(diver)) if mark.kind is MarkKind.REACHED_STOP)
    stop = next((mark.stop_fsw for mark in reached), None)
    if stop is None or act.stop_fsw is None:
        return ""
    if act.kind is MarkKind.REACHED_STOP and act.stop_fsw >= stop:
        return f"the stop at {stop:g} fsw is marked already"
    if act.kind is MarkKind.LEFT_STOP and act.stop_fsw != stop:
        return f"{diver.name} is at the stop at {stop:g} fsw, not at {act.stop_fsw:g}"
    return ""


def _why_not_again(diver: DiverState, act: SetMark) -> str:
    """Oxygen is put on and taken off in turn, a chamber left once: a second press marks nothing.

    Between water and chamber he breathes the air of the deck.
    """
    on_oxygen = left_chamber = False
    for mark in _holding(diver):
        if mark.kind in (MarkKind.ON_OXYGEN, MarkKind.OFF_OXYGEN):
            on_oxygen = mark.kind is MarkKind.ON_OXYGEN
        elif mark.kind is MarkKind.REACHED_SURFACE:
            on_oxygen = False
        left_chamber = left_chamber or mark.kind is MarkKind.LEFT_CHAMBER
    match act.kind:
        case MarkKind.ON_OXYGEN if on_oxygen:
            return f"{diver.name} is on oxygen already"
        case MarkKind.OFF_OXYGEN if not on_oxygen:
            return f"{diver.name} is not on oxygen"
        case MarkKind.LEFT_CHAMBER if left_chamber:
            return f"leaving the chamber is marked already for {diver.name}"
        case _:
            return ""


def _why_not_at(diver: DiverState, event: OperatorEvent, act: SetMark, at: Instant) -> str:
    if at < EPOCH:
        return "the mark would stand before the log began"
    if at < dive_before_ended(diver):
        return f"the mark would stand in dive {diver.dive - 1}"
    if act.kind is MarkKind.LEFT_SURFACE:
        return ""
    last = _holding(diver)[-1]
    if at < last.at:
        how = "set the time of that one first" if last.number else "the trace shows it"
        return f"{act.kind.value} would stand before {last.kind.value}: {how}"
    if act.kind is MarkKind.REACHED_BOTTOM and last.kind in _OF_ASCENT and last.seq > event.seen_seq:
        return f"{last.kind.value} was marked at another window meanwhile: {act.kind.value} would undo it"
    return ""


def _holding(diver: DiverState) -> list[Mark]:
    return [mark for mark, _ in holding_marks(effective_marks(diver))]


def _instant_of(diver: DiverState, act: SetMark, pressed_at: Instant) -> Instant:
    """The instant that a press marks; a late one for leaving the surface keeps the start in the trace."""
    at = after(pressed_at, -act.back_s)
    if act.kind is MarkKind.LEFT_SURFACE:
        return min([at, *(p.at for p in diver.proposals if p.kind is MarkKind.LEFT_SURFACE)])
    return at


def undo_mark(
    diver: DiverState, event: OperatorEvent, act: UndoMark, seq: int, parameters: Parameters
) -> Outcome:
    """Take a mark back, with a reason; it stays readable. Mark 0 is what only the trace shows."""
    reason = _why_no_reason(act.reason) or _why_no_word(diver, event, act.mark)
    if not reason and act.mark == 0:
        reason = _why_not_against_trace(diver, parameters)
    if reason:
        return diver, refused(event, reason)
    if act.mark == 0:
        diver = replace(diver, proposals=diver.proposals[: _last_of_trace(diver)])
    return _amended(diver, Amendment(act.mark, seq, None, act.reason, event.by, event.at))


def _why_not_against_trace(diver: DiverState, parameters: Parameters) -> str:
    """A presumed start is only taken back while the trace shows the diver at the surface."""
    last = diver.proposals[_last_of_trace(diver)]
    at_surface = diver.shown_fsw is not None and diver.shown_fsw <= parameters.in_water_fsw
    if last.kind is MarkKind.LEFT_SURFACE and not at_surface:
        return f"the trace does not show {diver.name} at the surface"
    return ""


def _last_of_trace(diver: DiverState) -> int:
    """The place of the last proposal that stands unmarked."""
    last = [mark for mark in effective_marks(diver) if mark.number == 0][-1]
    return max(i for i, p in enumerate(diver.proposals) if p.holds and (p.kind, p.at) == (last.kind, last.at))


def amend_mark(
    diver: DiverState, event: OperatorEvent, act: AmendMark, seq: int, parameters: Parameters
) -> Outcome:
    """Set a mark to another time, with a reason, between its neighbours and not in the future."""
    reason = (
        _why_no_reason(act.reason)
        or ("a moment of the trace is marked, not set" if act.mark == 0 else "")
        or _why_no_word(diver, event, act.mark)
        or _why_not_then(diver, event, act)
    )
    if reason:
        return diver, refused(event, reason)
    depth_fsw = stage_depth_fsw(diver, act.to, parameters.steady_window_s)
    return _amended(diver, Amendment(act.mark, seq, act.to, act.reason, event.by, event.at, depth_fsw))


def _amended(diver: DiverState, amendment: Amendment) -> Outcome:
    diver = replace(diver, amendments=(*diver.amendments, amendment))
    return diver, (MarkAmended(diver.name, amendment),)


def _why_no_reason(reason: str) -> str:
    return "" if reason.strip() else "a correction needs a reason"


def _why_no_word(diver: DiverState, event: OperatorEvent, number: int) -> str:
    if all(mark.number != number for mark in effective_marks(diver)):
        return f"there is no mark {number} in the present dive of {diver.name}"
    if any(a.mark == number and a.seq > event.seen_seq for a in diver.amendments):
        return f"mark {number} was corrected at another window meanwhile"
    return ""


def _why_not_then(diver: DiverState, event: OperatorEvent, act: AmendMark) -> str:
    """A mark that has no place now may get any time of its dive: it is then that it finds one."""
    marks = _holding(diver)
    place = next((i for i, mark in enumerate(marks) if mark.number == act.mark), None)
    earliest, latest = dive_before_ended(diver), event.at
    if place is not None:
        earliest = marks[place - 1].at if place else earliest
        latest = marks[place + 1].at if place + 1 < len(marks) else latest
    if not earliest <= act.to <= latest:
        return "the time would change the order of the marks, or stand in the future"
    return ""


def next_dive(diver: DiverState, event: OperatorEvent, act: NextDive, over: PastDive | None) -> Outcome:
    """Dress the diver for a further dive: marks stay, the trace's figures begin anew.

    `over` is what the dive leaves for the next, None while he is not up.
    """
    if over is None:
        return diver, refused(event, f"{act.diver} has not reached the surface")
    return (
        replace(
            diver,
            dive=diver.dive + 1,
            proposals=(),
            deepest_fsw=None,
            planned_depth_fsw=None,
            planned_bottom_min=None,
            blown=None,
            deepest_read_fsw=None,
            counted_fsw=None,
            hidden=None,
            proven_below=False,
            hose=None if diver.hose is None else HoseState(),
            blow_seen=None,
            typed=None,
            shift=None,
            asked_up=None,
            no_answer=None,
            past=(*diver.past, over),
            row=RowChoice.NORMAL,
            deeper_50_at=None,
            deeper_40_at=None,
            risen_at=None,
            away=(),
        ),
        (),
    )
