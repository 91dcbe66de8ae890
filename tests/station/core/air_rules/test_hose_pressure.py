"""Pressure along the umbilical, checked against a library; what a hose must bear; what to set by depth."""

from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.core.air.equipment import EQUIPMENT
from station.core.air.flow import peak_scfm
from station.core.air.hose_rating import judge_hose
from station.core.air.pressure_drop import (
    BreathingHose,
    friction_factor,
    kelvin_from_fahrenheit,
    mass_flow_kg_s,
    outlet_pa,
    pressure_at_diver,
    viscosity_pa_s,
)
from station.core.air.setting import setting_at, settings_to

PASCAL_PER_PSI = 6894.757293168
HOSE = BreathingHose(300, 0.375)


@pytest.mark.parametrize("reynolds", [100, 1500, 2300, 3000, 1e4, 1e5, 1e6])
@pytest.mark.parametrize("roughness", [0.0, 1e-4, 1e-3, 1e-2])
def test_friction_is_churchills(fluids, reynolds: float, roughness: float) -> None:
    """The friction factor is that of the library's Churchill law to the digits it is printed in."""
    assert friction_factor(reynolds, roughness) == pytest.approx(
        fluids.friction.Churchill_1977(reynolds, roughness), rel=1e-6
    )


@pytest.mark.parametrize("reynolds", [1e4, 1e5, 1e6])
@pytest.mark.parametrize("roughness", [1e-4, 1e-3, 1e-2])
def test_friction_is_near_colebrooks(fluids, reynolds: float, roughness: float) -> None:
    """In turbulent flow it is within 4 % of the law that has no closed form."""
    assert friction_factor(reynolds, roughness) == pytest.approx(
        fluids.friction.Colebrook(reynolds, roughness), rel=0.04
    )


def test_friction_in_slow_flow_is_poiseuilles() -> None:
    """Laminar flow has 64 / Re."""
    assert friction_factor(1000, 0.0) == pytest.approx(0.064, rel=0.001)


@pytest.mark.parametrize("fahrenheit", [30, 70, 110])
@pytest.mark.parametrize("psig", [50, 150, 250])
def test_viscosity_is_that_of_air(air_property, fahrenheit: float, psig: float) -> None:
    """Sutherland's law is within 3 % of CoolProp at the pressures of a hose."""
    kelvin = kelvin_from_fahrenheit(fahrenheit)
    pascal = (psig + 14.7) * PASCAL_PER_PSI
    assert viscosity_pa_s(kelvin) == pytest.approx(air_property("V", kelvin, pascal), rel=0.03)


@pytest.mark.parametrize(("manifold_psig", "scfm"), [(116.7, 4), (116.7, 20), (163, 30), (250, 40)])
def test_the_pressure_at_the_diver_is_the_librarys(fluids, manifold_psig: float, scfm: float) -> None:
    """Isothermal flow of air through a 300-ft hose of 3/8 in agrees with the library within 0.01 psi."""
    at_diver = pressure_at_diver(manifold_psig, scfm, HOSE, 60)
    assert at_diver is not None
    kelvin, bore_m = kelvin_from_fahrenheit(70), 0.375 * 0.0254
    inlet_pa = (manifold_psig + 14.7) * PASCAL_PER_PSI
    flow_kg_s = mass_flow_kg_s(scfm)
    reynolds = 4 * flow_kg_s / (pi * bore_m * viscosity_pa_s(kelvin))
    outlet = fluids.isothermal_gas(
        rho=inlet_pa * 0.02896546 / (8.314462618 * kelvin),
        fd=fluids.friction.Churchill_1977(reynolds, 0.01e-3 / bore_m),
        P1=inlet_pa,
        L=300 * 0.3048,
        D=bore_m,
        m=flow_kg_s,
    )
    assert at_diver.pressure_psig == pytest.approx(outlet / PASCAL_PER_PSI - 14.7, abs=0.01)
    assert at_diver.over_bottom_psi == pytest.approx(at_diver.pressure_psig - 60 * 0.445)


