"""The pneumofathometer hose against Boyle's law by hand."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from simulators.truth.hose import Blow, Hose, shown_rise_fsw
from simulators.truth.profile import Profile, Waypoint

DOWN_UP_DOWN = Profile.through(
    (
        Waypoint(0.0, 0.0),
        Waypoint(60.0, 57.0),
        Waypoint(100.0, 57.0),
        Waypoint(110.0, 40.0),
        Waypoint(130.0, 57.0),
    )
)


def test_a_shown_rise_of_three_hides_a_descent_of_nearly_thirteen():
    """300 ft of hose full at 57 fsw: 3 + 300 x 3 / (33 + 57 + 3) = 12.677 by hand."""
    assert shown_rise_fsw(12.677, 57.0, 300.0) == pytest.approx(3.0, abs=1e-3)


def test_a_descent_of_three_shows_less_than_one():
    """300 ft of hose full at 57 fsw: 0.7 + 300 x 0.7 / 90.7 = 3.015, so 3 fsw show as 0.70."""
    assert shown_rise_fsw(3.0, 57.0, 300.0) == pytest.approx(0.70, abs=0.005)


@given(st.floats(0.0, 300.0), st.floats(0.0, 300.0), st.floats(0.0, 1000.0))
def test_shown_rise_solves_boyles_law_and_is_never_deeper_than_the_truth(
    true_rise_fsw: float, full_at_fsw: float, hose_ft: float
):
    """The law d = r + L r / (33 + b + r) holds, and r lies between nothing and d."""
    shown = shown_rise_fsw(true_rise_fsw, full_at_fsw, hose_ft)
    assert -1e-9 <= shown <= true_rise_fsw + 1e-9
    rebuilt = shown + hose_ft * shown / (33.0 + full_at_fsw + shown)
    assert rebuilt == pytest.approx(true_rise_fsw, abs=1e-6)


def test_an_unblown_hose_reads_shallow_and_a_blown_one_right():
    """Full at the surface, 300 ft, at 57 fsw: 6.66 + 300 x 6.66 / 39.66 = 57.04, so it shows 6.66."""
    unblown = Hose(300.0, (), 0.5)
    shown = unblown.shown_fsw(DOWN_UP_DOWN, 80.0)
    assert shown == pytest.approx(6.66, abs=0.01)
    blown = Hose(300.0, (Blow(70.0, 75.0, 3.0),), 0.5)
    assert blown.shown_fsw(DOWN_UP_DOWN, 99.0) == pytest.approx(57.0)


def test_a_rise_spills_air_and_reads_right_and_the_next_descent_does_not():
    """Blown at 57, up to 40: right. Back down to 57 unblown: what 40 fsw of full hose shows of 17."""
    hose = Hose(300.0, (Blow(70.0, 75.0, 3.0),), 0.5)
    assert hose.shown_fsw(DOWN_UP_DOWN, 110.0) == pytest.approx(40.0)
    assert hose.shown_fsw(DOWN_UP_DOWN, 130.0) == pytest.approx(40.0 + shown_rise_fsw(17.0, 40.0, 300.0))


def test_flowing_air_reads_deep_and_settles():
    """Ten time constants after opening the whole flow stands; three after closing 5 % of it is left."""
    hose = Hose(300.0, (Blow(70.0, 75.0, 3.0),), 0.5)
    assert hose.shown_fsw(DOWN_UP_DOWN, 75.0) == pytest.approx(60.0, abs=1e-3)
    assert hose.shown_fsw(DOWN_UP_DOWN, 76.5) == pytest.approx(57.0 + 3.0 * 0.0498, abs=1e-3)


def test_a_hose_open_all_the_way_down_shows_the_descent():
    """With air trickling out the reading is the depth and what the flow adds."""
    hose = Hose(300.0, (Blow(0.0, 65.0, 0.3),), 0.5)
    assert hose.shown_fsw(DOWN_UP_DOWN, 30.0) == pytest.approx(28.5 + 0.3)


def test_a_hose_open_on_the_way_up_shows_the_depth_of_the_moment():
    """The valve is open from 57 to 40 fsw: half-way the diver is at 48.5, wherever it closes."""
    hose = Hose(300.0, (Blow(100.0, 110.0, 0.0),), 0.5)
    assert hose.shown_fsw(DOWN_UP_DOWN, 105.0) == pytest.approx(48.5)
