"""What the alarms watch: for each quantity how far it stands beyond its limit. Limits here, trust apart."""

from collections.abc import Callable
from dataclasses import dataclass

from shared.clock import EPOCH, Instant, seconds_between
from shared.gauges import Channel
from shared.units import NS_PER_S
from station.core.air.supplies import Air
from station.core.air.supply import Supply
from station.core.by_table.bottom import IfHeLeft
from station.core.by_table.coming_up import Ascent
from station.core.depth import corrected_fsw, table_fsw_of
from station.core.finding import diver_named, gauge_of, gauge_state
from station.core.inputs import MarkKind
from station.core.state import DiverState, SoundOutput, State
from station.core.timekeeping import Holding, is_working_descent
from station.core.trust import age_s, is_heard, stale_after_s

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


CALM = Watched(float("-inf"))
"""Nothing of the kind: clears at once."""


@dataclass(frozen=True, slots=True)
class Sight:
    """What a look is given: the state, whose quantity, and for a diver his marks and in the water his supply.

    `air` is the air of the station, for a look at a supply. `schedule` is what the tables say before he has
    left the bottom, `ascent` after. All of it is worked out once a tick and not by every look.
    """

    state: State
    subject: str
    marks: Holding = ()
    supply: Supply | None = None
    schedule: IfHeLeft | None = None
    ascent: Ascent | None = None
    air: Air | None = None


Watch = Callable[[Sight], Watched | None]
"""Looks at one quantity of one subject; None when it cannot be known now, so that the alarm holds."""


def _yes(condition: bool, measured: float | None = None, limit: float | None = None) -> Watched:
    return Watched(1.0, measured, limit) if condition else CALM


def supply_short(sight: Sight) -> Watched | None:
    """Psi by which the supply is below the minimum manifold pressure."""
    supply = sight.supply
    if supply is None or supply.margin_psi is None:
        return None
    return Watched(-supply.margin_psi, supply.pressure_psig, supply.required_psig)


def supply_failing(sight: Sight) -> Watched | None:
    """Minutes by which the margin will be gone sooner than the warning wants."""
    supply, limit_min = sight.supply, sight.state.settings.parameters.supply_warning_min
    if supply is None or supply.margin_psi is None:
        return None
    if supply.margin_psi <= 0 or supply.margin_left_min is None:
        return CALM
    return Watched(limit_min - supply.margin_left_min, supply.margin_left_min, limit_min)


def ascent_fast(sight: Sight) -> Watched | None:
    """Fsw/min by which the ascent is faster than 40."""
    return _rate_up(sight, sight.state.settings.parameters.ascent_limit_fsw_min)


def ascent_dangerous(sight: Sight) -> Watched | None:
    """Fsw/min by which the ascent is faster than 60."""
    return _rate_up(sight, sight.state.settings.parameters.ascent_danger_fsw_min)


def _rate_up(sight: Sight, limit_fsw_min: float) -> Watched | None:
    rate = _diver(sight).rate_fsw_min
    return None if rate is None else Watched(-rate - limit_fsw_min, -rate, limit_fsw_min)


def _diver(sight: Sight) -> DiverState:
    return diver_named(sight.state, sight.subject)


def descent_fast(sight: Sight) -> Watched | None:
    """Fsw/min by which the descent is faster than 75."""
    rate, limit = _diver(sight).rate_fsw_min, sight.state.settings.parameters.descent_limit_fsw_min
    return None if rate is None else Watched(rate - limit, rate, limit)


def too_deep(sight: Sight) -> Watched | None:
    """Fsw by which the present depth, as it would enter the table, is deeper than the plan."""
    who, tolerance_fsw = _diver(sight), sight.state.settings.parameters.gauge_rounding_fsw
    if who.planned_depth_fsw is None:
        return CALM
    if who.steady_fsw is None:
        return None
    at_fsw = table_fsw_of(who.steady_fsw, tolerance_fsw)
    # Deeper than the printed corrections: by the gauge alone he is too deep.
    excess = (who.steady_fsw if at_fsw is None else at_fsw) - who.planned_depth_fsw
    return Watched(excess, corrected_fsw(who.steady_fsw, tolerance_fsw), who.planned_depth_fsw)


