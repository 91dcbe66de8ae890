"""Minimum manifold pressure by class of dress, against the printed figures."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.core.air.equipment import (
    EQUIPMENT,
    minimum_manifold_psig,
    normal_manifold_psig,
    over_bottom_psi,
)

# Class, depth in fsw, over-bottom in psi, minimum in psig. USN Diving Manual Rev 5, Table 8-1 and note 1.
TABLE_8_1 = [
    ("demand-helmet", 30, 90, 103.35),
    ("demand-helmet", 60, 90, 116.7),
    ("demand-helmet", 61, 135, 162.15),
    ("demand-helmet", 130, 135, 192.85),
    ("demand-helmet", 131, 165, 223.295),
    ("demand-helmet", 190, 165, 249.55),
    ("full-face-mask", 60, 90, 116.7),
]
# Hose, depth in fsw, normal in psig, floor in psig. TM 5-4220-225-14, para 2-15.
FREE_FLOW = [
    ("free-flow-helmet-300ft", 60, 86.7, 72.0),
    ("free-flow-helmet-300ft", 100, 104.5, 92.0),
    ("free-flow-helmet-300ft", 190, 144.55, 137.0),
    ("free-flow-helmet-600ft", 100, 144.5, 104.0),
]


@pytest.mark.parametrize(("name", "depth_fsw", "over_psi", "minimum_psig"), TABLE_8_1)
def test_demand_gear_needs_the_printed_pressure(name, depth_fsw, over_psi, minimum_psig) -> None:
    """Depth x 0.445 and the over-bottom pressure of the band."""
    assert over_bottom_psi(EQUIPMENT[name], depth_fsw) == over_psi
    assert minimum_manifold_psig(EQUIPMENT[name], depth_fsw) == pytest.approx(minimum_psig, abs=0.005)


@pytest.mark.parametrize(("name", "depth_fsw", "normal_psig", "floor_psig"), FREE_FLOW)
def test_free_flow_has_a_normal_pressure_and_a_floor(name, depth_fsw, normal_psig, floor_psig) -> None:
    """The floor is the minimum, the normal pressure stands beside it."""
    assert normal_manifold_psig(EQUIPMENT[name], depth_fsw) == pytest.approx(normal_psig, abs=0.005)
    assert minimum_manifold_psig(EQUIPMENT[name], depth_fsw) == pytest.approx(floor_psig, abs=0.005)


@pytest.mark.parametrize("equipment", EQUIPMENT.values(), ids=EQUIPMENT)
def test_every_class_says_where_it_is_from_and_where_it_ends(equipment) -> None:
    """Source and tag; bands in order; deeper than the last there is no figure."""
    assert equipment.source
    assert equipment.tag in {"P", "S", "M"}
    assert (equipment.tag == "M") == ("from memory, unverified" in equipment.source)
    ends = [band.to_fsw for band in equipment.bands]
    assert ends == sorted(set(ends))
    assert minimum_manifold_psig(equipment, ends[-1]) is not None
    assert minimum_manifold_psig(equipment, ends[-1] + 0.01) is None


@given(st.sampled_from(list(EQUIPMENT.values())), st.floats(0, 190), st.floats(0, 190))
def test_deeper_never_needs_less(equipment, one_fsw, other_fsw) -> None:
    """The minimum grows with depth as far as there is one, and is above the pressure of the water."""
    low, high = sorted((one_fsw, other_fsw))
    least, most = minimum_manifold_psig(equipment, low), minimum_manifold_psig(equipment, high)
    if most is not None:
        assert least is not None
        assert low * 0.445 < least <= most
