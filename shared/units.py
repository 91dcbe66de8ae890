"""Every constant of conversion, each in one place with its source.

Inside the program depth is fsw (a pressure), supply pressure psig, time nanoseconds of station time.
"""

from typing import Final

PSI_PER_FSW: Final = 0.445
"""Pressure of one foot of sea water in psi. USN Diving Manual Rev 5, Table 8-1."""

PASCAL_PER_PSI: Final = 6894.757293168
"""NIST Special Publication 811 (2008), appendix B.8: pound-force per square inch."""

PASCAL_PER_BAR: Final = 100_000.0
"""NIST Special Publication 811 (2008), table 9: bar (exact)."""

PASCAL_PER_KILOPASCAL: Final = 1_000.0
PASCAL_PER_MEGAPASCAL: Final = 1_000_000.0
"""Prefixes of the SI: kilo and mega (exact)."""

PASCAL_PER_MSW: Final = 10_000.0
"""Metre of sea water as a pressure, exact by definition. From memory, unverified."""

PASCAL_PER_FSW: Final = PSI_PER_FSW * PASCAL_PER_PSI
"""Pressure of one foot of sea water in pascal, from the two constants above."""

FSW_PER_ATMOSPHERE: Final = 33.0
"""Depth of sea water that weighs one atmosphere. USN Diving Manual Rev 4, p. 7-14: (D + 33) / 33."""

METRE_PER_FOOT: Final = 0.3048
"""NIST Special Publication 811 (2008), appendix B.8: foot (exact)."""

NS_PER_S: Final = 1_000_000_000
S_PER_MIN: Final = 60


def fsw_from_pascal(pressure_pa: float) -> float:
    """Depth in fsw of a gauge pressure in pascal."""
    return pressure_pa / PASCAL_PER_FSW


def pascal_from_fsw(depth_fsw: float) -> float:
    """Gauge pressure in pascal of a depth in fsw."""
    return depth_fsw * PASCAL_PER_FSW


def psi_from_pascal(pressure_pa: float) -> float:
    """Pressure in psi of a pressure in pascal."""
    return pressure_pa / PASCAL_PER_PSI


def pascal_from_psi(pressure_psi: float) -> float:
    """Pressure in pascal of a pressure in psi."""
    return pressure_psi * PASCAL_PER_PSI


def msw_from_fsw(depth_fsw: float) -> float:
    """Depth in msw of a depth in fsw; for the eye only, the tables are in fsw."""
    return depth_fsw * PASCAL_PER_FSW / PASCAL_PER_MSW


def bar_from_psi(pressure_psi: float) -> float:
    """Pressure in bar of a pressure in psi; for the eye only, the core stays in psi."""
    return pressure_psi * PASCAL_PER_PSI / PASCAL_PER_BAR
