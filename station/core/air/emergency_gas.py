"""Emergency gas on the diver: what the cylinder must hold, and how long it lasts now. Rule G7."""

from dataclasses import dataclass
from typing import Final

from shared.units import PSI_PER_FSW, S_PER_MIN
from station.core.air.bank import Content, content_of, duration_min
from station.core.air.flow import flow_scfm
from station.core.air.need import AscentLeg, bottom_scf, leg_scf
from station.core.air.numbers import (
    ASCENT_RATE_FSW_MIN,
    BANK_TEMPERATURE_F,
    EMERGENCY_REGULATOR_PSI,
    FLOODABLE_CUFT,
    PSI_PER_ATMOSPHERE,
)
from station.core.air.rounding import cylinder_pressure_up, minutes_up

FLOODABLE_CUFT_OF: Final = dict(FLOODABLE_CUFT)
"""Floodable volume in ft³ by the size of cylinder. USN Diving Manual Rev 5, ch. 17 [P]."""


@dataclass(frozen=True, slots=True)
class EmergencyNeed:
    """What a cylinder must hold to get its diver to the first stop, or to the surface.

    `needed_psig` as computed, `required_psig` rounded up as it is written on the chart.
    """

    bottom_scf: float
    ascent_min: int
    ascent_scf: float
    least_psig: float
    needed_psig: float
    required_psig: float

    @property
    def total_scf(self) -> float:
        """Air to get back and to come up."""
        return self.bottom_scf + self.ascent_scf


@dataclass(frozen=True, slots=True)
class EmergencyEndurance:
    """How long the cylinder lasts at the present depth: whole minutes, None where there is no figure."""

    content: Content
    minutes: int | None


def least_cylinder_psig(depth_fsw: float, regulator_psi: float = EMERGENCY_REGULATOR_PSI) -> float:
    """Cylinder pressure at which the regulator gives no more: its setting over the pressure of the depth.

    Rule G7. Source: USN Diving Manual Rev 4 Change A, p. 8-2, 8-3 [P].
    """
    return regulator_psi + depth_fsw * PSI_PER_FSW


def emergency_need(
    depth_fsw: float,
    back_s: float,
    floodable_cuft: float,
    acfm: float,
    *,
    first_stop_fsw: float = 0.0,
    regulator_psi: float = EMERGENCY_REGULATOR_PSI,
) -> EmergencyNeed:
    """The pressure a cylinder needs: time to get back at depth, then up to the first stop or the surface.

    Rule G7: minutes up, the ascent at average depth, the regulator's setting and the pressure of the last
    depth left in the cylinder, the sum up to the next 100 psi.
    Source: USN Diving Manual Rev 4 Change A, p. 8-2, 8-3, sample problem 1 [P].
    """
    ascent = AscentLeg(
        depth_fsw, first_stop_fsw, (depth_fsw - first_stop_fsw) / ASCENT_RATE_FSW_MIN * S_PER_MIN
    )
    at_depth_scf = bottom_scf(depth_fsw, acfm, back_s)
    up_scf = leg_scf(ascent, acfm)
    least = least_cylinder_psig(first_stop_fsw, regulator_psi)
    needed = (at_depth_scf + up_scf) * PSI_PER_ATMOSPHERE / floodable_cuft + least
    return EmergencyNeed(
        at_depth_scf, minutes_up(ascent.seconds), up_scf, least, needed, cylinder_pressure_up(needed)
    )


def emergency_endurance(
    pressure_psig: float,
    depth_fsw: float,
    floodable_cuft: float,
    acfm: float,
    *,
    regulator_psi: float = EMERGENCY_REGULATOR_PSI,
    temperature_f: float = BANK_TEMPERATURE_F,
) -> EmergencyEndurance:
    """How long the diver's own cylinder lasts at his present depth, down, by the smaller content.

    Rule G7. Source: USN Diving Manual Rev 4 Change A, p. 7-14, 8-3 [P]; the smaller content [own].
    """
    least = least_cylinder_psig(depth_fsw, regulator_psi)
    content = content_of(floodable_cuft, pressure_psig, least, temperature_f)
    if content.usable_scf is None:
        return EmergencyEndurance(content, None)
    return EmergencyEndurance(content, duration_min(content.usable_scf, flow_scfm(depth_fsw, acfm)))
