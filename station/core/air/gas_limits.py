"""Contaminants of the air by the pressure they act at, against the limits of a profile. Rule G8."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from station.core.air.flow import ata_at


class Contaminant(StrEnum):
    """What can be in air that should not be there."""

    CARBON_MONOXIDE = "carbon monoxide"
    CARBON_DIOXIDE = "carbon dioxide"
    OIL = "oil and particles"
    HYDROCARBONS = "hydrocarbons"


@dataclass(frozen=True, slots=True)
class GasLimit:
    """The most of one contaminant in air at the surface, as its source prints it."""

    contaminant: Contaminant
    most: float
    unit: str
    tag: str


@dataclass(frozen=True, slots=True)
class AirLimits:
    """What one profile asks of breathing air; the share of oxygen in per cent, None where none is asked."""

    profile: str
    source: str
    limits: tuple[GasLimit, ...]
    oxygen_low_percent: float | None = None
    oxygen_high_percent: float | None = None
    oxygen_tag: str = ""


def _limits(*rows: tuple[Contaminant, float, str, str]) -> tuple[GasLimit, ...]:
    return tuple(GasLimit(*row) for row in rows)


_CO: Final = Contaminant.CARBON_MONOXIDE
_CO2: Final = Contaminant.CARBON_DIOXIDE
_OIL: Final = Contaminant.OIL

AIR_LIMITS: Final[dict[str, AirLimits]] = {
    item.profile: item
    for item in (
        AirLimits(
            "29 CFR 1910",
            "29 CFR 1910.430(b)(3)",
            _limits((_CO, 20, "ppm", "P"), (_CO2, 1000, "ppm", "P"), (_OIL, 5, "mg/m³", "P")),
        ),
        AirLimits(
            "46 CFR 197",
            "46 CFR 197.340(i); oil and hydrocarbons from memory, unverified",
            _limits(
                (_CO, 20, "ppm", "P"),
                (_CO2, 1000, "ppm", "P"),
                (_OIL, 5, "mg/m³", "M"),
                (Contaminant.HYDROCARBONS, 25, "ppm", "M"),
            ),
            20,
            22,
            "P",
        ),
        AirLimits(
            "CGA Grade E",
            "CGA G-7.1, grade E, in secondary sources; oxygen from memory, unverified",
            _limits(
                (_CO, 10, "ppm", "S"),
                (_CO2, 1000, "ppm", "S"),
                (_OIL, 5, "mg/m³", "S"),
                (Contaminant.HYDROCARBONS, 25, "ppm", "S"),
            ),
            20,
            22,
            "M",
        ),
        AirLimits(
            "EN 12021",
            "EN 12021:2014, in secondary sources",
            _limits((_CO, 5, "ppm", "S"), (_CO2, 500, "ppm", "S"), (_OIL, 0.5, "mg/m³", "S")),
            20,
            22,
            "S",
        ),
        AirLimits(
            "Norway",
            "Norway, regulations on diving and filling plants, s 5-5",
            _limits((_CO, 10, "ppm", "P"), (_CO2, 500, "ppm", "P"), (_OIL, 1, "mg/m³", "P")),
        ),
    )
}
"""By profile. Water is left out: it harms the gear, not by its pressure, and stands on the certificate."""


@dataclass(frozen=True, slots=True)
class ContaminantFinding:
    """One contaminant: as it would have to be at the surface to act alike, and the limit there."""

    contaminant: Contaminant
    surface_equivalent: float
    most: float
    unit: str

    @property
    def is_over(self) -> bool:
        """Whether it acts more strongly than the limit allows."""
        return self.surface_equivalent > self.most


def surface_equivalent(amount: float, depth_fsw: float) -> float:
    """Amount at the surface that acts like this amount at a depth: ppm x ata, in the same unit.

    Rule G8: 5 ppm at 4 ata act like 20 ppm. Dalton's law of partial pressures.
    """
    return amount * ata_at(depth_fsw)


def contaminant_findings(
    limits: AirLimits, measured: Mapping[Contaminant, float], depth_fsw: float
) -> tuple[ContaminantFinding, ...]:
    """What was measured of the limited contaminants, against the limits, at a depth. Rule G8.

    The amounts are in the unit of the limit; what the profile does not limit is left out.
    """
    return tuple(
        ContaminantFinding(
            limit.contaminant,
            surface_equivalent(measured[limit.contaminant], depth_fsw),
            limit.most,
            limit.unit,
        )
        for limit in limits.limits
        if limit.contaminant in measured
    )


def oxygen_is_within(limits: AirLimits, oxygen_percent: float) -> bool:
    """Whether the share of oxygen in air is what the profile asks; always where it asks nothing. Rule G8."""
    low, high = limits.oxygen_low_percent, limits.oxygen_high_percent
    return (low is None or oxygen_percent >= low) and (high is None or oxygen_percent <= high)
