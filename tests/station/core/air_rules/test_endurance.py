"""Endurance: the shorter of what is seen and what is worked out, and where the lines meet."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.core.air.endurance import (
    Endurance,
    LeftBy,
    endurance,
    is_short,
    lines_cross_min,
    measured_left_min,
)

MINUTES = st.floats(0, 600)


def test_a_bank_that_falls_faster_than_planned_is_told_as_measured() -> None:
    """A leak shortens what is left, and the figure says that it was measured."""
    assert endurance(2000, 400, 20.5, 3000, 10) == Endurance(78, LeftBy.MEASURED, 78, 300)


def test_a_bank_that_falls_slower_than_planned_is_told_as_computed() -> None:
    """A diver at rest uses less than planned; the plan stands."""
    assert endurance(2000, 400, 2, 3000, 10) == Endurance(300, LeftBy.COMPUTED, 800, 300)


@pytest.mark.parametrize("falls", [None, 0.0, -3.0])
def test_a_bank_that_does_not_fall_is_told_as_computed(falls: float | None) -> None:
    """A bank that stands, or is being charged, has no measured end."""
    assert endurance(2000, 400, falls, 3000, 10) == Endurance(300, LeftBy.COMPUTED, None, 300)


def test_equal_figures_are_told_as_computed() -> None:
    """Where both agree the worked-out one is named."""
    assert endurance(2000, 400, 16, 1000, 10).left_by is LeftBy.COMPUTED


def test_a_silent_gauge_leaves_no_figure() -> None:
    """Without pressure and content nothing is known, and nothing is said."""
    assert endurance(None, 400, 20, None, 10) == Endurance(None, None, None, None)


def test_a_fall_alone_tells_something() -> None:
    """Where the content is not known, or nobody should be breathing, the fall stands alone."""
    assert endurance(2000, 400, 20, None, 10) == Endurance(80, LeftBy.MEASURED, 80, None)
    assert endurance(2000, 400, 20, 3000, 0) == Endurance(80, LeftBy.MEASURED, 80, None)


def test_a_bank_below_its_least_pressure_has_no_minutes() -> None:
    """Nothing is left, not less than nothing."""
    assert measured_left_min(300, 400, 10) == 0


@pytest.mark.parametrize(("left", "short"), [(50, False), (49.9, True), (40, True)])
def test_what_is_left_must_cover_the_ascent_with_a_quarter_more(left: float, short: bool) -> None:
    """40 min of ascent and stops want 50 min left."""
    assert is_short(left, 40) is short


@pytest.mark.parametrize(
    ("left", "needed", "left_per_min", "needed_per_min", "crossing"),
    [
        (96, 41, -1, 0, 55),  # the bank runs down to the ascent
        (96, 41, -1, 1, 27.5),  # and every minute down adds one of stops
        (41, 41, -1, 0, 0),  # they meet now
        (30, 41, -1, 0, 0),  # they have met
        (96, 41, 0, 0, None),  # nobody breathes, nothing grows
        (96, 41, 1, 0.5, None),  # the bank is charged faster than the need grows
    ],
)
def test_the_lines_of_left_and_needed_meet(
    left: float, needed: float, left_per_min: float, needed_per_min: float, crossing: float | None
) -> None:
    """The moment after which the air no longer brings everybody up."""
    assert lines_cross_min(left, needed, left_per_min, needed_per_min) == crossing


@given(MINUTES, MINUTES, st.floats(0, 3))
def test_at_the_crossing_both_lines_stand_level(left: float, needed: float, grows: float) -> None:
    """Drawn on to the crossing, what is left is what is needed; a faster need meets it no later."""
    crossing = lines_cross_min(left, needed, -1, grows)
    assert crossing is not None
    if left > needed:
        assert left - crossing == pytest.approx(needed + grows * crossing, abs=1e-6)
    later = lines_cross_min(left, needed, -1, 0)
    assert later is not None
    assert crossing <= later
