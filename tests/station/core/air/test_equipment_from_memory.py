"""Figures from memory, unverified: no page was read. They hold the data in place, they prove nothing."""

import pytest

from station.core.air.equipment import EQUIPMENT, minimum_manifold_psig

# USN air diving manual of the 1970s: 50 psi to 120 fsw, 100 psi deeper; from memory, unverified.
DEEP_SEA_DRESS = [(60, 76.7), (120, 103.4), (190, 184.55)]


@pytest.mark.parametrize(("depth_fsw", "minimum_psig"), DEEP_SEA_DRESS)
def test_deep_sea_dress(depth_fsw, minimum_psig) -> None:
    """50 psi over the bottom to 120 fsw, 100 psi deeper; from memory, unverified."""
    assert minimum_manifold_psig(EQUIPMENT["deep-sea-dress"], depth_fsw) == pytest.approx(
        minimum_psig, abs=0.005
    )
    assert EQUIPMENT["deep-sea-dress"].tag == "M"
