"""Oxygen by its partial pressure, and exposure to it as a dose. Rule G8."""

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from shared.units import FSW_PER_ATMOSPHERE
from station.core.air.flow import ata_at
from station.core.air.numbers import (
    AIR_OXYGEN_SHARE,
    DUST_DECIMALS,
    OXYGEN_COUNTED_ATA,
    OXYGEN_LEAST_ATA,
    OXYGEN_LIMITS_ATA_MIN,
    OXYGEN_LOW_ATA,
    OXYGEN_MOST_ATA,
)
from station.core.air.quantity import Quantity


@dataclass(frozen=True, slots=True)
class Exposure:
    """Some minutes at one partial pressure of oxygen."""

    oxygen_ata: float
    minutes: float


@dataclass(frozen=True, slots=True)
class ExposureLimit:
    """A row of the exposure table: minutes allowed in one exposure and in 24 hours."""

    oxygen_ata: float
    single_min: int
    day_min: int


@dataclass(frozen=True, slots=True)
class OxygenDose:
    """Exposure as a share of what is allowed, 1 being all of it; `beyond_min` at more than the table has.

    Time beyond the table, as on oxygen at 30 and 20 fsw or in a chamber, has no share: it is told apart.
    """

    single_share: float
    day_share: float
    beyond_min: float


_ROWS = tuple(ExposureLimit(*row) for row in OXYGEN_LIMITS_ATA_MIN)


class OxygenStanding(StrEnum):
    """Where a partial pressure of oxygen stands among its limits."""

    LACKING = "lacking"
    LOW = "low"
    GOOD = "good"
    HIGH = "high"


def oxygen_standing(at_ata: float) -> OxygenStanding:
    """Where a partial pressure stands: below 0.16 lacking, below 0.18 low, over 1.40 high.

    Rule G8. Not for oxygen stops, where it is 1.91 ata at 30 fsw by design. Sources: `numbers` [S, M, own].
    """
    cut = round(at_ata, DUST_DECIMALS)
    if cut < OXYGEN_LEAST_ATA:
        return OxygenStanding.LACKING
    if cut < OXYGEN_LOW_ATA:
        return OxygenStanding.LOW
    return OxygenStanding.HIGH if cut > OXYGEN_MOST_ATA else OxygenStanding.GOOD


def oxygen_ata(depth_fsw: Quantity, oxygen_share: float = AIR_OXYGEN_SHARE) -> Quantity:
    """Partial pressure of oxygen at a depth, in ata. Rule G8. Dalton's law."""
    return ata_at(depth_fsw) * oxygen_share


def depth_of_oxygen_fsw(limit_ata: float, oxygen_share: float = AIR_OXYGEN_SHARE) -> float:
    """Depth at which a gas reaches a partial pressure of oxygen, in fsw. Rule G8: air has 1.4 ata at 187."""
    return (limit_ata / oxygen_share - 1) * FSW_PER_ATMOSPHERE


def exposure_limit(at_ata: float) -> ExposureLimit | None:
    """The row of the table that holds at a partial pressure: equal or next higher; None above 1.6 ata.

    Rule G8: step up, never between two [own]. Source: NOAA Diving Manual, oxygen partial pressure limits [S].
    """
    cut = round(at_ata, DUST_DECIMALS)
    return next((row for row in _ROWS if cut <= row.oxygen_ata), None)


def oxygen_dose(exposures: Iterable[Exposure]) -> OxygenDose:
    """The dose of a series of exposures: the sum of minutes over the minutes allowed.

    Rule G8. To 0.5 ata nothing counts (from memory, unverified [M]). Source: NOAA Diving Manual [S].
    """
    single = day = beyond_min = 0.0
    for exposure in exposures:
        if exposure.oxygen_ata <= OXYGEN_COUNTED_ATA:
            continue
        row = exposure_limit(exposure.oxygen_ata)
        if row is None:
            beyond_min += exposure.minutes
            continue
        single += exposure.minutes / row.single_min
        day += exposure.minutes / row.day_min
    return OxygenDose(single, day, beyond_min)
