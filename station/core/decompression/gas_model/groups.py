"""Groups, surface intervals, residual times and waits before altitude by one compartment of 120 minutes.

The tops of the groups, the 640 minutes of the waits and the roundings were found from the tables [C].
"""

from collections.abc import Callable
from math import ceil, inf, log2

import numpy as np
from numpy.typing import NDArray

from .constants import (
    ALTITUDE_HALF_TIME_MIN,
    GROUP_COMPARTMENT,
    GROUP_FLOOR_FSW,
    GROUP_STEP_FSW,
    HALF_TIMES_MIN,
    OXYGEN_IN_AIR,
    SATURATION_MIN,
)
from .kinetics import RATES_PER_MIN, Array, surface_tension_fsw, surroundings
from .schedules import group_excess_fsw, passes_without_stop, straight_up

_HALF_TIME_MIN = HALF_TIMES_MIN[GROUP_COMPARTMENT]
ROUNDING_MIN = 0.5
"""The tables of intervals and waits are printed to the nearest minute."""


def group_top_fsw(number: int) -> float:
    """Greatest excess of a group, counted from 1; 0 is the excess at which the first group ends."""
    return GROUP_FLOOR_FSW + GROUP_STEP_FSW * number


def decay_min(from_fsw: float, to_fsw: float) -> float:
    """Minutes at the surface for an excess to fall: linear above the crossover, exponential below."""
    around = surroundings(np.zeros(1), OXYGEN_IN_AIR)
    crossover_fsw = float(around.crossover_fsw[0, 0]) - surface_tension_fsw()
    rate_per_min = float(RATES_PER_MIN[GROUP_COMPARTMENT])
    linear_fsw = max(from_fsw - max(to_fsw, crossover_fsw), 0.0)
    curved = max(min(from_fsw, crossover_fsw) / min(to_fsw, crossover_fsw), 1.0)
    return linear_fsw / (rate_per_min * crossover_fsw) + _HALF_TIME_MIN * log2(curved)


def interval_ends_min(from_number: int, to_number: int) -> int:
    """Last minute of the surface interval that takes a group (counted from 1) to another. Table 9-8."""
    return round(decay_min(group_top_fsw(from_number), group_top_fsw(to_number - 1)))


def residual_min(number: int, depth_fsw: int) -> float:
    """Residual nitrogen time, up, of a group at a depth; infinite where the depth never loads so much."""
    share = group_top_fsw(number) / ((1.0 - OXYGEN_IN_AIR) * depth_fsw)
    return inf if share >= 1.0 else float(ceil(-_HALF_TIME_MIN * log2(1.0 - share)))


def altitude_level_fsw(number: int, wait_min: int) -> tuple[float, float]:
    """Levels of excess between which an altitude must lie for a group to wait so many minutes, rounded."""
    top_fsw = group_top_fsw(number)
    if wait_min == 0:
        return top_fsw, inf
    least, most = (
        top_fsw * 2.0 ** (-(wait_min + off_min) / ALTITUDE_HALF_TIME_MIN)
        for off_min in (ROUNDING_MIN, -ROUNDING_MIN)
    )
    return least, most


def group_numbers(excess_fsw: Array, groups: int) -> NDArray[np.int64]:
    """Group of each excess, counted from 1; `groups` + 1 where it is above the last."""
    tops = np.array([group_top_fsw(number) for number in range(1, groups + 1)])
    numbers: NDArray[np.int64] = np.searchsorted(tops, excess_fsw, side="left") + 1
    return numbers


def no_stop_limits_min(depths_fsw: NDArray[np.int64]) -> NDArray[np.int64]:
    """Longest whole bottom time without a stop at each depth; SATURATION_MIN stands for any time."""
    return _longest(depths_fsw, lambda minutes: passes_without_stop(depths_fsw, minutes))


def group_times_min(depths_fsw: NDArray[np.int64], groups: int) -> NDArray[np.int64]:
    """Longest whole bottom time that ends in each group (columns) at each depth; SATURATION_MIN: any time."""
    tops = np.array([group_top_fsw(number) for number in range(1, groups + 1)])
    depths, limits = np.repeat(depths_fsw, groups), np.tile(tops, depths_fsw.size)
    times = _longest(depths, lambda minutes: group_excess_fsw(straight_up(depths, minutes)) <= limits)
    return times.reshape(depths_fsw.size, groups)


def _longest(depths_fsw: NDArray[np.int64], holds: Callable[[Array], NDArray[np.bool_]]) -> NDArray[np.int64]:
    """Longest whole minutes for which a test holds, by halving; 0 where it never does."""
    low = np.zeros(np.asarray(depths_fsw).size, dtype=np.int64)
    high = np.full_like(low, SATURATION_MIN + 1)
    while (high - low > 1).any():
        middle = (low + high) // 2
        good = holds(middle.astype(np.float64))
        low, high = np.where(good, middle, low), np.where(good, high, middle)
    return low
