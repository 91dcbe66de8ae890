"""Banks: real air beside the handbook's figure, the smaller used, and what lies outside."""

import numpy as np
import pytest

from station.core.air.bank import (
    Flasks,
    content_of,
    duration_min,
    handbook_scf,
    least_bank_psig,
    real_scf,
    smaller_scf,
    volume_tank_scf,
)
from station.core.air.compressibility import compressibility, free_air_per_volume, is_covered

PASCAL_PER_PSI = 6894.757293168
TEMPERATURES_F = range(20, 121, 10)
PRESSURES_PSIG = (0, 50, 100, 200, 317, 500, 1000, 1500, 2000, 2500, 3000, 3500, 4000, 4500, 5000)


def kelvin(fahrenheit: float) -> float:
    """Temperature in kelvin, by another way than the rules take."""
    return (fahrenheit - 32) / 1.8 + 273.15


def test_content_agrees_with_the_reference_equation(air_property) -> None:
    """Free air in a flask is within 0.1 % of CoolProp from 0 to 5,000 psi and 20 to 120 F."""
    # Lemmon, Jacobsen, Penoncello, Friend, J. Phys. Chem. Ref. Data 29 (2000) 331, through CoolProp
    free = air_property("D", kelvin(70), 14.7 * PASCAL_PER_PSI)
    worst = 0.0
    for fahrenheit in TEMPERATURES_F:
        for psig in PRESSURES_PSIG:
            dense = air_property("D", kelvin(fahrenheit), (psig + 14.7) * PASCAL_PER_PSI)
            ours = free_air_per_volume(float(psig), fahrenheit)
            worst = max(worst, abs(ours / (dense / free) - 1))
    assert worst < 0.001


@pytest.mark.parametrize("least_psig", [0, 100, 317, 450])
def test_what_can_be_drawn_agrees_with_the_reference_equation(air_property, least_psig: float) -> None:
    """The difference of two contents is within 0.5 % too, where an error could be larger."""
    free = air_property("D", kelvin(70), 14.7 * PASCAL_PER_PSI)
    for fahrenheit in TEMPERATURES_F:
        left = air_property("D", kelvin(fahrenheit), (least_psig + 14.7) * PASCAL_PER_PSI)
        for psig in PRESSURES_PSIG:
            if psig < least_psig + 50:
                continue
            dense = air_property("D", kelvin(fahrenheit), (psig + 14.7) * PASCAL_PER_PSI)
            drawn = (dense - left) / free
            assert real_scf(1.0, float(psig), least_psig, fahrenheit) == pytest.approx(drawn, rel=0.005)


@pytest.mark.parametrize("fahrenheit", [-10, 0, 150])
def test_compressibility_holds_to_the_ends_of_its_range(air_property, fahrenheit: float) -> None:
    """At the ends of the range the fit is within 0.22 %."""
    for psig in PRESSURES_PSIG:
        z = air_property("Z", kelvin(fahrenheit), (psig + 14.7) * PASCAL_PER_PSI)
        assert compressibility(float(psig), fahrenheit) == pytest.approx(z, rel=0.0022)


def test_the_smaller_figure_is_used() -> None:
    """A warm bank counts as real air, a cold one by the handbook."""
    warm = content_of(40, 3000, 392.85, 100)
    assert warm.real_scf is not None
    assert warm.usable_scf == warm.real_scf < warm.handbook_scf
    cold = content_of(40, 1500, 392.85, 40)
    assert cold.real_scf is not None
    assert cold.usable_scf == cold.handbook_scf < cold.real_scf


def test_a_full_bank_holds_far_less_than_the_handbook_says() -> None:
    """At 5,000 psig and 70 F the handbook promises 15 % too much."""
    content = content_of(40, 5000, 392.85, 70)
    assert content.real_scf is not None
    assert content.handbook_scf / content.real_scf == pytest.approx(1.15, abs=0.02)


def test_an_unmeasured_bank_is_taken_at_seventy_degrees() -> None:
    """Without a temperature the bank is taken to be at 70 F."""
    assert content_of(40, 3000, 400) == content_of(40, 3000, 400, 70)


@pytest.mark.parametrize(("psig", "fahrenheit"), [(5000.1, 70), (3000, 150.1), (3000, -10.1)])
def test_outside_the_fit_there_is_no_figure_to_use(psig: float, fahrenheit: float) -> None:
    """Where the handbook's figure is too large by an unknown amount, no figure is given to use."""
    assert not is_covered(psig, fahrenheit)
    content = content_of(40, psig, 400, fahrenheit)
    assert content.handbook_scf > 0
    assert content.real_scf is None
    assert content.usable_scf is None


@pytest.mark.parametrize("psig", [-2.0, 0.0, 399.0, 400.0])
def test_a_bank_at_or_below_its_least_pressure_is_empty(psig: float) -> None:
    """There is nothing to draw, and never less than nothing; a gauge a little below zero is no fault."""
    content = content_of(40, psig, 400, 70)
    assert content.usable_scf == 0


def test_a_bank_keeps_two_hundred_psi_over_the_manifold() -> None:
    """What stays in a flask is 200 psi and the manifold's minimum."""
    assert least_bank_psig(116.7) == pytest.approx(316.7)
    assert Flasks(3, 1.62).volume_cuft == pytest.approx(4.86)


def test_a_volume_tank_gives_what_is_over_the_manifold() -> None:
    """A tank of 30 ft³ from 175 to 116.7 psig gives 119 scf."""
    assert volume_tank_scf(30, 175, 116.7) == pytest.approx(118.98, abs=0.01)


def test_nobody_breathing_means_no_end() -> None:
    """A supply that nobody breathes from has no duration."""
    assert duration_min(500, 0) is None
    assert duration_min(0, 3) == 0


def test_arrays_give_what_scalars_give() -> None:
    """Whole plans are worked in arrays, and agree with the live watch to the digit."""
    pressures = np.linspace(0, 5000, 41)
    contents = smaller_scf(40.0, pressures, 317.0, 85.0)
    assert isinstance(contents, np.ndarray)
    alone = [smaller_scf(40.0, float(psig), 317.0, 85.0) for psig in pressures]
    assert contents.tolist() == alone
    assert handbook_scf(40.0, pressures, 317.0).min() == 0
