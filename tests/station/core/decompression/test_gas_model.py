"""The gas model: its kinetics in closed form, its batches, and what may be said of it."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.core.decompression.gas_model.constants import (
    BUBBLE_OVERPRESSURE_FSW,
    HALF_TIMES_MIN,
    OXYGEN_IN_AIR,
    OXYGEN_IN_OXYGEN,
    SURFACING_LIMITS_FSW,
    TIE_FSW,
    WASH_OUT_AIR,
    WASH_OUT_OXYGEN,
)
from station.core.decompression.gas_model.groups import decay_min, group_top_fsw, residual_min
from station.core.decompression.gas_model.kinetics import (
    RATES_PER_MIN,
    held,
    minutes_until,
    surface_tension_fsw,
    surroundings,
)
from station.core.decompression.gas_model.opinion import CHECK_THE_COPY, OXYGEN_CAVEAT, second_opinion
from station.core.decompression.gas_model.profile import ProfilePoint, slacks
from station.core.decompression.gas_model.schedules import limits_fsw, model_stops, passes_without_stop
from station.table_files import load_tables

ROWS = tuple(row for block in load_tables().blocks for row in block.rows)
TENSIONS = st.lists(st.floats(0, 300), min_size=9, max_size=9).map(lambda nine: np.array([nine]))


def test_constants_are_those_of_their_source() -> None:
    """NEDU TR 12-01 as quoted second hand: nine half-times and limits, crossover 10 fsw."""
    assert HALF_TIMES_MIN == (5, 10, 20, 40, 80, 120, 160, 200, 240)
    assert SURFACING_LIMITS_FSW == (99.3, 87.7, 78.0, 56.0, 48.5, 45.5, 44.5, 44.0, 43.5)
    assert BUBBLE_OVERPRESSURE_FSW == 10
    assert surface_tension_fsw() == pytest.approx(24.57)


@given(TENSIONS, st.floats(0, 200), st.floats(0, 500), st.floats(0, 500), st.booleans())
def test_two_holds_are_one(tension: np.ndarray, depth: float, one: float, two: float, oxygen: bool) -> None:
    """Holding twice at a depth is holding once for the sum, across the crossover too."""
    around = surroundings(np.full(1, depth), OXYGEN_IN_OXYGEN if oxygen else OXYGEN_IN_AIR)
    apart = held(held(tension, around, np.full(1, one)), around, np.full(1, two))
    assert apart == pytest.approx(held(tension, around, np.full(1, one + two)), abs=1e-6)


@given(TENSIONS, st.floats(1, 200), st.booleans())
def test_the_closed_form_agrees_with_small_steps(tension: np.ndarray, depth: float, oxygen: bool) -> None:
    """The equations integrated in small steps for five minutes: uptake, linear and exponential wash-out."""
    around = surroundings(np.full(1, depth), OXYGEN_IN_OXYGEN if oxygen else OXYGEN_IN_AIR)
    wash_out = WASH_OUT_OXYGEN if oxygen else WASH_OUT_AIR
    stepped, step_min = tension.copy(), 0.02
    arterial, crossover = around.arterial_fsw, around.crossover_fsw
    for _ in range(250):
        drive = np.where(stepped > crossover, arterial - crossover, arterial - stepped)
        ratio = np.where(stepped > arterial, wash_out, 1.0)
        stepped = stepped + RATES_PER_MIN * ratio * drive * step_min
    assert held(tension, around, np.full(1, 5.0)) == pytest.approx(stepped, abs=0.2)


@given(TENSIONS, st.floats(20, 130), st.booleans())
def test_minutes_until_a_limit_are_exact(tension: np.ndarray, depth: float, oxygen: bool) -> None:
    """After exactly those minutes every tension is at or below its limit, and one that took time is at it."""
    around = surroundings(np.full(1, depth), OXYGEN_IN_OXYGEN if oxygen else OXYGEN_IN_AIR)
    limit = limits_fsw(depth - 10)
    minutes = minutes_until(tension, limit, around)[0]
    for place, needed in enumerate(minutes):
        if np.isfinite(needed):
            after = held(tension, around, np.full(1, needed))[0, place]
            # Below its limit at once may still be taken up later: only those that wait are at it.
            assert needed == 0 or after == pytest.approx(limit[place], abs=1e-6)


def test_one_schedule_is_the_same_alone_and_in_a_batch() -> None:
    """A row by itself and among all rows has the same stops and tensions."""
    depths = np.array([row.depth_fsw for row in ROWS])
    times = np.array([row.time_min for row in ROWS], dtype=np.float64)
    for oxygen in (False, True):
        batch = model_stops(depths, times, oxygen=oxygen)
        for place in range(0, len(ROWS), 41):
            alone = model_stops(depths[place : place + 1], times[place : place + 1], oxygen=oxygen)
            together = dict(zip(batch.depths_fsw, batch.minutes[place], strict=True))
            assert {depth: together[depth] for depth in alone.depths_fsw} == dict(
                zip(alone.depths_fsw, alone.minutes[0], strict=True)
            )
            assert np.array_equal(alone.leaving_fsw[0], batch.leaving_fsw[place])


def test_stops_are_served_down_to_the_limits() -> None:
    """On leaving the last stop of every row no compartment is above its surfacing limit."""
    depths = np.array([row.depth_fsw for row in ROWS])
    times = np.array([row.time_min for row in ROWS], dtype=np.float64)
    for oxygen in (False, True):
        left = model_stops(depths, times, oxygen=oxygen).leaving_fsw
        assert (left <= limits_fsw(0) + 1e-9).all()


@pytest.mark.parametrize(
    ("depth_fsw", "limit_min"),
    # USN Diving Manual Rev 7, Table 9-7
    [(25, 1102), (30, 371), (60, 63), (100, 25), (190, 5)],
)
def test_no_stop_limits(depth_fsw: int, limit_min: int) -> None:
    """At the printed limit the dive is free, a minute later it is not."""
    times = np.array([limit_min, limit_min + 1], dtype=np.float64)
    assert list(passes_without_stop(np.full(2, depth_fsw), times)) == [True, False]


@pytest.mark.parametrize("factor", [-0.05, 0.05])
def test_the_limits_are_pinned_by_the_table(factor: float, monkeypatch: pytest.MonkeyPatch) -> None:
    """Moving any one limit by 0.05 fsw loses schedules that agree: the agreement is no accident."""
    stopped = [row for row in ROWS if row.air.stops]
    depths = np.array([row.depth_fsw for row in stopped])
    times = np.array([row.time_min for row in stopped], dtype=np.float64)

    def agreeing() -> int:
        found = model_stops(depths, times)
        printed = np.array([[row.air.minutes_at(depth) for depth in found.depths_fsw] for row in stopped])
        return int((found.minutes == printed).all(axis=1).sum())

    assert agreeing() == 356
    for place in range(len(SURFACING_LIMITS_FSW)):
        moved = np.array(SURFACING_LIMITS_FSW)
        moved[place] += factor
        monkeypatch.setattr("station.core.decompression.gas_model.schedules._LIMITS", moved)
        assert agreeing() < 356


def test_a_group_step_takes_52_minutes() -> None:
    """Above the crossover a group is 52.2 min of surface interval; A ends after 2:20 (Table 9-8)."""
    assert decay_min(group_top_fsw(16), group_top_fsw(15)) == pytest.approx(52.2, abs=0.05)
    assert round(decay_min(group_top_fsw(1), group_top_fsw(0))) == 140
    assert residual_min(16, 25) == float("inf")


def test_an_opinion_agrees_or_says_by_how_much_and_which_way() -> None:
    """120/60 agrees; 130/55 is a minute shorter by the model, and then the copy is to be checked."""
    same = second_opinion(120, 60, ((30, 27), (20, 142)))
    assert (same.agrees, same.difference_min) == (True, 0)
    assert any("agree at this depth and time" in said for said in same.sentences)
    other = second_opinion(130, 55, ((40, 4), (30, 28), (20, 146)))
    assert (other.agrees, other.difference_min) == (False, -1)
    assert any("differ by 1 min" in said and "shorter" in said for said in other.sentences)
    assert CHECK_THE_COPY in other.sentences


def test_an_opinion_says_what_it_is_and_is_not() -> None:
    """Second hand, not approved, the table governs; on oxygen that its share was fitted."""
    said = " ".join(second_opinion(120, 60, (), oxygen=True).sentences)
    for words in ("second hand", "not approved", "printed table governs", OXYGEN_CAVEAT):
        assert words in said
    wider = second_opinion(130, 55, ((40, 5), (30, 28), (20, 144)))
    assert "differ in single stops" in " ".join(wider.sentences)
    assert "longer" in " ".join(second_opinion(120, 60, ((20, 1),)).sentences)


def test_a_logged_profile_has_its_slack_on_leaving_each_stop() -> None:
    """60 fsw for 63 min straight up: past 20 fsw the slack is small and not below zero."""
    seconds = [ProfilePoint(s, min(60.0, s * 75 / 60)) for s in range(63 * 60 + 1)]
    way_up = [ProfilePoint(63 * 60 + 2 * foot, 60.0 - foot) for foot in range(1, 61)]
    found = slacks((*seconds, *way_up), ((63 * 60 + 80, 0.0),))
    assert len(found) == 1
    assert 0 <= found[0].slack_fsw < 0.5
    late = [ProfilePoint(point.at_s + 900, point.depth_fsw) for point in way_up]
    over = slacks((*seconds, *late), ((63 * 60 + 980, 0.0),))
    assert over[0].slack_fsw < -TIE_FSW
    assert over[0].half_time_min in HALF_TIMES_MIN
    oxygen = [ProfilePoint(point.at_s, point.depth_fsw, oxygen=True) for point in late]
    assert slacks((*seconds, *oxygen), ((63 * 60 + 980, 0.0),))[0].slack_fsw > over[0].slack_fsw


def test_a_leg_of_a_profile_is_breathed_on_the_gas_of_its_start() -> None:
    """Ten minutes at 20 fsw that begin on oxygen leave more room than ten on air."""
    air, oxygen = (
        slacks((ProfilePoint(0, 20.0, first), ProfilePoint(600, 20.0)), ((600, 0.0),))[0].slack_fsw
        for first in (False, True)
    )
    assert oxygen > air
