"""The pneumofathometer correction and the depth that enters a table."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.core.decompression.correction import (
    BeyondCorrectionError,
    depth_correction_fsw,
    maximum_depth_fsw,
    whole_gauge_fsw,
)
from station.core.tables.lookup import table_depth_fsw

DEPTHS = (30, 35, 40, 150, 160)


@pytest.mark.parametrize(
    ("gauge_fsw", "correction_fsw"),
    # USN Diving Manual Rev 4 Table 14-1 and study notes on Rev 6/7 ch. 9: the edges of the bands
    [(0, 1), (100, 1), (101, 2), (200, 2), (201, 4), (250, 4), (300, 4), (301, 7), (400, 7)],
)
def test_bands_are_taken_at_their_edges(gauge_fsw: float, correction_fsw: float) -> None:
    """Each printed band holds from its first to its last whole foot."""
    assert depth_correction_fsw(gauge_fsw) == correction_fsw


@pytest.mark.parametrize(
    ("gauge_fsw", "whole_fsw"),
    [(58.0, 58), (58.02, 58), (58.2, 58), (58.21, 59), (59.0, 59), (-0.4, 0), (0.0, 0), (100.2, 100)],
)
def test_a_reading_counts_as_whole_feet(gauge_fsw: float, whole_fsw: int) -> None:
    """Two tenths over a foot do not cost the next foot; more does."""
    assert whole_gauge_fsw(gauge_fsw) == whole_fsw


def test_maximum_depth_is_whole_reading_plus_correction() -> None:
    """59.02 on the gauge is 60 in the table, not 60.02, which would be a row deeper."""
    assert maximum_depth_fsw(59.02) == 60.0
    assert maximum_depth_fsw(100.5) == 103.0


def test_no_correction_is_made_up_deeper_than_the_bands() -> None:
    """A reading deeper than 400 fsw is refused with its number."""
    with pytest.raises(BeyondCorrectionError, match="401"):
        depth_correction_fsw(401)


@given(st.floats(-10, 400), st.floats(-10, 400))
def test_deeper_reading_is_never_a_shallower_maximum(one_fsw: float, other_fsw: float) -> None:
    """Maximum depth grows with the reading and is never above the reading it came from."""
    low_fsw, high_fsw = sorted((one_fsw, other_fsw))
    assert maximum_depth_fsw(low_fsw) <= maximum_depth_fsw(high_fsw)
    assert maximum_depth_fsw(high_fsw) > high_fsw


@pytest.mark.parametrize(
    ("max_fsw", "table_fsw"), [(0.0, 30), (30.0, 30), (30.1, 35), (154.0, 160), (160.0, 160), (160.1, None)]
)
def test_table_depth_is_equal_or_next_deeper(max_fsw: float, table_fsw: int | None) -> None:
    """The table is entered at the equal or next deeper depth, and says so when it ends."""
    assert table_depth_fsw(max_fsw, DEPTHS) == table_fsw
