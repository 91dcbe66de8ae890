"""What the alarms watch: for each quantity how far it stands beyond its limit. Limits here, trust apart."""

from collections.abc import Callable
from dataclasses import dataclass

from shared.clock import Instant, seconds_between
from shared.gauges import Channel
from shared.units import NS_PER_S
from station.core.air.supply import supply_of
from station.core.depth import corrected_fsw
from station.core.finding import diver_named, gauge_of, gauge_state
from station.core.inputs import MarkKind
from station.core.phase import Phase
from station.core.state import State, Trust
from station.core.timekeeping import TRACE, effective_marks, phase_of, working_descent_proposed
from station.core.trust import age_s, stale_after_s

STATION = "Station"
"""The subject of alarms that are nobody's own."""


@dataclass(frozen=True, slots=True)
class Watched:
    """One look at a quantity: `excess` over the limit in the quantity's unit, positive when beyond it.

    `measured` and `limit` are the figures for the sentence.
    """

    excess: float
    measured: float | None = None
    limit: float | None = None


CALM = Watched(-float("inf"))
"""Nothing of the kind: clears at once."""

Watch = Callable[[State, str], Watched | None]
"""Looks at one quantity of one subject; None when it cannot be known now, so that the alarm holds."""


def _yes(condition: bool, measured: float | None = None, limit: float | None = None) -> Watched:
    return Watched(1.0, measured, limit) if condition else CALM


def supply_short(state: State, diver: str) -> Watched | None:
    """Psi by which the supply is below the minimum manifold pressure."""
    supply = supply_of(state, diver)
    if supply.margin_psi is None:
        return None
    return Watched(-supply.margin_psi, supply.pressure_psig, supply.required_psig)


def supply_failing(state: State, diver: str) -> Watched | None:
    """Minutes by which the margin will be gone sooner than the warning wants."""
    supply, limit_min = supply_of(state, diver), state.settings.parameters.supply_warning_min
    if supply.margin_psi is None:
        return None
    if supply.margin_psi <= 0 or supply.margin_left_min is None:
        return CALM
    return Watched(limit_min - supply.margin_left_min, supply.margin_left_min, limit_min)


def ascent_fast(state: State, diver: str) -> Watched | None:
    """Fsw/min by which the ascent is faster than 40."""
    return _rate_up(state, diver, state.settings.parameters.ascent_limit_fsw_min)


def ascent_dangerous(state: State, diver: str) -> Watched | None:
    """Fsw/min by which the ascent is faster than 60."""
    return _rate_up(state, diver, state.settings.parameters.ascent_danger_fsw_min)


def _rate_up(state: State, diver: str, limit_fsw_min: float) -> Watched | None:
    rate = diver_named(state, diver).rate_fsw_min
    return None if rate is None else Watched(-rate - limit_fsw_min, -rate, limit_fsw_min)


def descent_fast(state: State, diver: str) -> Watched | None:
    """Fsw/min by which the descent is faster than 75."""
    rate, limit = diver_named(state, diver).rate_fsw_min, state.settings.parameters.descent_limit_fsw_min
    return None if rate is None else Watched(rate - limit, rate, limit)


def too_deep(state: State, diver: str) -> Watched | None:
    """Fsw by which the present corrected depth is deeper than the plan."""
    who = diver_named(state, diver)
    if who.planned_depth_fsw is None:
        return CALM
    depth = corrected_fsw(who.steady_fsw, state.settings.parameters.gauge_rounding_fsw)
    return None if depth is None else Watched(depth - who.planned_depth_fsw, depth, who.planned_depth_fsw)


def depth_silent(state: State, diver: str) -> Watched | None:
    """Seconds by which the depth gauge has been silent too long."""
    return _silent(state, Channel.DEPTH, diver)


def supply_silent(state: State, diver: str) -> Watched | None:
    """Seconds by which the supply gauge has been silent too long."""
    return _silent(state, Channel.SUPPLY, diver)


def _silent(state: State, channel: Channel, subject: str) -> Watched:
    gauge = gauge_of(state, channel, subject)
    if gauge is None:
        return CALM
    heard = gauge_state(state, gauge.name)
    silent = heard.trust in (Trust.STALE, Trust.LOST)
    limit_s = stale_after_s(gauge, state.settings.parameters)
    return _yes(silent, age_s(heard, state.now), limit_s)


def start_unmarked(state: State, diver: str) -> Watched:
    """Whether the diver left the surface by the trace and nobody marked it; seconds since then."""
    marks = effective_marks(diver_named(state, diver))
    presumed = next((m for m in marks if m.by == TRACE and m.number == 0), None)
    if presumed is None:
        return CALM
    return _yes(True, seconds_between(presumed.at, state.now))


def bottom_again(state: State, diver: str) -> Watched:
    """Whether the trace shows a working descent after the bottom was marked as left."""
    return _yes(working_descent_proposed(diver_named(state, diver)))


def surface_unmarked(state: State, diver: str) -> Watched:
    """Whether the trace shows the diver at the surface and nobody marked it; seconds since then."""
    who = diver_named(state, diver)
    made = next((p for p in who.proposals if p.kind is MarkKind.REACHED_SURFACE), None)
    if made is None or phase_of(who) is Phase.SURFACED:
        return CALM
    return _yes(True, seconds_between(made.at, state.now))


def log_not_durable(state: State, _: str) -> Watched:
    """Whether records wait too long to be committed; seconds since they do."""
    log = state.log
    behind = log.behind_since is not None
    return _yes(
        behind or bool(log.failed),
        None if log.behind_since is None else seconds_between(log.behind_since, state.now),
        state.settings.parameters.log_behind_s,
    )


def windows_lost(state: State, _: str) -> Watched:
    """Whether the windows' process has ended by itself."""
    return _yes(state.panels_lost)


def watch_was_broken(state: State, _: str) -> Watched:
    """Whether the station was off watch for a time that it cannot tell."""
    return _yes(bool(state.gaps) and not state.gaps[-1].known and _recent(state, state.gaps[-1].end))


def clock_stepped(state: State, _: str) -> Watched:
    """Whether UTC has stepped against station time a short while ago; seconds of the step."""
    stepped = state.clock_stepped
    if stepped is None or not _recent(state, stepped.at):
        return CALM
    return _yes(True, stepped.value, state.settings.parameters.clock_step_s)


def _recent(state: State, at: Instant) -> bool:
    return state.now - at < state.settings.parameters.told_for_s * NS_PER_S
