"""Requirements go up, durations down. USN Diving Manual Rev 4 Change A, p. 8-3."""

from math import ceil, floor

from shared.units import S_PER_MIN
from station.core.air.numbers import CYLINDER_PRESSURE_STEP_PSI, DUST_DECIMALS


def up(value: float) -> int:
    """A requirement to the next whole unit."""
    return ceil(round(value, DUST_DECIMALS))


def down(value: float) -> int:
    """A duration or a stock to the whole unit below."""
    return floor(round(value, DUST_DECIMALS))


def minutes_up(seconds: float) -> int:
    """A time to be supplied, to the next whole minute."""
    return up(seconds / S_PER_MIN)


def cylinder_pressure_up(pressure_psig: float) -> float:
    """A needed cylinder pressure to the next step of the gauge: 2,580.95 is 2,600.

    Source: USN Diving Manual Rev 4 Change A, p. 8-3 [P]; the step of 100 psi [own].
    """
    return up(pressure_psig / CYLINDER_PRESSURE_STEP_PSI) * CYLINDER_PRESSURE_STEP_PSI
