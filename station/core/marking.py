"""An operator's word on a mark: taken, or refused with the reason that the window shows. Rule T1."""

from dataclasses import replace

from shared.clock import Instant, after
from station.core.facts import Fact, MarkAmended, MarkTaken, Refused
from station.core.inputs import AmendMark, MarkKind, NextDive, OperatorEvent, SetMark, UndoMark
from station.core.parameters import Parameters
from station.core.phase import Phase, next_phase
from station.core.state import Amendment, DiverState, Mark, Proposal
from station.core.timekeeping import effective_marks, phase_of, working_descent_proposed

Outcome = tuple[DiverState, tuple[Fact, ...]]


def refused(event: OperatorEvent, reason: str) -> tuple[Fact, ...]:
    """The one fact of an act that is not taken."""
    return (Refused(event.at, type(event.act).__name__, reason),)


def set_mark(
    diver: DiverState, event: OperatorEvent, act: SetMark, *, seq: int, number: int, parameters: Parameters
) -> Outcome:
    """Take a mark, numbered from `number` on, or say why not."""
    reason = _why_not(diver, act, parameters)
    at = _instant_of(diver, act, event.at)
    marks = tuple(mark for mark in effective_marks(diver) if mark.number)
    if not reason and marks and at < marks[-1].at:
        reason = f"{act.kind.value} would stand before {marks[-1].kind.value}: set the time of that one first"
    if not reason and at < 0:
        reason = "the mark would stand before the log began"
    if reason:
        return diver, refused(event, reason)
    taken = Mark(number, seq, act.dive, act.kind, at, event.at, event.by, act.stop_fsw)
    confirmed = _confirmed_descent(diver, act, taken)
    if confirmed:
        taken = replace(taken, number=number + 1)
    diver = replace(diver, marks=(*diver.marks, *confirmed, taken), proposals=_outlasting(diver, act))
    return diver, tuple(MarkTaken(diver.name, mark) for mark in (*confirmed, taken))


def _outlasting(diver: DiverState, act: SetMark) -> tuple[Proposal, ...]:
    """A mark begins another phase: of the proposals only an unmarked start outlasts it."""
    return tuple(p for p in diver.proposals if p.kind is MarkKind.LEFT_SURFACE and p.kind is not act.kind)


def _why_not(diver: DiverState, act: SetMark, parameters: Parameters) -> str:
    if act.dive != diver.dive:
        return f"dive {act.dive} of {diver.name} is not the present one ({diver.dive})"
    if act.back_s not in parameters.mark_steps_back_s:
        return f"a mark is set back by one of {parameters.mark_steps_back_s} s, not {act.back_s}"
    is_stop = act.kind in (MarkKind.REACHED_STOP, MarkKind.LEFT_STOP)
    if is_stop and not (act.stop_fsw is not None and act.stop_fsw > 0):
        return f"{act.kind.value} needs the depth of the stop"
    phase = phase_of(diver)
    if act.kind is MarkKind.LEFT_SURFACE and not any(
        m.kind is MarkKind.LEFT_SURFACE and m.number for m in effective_marks(diver)
    ):
        return ""
    if act.kind is MarkKind.LEFT_BOTTOM and working_descent_proposed(diver):
        return ""
    if next_phase(phase, act.kind) is None:
        return f"{act.kind.value} has no place while {diver.name} is {phase.value.replace('_', ' ')}"
    if act.kind is MarkKind.REACHED_STOP and phase is Phase.AT_STOP:
        return _why_no_further_stop(diver, act)
    return ""


def _why_no_further_stop(diver: DiverState, act: SetMark) -> str:
    stop = effective_marks(diver)[-1].stop_fsw
    if stop is not None and act.stop_fsw is not None and act.stop_fsw >= stop:
        return f"the stop at {stop:g} fsw is marked already"
    return ""


def _instant_of(diver: DiverState, act: SetMark, pressed_at: Instant) -> Instant:
    """The instant that a press marks; a late one for leaving the surface keeps the start in the trace."""
    at = after(pressed_at, -act.back_s)
    if act.kind is MarkKind.LEFT_SURFACE:
        return min([at, *(p.at for p in diver.proposals if p.kind is MarkKind.LEFT_SURFACE)])
    return at


def _confirmed_descent(diver: DiverState, act: SetMark, taken: Mark) -> tuple[Mark, ...]:
    """The bottom that the trace showed again, marked along when the bottom is now left again."""
    if act.kind is not MarkKind.LEFT_BOTTOM or not working_descent_proposed(diver):
        return ()
    again = next(p.at for p in diver.proposals if p.kind is MarkKind.REACHED_BOTTOM)
    return (replace(taken, kind=MarkKind.REACHED_BOTTOM, at=min(again, taken.at)),)


def undo_mark(diver: DiverState, event: OperatorEvent, act: UndoMark, seq: int) -> Outcome:
    """Take a mark back, with a reason; it stays readable."""
    reason = _why_no_word(diver, event, act.mark, act.reason)
    if reason:
        return diver, refused(event, reason)
    return _amended(diver, Amendment(act.mark, seq, None, act.reason, event.by, event.at))


def amend_mark(diver: DiverState, event: OperatorEvent, act: AmendMark, seq: int) -> Outcome:
    """Set a mark to another time, with a reason, between its neighbours and not in the future."""
    reason = _why_no_word(diver, event, act.mark, act.reason) or _why_not_then(diver, event, act)
    if reason:
        return diver, refused(event, reason)
    return _amended(diver, Amendment(act.mark, seq, act.to, act.reason, event.by, event.at))


def _amended(diver: DiverState, amendment: Amendment) -> Outcome:
    diver = replace(diver, amendments=(*diver.amendments, amendment))
    return diver, (MarkAmended(diver.name, amendment),)


def _why_no_word(diver: DiverState, event: OperatorEvent, number: int, reason: str) -> str:
    if not reason.strip():
        return "a correction needs a reason"
    if all(mark.number != number for mark in effective_marks(diver)) or not number:
        return f"there is no mark {number} in the present dive of {diver.name}"
    if any(a.mark == number and a.seq > event.seen_seq for a in diver.amendments):
        return f"mark {number} was corrected at another window meanwhile"
    return ""


def _why_not_then(diver: DiverState, event: OperatorEvent, act: AmendMark) -> str:
    marks = [mark for mark in effective_marks(diver) if mark.number]
    place = next(i for i, mark in enumerate(marks) if mark.number == act.mark)
    earliest = marks[place - 1].at if place else Instant(0)
    latest = marks[place + 1].at if place + 1 < len(marks) else event.at
    if not earliest <= act.to <= latest:
        return "the time would change the order of the marks, or stand in the future"
    return ""


def next_dive(diver: DiverState, event: OperatorEvent, act: NextDive) -> Outcome:
    """Dress the diver for a further dive: marks stay, the trace's figures begin anew."""
    if phase_of(diver) is not Phase.SURFACED:
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
            asked_up=None,
            no_answer=None,
        ),
        (),
    )
