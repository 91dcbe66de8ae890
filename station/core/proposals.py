"""Moments that the depth trace shows. Rule T1: the trace proposes, the tender marks.

Two of them hold until they are marked, because a forgotten press must not stop a clock: a start, and a
working descent after the bottom was left. The others are hints.
"""

from collections.abc import Iterable
from dataclasses import replace

from shared.clock import Instant, after, seconds_between
from station.core.facts import Fact, MarkProposed
from station.core.inputs import MarkKind
from station.core.parameters import Parameters
from station.core.phase import IN_WATER, Phase
from station.core.robust import since, sliding_medians
from station.core.state import DiverState, Mark, Proposal, Sample
from station.core.timekeeping import dive_before_ended, effective_marks, holding_marks, stage_depth_fsw

_HINTED = {
    MarkKind.REACHED_BOTTOM: frozenset({Phase.DESCENDING}),
    MarkKind.LEFT_BOTTOM: frozenset({Phase.DESCENDING, Phase.ON_BOTTOM}),
    MarkKind.REACHED_SURFACE: IN_WATER,
}
"""The phases in which a hint may stand."""


def propose(
    diver: DiverState, phase: Phase, now: Instant, p: Parameters
) -> tuple[DiverState, tuple[Fact, ...]]:
    """The diver with the proposals that his trace now makes; a new one that nobody has marked is a fact."""
    standing = tuple(made for made in diver.proposals if _stands(diver, phase, made, now, p))
    hinted = {made.kind for made in standing if not made.holds}
    found = tuple(made for made in _found(diver, phase, now, p) if made.holds or made.kind not in hinted)
    if not found and len(standing) == len(diver.proposals):
        return diver, ()
    told = (made for made in found if made.kind is not MarkKind.LEFT_SURFACE or phase is Phase.DRESSED)
    return (
        replace(diver, proposals=(*standing, *found)),
        tuple(MarkProposed(diver.name, made.kind, made.at) for made in told),
    )


def _stands(diver: DiverState, phase: Phase, made: Proposal, now: Instant, p: Parameters) -> bool:
    """Whether a proposal still has its place and the trace has not gone on past it."""
    shown, rate = diver.shown_fsw, diver.rate_fsw_min
    if made.holds:
        return made.kind is not MarkKind.LEFT_SURFACE or not _tried(diver, made, now, p)
    if phase not in _HINTED[made.kind]:
        return False
    if made.kind is MarkKind.REACHED_BOTTOM:
        return rate is None or rate < 2 * p.steady_rate_fsw_min
    if shown is None:
        return True
    if made.kind is MarkKind.REACHED_SURFACE:
        return shown <= p.in_water_fsw
    left_at_fsw = stage_depth_fsw(diver, made.at)
    return left_at_fsw is None or shown < left_at_fsw - p.surface_fsw


def _tried(diver: DiverState, start: Proposal, now: Instant, p: Parameters) -> bool:
    """Whether a start was but a gauge tried: soon at the surface again, and nothing is marked."""
    return (
        diver.shown_fsw is not None
        and diver.shown_fsw <= p.surface_fsw
        and seconds_between(start.at, now) < p.gauge_trial_s
        and all(mark.number == 0 for mark in effective_marks(diver))
    )


def _found(diver: DiverState, phase: Phase, now: Instant, p: Parameters) -> Iterable[Proposal]:
    shown = diver.shown_fsw
    if shown is None:
        return
    if phase is Phase.DRESSED or phase in IN_WATER:
        yield from _start(diver, shown, now, p)
    if phase in IN_WATER:
        yield from _at_surface(diver, shown, now, p)
    if phase is Phase.DESCENDING:
        yield from _at_bottom(diver, shown, now, p)
    # The trace holds one depth a second: a look at it more often shows nothing new.
    if phase in IN_WATER and diver.history and diver.history[-1].at == now:
        last = holding_marks(effective_marks(diver))[-1][0]
        if phase in _HINTED[MarkKind.LEFT_BOTTOM]:
            yield from _leaving_bottom(diver, last, now, p)
        else:
            yield from _down_again(diver, phase, last, p)


def _start(diver: DiverState, shown: float, now: Instant, p: Parameters) -> Iterable[Proposal]:
    """The start is kept also when it is marked, for a mark can be undone."""
    if shown > p.in_water_fsw and not any(made.kind is MarkKind.LEFT_SURFACE for made in diver.proposals):
        yield Proposal(MarkKind.LEFT_SURFACE, _last_at_surface(diver, now, p), holds=True)


def _last_at_surface(diver: DiverState, now: Instant, p: Parameters) -> Instant:
    """The last second at which he was at the surface, or the first that is known; none of the dive before.

    A gauge that never shows the surface is taken by the depth at which he counts as in the water.
    """
    trace = since(diver.history, dive_before_ended(diver))
    for depth_fsw in (p.surface_fsw, p.in_water_fsw):
        for sample in reversed(trace):
            if sample.value <= depth_fsw:
                return sample.at
    return trace[0].at if trace else now


def _at_surface(diver: DiverState, shown: float, now: Instant, p: Parameters) -> Iterable[Proposal]:
    deepest = diver.deepest_read_fsw
    if shown <= p.surface_fsw and deepest is not None and deepest > p.in_water_fsw:
        yield Proposal(MarkKind.REACHED_SURFACE, now)


def _at_bottom(diver: DiverState, shown: float, now: Instant, p: Parameters) -> Iterable[Proposal]:
    rate = diver.rate_fsw_min
    if rate is not None and abs(rate) < p.steady_rate_fsw_min and shown > p.in_water_fsw:
        started = effective_marks(diver)[0].at
        yield Proposal(MarkKind.REACHED_BOTTOM, max(after(now, -p.rate_window_s), started))


def _leaving_bottom(diver: DiverState, last: Mark, now: Instant, p: Parameters) -> Iterable[Proposal]:
    recent = since(diver.history, max(after(now, -p.proposal_look_back_s), last.at))
    deepest = max((sample.value for sample in recent), default=0.0)
    if recent and deepest - recent[-1].value > p.leaving_rise_fsw:
        near = [sample.at for sample in recent if deepest - sample.value <= p.surface_fsw]
        yield Proposal(MarkKind.LEFT_BOTTOM, near[-1])


def _down_again(diver: DiverState, phase: Phase, last: Mark, p: Parameters) -> Iterable[Proposal]:
    """A working descent: deeper than he has been since he left the bottom, by steady depths.

    At a stop the depth of the stop stands for the highest.
    """
    width = round(p.steady_window_s)
    if phase is Phase.AT_STOP and last.stop_fsw is not None:
        trace, limit_fsw = since(diver.history, last.at), last.stop_fsw + p.stop_descent_fsw
    else:
        trace = since(diver.history, _left_bottom_at(diver))
        limit_fsw = min((sample.value for sample in trace), default=0.0) + p.working_descent_fsw
    if not trace or trace[-1].value <= limit_fsw:
        return
    medians = sliding_medians(trace, width)
    if phase is Phase.ASCENDING and medians:
        limit_fsw = min(medians) + p.working_descent_fsw
    if medians and medians[-1] > limit_fsw:
        yield Proposal(MarkKind.REACHED_BOTTOM, _highest(trace).at, holds=True)


def _left_bottom_at(diver: DiverState) -> Instant:
    marks = effective_marks(diver)
    return max(mark.at for mark in marks if mark.kind is MarkKind.LEFT_BOTTOM)


def _highest(trace: tuple[Sample, ...]) -> Sample:
    return min(trace, key=lambda sample: (sample.value, -sample.at))
