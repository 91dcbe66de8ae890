"""Marks to times: which marks hold, what phase they make, how long the diver has been down. Rules T1, T2, T5.

Everything here is a function of the effective marks: the marks of the present dive with every later word on
them applied, and the leaving of the surface that the trace shows while nobody has marked it.
"""

from dataclasses import dataclass, replace

from shared.clock import Instant
from shared.units import NS_PER_S, S_PER_MIN
from station.core.inputs import MarkKind
from station.core.phase import IN_WATER, Phase, next_phase
from station.core.state import DiverState, Mark, Sample

TRACE = "trace"
"""Who marked a moment that only the depth trace shows."""


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

    A presumed leaving of the surface comes first, with number 0 and marked by the trace.
    """
    last_word = {amendment.mark: amendment.to for amendment in diver.amendments}
    held = []
    for mark in diver.marks:
        at = last_word.get(mark.number, mark.at)
        if mark.dive == diver.dive and at is not None:
            held.append(mark if at == mark.at else replace(mark, at=at))
    held.sort(key=lambda mark: (mark.at, mark.number))
    if any(mark.kind is MarkKind.LEFT_SURFACE for mark in held):
        return tuple(held)
    return (*_presumed_start(diver), *held)


def _presumed_start(diver: DiverState) -> tuple[Mark, ...]:
    return tuple(
        Mark(0, 0, diver.dive, proposal.kind, proposal.at, proposal.at, TRACE)
        for proposal in diver.proposals
        if proposal.kind is MarkKind.LEFT_SURFACE
    )


def holding_marks(marks: tuple[Mark, ...]) -> tuple[tuple[Mark, Phase], ...]:
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
    holding = holding_marks(effective_marks(diver))
    return holding[-1][1] if holding else Phase.DRESSED


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
        match mark.kind:
            case MarkKind.LEFT_SURFACE:
                times = replace(times, left_surface=mark.at, presumed=mark.number == 0)
            case MarkKind.REACHED_BOTTOM:
                # A working descent: the bottom was not left for good.
                times = replace(times, reached_bottom=times.reached_bottom or mark.at, left_bottom=None)
            case MarkKind.LEFT_BOTTOM:
                times = replace(times, left_bottom=mark.at)
            case MarkKind.REACHED_SURFACE:
                times = replace(times, reached_surface=mark.at)
            case MarkKind.REACHED_STOP | MarkKind.LEFT_STOP:
                pass
    return _with_bottom_time(times, diver, now)


def _with_bottom_time(times: Times, diver: DiverState, now: Instant) -> Times:
    start = times.left_surface
    if start is None:
        return times
    left = None if working_descent_proposed(diver) else times.left_bottom
    end = next(instant for instant in (left, times.reached_surface, now) if instant is not None)
    bottom_s = whole_seconds(start, end)
    return replace(times, left_bottom=left, bottom_s=bottom_s, bottom_min=whole_minutes(bottom_s))


def working_descent_proposed(diver: DiverState) -> bool:
    """Whether the trace shows a descent after the bottom was marked as left: the clock runs on, rule T1."""
    return phase_of(diver) is Phase.ASCENDING and any(
        proposal.kind is MarkKind.REACHED_BOTTOM for proposal in diver.proposals
    )


def stage_depth_fsw(diver: DiverState, at: Instant) -> float | None:
    """Gauge depth in fsw at a moment of the last ten minutes: the stage depth of a late mark, rule D3."""
    before = [sample for sample in diver.history if sample.at <= at]
    return before[-1].value if before else None


def history_since(diver: DiverState, at: Instant) -> tuple[Sample, ...]:
    """The one-second trace from `at` on, as far back as it is kept."""
    return tuple(sample for sample in diver.history if sample.at >= at)
