"""What people type: intervals and figures, and what is neither."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shared.units import bar_from_psi, msw_from_fsw
from station.present.typed_words import depth_fsw_of, interval_s_of, number_of, pressure_psig_of


@pytest.mark.parametrize(("text", "seconds"), [("2:45", 9900), ("0:10", 600), (" 12:00 ", 43200)])
def test_an_interval_is_hours_and_minutes(text, seconds):
    """As the tables print it."""
    assert interval_s_of(text) == seconds


@pytest.mark.parametrize("text", ["", "245", "2:5", "2:60", "2:", ":30", "2:45:00", "-1:00", "a:bc", "١:٣٠"])
def test_what_is_no_interval_is_none(text):
    """No guess: minutes of one figure could be tens or ones."""
    assert interval_s_of(text) is None


@pytest.mark.parametrize(("text", "value"), [("58", 58.0), ("58.5", 58.5), ("58,5", 58.5), ("0", 0.0)])
def test_a_figure_is_digits_with_a_point_or_a_comma(text, value):
    """Above zero, or zero."""
    assert number_of(text) == value


@pytest.mark.parametrize("text", ["", ".", "5.", ".5", "1.2.3", "-4", "1e3", "nan", "inf", "5 8", "²"])
def test_what_is_no_figure_is_none(text):
    """Signs, exponents and words are refused."""
    assert number_of(text) is None


@given(st.text(max_size=12))
def test_nothing_that_is_typed_raises(text):
    """Whatever it is."""
    for read in (interval_s_of, number_of):
        found = read(text)
        assert found is None or found >= 0


@given(st.floats(0, 300))
def test_a_metric_figure_comes_back_as_it_was_typed(value):
    """Typed in msw or bar, shown again in msw or bar."""
    depth_fsw, pressure_psig = depth_fsw_of(f"{value:.3f}", "msw"), pressure_psig_of(f"{value:.3f}", "bar")
    assert depth_fsw is not None
    assert pressure_psig is not None
    assert msw_from_fsw(depth_fsw) == pytest.approx(value, abs=0.001)
    assert bar_from_psi(pressure_psig) == pytest.approx(value, abs=0.001)


def test_us_units_are_taken_as_they_are():
    """Digits in fsw and psi are fsw and psig."""
    assert depth_fsw_of("58.5", "fsw") == 58.5
    assert pressure_psig_of("2110", "psi") == 2110.0
