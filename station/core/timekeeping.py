"""Marks to times: which marks hold, what phase they make, how long the diver has been down. Rules T1, T2, T5.

Everything here is a function of the effective marks: the marks of the present dive with every later word on
them applied, and what holds by the trace while nobody has marked it.
"""

from dataclasses import dataclass, replace
from typing import assert_never

from shared.clock import EPOCH, Instant
from shared.units import NS_PER_S, S_PER_MIN
from station.core.inputs import MarkKind
from station.core.phase import IN_WATER, Phase, next_phase
from station.core.robust import last_until
from station.core.state import DiverState, Mark, Proposal

TRACE = "trace"
"""Who marked a moment that only the depth trace shows."""

Holding = tuple[tuple[Mark, Phase], ...]
"""The marks that have a place in the dive, each with the phase that it begins."""


@dataclass(frozen=True, slots=True)
class Times:
    """The times of one dive. `bottom_s` runs until the bottom is left; `bottom_min` is whole minutes up.

    `presumed` says that the start rests on the trace, not on a mark.
    """

    left_surface: Instant | None = None
    reached_bottom: Instant | None = None
    left_bottom: Instant | None = None
    reached_surface: Instant | None = None
    bottom_s: int | None = None
    bottom_min: int | None = None
    presumed: bool = False


def effective_marks(diver: DiverState) -> tuple[Mark, ...]:
    """The marks of the present dive as they now hold, in order of time.

    A moment that the trace shows and that holds unmarked stands among them with number 0, marked by the
    trace: a presumed leaving of the surface, first of all, and a working descent after the bottom was left.
    """
    last_word = {amendment.mark: amendment for amendment in diver.amendments}
    held = []
    for mark in diver.marks:
        word = last_word.get(mark.number)
        at = mark.at if word is None else word.to
        if mark.dive == diver.dive and at is not None:
            held.append(mark if word is None else replace(mark, at=at, depth_fsw=word.depth_fsw))
    held.extend(_of_trace(diver, proposal) for proposal in diver.proposals if _unmarked(proposal, held))
    held.sort(key=_in_order)
    return tuple(held)


def _of_trace(diver: DiverState, proposal: Proposal) -> Mark:
    return Mark(0, 0, diver.dive, proposal.kind, proposal.at, proposal.at, TRACE)


def _unmarked(proposal: Proposal, marks: list[Mark]) -> bool:
    """Whether it stands for a mark: a start while none is marked, a descent after leaving the bottom."""
    if not proposal.holds:
        return False
    if proposal.kind is MarkKind.LEFT_SURFACE:
        return all(mark.kind is not MarkKind.LEFT_SURFACE for mark in marks)
    return any(mark.kind is MarkKind.LEFT_BOTTOM and mark.at <= proposal.at for mark in marks)


def _in_order(mark: Mark) -> tuple[bool, Instant, bool, int]:
    """A presumed start before all; else by time; the trace after a mark of the same instant."""
    presumed_start = mark.number == 0 and mark.kind is MarkKind.LEFT_SURFACE
    return (not presumed_start, mark.at, mark.number == 0, mark.number)


def dive_before_ended(diver: DiverState) -> Instant:
    """The last moment of the dive before, the epoch when there was none: no mark stands earlier."""
    if diver.dive == 1:
        return EPOCH
    before = effective_marks(replace(diver, dive=diver.dive - 1, proposals=()))
    return max((mark.at for mark in before), default=EPOCH)


def holding_marks(marks: tuple[Mark, ...]) -> Holding:
    """The effective marks that have a place in the dive, each with the phase that it begins."""
    phase, holding = Phase.DRESSED, []
    for mark in marks:
        following = next_phase(phase, mark.kind)
        if following is not None:
            phase = following
            holding.append((mark, phase))
    return tuple(holding)


def phase_of(diver: DiverState) -> Phase:
    """The phase that the effective marks make."""
    return phase_after(holding_of(diver))


