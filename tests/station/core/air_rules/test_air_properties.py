"""Properties of the air rules: what must hold whatever the figures."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.core.air.bank import content_of, duration_min, real_scf
from station.core.air.emergency_gas import emergency_endurance, emergency_need
from station.core.air.flow import flow_scfm, peak_scfm
from station.core.air.need import (
    AscentLeg,
    Breathing,
    air_need,
    at_worst_moment,
    standby_breathing,
    supply_need,
)
from station.core.air.oxygen import Exposure, oxygen_ata, oxygen_dose
from station.core.air.reserve import RESERVES

DEPTHS = st.floats(0, 300)
PRESSURES = st.floats(0, 5000)
LEAST = st.floats(100, 500)
WARMTH = st.floats(-10, 150)
MINUTES = st.floats(0, 7200)
NONE_KEPT = RESERVES["USN"]


@st.composite
def breathings(draw: st.DrawFn) -> Breathing:
    """A diver with a depth, some time on the bottom and an ascent with up to three stops."""
    depth = draw(st.floats(40, 190))
    legs = [AscentLeg(depth, 30, (depth - 30) * 2)]
    legs += [AscentLeg(30, 30, seconds) for seconds in draw(st.lists(st.floats(60, 3600), max_size=3))]
    legs.append(AscentLeg(30, 0, 60))
    return Breathing("Diver 1", draw(st.sampled_from([1.4, 4.5, 6.0])), depth, draw(MINUTES), tuple(legs))


@given(DEPTHS, DEPTHS, st.integers(1, 4))
def test_deeper_never_needs_less_flow(one: float, other: float, divers: int) -> None:
    """Flow does not fall with depth, nor with one more diver."""
    low, high = sorted((one, other))
    assert flow_scfm(low, 1.4, divers) <= flow_scfm(high, 1.4, divers)
    assert flow_scfm(low, 1.4, divers) < flow_scfm(low, 1.4, divers + 1)


@given(st.floats(40, 180), st.floats(0, 10), MINUTES)
def test_deeper_never_needs_less_air(depth_fsw: float, more_fsw: float, bottom_s: float) -> None:
    """The same bottom time deeper, with the ascent from there, needs no less."""

    def needed(depth: float) -> float:
        return air_need(Breathing("", 1.4, depth, bottom_s, (AscentLeg(depth, 0, depth * 2),))).total_scf

    assert needed(depth_fsw) <= needed(depth_fsw + more_fsw)


@given(st.lists(breathings(), min_size=1, max_size=3), breathings())
def test_more_divers_never_need_less(divers: list[Breathing], another: Breathing) -> None:
    """One more diver never lowers what a supply must give, and each of them is counted."""
    with_another = supply_need([*divers, another], NONE_KEPT)
    assert with_another.total_scf >= supply_need(divers, NONE_KEPT).total_scf
    assert len(with_another.divers) == len(divers) + 1


@given(st.lists(breathings(), min_size=1, max_size=3))
def test_a_reserve_never_lowers_the_need(divers: list[Breathing]) -> None:
    """An hour more at depth is an hour more of air."""
    plain = supply_need(divers, NONE_KEPT)
    kept = supply_need(divers, RESERVES["46 CFR 197"])
    assert kept.total_scf > plain.total_scf
    assert plain.total_scf >= sum(need.total_scf for need in plain.divers) - 1e-6


@given(st.lists(breathings(), min_size=1, max_size=3))
def test_the_standby_needs_as_much_as_the_neediest(divers: list[Breathing]) -> None:
    """Counted in full, he needs no less than any diver would with his dress."""
    standby = air_need(standby_breathing(divers, "Standby", 1.4)).total_scf
    assert standby == max(air_need(replace(diver, acfm=1.4)).total_scf for diver in divers)


@given(breathings())
def test_the_worst_moment_leaves_the_whole_ascent(diver: Breathing) -> None:
    """When the primary fails at the end of the bottom, ascent and stops are still to come."""
    (worst,) = at_worst_moment([diver])
    assert air_need(worst).total_scf == pytest.approx(air_need(diver).ascent_scf)


@given(PRESSURES, PRESSURES, LEAST, WARMTH)
def test_more_pressure_never_holds_less(one: float, other: float, least: float, warmth: float) -> None:
    """Both figures grow with pressure, are never below 0, and the usable one is the smaller."""
    low, high = sorted((one, other))
    lower, higher = content_of(40, low, least, warmth), content_of(40, high, least, warmth)
    assert lower.real_scf is not None
    assert higher.real_scf is not None
    assert lower.usable_scf is not None
    assert higher.usable_scf is not None
    assert 0 <= lower.usable_scf <= higher.usable_scf <= min(higher.real_scf, higher.handbook_scf)
    assert lower.real_scf <= higher.real_scf


@given(st.floats(600, 5000), WARMTH)
def test_real_air_in_a_charged_flask_is_positive(psig: float, warmth: float) -> None:
    """A flask over its least pressure holds air, however warm it is."""
    assert real_scf(1.0, psig, 317, warmth) > 0


@given(PRESSURES, LEAST, WARMTH)
def test_a_warmer_bank_never_holds_more(psig: float, least: float, warmth: float) -> None:
    """At one pressure, ten degrees more never leave more air, but for what the fit itself errs."""
    colder = real_scf(1.0, psig, least, max(warmth - 10, -10))
    assert real_scf(1.0, psig, least, warmth) <= colder * 1.001 + 1e-9


@given(st.floats(0, 20000), st.floats(0, 20000), st.floats(1, 100), st.floats(0, 100))
def test_duration_is_monotone(one: float, other: float, scfm: float, more: float) -> None:
    """More air never lasts less, more flow never longer."""
    low, high = sorted((one, other))
    shorter, longer, faster = (
        duration_min(low, scfm),
        duration_min(high, scfm),
        duration_min(low, scfm + more),
    )
    assert shorter is not None
    assert longer is not None
    assert faster is not None
    assert faster <= shorter <= longer
    assert shorter * scfm <= low + 1e-4


@given(st.floats(40, 180), st.floats(0, 10), st.floats(60, 600))
def test_emergency_gas_grows_with_depth(depth_fsw: float, more_fsw: float, back_s: float) -> None:
    """Deeper never needs a lower charge, the written pressure is never below the needed one."""
    shallow = emergency_need(depth_fsw, back_s, 0.399, 1.4)
    deep = emergency_need(depth_fsw + more_fsw, back_s, 0.399, 1.4)
    assert shallow.needed_psig <= deep.needed_psig
    assert shallow.needed_psig - 1e-4 <= shallow.required_psig < shallow.needed_psig + 100


@given(st.floats(0, 4500), DEPTHS, st.floats(0, 50))
def test_emergency_endurance_falls_with_depth(psig: float, depth_fsw: float, more_fsw: float) -> None:
    """The cylinder lasts no longer deeper."""
    shallow = emergency_endurance(psig, depth_fsw, 0.399, 1.4).minutes
    deep = emergency_endurance(psig, depth_fsw + more_fsw, 0.399, 1.4).minutes
    assert shallow is not None
    assert deep is not None
    assert deep <= shallow


@given(st.lists(st.builds(Exposure, st.floats(0.1, 3), st.floats(0, 120)), max_size=6))
def test_oxygen_dose_adds_up(exposures: list[Exposure]) -> None:
    """A dose is never negative, counts no more in a day than alone, and is the sum of its parts."""
    whole = oxygen_dose(exposures)
    parts = [oxygen_dose([exposure]) for exposure in exposures]
    assert whole.single_share == pytest.approx(sum(part.single_share for part in parts))
    assert whole.beyond_min == pytest.approx(sum(part.beyond_min for part in parts))
    assert 0 <= whole.day_share <= whole.single_share + 1e-9


def test_arrays_of_depths_give_what_scalars_give() -> None:
    """Flow, peak flow and oxygen take an array of depths."""
    depths = np.arange(0.0, 200.0, 7.0)
    assert flow_scfm(depths, 1.4, 2).tolist() == [flow_scfm(float(depth), 1.4, 2) for depth in depths]
    assert peak_scfm(depths).tolist() == [peak_scfm(float(depth)) for depth in depths]
    assert oxygen_ata(depths).tolist() == [oxygen_ata(float(depth)) for depth in depths]
