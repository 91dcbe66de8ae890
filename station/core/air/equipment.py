"""Classes of diver's dress and the pressure each needs over the bottom, as data with source. Rule G1."""

from dataclasses import dataclass
from typing import Final

from shared.units import PSI_PER_FSW


@dataclass(frozen=True, slots=True)
class OverBottomBand:
    """Down to `to_fsw` the manifold stands `over_bottom_psi` above the pressure of the depth."""

    to_fsw: float
    over_bottom_psi: float


@dataclass(frozen=True, slots=True)
class Equipment:
    """One class of dress. `bands` in order of depth; deeper than the last there is no figure.

    Where the source prints a floor below the normal pressure, it is slope x depth + constant, in psig, and
    the floor is the minimum.
    """

    name: str
    title: str
    source: str
    tag: str
    bands: tuple[OverBottomBand, ...]
    floor: tuple[float, float] | None = None


_DEEPEST_FSW: Final = 190.0
"""Surface-supplied air ends here, 220 fsw for 30 min. 29 CFR 1910.425(b)(1); 46 CFR 197.432(a)."""

EQUIPMENT: Final[dict[str, Equipment]] = {
    item.name: item
    for item in (
        Equipment(
            "demand-helmet",
            "demand helmet",
            "USN Diving Manual Rev 5, ch. 8, Table 8-1, note 1",
            "P",
            (OverBottomBand(60, 90), OverBottomBand(130, 135), OverBottomBand(190, 165)),
        ),
        Equipment(
            "full-face-mask",
            "surface-supplied full-face mask",
            "USN Diving Manual Rev 5, ch. 8, Table 8-1",
            "P",
            (OverBottomBand(60, 90),),
        ),
        Equipment(
            "free-flow-helmet-300ft",
            "free-flow helmet with dry suit, 300-ft hose",
            "TM 5-4220-225-14, para 2-15",
            "P",
            (OverBottomBand(_DEEPEST_FSW, 60),),
            floor=(0.50, 42),
        ),
        Equipment(
            "free-flow-helmet-600ft",
            "free-flow helmet with dry suit, 600-ft hose",
            "TM 5-4220-225-14, para 2-15",
            "P",
            (OverBottomBand(_DEEPEST_FSW, 100),),
            floor=(0.62, 42),
        ),
        Equipment(
            "deep-sea-dress",
            "free-flow deep-sea dress",
            "USN air diving manual of the 1970s: 50 psi to 120 fsw, 100 psi deeper; from memory, unverified",
            "M",
            (OverBottomBand(120, 50), OverBottomBand(_DEEPEST_FSW, 100)),
        ),
    )
}
"""The classes that a station file may name. The maker's own table stands above them."""


def over_bottom_psi(equipment: Equipment, depth_fsw: float) -> float | None:
    """Pressure over the bottom in psi at a depth; None deeper than the source goes."""
    for band in equipment.bands:
        if depth_fsw <= band.to_fsw:
            return band.over_bottom_psi
    return None


def normal_manifold_psig(equipment: Equipment, depth_fsw: float) -> float | None:
    """Normal manifold pressure in psig at a depth, None deeper than the source goes.

    Depth x 0.445 + over-bottom pressure. USN Diving Manual Rev 5, Table 8-1.
    """
    over = over_bottom_psi(equipment, depth_fsw)
    return None if over is None else depth_fsw * PSI_PER_FSW + over


def minimum_manifold_psig(equipment: Equipment, depth_fsw: float) -> float | None:
    """Minimum manifold pressure in psig at a depth, None deeper than the source goes.

    The printed floor where there is one, else the normal pressure.
    """
    normal = normal_manifold_psig(equipment, depth_fsw)
    if normal is None or equipment.floor is None:
        return normal
    slope, constant_psig = equipment.floor
    return slope * depth_fsw + constant_psig
