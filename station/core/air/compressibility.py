"""Real air: how far a flask's content departs from pressure x volume. Rule G4."""

from station.core.air.numbers import (
    COMPRESSIBILITY_COLDEST_F,
    COMPRESSIBILITY_HIGHEST_PSIG,
    COMPRESSIBILITY_HOTTEST_F,
    COMPRESSIBILITY_MIDDLE_F,
    COMPRESSIBILITY_PER_KPSI,
    COMPRESSIBILITY_SPAN_F,
    FREE_AIR_TEMPERATURE_F,
    PSI_PER_ATMOSPHERE,
    RANKINE_AT_0_F,
)
from station.core.air.quantity import Quantity

_PSI_PER_KPSI = 1_000.0


def is_covered(pressure_psig: float, temperature_f: float) -> bool:
    """Whether the compressibility of air is known there: 0 to 5,000 psig, -10 to 150 F."""
    return (
        0 <= pressure_psig <= COMPRESSIBILITY_HIGHEST_PSIG
        and COMPRESSIBILITY_COLDEST_F <= temperature_f <= COMPRESSIBILITY_HOTTEST_F
    )


def compressibility(pressure_psig: Quantity, temperature_f: float) -> Quantity:
    """Compressibility factor Z of dry air at a gauge pressure and temperature; 1 is an ideal gas.

    Rule G4. Holds where `is_covered`; the caller checks that.
    Source and error: `numbers.COMPRESSIBILITY_PER_KPSI` [C].
    """
    kpsi = (pressure_psig + PSI_PER_ATMOSPHERE) / _PSI_PER_KPSI
    warmth = (temperature_f - COMPRESSIBILITY_MIDDLE_F) / COMPRESSIBILITY_SPAN_F
    excess = kpsi * 0.0
    for terms in reversed(COMPRESSIBILITY_PER_KPSI):
        constant, linear, square = terms
        excess = (excess + (constant + warmth * (linear + warmth * square))) * kpsi
    return 1.0 + excess


def free_air_per_volume(pressure_psig: Quantity, temperature_f: float) -> Quantity:
    """Cubic feet of free air (70 F, 14.7 psia) in each cubic foot of a flask, as real air.

    Rule G4. A flask in the sun holds less at the same pressure, a cold one more.
    Source: p V = Z n R T; free air as on a compressor's plate, USN Diving Manual Rev 4, p. 8-19 [P].
    """
    absolute = (pressure_psig + PSI_PER_ATMOSPHERE) / PSI_PER_ATMOSPHERE
    colder = (FREE_AIR_TEMPERATURE_F + RANKINE_AT_0_F) / (temperature_f + RANKINE_AT_0_F)
    free_air_z = compressibility(0.0, FREE_AIR_TEMPERATURE_F)
    return absolute * colder * free_air_z / compressibility(pressure_psig, temperature_f)
