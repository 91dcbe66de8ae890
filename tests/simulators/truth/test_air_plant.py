"""Flow, bank and manifold against the handbook's worked figures."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from simulators.truth.air_plant import Bank, Breathing, Regulator, Sag, drawn_from, flow_scfm
from simulators.truth.profile import Profile, Waypoint

RESERVE = Profile.through((Waypoint(0.0, 190.0), Waypoint(180.0, 190.0), Waypoint(600.0, 0.0)))
EVEN = Breathing(acfm=1.4, breaths_per_min=15.0, pulse=0.0, from_s=0.0, to_s=1e6)


def test_three_minutes_at_190_take_what_the_handbook_says():
    """(190 + 33) / 33 x 1.4 x 3 min = 28.38 scf. USN Diving Manual Rev 4, pp. 8-2 to 8-3."""
    assert flow_scfm(190.0, 1.4) * 3.0 == pytest.approx(28.38, abs=0.005)
    assert EVEN.drawn_scf(RESERVE, 180.0) == pytest.approx(28.38, abs=0.005)


def test_seven_minutes_of_ascent_from_190_take_what_the_handbook_says():
    """At the average depth 38.01 scf. USN Diving Manual Rev 4, pp. 8-2 to 8-3."""
    drawn = EVEN.drawn_scf(RESERVE, 600.0) - EVEN.drawn_scf(RESERVE, 180.0)
    assert drawn == pytest.approx(38.01, abs=0.005)


def test_a_cylinder_falls_by_what_the_handbook_says():
    """66.39 scf take 0.399 cu ft from 2580.95 to 135 psig. USN Diving Manual Rev 4, pp. 8-2 to 8-3."""
    bank = Bank("reserve", start_psig=2580.95, flasks=1, floodable_cuft=0.399)
    assert bank.pressure_psig(66.39) == pytest.approx(135.0, abs=0.05)


def test_an_empty_bank_stays_at_nothing():
    """More cannot be drawn than there is."""
    assert Bank("primary", 100.0, 1, 1.0).pressure_psig(1000.0) == 0.0


def test_three_divers_breathe_three_times_as_much():
    """(D + 33) / 33 x acfm x divers at 99 fsw: 4 x 1.4 x 3 = 16.8. USN Diving Manual Rev 4, p. 7-14."""
    assert flow_scfm(99.0, 1.4, divers=3) == pytest.approx(16.8)


def test_only_the_users_of_a_bank_draw_from_it():
    """Two divers on the primary, one on the secondary: each bank feeds its own."""
    users = [("primary", EVEN, RESERVE), ("secondary", EVEN, RESERVE), ("primary", EVEN, RESERVE)]
    one = EVEN.drawn_scf(RESERVE, 60.0)
    assert drawn_from(Bank("primary", 2000.0, 1, 1.0), users, 60.0) == pytest.approx(2.0 * one)
    assert drawn_from(Bank("reserve", 2000.0, 1, 1.0), users, 60.0) == 0.0


def test_nothing_is_drawn_before_and_after_breathing():
    """A diver breathes from his supply from `from_s` to `to_s` only."""
    short = Breathing(1.4, 15.0, 0.5, from_s=60.0, to_s=120.0)
    assert short.drawn_scf(RESERVE, 60.0) == 0.0
    assert short.flow_scfm(RESERVE, 59.9) == 0.0
    assert short.flow_scfm(RESERVE, 120.0) == 0.0
    assert short.drawn_scf(RESERVE, 600.0) == pytest.approx(flow_scfm(190.0, 1.4))


@given(st.floats(0.0, 1.0), st.floats(6.0, 40.0))
def test_breaths_average_to_the_mean_flow(pulse: float, breaths_per_min: float):
    """Half sines with a peak of pi times the mean carry the mean, whatever share pulses."""
    breathing = Breathing(1.4, breaths_per_min, pulse, 0.0, 1e6)
    breath_s = 60.0 / breaths_per_min
    flows = [breathing.flow_scfm(RESERVE, breath_s * step / 1000.0) for step in range(1000)]
    assert sum(flows) / 1000.0 == pytest.approx(flow_scfm(190.0, 1.4), rel=1e-4)


def test_flow_pulls_the_manifold_down_and_the_bank_bounds_it():
    """147 psig less 0.6 psi for each of 4 scfm is 144.6; with 90 psig in the bank it is 90, never below 0."""
    regulator = Regulator(147.0, 0.6, ())
    assert regulator.pressure_psig(0.0, 4.0, 2000.0) == pytest.approx(144.6)
    assert regulator.pressure_psig(0.0, 4.0, 90.0) == 90.0
    assert regulator.pressure_psig(0.0, 400.0, 2000.0) == 0.0


@pytest.mark.parametrize(
    ("at_s", "fall_psi"), [(99, 0), (100, 0), (102, 20), (104, 40), (110, 40), (114, 40), (118, 20), (122, 0)]
)
def test_a_sag_falls_holds_and_recovers(at_s: float, fall_psi: float):
    """40 psi in 4 s, 10 s of it, 8 s back."""
    sag = Sag(from_s=100.0, fall_s=4.0, hold_s=10.0, recover_s=8.0, drop_psi=40.0)
    assert sag.fall_psi(at_s) == pytest.approx(fall_psi)


def test_a_sag_may_fall_and_recover_at_once():
    """Without times to fall and recover it is a step."""
    sag = Sag(100.0, 0.0, 10.0, 0.0, 40.0)
    assert [sag.fall_psi(at_s) for at_s in (99.9, 100.1, 109.9, 110.1)] == [0.0, 40.0, 40.0, 0.0]
