"""Chop and heave against linear wave theory by hand."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from simulators.truth.sea import GRAVITY_FT_S2, Heave, Sea, pressure_share, wave_length_ft


@pytest.mark.parametrize(("period_s", "length_ft"), [(1.0, 5.12), (4.0, 81.9), (10.0, 512.0)])
def test_length_of_a_deep_water_wave(period_s: float, length_ft: float):
    """L = 5.12 T² ft: linear theory with g = 32.17 ft/s², by hand to three figures."""
    assert wave_length_ft(period_s) == pytest.approx(length_ft, rel=5e-4)


def test_gravity_is_the_standard_one():
    """9.80665 m/s² is 32.174 ft/s². NIST Special Publication 811 (2008), appendix B.8."""
    assert round(GRAVITY_FT_S2, 3) == 32.174


@pytest.mark.parametrize(("lengths", "share"), [(0.0, 1.0), (0.1, 0.5335), (0.5, 0.04321), (1.0, 0.001867)])
def test_pressure_of_a_wave_dies_out_with_depth(lengths: float, share: float):
    """exp(-2 pi z / L) by hand: 4 % at half a length, a fifth of a percent at a whole one."""
    assert pressure_share(lengths * 80.0, 80.0) == pytest.approx(share, rel=1e-3)


@given(st.integers(0, 2**31), st.floats(0.0, 2000.0), st.floats(0.0, 200.0))
def test_chop_never_exceeds_half_its_height_nor_what_depth_leaves(seed: int, at_s: float, depth_fsw: float):
    """The longest of its waves bounds what reaches a depth."""
    sea = Sea(wave_height_ft=2.0, wave_period_s=3.0, seed=seed)
    longest_ft = wave_length_ft(3.0 * 1.27)
    bound_fsw = pressure_share(depth_fsw, longest_ft)
    assert abs(sea.chop_fsw(at_s, depth_fsw)) <= bound_fsw + 1e-12


def test_chop_shakes_a_gauge_near_the_surface_and_not_at_the_bottom():
    """One foot of 2.8 s chop: felt at 5 fsw, less than a thousandth of a fsw at 58."""
    sea = Sea(wave_height_ft=1.0, wave_period_s=2.8, seed=3)
    times_s = [count / 10.0 for count in range(600)]
    assert max(sea.chop_fsw(at_s, 5.0) for at_s in times_s) > 0.1
    assert max(abs(sea.chop_fsw(at_s, 58.0)) for at_s in times_s) < 0.005


def test_a_diver_on_deck_feels_no_sea():
    """At depth 0 there is neither chop nor heave."""
    assert Sea(3.0, 3.0, 1).chop_fsw(1.0, 0.0) == 0.0
    assert Heave(3.0, 6.0, 1, "Diver 1").offset_fsw(1.0, 0.0) == 0.0


def test_heave_swings_over_its_whole_height_in_its_period():
    """From top to bottom 2 fsw, back at the same place 6 s later, and on the average nowhere."""
    heave = Heave(2.0, 6.0, 5, "Diver 1")
    swing = [heave.offset_fsw(count / 100.0, 30.0) for count in range(600)]
    assert max(swing) == pytest.approx(1.0, abs=1e-3)
    assert min(swing) == pytest.approx(-1.0, abs=1e-3)
    assert math.fsum(swing) == pytest.approx(0.0, abs=1e-9)
    assert heave.offset_fsw(7.0, 30.0) == pytest.approx(heave.offset_fsw(1.0, 30.0))
