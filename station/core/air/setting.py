"""Pressures to set, by depth: the table that a plan prints for the manifold. Rule G1."""

from collections.abc import Iterable
from dataclasses import dataclass

from station.core.air.equipment import (
    Equipment,
    minimum_manifold_psig,
    normal_manifold_psig,
    over_bottom_psi,
)
from station.core.air.numbers import PLAN_STEP_FSW


@dataclass(frozen=True, slots=True)
class PressureSetting:
    """What to set at one depth; None deeper than the source of the class goes."""

    depth_fsw: float
    over_bottom_psi: float | None
    normal_psig: float | None
    minimum_psig: float | None


def setting_at(equipment: Equipment, depth_fsw: float) -> PressureSetting:
    """Over-bottom, normal and minimum manifold pressure at a depth. Rule G1; sources as the equipment's."""
    return PressureSetting(
        depth_fsw,
        over_bottom_psi(equipment, depth_fsw),
        normal_manifold_psig(equipment, depth_fsw),
        minimum_manifold_psig(equipment, depth_fsw),
    )


def settings_at(equipment: Equipment, depths_fsw: Iterable[float]) -> tuple[PressureSetting, ...]:
    """What to set at each of these depths."""
    return tuple(setting_at(equipment, depth) for depth in depths_fsw)


def settings_to(equipment: Equipment, depth_fsw: float) -> tuple[PressureSetting, ...]:
    """What to set from 10 fsw by tens to a depth, and at the depth itself."""
    tens = (float(depth) for depth in range(PLAN_STEP_FSW, int(depth_fsw) + 1, PLAN_STEP_FSW))
    depths = [depth for depth in tens if depth < depth_fsw]
    return settings_at(equipment, (*depths, depth_fsw))
