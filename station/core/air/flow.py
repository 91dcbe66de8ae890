"""Flow: the free air that divers use at their depth. Rule G3."""

from dataclasses import dataclass
from typing import Final

from shared.units import FSW_PER_ATMOSPHERE
from station.core.air.numbers import (
    ACFM_DEMAND,
    ACFM_FREE_FLOW_DRESS,
    ACFM_FREE_FLOW_HELMET,
    PEAK_OVER_MEAN,
)
from station.core.air.quantity import Quantity


@dataclass(frozen=True, slots=True)
class Consumption:
    """What one diver in a class of dress uses, in ft³/min at the pressure of his depth."""

    acfm: float
    source: str
    tag: str


_HELMET: Final = Consumption(ACFM_FREE_FLOW_HELMET, "TM 5-4220-225-14, para 2-15", "P")

CONSUMPTION: Final[dict[str, Consumption]] = {
    "demand-helmet": Consumption(ACFM_DEMAND, "USN Diving Manual Rev 4, p. 8-3", "P"),
    "full-face-mask": Consumption(
        ACFM_DEMAND, "as the demand helmet, USN Diving Manual Rev 4, p. 8-3; from memory, unverified", "M"
    ),
    "free-flow-helmet-300ft": _HELMET,
    "free-flow-helmet-600ft": _HELMET,
    "deep-sea-dress": Consumption(
        ACFM_FREE_FLOW_DRESS, "USN air diving manual of the 1970s; from memory, unverified", "M"
    ),
}
"""By class of dress, as named in `station.core.air.equipment`. The maker's own figure stands above them."""


def ata_at(depth_fsw: Quantity) -> Quantity:
    """Absolute pressure at a depth in atmospheres: (D + 33) / 33.

    Rule G3. Source: USN Diving Manual Rev 4 Change A, p. 7-14 [P].
    """
    return (depth_fsw + FSW_PER_ATMOSPHERE) / FSW_PER_ATMOSPHERE


def flow_scfm(depth_fsw: Quantity, acfm: float, divers: int = 1) -> Quantity:
    """Free air that divers at one depth use, in scfm: (D + 33) / 33 x acfm x divers.

    Rule G3. Source: USN Diving Manual Rev 4 Change A, p. 7-14 [P].
    """
    return ata_at(depth_fsw) * acfm * divers


def peak_scfm(mean_scfm: Quantity) -> Quantity:
    """Flow at the height of a breath in demand mode, where half a sine is drawn and nothing given back.

    The hose must carry it, not only the mean. USN Diving Manual Rev 4 Change A, p. 8-17: peak flow is
    handled by pressure [P]; the shape of the breath [own].
    """
    return mean_scfm * PEAK_OVER_MEAN