def test_a_small_drop_is_darcy_weisbachs() -> None:
    """Where the density hardly changes the drop is f L/D rho v² / 2."""
    inlet, flux, rt, fl_over_d = 1.2e6, 100.0, 84_500.0, 200.0
    outlet = outlet_pa(inlet, flux, rt, fl_over_d)
    assert outlet is not None
    darcy_pa = fl_over_d * flux**2 / (2 * inlet / rt)
    assert inlet - outlet == pytest.approx(darcy_pa, rel=0.05)


def test_the_outlet_satisfies_its_equation() -> None:
    """The pressure that is found is the root, not the end of the search."""
    from math import log  # noqa: PLC0415 - used by this check alone

    inlet, flux, rt, fl_over_d = 9e5, 400.0, 84_500.0, 30.0
    outlet = outlet_pa(inlet, flux, rt, fl_over_d)
    assert outlet is not None
    right = flux**2 * rt * (fl_over_d + 2 * log(inlet / outlet))
    assert inlet**2 - outlet**2 == pytest.approx(right, rel=1e-9)


@pytest.mark.parametrize("scfm", [400.0, 5_000.0])
def test_a_hose_that_chokes_has_no_figure(scfm: float) -> None:
    """More than the hose can carry is said so, not given a number."""
    assert pressure_at_diver(116.7, scfm, HOSE, 60) is None


def test_still_air_loses_nothing() -> None:
    """Without flow the manifold's pressure stands at the diver."""
    at_diver = pressure_at_diver(116.7, 0, HOSE, 60)
    assert at_diver is not None
    assert at_diver.drop_psi == 0
    assert at_diver.over_bottom_psi == pytest.approx(90)


def test_flow_from_the_diver_is_a_mistake() -> None:
    """A negative flow is refused."""
    with pytest.raises(ValueError, match="from the diver"):
        pressure_at_diver(116.7, -1, HOSE, 60)


@given(st.floats(50, 300), st.floats(0.1, 40), st.floats(0.1, 10), st.floats(50, 600), st.floats(1, 100))
def test_more_flow_or_hose_never_leaves_more(
    manifold_psig: float, scfm: float, more_scfm: float, length_ft: float, more_ft: float
) -> None:
    """The drop grows with flow and with length; a choked hose stays choked."""

    def drop(flow: float, length: float) -> float:
        at_diver = pressure_at_diver(manifold_psig, flow, BreathingHose(length, 0.375), 60)
        return float("inf") if at_diver is None else at_diver.drop_psi

    plain = drop(scfm, length_ft)
    assert 0 <= plain <= drop(scfm + more_scfm, length_ft) + 1e-6
    assert plain <= drop(scfm, length_ft + more_ft) + 1e-6


def test_the_peak_of_a_breath_is_pi_times_the_mean() -> None:
    """Half a sine drawn, nothing given back, has a mean of peak / pi."""
    assert peak_scfm(4.0) == pytest.approx(4 * pi)


@pytest.mark.parametrize(
    ("working", "burst", "enough", "short"),
    [
        (250, 1000, True, []),
        (249, 1000, False, ["working pressure of the hose"]),
        (250, 999, False, ["burst pressure of the hose"]),
        (300, 1199, False, ["burst pressure of the hose"]),
        (None, 1000, False, ["working pressure of the hose"]),
        (250, None, False, ["burst pressure of the hose"]),
    ],
)
def test_a_hose_is_judged_for_its_system_and_depth(
    working: float | None, burst: float | None, enough: bool, short: list[str]
) -> None:
    """Rated for the system and burst at four times its own rating; what is not known does not hold."""
    verdict = judge_hose("umbilical 1", working, burst, 250, 100)
    assert verdict.enough is enough
    assert [reason.what for reason in verdict.short] == short


def test_the_table_to_set_goes_by_tens_and_ends_at_the_depth() -> None:
    """10, 20, 30 and the planned 36; at a whole ten no depth twice; deeper than its source no figure."""
    helmet = EQUIPMENT["demand-helmet"]
    assert [each.depth_fsw for each in settings_to(helmet, 36)] == [10, 20, 30, 36]
    assert [each.depth_fsw for each in settings_to(helmet, 30)] == [10, 20, 30]
    assert [each.depth_fsw for each in settings_to(helmet, 7)] == [7]
    assert setting_at(helmet, 191).minimum_psig is None
