"""Need worked out by hand, and the verdict on each supply by itself."""

import pytest

from station.core.air.need import (
    AscentLeg,
    Breathing,
    air_need,
    ascent_min,
    at_worst_moment,
    bottom_scf,
    standby_breathing,
    supply_need,
)
from station.core.air.reserve import RESERVES
from station.core.air.verdict import Reason, Verdict, judge_compressor, judge_supply

# USN Diving Manual Rev 7, Table 9-9, 120/60 on air: 30 fsw 27 min, 20 fsw 142 min, 172:40 in all
ASCENT = (
    AscentLeg(120, 30, 180),
    AscentLeg(30, 30, 27 * 60),
    AscentLeg(30, 20, 20),
    AscentLeg(20, 20, 142 * 60 - 20),
    AscentLeg(20, 0, 40),
)
DIVER = Breathing("Diver 1", 1.4, 120, 59 * 60 + 1, ASCENT)


def scfm(depth_fsw: float) -> float:
    """Flow of one demand diver, written out."""
    return (depth_fsw + 33) / 33 * 1.4


def test_the_need_is_bottom_travel_and_stops() -> None:
    """Each part in whole minutes, up, at its own depth; travel at its average depth."""
    need = air_need(DIVER)
    assert need.bottom_scf == pytest.approx(60 * scfm(120))
    assert need.travel_scf == pytest.approx(3 * scfm(75) + scfm(25) + scfm(10))
    assert need.stops_scf == pytest.approx(27 * scfm(30) + 142 * scfm(20))
    assert need.total_scf == pytest.approx(need.bottom_scf + need.ascent_scf)


def test_the_minutes_needed_are_the_ascent_itself() -> None:
    """172:40 of ascent are 173 min, not the sum of its rounded legs."""
    assert ascent_min(ASCENT) == 173


def test_a_second_more_on_the_bottom_costs_a_minute_of_air() -> None:
    """Bottom time goes up to the next whole minute; none left is none."""
    assert bottom_scf(120, 1.4, 60) == pytest.approx(scfm(120))
    assert bottom_scf(120, 1.4, 61) == pytest.approx(2 * scfm(120))
    assert bottom_scf(120, 1.4, 0) == 0


def test_a_supply_gives_to_all_who_breathe_from_it() -> None:
    """Diver, standby in full, and an hour kept at depth, in whole scf, up."""
    standby = standby_breathing([DIVER], "Standby", 1.4)
    need = supply_need([DIVER, standby], RESERVES["46 CFR 197"])
    each = air_need(DIVER).total_scf
    assert need.reserve_scf == pytest.approx(2 * 60 * scfm(120))
    assert need.total_scf - 1 < 2 * each + need.reserve_scf <= need.total_scf
    assert [part.name for part in need.divers] == ["Diver 1", "Standby"]


def test_the_standby_breathes_by_his_own_dress() -> None:
    """A standby in another dress uses what that dress uses."""
    assert standby_breathing([DIVER], "Standby", 6).acfm == 6


def test_a_standby_for_nobody_is_a_mistake() -> None:
    """Without a diver there is nothing to count the standby by."""
    with pytest.raises(ValueError, match="no diver"):
        standby_breathing([], "Standby", 1.4)


def test_nobody_on_a_supply_needs_nothing() -> None:
    """A supply that nobody breathes from owes nothing."""
    assert supply_need([], RESERVES["46 CFR 197"]).total_scf == 0


def test_each_supply_is_judged_by_itself() -> None:
    """Two supplies that would do together do not do apart."""
    need = supply_need([DIVER], RESERVES["USN"])
    half = need.total_scf * 0.6
    for name in ("primary", "secondary"):
        verdict = judge_supply(name, half, need, 2000, 392.85)
        assert not verdict.enough
        assert verdict.short == (Reason("air in the supply", half, need.total_scf, "scf"),)


def test_just_enough_is_enough() -> None:
    """A supply that has exactly what is needed, at exactly the least pressure, is enough."""
    need = supply_need(at_worst_moment([DIVER]), RESERVES["USN"])
    verdict = judge_supply("secondary", float(need.total_scf), need, 392.85, 392.85)
    assert verdict.enough
    assert verdict.short == ()


@pytest.mark.parametrize(("available", "pressure"), [(None, 2000.0), (9e9, None), (None, None), (9e9, 392.0)])
def test_what_is_not_known_or_low_is_not_enough(available: float | None, pressure: float | None) -> None:
    """A dead gauge is never taken for a full bank."""
    need = supply_need([DIVER], RESERVES["USN"])
    assert not judge_supply("primary", available, need, pressure, 392.85).enough


def test_nothing_looked_at_is_not_enough() -> None:
    """A verdict without reasons does not hold."""
    assert not Verdict("primary", ()).enough


@pytest.mark.parametrize(
    ("rated_scfm", "rated_psig", "enough"), [(20, 150, True), (11, 150, False), (20, 100, False)]
)
def test_a_compressor_meets_flow_and_pressure(rated_scfm: float, rated_psig: float, enough: bool) -> None:
    """Flow without pressure is not enough, nor pressure without flow."""
    assert judge_compressor("compressor", rated_scfm, rated_psig, 11.28, 116.7).enough is enough


def test_every_reserve_says_where_it_comes_from() -> None:
    """Each profile carries its source and its tag."""
    for profile, reserve in RESERVES.items():
        assert reserve.profile == profile
        assert reserve.source
        assert reserve.tag
