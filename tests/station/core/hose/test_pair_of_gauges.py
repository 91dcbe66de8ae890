"""Two gauges on one diver: when they are apart enough to be tested."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.core.hose.pair import gauges_differ, pair_limit_fsw


@pytest.mark.parametrize(
    ("one", "other", "rate", "apart"),
    [
        # 29 CFR 1910.430(g)(2), 46 CFR 197.458: more than 2 % of full scale, 5 fsw of 250
        (60.0, 65.0, 0.0, False),
        (60.0, 65.01, 0.0, True),
        (65.01, 60.0, 0.0, True),
        (60.1, 65.1, 0.0, False),  # five feet, but for the dust of floats
        (60.0, 70.0, 4.9, True),
        (60.0, 70.0, 5.0, False),  # he is on his way
        (60.0, 70.0, -30.0, False),
        (60.0, 70.0, None, False),  # nobody knows whether he is
    ],
)
def test_gauges_differ_past_two_per_cent_of_scale(
    one: float, other: float, rate: float | None, apart: bool
) -> None:
    """More than 2 % of full scale while steady; 2 % itself is allowed."""
    assert gauges_differ(one, other, 250, rate) is apart


@given(st.floats(0, 250), st.floats(0, 250), st.floats(10, 500))
def test_the_order_of_the_gauges_is_no_matter(one: float, other: float, scale: float) -> None:
    """Either gauge may be the one that is wrong."""
    assert gauges_differ(one, other, scale, 0.0) == gauges_differ(other, one, scale, 0.0)
    assert not gauges_differ(one, one + pair_limit_fsw(scale) * 0.99, scale, 0.0)