def in_water_still(sight: Sight) -> Watched | None:
    """Fsw by which a diver who was marked at the surface is deeper than one who is in the water."""
    shown, limit = _diver(sight).shown_fsw, sight.state.settings.parameters.in_water_fsw
    return None if shown is None else Watched(shown - limit, shown, limit)


def depth_silent(sight: Sight) -> Watched | None:
    """Seconds by which the depth gauge has been silent too long."""
    return _silent(sight, Channel.DEPTH)


def supply_silent(sight: Sight) -> Watched | None:
    """Seconds by which the supply gauge has been silent too long."""
    return _silent(sight, Channel.SUPPLY)


def _silent(sight: Sight, channel: Channel) -> Watched:
    """A gauge that was never heard is given the same time from the beginning of the watch."""
    state = sight.state
    gauge = gauge_of(state, channel, sight.subject)
    if gauge is None:
        return CALM
    heard, limit_s = gauge_state(state, gauge.name), stale_after_s(gauge, state.settings.parameters)
    if heard.last is None and seconds_between(EPOCH, state.now) <= limit_s:
        return CALM
    return _yes(not is_heard(heard.trust), age_s(heard, state.now), limit_s)


def start_unmarked(sight: Sight) -> Watched:
    """Whether the diver left the surface by the trace and nobody marked it; seconds since then."""
    if not sight.marks or sight.marks[0][0].number:
        return CALM
    return _yes(True, seconds_between(sight.marks[0][0].at, sight.state.now))


def bottom_again(sight: Sight) -> Watched:
    """Whether the trace shows a working descent after the bottom was marked as left."""
    return _yes(is_working_descent(sight.marks))


def surface_unmarked(sight: Sight) -> Watched:
    """Whether the trace shows the diver at the surface and nobody marked it; seconds since then."""
    for made in _diver(sight).proposals:
        if made.kind is MarkKind.REACHED_SURFACE:
            return _yes(True, seconds_between(made.at, sight.state.now))
    return CALM


def log_not_durable(sight: Sight) -> Watched:
    """Whether records wait too long to be committed; seconds since they do."""
    log = sight.state.log
    behind = log.behind_since is not None
    return _yes(
        behind or bool(log.failed),
        None if log.behind_since is None else seconds_between(log.behind_since, sight.state.now),
        sight.state.settings.parameters.log_behind_s,
    )


def copy_lost(sight: Sight) -> Watched:
    """Whether the copy of the log on a second medium is not kept; seconds since it is not."""
    since = sight.state.copy_lost_since
    return _yes(since is not None, None if since is None else seconds_between(since, sight.state.now))


def windows_lost(sight: Sight) -> Watched:
    """Whether the windows' process has ended by itself."""
    return _yes(sight.state.panels_lost)


def no_sound(sight: Sight) -> Watched:
    """Whether there should be a horn and none can be heard."""
    return _yes(sight.state.sound.output is SoundOutput.LOST)


def watch_was_broken(sight: Sight) -> Watched:
    """Whether the station was off watch for a time that it cannot tell."""
    gaps = sight.state.gaps
    return _yes(bool(gaps) and not gaps[-1].known and _recent(sight.state, gaps[-1].end))


def clock_stepped(sight: Sight) -> Watched:
    """Whether UTC has stepped against station time a short while ago; seconds of the step."""
    stepped = sight.state.clock_stepped
    if stepped is None or not _recent(sight.state, stepped.at):
        return CALM
    return _yes(True, stepped.value, sight.state.settings.parameters.clock_step_s)


def _recent(state: State, at: Instant) -> bool:
    return state.now - at < state.settings.parameters.told_for_s * NS_PER_S