def holding_of(diver: DiverState) -> Holding:
    """The marks of the present dive that make its phase and its times."""
    return holding_marks(effective_marks(diver))


def phase_after(marks: Holding) -> Phase:
    """The phase that these marks make."""
    return marks[-1][1] if marks else Phase.DRESSED


def in_water(diver: DiverState) -> bool:
    """Whether the diver is between surface and surface."""
    return phase_of(diver) in IN_WATER


def whole_seconds(start: Instant, end: Instant) -> int:
    """Seconds from start to end, a begun second counted whole."""
    return -((start - end) // NS_PER_S)


def whole_minutes(seconds: int) -> int:
    """Minutes up to the next whole one: 47:00 is 47, 47:01 is 48. USN Diving Manual Rev 4, ch. 9, rule T2."""
    return -(-seconds // S_PER_MIN)


def times_of(diver: DiverState, now: Instant) -> Times:
    """The times of the present dive at `now`.

    Bottom time runs from leaving the surface to leaving the bottom, on while that is not marked, and to the
    surface when it never was: USN Diving Manual Rev 4, ch. 9 (definitions); rules T1, T2, T5.
    """
    times = Times()
    for mark, _ in holding_marks(effective_marks(diver)):
        times = _with(times, mark)
    start = times.left_surface
    if start is None:
        return times
    end = next(instant for instant in (times.left_bottom, times.reached_surface, now) if instant is not None)
    bottom_s = whole_seconds(start, end)
    return replace(times, bottom_s=bottom_s, bottom_min=whole_minutes(bottom_s))


def _with(times: Times, mark: Mark) -> Times:
    match mark.kind:
        case MarkKind.LEFT_SURFACE:
            return replace(times, left_surface=mark.at, presumed=mark.number == 0)
        case MarkKind.REACHED_BOTTOM if times.left_bottom is not None:
            # A working descent: the bottom was not left for good, and when it was reached stays as it was.
            return replace(times, left_bottom=None)
        case MarkKind.REACHED_BOTTOM:
            return replace(times, reached_bottom=mark.at)
        case MarkKind.LEFT_BOTTOM:
            return replace(times, left_bottom=mark.at)
        case MarkKind.REACHED_SURFACE:
            return replace(times, reached_surface=mark.at)
        case (
            MarkKind.REACHED_STOP
            | MarkKind.LEFT_STOP
            | MarkKind.ON_OXYGEN
            | MarkKind.OFF_OXYGEN
            | MarkKind.REACHED_CHAMBER
            | MarkKind.LEFT_CHAMBER
        ):
            return times
        case _:
            assert_never(mark.kind)


def working_descent_proposed(diver: DiverState) -> bool:
    """Whether the trace shows a descent after the bottom was marked as left, and nobody has marked it.

    The clock runs on, rule T1.
    """
    return is_working_descent(holding_of(diver))


def is_working_descent(marks: Holding) -> bool:
    """Whether the last of these marks is a working descent that only the trace shows."""
    return bool(marks) and marks[-1][0].number == 0 and marks[-1][0].kind is MarkKind.REACHED_BOTTOM


def open_proposals(diver: DiverState) -> tuple[Proposal, ...]:
    """What the trace shows and nobody has marked yet: what a window offers to mark."""
    unmarked = {(mark.kind, mark.at) for mark in effective_marks(diver) if mark.number == 0}
    answered = not working_descent_proposed(diver)
    return tuple(
        made
        for made in diver.proposals
        if not made.holds
        or ((made.kind, made.at) in unmarked and not (answered and made.kind is MarkKind.REACHED_BOTTOM))
    )


def stage_depth_fsw(diver: DiverState, at: Instant, fresh_s: float | None = None) -> float | None:
    """Gauge depth in fsw at a moment of the last ten minutes: the stage depth of a late mark, rule D3.

    With `fresh_s` a sample that was older than that at the moment counts for nothing.
    """
    sample = last_until(diver.history, at)
    if sample is None or (fresh_s is not None and at - sample.at > fresh_s * NS_PER_S):
        return None
    return sample.value
