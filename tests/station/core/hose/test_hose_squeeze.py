"""The air in a hose: its squeeze when it is not blown, and its weight when it is."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from shared.units import PASCAL_PER_FSW
from simulators.truth.hose import shown_rise_fsw
from station.core.decompression.correction import depth_correction_fsw
from station.core.hose.squeeze import bound_fsw, true_rise_fsw

LENGTHS = st.floats(50, 600)
DEPTHS = st.floats(0, 190)
RISES = st.floats(0, 20)


def test_a_small_rise_hides_a_large_descent() -> None:
    """With 300 ft blown at 57, three shown are 12.7 true, and a true three shows 0.7."""
    # Boyle's law, worked out by hand: 3 + 300 x 3 / 93
    assert true_rise_fsw(3.0, 57, 300) == pytest.approx(12.7, abs=0.05)
    assert true_rise_fsw(0.7, 57, 300) == pytest.approx(3.0, abs=0.05)


def test_the_bound_is_worked_as_written() -> None:
    """Blown at 57 with 300 ft, a reading of 60 hides no more than 57 + 3 x (1 + 300 / 90) = 70."""
    assert bound_fsw(60, 57, 300) == pytest.approx(70)


@given(RISES, DEPTHS, LENGTHS)
def test_the_water_in_the_hose_makes_up_the_difference(rise: float, full_at: float, hose_ft: float) -> None:
    """Boyle: the air that filled the hose fills what the water leaves of it, at the pressure shown."""
    water_ft = true_rise_fsw(rise, full_at, hose_ft) - rise
    air_ft = hose_ft - water_ft
    assert (33 + full_at) * hose_ft == pytest.approx((33 + full_at + rise) * air_ft)


@given(st.floats(0, 150), DEPTHS, LENGTHS)
def test_the_simulated_hose_is_read_back(true_rise: float, full_at: float, hose_ft: float) -> None:
    """What the simulator hides, by its own closed form, is found again from what it shows."""
    shown = shown_rise_fsw(true_rise, full_at, hose_ft)
    assert true_rise_fsw(shown, full_at, hose_ft) == pytest.approx(true_rise, abs=1e-6)


@given(RISES, DEPTHS, LENGTHS)
def test_the_bound_is_never_short(rise: float, full_at: float, hose_ft: float) -> None:
    """The diver is between the reading and the bound, whatever the hose."""
    true_fsw = full_at + true_rise_fsw(rise, full_at, hose_ft)
    reading = full_at + rise
    assert reading <= true_fsw + 1e-9
    assert true_fsw <= bound_fsw(reading, full_at, hose_ft) + 1e-9


@given(RISES, st.floats(0, 5), DEPTHS, LENGTHS)
def test_more_shown_is_more_true(rise: float, more: float, full_at: float, hose_ft: float) -> None:
    """True rise and bound grow with the rise shown."""
    assert true_rise_fsw(rise, full_at, hose_ft) <= true_rise_fsw(rise + more, full_at, hose_ft)
    low, high = full_at + rise, full_at + rise + more
    assert bound_fsw(low, full_at, hose_ft) <= bound_fsw(high, full_at, hose_ft)


def test_a_diver_who_rose_is_where_the_gauge_says() -> None:
    """Air spills from the open end: above the depth of the blow the reading is the bound."""
    # USN Diving Manual Rev 4 Change A, p. 8-35
    assert bound_fsw(40, 57, 300) == 40


def test_arrays_of_rises_give_what_scalars_give() -> None:
    """A whole trace can be worked at once."""
    rises = np.linspace(0.0, 10.0, 21)
    assert true_rise_fsw(rises, 57, 300).tolist() == [true_rise_fsw(float(r), 57, 300) for r in rises]


@pytest.mark.parametrize(("depth_fsw", "weight_fsw"), [(100, 0.5), (200, 1.7), (300, 3.6), (400, 6.2)])
def test_the_printed_correction_is_the_weight_of_the_air(
    air_density_kg_m3, depth_fsw: int, weight_fsw: float
) -> None:
    """The air that stands in a full hose weighs what the correction adds, rounded up to a whole foot.

    p' = rho(p) g from the diver up, at 15 C, by the midpoint rule in 1-ft steps.
    """
    # corrections: USN Diving Manual Rev 4 Change A, Table 14-1; weights computed with CoolProp
    foot_m, gravity = 0.3048, 9.80665
    bottom_pa = pressure = 101_325 + depth_fsw * PASCAL_PER_FSW
    for _ in range(depth_fsw):
        half = pressure - air_density_kg_m3(288.15, pressure) * gravity * foot_m / 2
        pressure -= air_density_kg_m3(288.15, half) * gravity * foot_m
    weight = (bottom_pa - pressure) / PASCAL_PER_FSW
    assert weight == pytest.approx(weight_fsw, abs=0.05)
    assert np.ceil(weight) == depth_correction_fsw(depth_fsw)
