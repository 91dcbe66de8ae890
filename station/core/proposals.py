"""Moments that the depth trace shows and nobody has marked. Rule T1: the trace proposes, the tender marks."""

from collections.abc import Iterable
from dataclasses import replace

from shared.clock import Instant, after, seconds_between
from station.core.facts import Fact, MarkProposed
from station.core.inputs import MarkKind
from station.core.parameters import Parameters
from station.core.phase import Phase
from station.core.state import DiverState, Proposal, Sample
from station.core.timekeeping import history_since, phase_of, times_of


def propose(diver: DiverState, now: Instant, p: Parameters) -> tuple[DiverState, tuple[Fact, ...]]:
    """The diver with the proposals that his trace now makes; a new one is a fact."""
    standing = tuple(made for made in diver.proposals if _stands(diver, made, now, p))
    found = _found(diver, now, p)
    fresh = tuple(f for f in found if all(f.kind is not s.kind for s in standing))
    if not fresh and standing == diver.proposals:
        return diver, ()
    return (
        replace(diver, proposals=(*standing, *fresh)),
        tuple(MarkProposed(diver.name, proposal.kind, proposal.at) for proposal in fresh),
    )


_PLACES = {
    MarkKind.LEFT_SURFACE: frozenset(Phase),
    MarkKind.REACHED_BOTTOM: frozenset({Phase.DESCENDING, Phase.ASCENDING}),
    MarkKind.LEFT_BOTTOM: frozenset({Phase.DESCENDING, Phase.ON_BOTTOM}),
    MarkKind.REACHED_SURFACE: frozenset({Phase.ASCENDING, Phase.AT_STOP, Phase.ON_BOTTOM}),
}


def _stands(diver: DiverState, made: Proposal, now: Instant, p: Parameters) -> bool:
    """Whether a proposal still has its place and the trace has not gone on past it."""
    phase, rate = phase_of(diver), diver.rate_fsw_min
    if phase not in _PLACES[made.kind]:
        return False
    if made.kind is MarkKind.LEFT_SURFACE:
        up = diver.shown_fsw is not None and diver.shown_fsw <= p.surface_fsw
        tried = up and seconds_between(made.at, now) < p.gauge_trial_s
        return not (tried and all(mark.dive != diver.dive for mark in diver.marks))
    if made.kind is MarkKind.REACHED_BOTTOM and phase is Phase.DESCENDING:
        return rate is None or rate < 2 * p.steady_rate_fsw_min
    return True


def _found(diver: DiverState, now: Instant, p: Parameters) -> Iterable[Proposal]:
    shown, rate = diver.shown_fsw, diver.rate_fsw_min
    if shown is None:
        return
    match phase_of(diver):
        case Phase.DRESSED if shown > p.in_water_fsw:
            yield Proposal(MarkKind.LEFT_SURFACE, _last_at_surface(diver, now, p))
        case Phase.DESCENDING if rate is not None and shown > p.in_water_fsw:
            if abs(rate) < p.steady_rate_fsw_min:
                yield Proposal(MarkKind.REACHED_BOTTOM, after(now, -p.rate_window_s))
        case Phase.ON_BOTTOM:
            yield from _leaving_bottom(diver, shown, now, p)
        case Phase.ASCENDING | Phase.AT_STOP:
            yield from _coming_up(diver, shown, now, p)
        case _:
            return


def _last_at_surface(diver: DiverState, now: Instant, p: Parameters) -> Instant:
    """The last second at which he was at the surface, or the first that is known."""
    for sample in reversed(diver.history):
        if sample.value <= p.surface_fsw:
            return sample.at
    return diver.history[0].at if diver.history else now


def _leaving_bottom(diver: DiverState, shown: float, now: Instant, p: Parameters) -> Iterable[Proposal]:
    recent = history_since(diver, after(now, -p.proposal_look_back_s))
    if not recent:
        return
    deepest = max(recent, key=lambda sample: (sample.value, sample.at))
    if deepest.value - shown > p.leaving_rise_fsw:
        yield Proposal(MarkKind.LEFT_BOTTOM, _last_near(recent, deepest, p))


def _last_near(recent: tuple[Sample, ...], deepest: Sample, p: Parameters) -> Instant:
    return max(sample.at for sample in recent if deepest.value - sample.value <= p.surface_fsw)


def _coming_up(diver: DiverState, shown: float, now: Instant, p: Parameters) -> Iterable[Proposal]:
    if shown <= p.surface_fsw:
        yield Proposal(MarkKind.REACHED_SURFACE, now)
        return
    left = times_of(diver, now).left_bottom
    since = history_since(diver, left) if left is not None else ()
    if phase_of(diver) is Phase.ASCENDING and since:
        highest = min(since, key=lambda sample: (sample.value, -sample.at))
        if shown - highest.value > p.working_descent_fsw:
            yield Proposal(MarkKind.REACHED_BOTTOM, highest.at)
