"""Two depth gauges on one diver, held against each other. Rule D7."""

from dataclasses import dataclass, replace

from shared.clock import Instant
from shared.gauges import Channel, GaugeRole
from shared.units import NS_PER_S
from station.core.finding import gauge_of, place_of
from station.core.hose.numbers import PAIR_STEADY_FSW_MIN
from station.core.hose.pair import gauges_differ, pair_limit_fsw
from station.core.listening import steady_of
from station.core.parameters import Parameters
from station.core.phase import IN_WATER, Phase
from station.core.robust import kept, slope_per_min, spans
from station.core.state import DiverState, GaugeState, State


@dataclass(frozen=True, slots=True)
class Pair:
    """What a diver's two depth gauges show, in fsw, and by how much they may differ."""

    main_fsw: float
    check_fsw: float
    limit_fsw: float
    differs: bool
    is_steady: bool

    @property
    def apart_fsw(self) -> float:
        """How far they are apart."""
        return abs(self.main_fsw - self.check_fsw)


def pair_of(state: State, gauges: tuple[GaugeState, ...], diver: DiverState, now: Instant) -> Pair | None:
    """The steady readings of a diver's two gauges; None where there is one, or one is not steady or heard.

    Full scale is that of the gauge with the smaller one.
    """
    main = gauge_of(state, Channel.DEPTH, diver.name)
    check = gauge_of(state, Channel.DEPTH, diver.name, GaugeRole.CHECK)
    if main is None or check is None:
        return None
    p = state.settings.parameters
    main_fsw = steady_of(main, gauges[place_of(state, main.name)], now, p)
    check_fsw = steady_of(check, gauges[place_of(state, check.name)], now, p)
    if main_fsw is None or check_fsw is None:
        return None
    scale_fsw = min(main.high, check.high)
    rate = _slow_rate(diver, now, p)
    steady = rate is not None and abs(rate) < PAIR_STEADY_FSW_MIN
    differs = gauges_differ(main_fsw, check_fsw, scale_fsw, rate)
    return Pair(main_fsw, check_fsw, pair_limit_fsw(scale_fsw), differs, steady)


def paired(diver: DiverState, pair: Pair | None, phase: Phase) -> DiverState:
    """The diver with whether his gauges differ, by the last time when that could be told.

    While they do the deeper one counts: the deepest of all that is known, rule D9.
    """
    differ = diver.gauges_differ if pair is None or not pair.is_steady else pair.differs
    deepest = diver.deepest_read_fsw
    if differ and pair is not None and pair.is_steady and phase in IN_WATER:
        deepest = pair.check_fsw if deepest is None else max(deepest, pair.check_fsw)
    if (differ, deepest) == (diver.gauges_differ, diver.deepest_read_fsw):
        return diver
    return replace(diver, gauges_differ=differ, deepest_read_fsw=deepest)


def _slow_rate(diver: DiverState, now: Instant, p: Parameters) -> float | None:
    """The rate over a window in which waves go out; None where the trace does not fill it."""
    recent = kept(diver.history, now, p.pair_window_s)
    if diver.rate_fsw_min is None or not spans(recent, now, p.pair_window_s * p.least_window_share):
        return None
    return slope_per_min([((sample.at - recent[0].at) / NS_PER_S, sample.value) for sample in recent])
