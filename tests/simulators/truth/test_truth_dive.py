"""The whole dive as one function of time."""

import pytest

from simulators.truth.air_plant import Bank, Breathing, Regulator
from simulators.truth.dive import DiverModel, Truth
from simulators.truth.hose import Blow, Hose
from simulators.truth.profile import Profile, Waypoint
from simulators.truth.sea import Heave, Sea

STILL = Sea(0.0, 3.0, 1)
DOWN = Profile.through((Waypoint(0.0, 0.0), Waypoint(60.0, 60.0)))


def _diver(supply: str = "primary", heave_fsw: float = 0.0) -> DiverModel:
    return DiverModel(
        name="Diver 1",
        supply=supply,
        profile=DOWN,
        heave=Heave(heave_fsw, 6.0, 1, "Diver 1"),
        hose=Hose(300.0, (Blow(0.0, 100.0, 0.0),), 0.5),
        breathing=Breathing(1.4, 15.0, 0.0, 0.0, 1e6),
        regulator=Regulator(147.0, 0.5, ()),
    )


def test_depth_hose_supply_and_bank_belong_together():
    """At 60 fsw by hand: flow 93 / 33 x 1.4 = 3.945 scfm, droop 1.97 psi; the descent took 2.673 scf."""
    moment = Truth(STILL, (_diver(),), (Bank("primary", 2000.0, 1, 1.0),)).at(60_000)
    (diver,) = moment.divers
    assert diver.depth_fsw == pytest.approx(60.0)
    assert diver.hose_fsw == pytest.approx(60.0)
    assert diver.supply_psig == pytest.approx(147.0 - 1.973, abs=1e-3)
    assert moment.banks[0].pressure_psig == pytest.approx(2000.0 - 2.673 * 14.7, abs=0.02)


def test_heave_moves_the_diver_and_his_gauge_alike():
    """Still water, a full hose: what the diver rises and falls, the gauge shows."""
    truth = Truth(STILL, (_diver(heave_fsw=2.0),), ())
    depths = [truth.at(at_ms).divers[0] for at_ms in range(61_000, 67_000, 100)]
    assert max(d.depth_fsw for d in depths) == pytest.approx(61.0, abs=0.01)
    assert all(d.hose_fsw == pytest.approx(d.depth_fsw) for d in depths)


def test_an_empty_bank_takes_the_manifold_with_it():
    """With 50 psig in the bank the diver has 50 psig at most."""
    moment = Truth(STILL, (_diver(),), (Bank("primary", 50.0, 100, 100.0),)).at(1000)
    assert moment.divers[0].supply_psig == pytest.approx(50.0, abs=0.01)


def test_a_supply_without_a_bank_never_falls():
    """A compressor that the scenario does not model holds what the regulator is set to."""
    moment = Truth(STILL, (_diver(supply="compressor"),), ()).at(60_000)
    assert moment.divers[0].supply_psig == pytest.approx(145.03, abs=0.01)
