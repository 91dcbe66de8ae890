"""Depth in metres for the record, against its own check value and the present standard."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from shared.units import PASCAL_PER_FSW
from station.core.hose.seawater import depth_m_from_gauge_pressure


def test_the_check_value_is_met() -> None:
    """10,000 decibar at 30 degrees are 9,712.653 m."""
    # Fofonoff and Millard, UNESCO technical papers in marine science 44 (1983), p. 28, check value
    assert depth_m_from_gauge_pressure(1e8, 30) == pytest.approx(9712.653, abs=0.001)


@pytest.mark.parametrize("latitude", [-70, -30, 0, 30, 45, 60, 90])
@pytest.mark.parametrize("depth_fsw", [1, 10, 60, 190, 300])
def test_depth_agrees_with_the_present_standard(gsw, latitude: float, depth_fsw: float) -> None:
    """Within 0.01 % of TEOS-10 over every depth that a diver reaches."""
    pascal = depth_fsw * PASCAL_PER_FSW
    expected = -gsw.z_from_p(pascal / 1e4, latitude)
    assert depth_m_from_gauge_pressure(pascal, latitude) == pytest.approx(expected, rel=1e-4)


@given(st.floats(0, 2e6), st.floats(0, 1e5), st.floats(-90, 90))
def test_more_pressure_is_deeper(pascal: float, more: float, latitude: float) -> None:
    """Depth grows with pressure, is 0 at the surface, and is the same north and south."""
    depth = depth_m_from_gauge_pressure(pascal, latitude)
    assert 0 <= depth <= depth_m_from_gauge_pressure(pascal + more, latitude)
    assert depth == depth_m_from_gauge_pressure(pascal, -latitude)


def test_arrays_of_pressures_give_what_scalars_give() -> None:
    """A whole trace is worked at once."""
    pascals = np.linspace(0.0, 1e6, 17)
    depths = depth_m_from_gauge_pressure(pascals, 45)
    assert depths.tolist() == [depth_m_from_gauge_pressure(float(each), 45) for each in pascals]
