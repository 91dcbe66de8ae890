"""4-20 mA: the span, and a broken wire that is never a depth of zero."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shared.gauges import Loop
from shared.readings import LinkFaultKind
from shared.wire.current_loop import loop_current_ma, loop_value

DEPTH = Loop(0.0, 250.0)


@pytest.mark.parametrize(
    ("current_ma", "value"),
    [(4.0, 0.0), (20.0, 250.0), (12.0, 125.0), (8.0, 62.5), (3.8, -3.125), (20.5, 257.8125)],
)
def test_the_span(current_ma, value):
    """Low + (I - 4) / 16 * (high - low), a little beyond both ends as well."""
    assert loop_value(DEPTH, current_ma) == pytest.approx(value)


@pytest.mark.parametrize("current_ma", [0.0, -1.0, 3.5, 3.6, 21.0, 21.6, 24.0])
def test_a_broken_wire_is_a_fault(current_ma):
    """3.6 mA and below, 21 mA and above (NAMUR NE 43, from memory): never a value."""
    assert loop_value(DEPTH, current_ma) is LinkFaultKind.GAUGE_FAULT


@pytest.mark.parametrize("current_ma", [3.61, 3.79, 20.51, 20.99])
def test_between_valid_and_broken_there_is_no_value(current_ma):
    """Beyond 3.8 and 20.5 mA the gauge is out of its range (NAMUR NE 43, from memory)."""
    assert loop_value(DEPTH, current_ma) is LinkFaultKind.OUT_OF_RANGE


@given(st.floats(0.0, 250.0))
def test_a_value_survives_the_loop(value):
    """The current that stands for a value gives the value."""
    assert loop_value(DEPTH, loop_current_ma(DEPTH, value)) == pytest.approx(value, abs=1e-9)


def test_a_span_may_fall():
    """A gauge may send 20 mA at its low end."""
    assert loop_value(Loop(100.0, 0.0), 8.0) == pytest.approx(75.0)
