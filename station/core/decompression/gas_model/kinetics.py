"""Uptake and wash-out of nitrogen at constant depth, in closed form, over compartments and whole batches.

Above the crossover wash-out is linear, below it exponential; uptake is exponential. The last axis of every
array of tensions is the compartment; depths, shares and times broadcast against the others.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from .constants import (
    ARTERIAL_CO2_FSW,
    BUBBLE_OVERPRESSURE_FSW,
    HALF_TIMES_MIN,
    OXYGEN_IN_AIR,
    SURFACE_BUBBLE_OVERPRESSURE_FSW,
    SURFACE_FSW,
    VENOUS_CO2_FSW,
    VENOUS_O2_FSW,
    WASH_OUT_AIR,
    WASH_OUT_OXYGEN,
    WASH_OUT_SWITCH,
)

Array = NDArray[np.float64]

RATES_PER_MIN = np.log(2.0) / np.array(HALF_TIMES_MIN)
"""k of each compartment."""


@dataclass(frozen=True, slots=True)
class Surroundings:
    """What a diver's tissues see at one depth on one gas: arterial nitrogen, crossover, wash-out ratio."""

    arterial_fsw: Array
    crossover_fsw: Array
    wash_out: Array


def surroundings(depth_fsw: Array, oxygen_share: float) -> Surroundings:
    """The driving pressures at depths (one per schedule) on one gas. Source: NEDU, second hand [S]."""
    ambient_fsw = (SURFACE_FSW + np.asarray(depth_fsw, dtype=np.float64))[..., np.newaxis]
    at_surface = ambient_fsw <= SURFACE_FSW
    bubble_fsw = np.where(at_surface, SURFACE_BUBBLE_OVERPRESSURE_FSW, BUBBLE_OVERPRESSURE_FSW)
    arterial_fsw = np.maximum(ambient_fsw * (1.0 - oxygen_share) - ARTERIAL_CO2_FSW, 0.0)
    crossover_fsw = ambient_fsw - VENOUS_O2_FSW - VENOUS_CO2_FSW + bubble_fsw
    ratio = WASH_OUT_OXYGEN if oxygen_share >= WASH_OUT_SWITCH else WASH_OUT_AIR
    return Surroundings(arterial_fsw, crossover_fsw, np.full_like(arterial_fsw, ratio))


def surface_tension_fsw() -> float:
    """Nitrogen tension of every compartment after a long time on air at the surface: 24.57 fsw."""
    return float(surroundings(np.zeros(1), OXYGEN_IN_AIR).arterial_fsw[0, 0])


def held(tension_fsw: Array, around: Surroundings, minutes: Array, rates: Array = RATES_PER_MIN) -> Array:
    """Tensions after so many minutes at one depth.

    The linear part lasts to the crossover time, the exponential part takes the rest.
    """
    arterial, crossover = around.arterial_fsw, around.crossover_fsw
    time = np.asarray(minutes, dtype=np.float64)[..., np.newaxis]
    wash_out = rates * around.wash_out
    slope = wash_out * (crossover - arterial)
    linear_min = np.clip((tension_fsw - crossover) / slope, 0.0, time)
    start = tension_fsw - slope * linear_min
    rate = np.where(start > arterial, wash_out, rates)
    after: Array = arterial + (start - arterial) * np.exp(-rate * (time - linear_min))
    return after


def minutes_until(tension_fsw: Array, limit_fsw: Array, around: Surroundings) -> Array:
    """Minutes at one depth until each tension is down to its limit; 0 when it is, infinite if never."""
    arterial, crossover = around.arterial_fsw, around.crossover_fsw
    wash_out = RATES_PER_MIN * around.wash_out
    slope = wash_out * (crossover - arterial)
    linear_min = np.maximum(tension_fsw - np.maximum(limit_fsw, crossover), 0.0) / slope
    start = np.minimum(tension_fsw, crossover)
    reachable = limit_fsw > arterial
    ratio = np.where(reachable, (start - arterial) / np.where(reachable, limit_fsw - arterial, 1.0), np.inf)
    curved_min = np.where(ratio > 1.0, np.log(np.maximum(ratio, 1.0)) / wash_out, 0.0)
    total: Array = np.where(tension_fsw <= limit_fsw, 0.0, linear_min + curved_min)
    return total
