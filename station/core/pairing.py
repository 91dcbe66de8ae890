"""Two depth gauges on one diver, held against each other. Rule D7."""

from dataclasses import dataclass

from shared.clock import Instant
from shared.gauges import Channel, GaugeRole
from station.core.finding import gauge_of, place_of
from station.core.hose.pair import gauges_differ, pair_limit_fsw
from station.core.listening import steady_of
from station.core.state import DiverState, GaugeState, State


@dataclass(frozen=True, slots=True)
class Pair:
    """What a diver's two depth gauges show, in fsw, and by how much they may differ."""

    main_fsw: float
    check_fsw: float
    limit_fsw: float
    differs: bool

    @property
    def apart_fsw(self) -> float:
        """How far they are apart."""
        return abs(self.main_fsw - self.check_fsw)


def pair_of(state: State, gauges: tuple[GaugeState, ...], diver: DiverState, now: Instant) -> Pair | None:
    """The steady readings of a diver's two gauges; None where there is one, or one is not steady or heard.

    Full scale is that of the gauge with the smaller one. The rate is the last that is known to be his.
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
    differs = gauges_differ(main_fsw, check_fsw, scale_fsw, diver.rate_fsw_min)
    return Pair(main_fsw, check_fsw, pair_limit_fsw(scale_fsw), differs)
