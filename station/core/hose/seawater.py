"""Depth in metres from a gauge pressure, for the record; tables and windows stay in fsw."""

from math import radians, sin

from station.core.air.quantity import Quantity
from station.core.hose.numbers import (
    DEPTH_COEFFICIENTS,
    GRAVITY_EQUATOR_M_S2,
    GRAVITY_LATITUDE,
    GRAVITY_PER_DECIBAR,
    PASCAL_PER_DECIBAR,
)


def depth_m_from_gauge_pressure(pressure_pa: Quantity, latitude_deg: float) -> Quantity:
    """Depth in metres of sea water of a gauge pressure in Pa at a latitude in degrees.

    For a standard ocean (salinity 35, 0 C); warm or fresh water is deeper, by up to 3 %.
    Source: Fofonoff and Millard, UNESCO technical papers in marine science 44 (1983), p. 25 to 28.
    """
    decibar = pressure_pa / PASCAL_PER_DECIBAR
    square = sin(radians(latitude_deg)) ** 2
    first, second = GRAVITY_LATITUDE
    at_surface = GRAVITY_EQUATOR_M_S2 * (1 + (first + second * square) * square)
    potential = decibar * 0.0
    for coefficient in reversed(DEPTH_COEFFICIENTS):
        potential = (potential + coefficient) * decibar
    return potential / (at_surface + GRAVITY_PER_DECIBAR * decibar)
