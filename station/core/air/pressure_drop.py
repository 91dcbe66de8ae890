"""Pressure lost in the umbilical: what is left at the diver of what stands at the manifold.

The weight of the air in the hose is left out: it only adds pressure at the diver, some 0.5 psi at 100 fsw.
An estimate for a plan; the maker's table and the diver's own word stand above it.
"""

from dataclasses import dataclass
from math import log, pi, sqrt
from typing import Final

from shared.units import METRE_PER_FOOT, PASCAL_PER_PSI, PSI_PER_FSW, S_PER_MIN
from station.core.air.numbers import (
    AIR_KG_PER_MOL,
    FREE_AIR_TEMPERATURE_F,
    GAS_CONSTANT_J_MOL_K,
    HOSE_ROUGHNESS_MM,
    HOSE_TEMPERATURE_F,
    KELVIN_PER_RANKINE,
    PSI_PER_ATMOSPHERE,
    RANKINE_AT_0_F,
    SOLVER_STEPS,
    SUTHERLAND_BETA,
    SUTHERLAND_K,
)

_M_PER_IN: Final = METRE_PER_FOOT / 12
_M_PER_MM: Final = 1e-3


@dataclass(frozen=True, slots=True)
class BreathingHose:
    """The air hose of an umbilical, smooth inside and evenly warm."""

    length_ft: float
    bore_in: float
    roughness_mm: float = HOSE_ROUGHNESS_MM
    temperature_f: float = HOSE_TEMPERATURE_F


@dataclass(frozen=True, slots=True)
class AtDiver:
    """What arrives at the diver; `over_bottom_psi` above the pressure of his depth."""

    pressure_psig: float
    drop_psi: float
    over_bottom_psi: float


def kelvin_from_fahrenheit(temperature_f: float) -> float:
    """Absolute temperature in kelvin."""
    return (temperature_f + RANKINE_AT_0_F) * KELVIN_PER_RANKINE


def viscosity_pa_s(temperature_k: float) -> float:
    """Viscosity of air in Pa s, whatever its pressure. Sutherland's law, U.S. Standard Atmosphere 1976."""
    return float(SUTHERLAND_BETA * temperature_k**1.5 / (temperature_k + SUTHERLAND_K))


def mass_flow_kg_s(flow_scfm: float) -> float:
    """Mass of so much free air (70 F, 14.7 psia) in kg/s."""
    kelvin = kelvin_from_fahrenheit(FREE_AIR_TEMPERATURE_F)
    kg_m3 = PSI_PER_ATMOSPHERE * PASCAL_PER_PSI * AIR_KG_PER_MOL / (GAS_CONSTANT_J_MOL_K * kelvin)
    return flow_scfm * METRE_PER_FOOT**3 / S_PER_MIN * kg_m3


def friction_factor(reynolds: float, roughness_share: float) -> float:
    """Darcy friction factor of a pipe, laminar, turbulent and between; roughness as a share of the bore.

    Source: S. W. Churchill, "Friction-factor equation spans all fluid-flow regimes", Chemical Engineering 84
    (1977) no. 24, p. 91; the formula from memory, checked against a library in the tests.
    """
    rough = (2.457 * log(1 / ((7 / reynolds) ** 0.9 + 0.27 * roughness_share))) ** 16
    smooth = (37530 / reynolds) ** 16
    return float(8 * ((8 / reynolds) ** 12 + (rough + smooth) ** -1.5) ** (1 / 12))


def outlet_pa(inlet_pa: float, flux_kg_s_m2: float, rt_j_kg: float, fl_over_d: float) -> float | None:
    """Absolute pressure at the end of a pipe in Pa; None when it cannot carry the flow (choked).

    p1² - p2² = G² R T (f L / D + 2 ln(p1 / p2)): Darcy-Weisbach for a gas that keeps its temperature.
    Source: B. S. Massey, Mechanics of Fluids, compressible flow in pipes; from memory, checked in the tests.
    """
    square = flux_kg_s_m2**2 * rt_j_kg
    low, high = sqrt(square), inlet_pa

    def lacking(outlet: float) -> float:
        return inlet_pa**2 - outlet**2 - square * (fl_over_d + 2 * log(inlet_pa / outlet))

    if low >= inlet_pa or lacking(low) < 0:
        return None
    for _ in range(SOLVER_STEPS):
        middle = (low + high) / 2
        low, high = (middle, high) if lacking(middle) > 0 else (low, middle)
    return low


def pressure_at_diver(
    manifold_psig: float, flow_scfm: float, hose: BreathingHose, depth_fsw: float
) -> AtDiver | None:
    """Pressure at the diver's end of the hose at a flow; None when the hose does not carry it.

    Give it the peak of a breath for demand mode (`flow.peak_scfm`). Darcy-Weisbach with Churchill's friction
    factor, isothermal. Raises ValueError for a flow below 0.
    """
    if flow_scfm < 0:
        raise ValueError(f"a flow of {flow_scfm:g} scfm runs from the diver to the manifold")
    inlet_pa = (manifold_psig + PSI_PER_ATMOSPHERE) * PASCAL_PER_PSI
    outlet = inlet_pa if flow_scfm == 0 else _outlet_of(hose, inlet_pa, flow_scfm)
    if outlet is None:
        return None
    drop_psi = (inlet_pa - outlet) / PASCAL_PER_PSI
    at_diver_psig = manifold_psig - drop_psi
    return AtDiver(at_diver_psig, drop_psi, at_diver_psig - depth_fsw * PSI_PER_FSW)


def _outlet_of(hose: BreathingHose, inlet_pa: float, flow_scfm: float) -> float | None:
    bore_m = hose.bore_in * _M_PER_IN
    kelvin = kelvin_from_fahrenheit(hose.temperature_f)
    flux = mass_flow_kg_s(flow_scfm) / (pi * bore_m**2 / 4)
    friction = friction_factor(flux * bore_m / viscosity_pa_s(kelvin), hose.roughness_mm * _M_PER_MM / bore_m)
    fl_over_d = friction * hose.length_ft * METRE_PER_FOOT / bore_m
    return outlet_pa(inlet_pa, flux, GAS_CONSTANT_J_MOL_K * kelvin / AIR_KG_PER_MOL, fl_over_d)
