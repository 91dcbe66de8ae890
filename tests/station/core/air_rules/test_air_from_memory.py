"""Vectors whose source is memory. They show that we compute what is believed, not that it is so."""

import pytest

from station.core.air.bank import Flasks, duration_min, handbook_scf, least_bank_psig
from station.core.air.compressibility import compressibility
from station.core.air.equipment import EQUIPMENT
from station.core.air.flow import CONSUMPTION, flow_scfm
from station.core.air.gas_limits import AIR_LIMITS, Contaminant, oxygen_is_within
from station.core.air.numbers import MINIMUM_FLASK_PSI, OXYGEN_COUNTED_ATA, OXYGEN_MOST_ATA
from station.core.air.setting import setting_at


@pytest.mark.parametrize(
    ("flasks", "flask_psig", "manifold_psig", "depth_fsw", "acfm", "divers", "scf", "minutes"),
    [
        # USN air manual, ch. 8: N x FV x (P - (200 + manifold minimum)) / 14.7; from memory, unverified
        (Flasks(5, 8), 3000, 192.85, 130, 1.4, 2, 7094.3, 512),
        (Flasks(5, 8), 3000, 192.85, 130, 1.4, 3, 7094.3, 341),
        (Flasks(3, 1.62), 2200, 116.7, 60, 1.4, 2, 622.6, 78),
        (Flasks(5, 8), 3000, 94.5, 100, 6, 2, 7361.9, 152),
    ],
)
def test_a_flask_bank_lasts_as_the_old_manual_has_it(  # noqa: PLR0917 - one column each
    flasks: Flasks,
    flask_psig: float,
    manifold_psig: float,
    depth_fsw: float,
    acfm: float,
    divers: int,
    scf: float,
    minutes: int,
) -> None:
    """Content of a bank down to 200 psi over the manifold's minimum, and how long it feeds its divers."""
    available = handbook_scf(flasks.volume_cuft, flask_psig, least_bank_psig(manifold_psig))
    assert available == pytest.approx(scf, abs=0.05)
    assert duration_min(available, flow_scfm(depth_fsw, acfm, divers)) == minutes


@pytest.mark.parametrize(
    ("depth_fsw", "over_bottom_psi", "normal_psig"), [(60, 50, 76.7), (120, 50, 103.4), (190, 100, 184.55)]
)
def test_the_deep_sea_dress_is_set_as_remembered(
    depth_fsw: float, over_bottom_psi: float, normal_psig: float
) -> None:
    """50 psi over the bottom to 120 fsw, 100 deeper, 4.5 ft³/min; the data says that it is from memory."""
    # USN air manual of the 1970s; from memory, unverified
    setting = setting_at(EQUIPMENT["deep-sea-dress"], depth_fsw)
    assert setting.over_bottom_psi == over_bottom_psi
    assert setting.normal_psig == pytest.approx(normal_psig)
    assert CONSUMPTION["deep-sea-dress"].acfm == 4.5
    assert CONSUMPTION["deep-sea-dress"].tag == "M"


@pytest.mark.parametrize(("bar", "z"), [(100, 0.9930), (200, 1.0326), (300, 1.1089)])
def test_compressibility_at_300_kelvin_is_as_remembered(bar: float, z: float) -> None:
    """An old experimental table of air agrees with the fit within 0.2 %."""
    # Perry's Chemical Engineers' Handbook, compressibility factors of air; from memory, unverified
    psig = bar * 14.503774 - 14.7
    assert compressibility(psig, 80.33) == pytest.approx(z, rel=0.002)


def test_figures_from_memory_are_what_they_were() -> None:
    """Limits that nobody has read on a page do not change unseen."""
    # all from memory, unverified: USN air manual ch. 8; NOAA Diving Manual; 29 CFR 1910 appendix C
    assert MINIMUM_FLASK_PSI == 200
    assert OXYGEN_COUNTED_ATA == 0.5
    assert OXYGEN_MOST_ATA == 1.4


def test_limits_of_air_from_memory_are_marked() -> None:
    """Oil and hydrocarbons of 46 CFR 197.340(i), and oxygen of grade E, carry the tag of memory."""
    # 46 CFR 197.340(i), CGA G-7.1; from memory, unverified
    tags = {limit.contaminant: limit.tag for limit in AIR_LIMITS["46 CFR 197"].limits}
    assert tags[Contaminant.OIL] == tags[Contaminant.HYDROCARBONS] == "M"
    assert AIR_LIMITS["CGA Grade E"].oxygen_tag == "M"
    assert oxygen_is_within(AIR_LIMITS["CGA Grade E"], 22)
    assert not oxygen_is_within(AIR_LIMITS["CGA Grade E"], 22.1)
