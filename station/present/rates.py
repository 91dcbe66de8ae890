"""How fast a diver moves: the tail on his line, and the guide of his ascent."""

from statistics import fmean
from typing import Final

from shared.units import S_PER_MIN
from station.core.phase import Phase
from station.core.robust import kept
from station.core.settings import Units
from station.core.state import DiverState, State
from station.core.timekeeping import phase_of
from station.present.ascent_looks import RateLook
from station.present.figures import depth_unit, shown_depth
from station.present.looks import Tail

TAIL_FROM_FSW_MIN: Final = 2.0
"""A diver on his way who moves more slowly has no tail. Own choice: noise of the rate."""

TAIL_FROM_STEADY_FSW_MIN: Final = 5.0
"""On the bottom and at a stop a tail takes this much, now and between two means. Own choice.

Waves lift hose and diver: the rate of six seconds then swings by several fsw a minute around nothing, and a
tail that blinks is looked away from. The mean of six seconds holds most of a swell's period, so two of them
one after the other hardly differ; a diver who leaves at 30 fsw a minute is past it in four seconds.
"""

TAIL_MEAN_S: Final = 6
"""Each mean is taken over so many seconds, one shown depth each; own choice, a usual swell."""

ASCENT_LEAST_FSW_MIN: Final = 20.0
"""An ascent slower than this is no minor variation. USN Diving Manual Rev 4, p. 14-7."""

_ON_HIS_WAY: Final = (Phase.DESCENDING, Phase.ASCENDING)
_STEADY: Final = (Phase.ON_BOTTOM, Phase.AT_STOP)


def tail_of(state: State, diver: DiverState, at_fsw: float | None, rate_fsw_min: float | None) -> Tail | None:
    """Where he will be in one minute at this rate, against the band in which that is right."""
    if at_fsw is None or rate_fsw_min is None or not _moves(diver, rate_fsw_min, state):
        return None
    p, units = state.settings.parameters, state.settings.units
    if rate_fsw_min > 0:
        band = (at_fsw, at_fsw + p.descent_limit_fsw_min)
    else:
        band = (max(0.0, at_fsw - ASCENT_LEAST_FSW_MIN), max(0.0, at_fsw - p.ascent_limit_fsw_min))
    # Whole feet: the tail is read against a band of twenty.
    to_fsw = float(round(max(0.0, at_fsw + rate_fsw_min)))
    return Tail(shown_depth(to_fsw, units), *(shown_depth(edge, units) for edge in band))


def _moves(diver: DiverState, rate_fsw_min: float, state: State) -> bool:
    phase = phase_of(diver)
    if phase in _ON_HIS_WAY:
        return abs(rate_fsw_min) > TAIL_FROM_FSW_MIN
    if phase not in _STEADY or abs(rate_fsw_min) <= TAIL_FROM_STEADY_FSW_MIN:
        return False
    recent = [sample.value for sample in kept(diver.history, state.now, 2 * TAIL_MEAN_S)]
    if len(recent) < 2 * TAIL_MEAN_S:
        return True
    before_fsw, now_fsw = fmean(recent[-2 * TAIL_MEAN_S : -TAIL_MEAN_S]), fmean(recent[-TAIL_MEAN_S:])
    mean_fsw_min = (now_fsw - before_fsw) / TAIL_MEAN_S * S_PER_MIN
    return abs(mean_fsw_min) > TAIL_FROM_STEADY_FSW_MIN and mean_fsw_min * rate_fsw_min > 0


def rate_look(state: State, diver: DiverState) -> RateLook | None:
    """How fast he comes up against what is right; None unless he is on his way up."""
    if phase_of(diver) is not Phase.ASCENDING:
        return None
    p, units = state.settings.parameters, state.settings.units
    least, most, end = (
        _shown_rate(fsw_min, units)
        for fsw_min in (ASCENT_LEAST_FSW_MIN, p.ascent_limit_fsw_min, p.ascent_danger_fsw_min)
    )
    unit = f"{depth_unit(units)} a minute"
    right = f"right: {least} to {most}"
    rate_fsw_min = diver.rate_fsw_min
    if rate_fsw_min is None:
        return RateLook("Rate not known", right, unit, None, least, most, end)
    up = _shown_rate(-rate_fsw_min, units)
    words = f"Up {up} {unit}" if up > 0 else f"Down {-up} {unit}" if up < 0 else "Held"
    return RateLook(words, right, unit, up, least, most, end)


def _shown_rate(fsw_min: float, units: Units) -> int:
    """A rate in whole units a minute, as it is read beside a band of twenty."""
    return round(shown_depth(fsw_min, units))
