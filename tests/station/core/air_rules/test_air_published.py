"""Published vectors of the air rules, each with its source beside it."""

import pytest

from station.core.air.bank import handbook_scf
from station.core.air.emergency_gas import FLOODABLE_CUFT_OF, emergency_need, least_cylinder_psig
from station.core.air.equipment import EQUIPMENT
from station.core.air.flow import CONSUMPTION, ata_at, flow_scfm
from station.core.air.gas_limits import AIR_LIMITS, Contaminant, surface_equivalent
from station.core.air.hose_rating import least_burst_psig, least_working_psig, proof_pressure_psig
from station.core.air.need import AscentLeg, ascent_min, leg_scf
from station.core.air.oxygen import depth_of_oxygen_fsw, exposure_limit, oxygen_ata
from station.core.air.rounding import cylinder_pressure_up, down, minutes_up
from station.core.air.setting import setting_at

CO = Contaminant.CARBON_MONOXIDE
CO2 = Contaminant.CARBON_DIOXIDE
OIL = Contaminant.OIL


@pytest.mark.parametrize(
    ("depth_fsw", "acfm", "divers", "scfm"),
    [
        # USN Diving Manual Rev 4 Change A, p. 7-14: (D + 33) / 33 x acfm x N, worked out by hand
        (0, 1.4, 1, 1.4),
        (33, 1.4, 1, 2.8),
        (100, 1.4, 1, 5.64),
        (190, 1.4, 1, 9.46),
        (100, 1.4, 3, 16.93),
        (33, 4.5, 1, 9.0),
        (100, 4.5, 1, 18.14),
        (100, 6, 1, 24.18),
    ],
)
def test_flow_is_as_the_handbook_works_it(depth_fsw: float, acfm: float, divers: int, scfm: float) -> None:
    """Flow grows with absolute pressure, with use at depth and with the number of divers."""
    assert flow_scfm(depth_fsw, acfm, divers) == pytest.approx(scfm, abs=0.005)


@pytest.mark.parametrize(
    ("equipment", "acfm"),
    [
        ("demand-helmet", 1.4),  # USN Diving Manual Rev 4 Change A, p. 8-3
        ("free-flow-helmet-300ft", 6.0),  # TM 5-4220-225-14, para 2-15
        ("free-flow-helmet-600ft", 6.0),  # TM 5-4220-225-14, para 2-15
    ],
)
def test_a_class_of_dress_uses_what_its_source_prints(equipment: str, acfm: float) -> None:
    """What a diver uses is data with its source."""
    assert CONSUMPTION[equipment].acfm == acfm
    assert CONSUMPTION[equipment].tag == "P"


def test_every_class_of_dress_has_a_consumption() -> None:
    """The classes with a pressure are the classes with a flow."""
    assert set(CONSUMPTION) == set(EQUIPMENT)


@pytest.mark.parametrize(
    ("equipment", "depth_fsw", "over_bottom_psi", "normal_psig", "minimum_psig"),
    [
        # USN Diving Manual Rev 5, ch. 8, Table 8-1, note 1
        ("demand-helmet", 30, 90, 103.35, 103.35),
        ("demand-helmet", 60, 90, 116.7, 116.7),
        ("demand-helmet", 61, 135, 162.145, 162.145),
        ("demand-helmet", 130, 135, 192.85, 192.85),
        ("demand-helmet", 190, 165, 249.55, 249.55),
        ("full-face-mask", 60, 90, 116.7, 116.7),
        # TM 5-4220-225-14, para 2-15
        ("free-flow-helmet-300ft", 60, 60, 86.7, 72.0),
        ("free-flow-helmet-300ft", 100, 60, 104.5, 92.0),
        ("free-flow-helmet-300ft", 190, 60, 144.55, 137.0),
        ("free-flow-helmet-600ft", 100, 100, 144.5, 104.0),
    ],
)
def test_the_pressure_to_set_is_as_printed(
    equipment: str, depth_fsw: float, over_bottom_psi: float, normal_psig: float, minimum_psig: float
) -> None:
    """Over-bottom, normal and minimum manifold pressure of a class at a depth."""
    setting = setting_at(EQUIPMENT[equipment], depth_fsw)
    assert setting.over_bottom_psi == over_bottom_psi
    assert setting.normal_psig == pytest.approx(normal_psig)
    assert setting.minimum_psig == pytest.approx(minimum_psig)


def test_emergency_gas_is_as_in_the_sample_problem() -> None:
    """190 fsw, 3 min to get back, straight up: 28.38 + 38.01 scf, 2,580.95 psig, written 2,600.

    The tolerance of the pressure is the manual's own rounding of the scf.
    """
    # USN Diving Manual Rev 4 Change A, p. 8-2, 8-3, sample problem 1
    need = emergency_need(190, 3 * 60, 0.399, 1.4, regulator_psi=135)
    assert need.bottom_scf == pytest.approx(28.38, abs=0.005)
    assert need.ascent_min == 7
    assert need.ascent_scf == pytest.approx(38.01, abs=0.01)
    assert need.total_scf == pytest.approx(66.39, abs=0.01)
    assert need.least_psig == 135
    assert need.needed_psig == pytest.approx(2580.95, abs=0.2)
    assert need.required_psig == 2600


def test_an_ascent_of_six_minutes_twenty_is_planned_as_seven() -> None:
    """Travel goes up to whole minutes and is taken at its average depth."""
    # USN Diving Manual Rev 4 Change A, p. 8-3
    ascent = AscentLeg(190, 0, 380)
    assert ascent_min([ascent]) == 7
    assert leg_scf(ascent, 1.4) == pytest.approx(38.01, abs=0.01)


def test_a_regulator_down_deep_stops_higher() -> None:
    """The cylinder is empty to its diver at the regulator's setting over the pressure of the depth."""
    # USN Diving Manual Rev 4 Change A, p. 8-2, 8-3: setting plus depth pressure
    assert least_cylinder_psig(0) == 135
    assert least_cylinder_psig(100) == pytest.approx(179.5)


@pytest.mark.parametrize(("size", "cuft"), [("72", 0.420), ("80", 0.399), ("90", 0.398), ("K", 1.620)])
def test_floodable_volumes_are_as_printed(size: str, cuft: float) -> None:
    """Cylinders are known by the trade's sizes."""
    # USN Diving Manual Rev 5, ch. 17
    assert FLOODABLE_CUFT_OF[size] == cuft


def test_two_cylinders_down_to_their_reserve() -> None:
    """Two 0.399 ft³ cylinders from 2,800 to 250 psig give 138.4 scf."""
    # USN Diving Manual Rev 5, ch. 17: inputs of the example; the answer worked out by hand
    assert handbook_scf(2 * 0.399, 2800, 250) == pytest.approx(138.4, abs=0.05)


def test_requirements_go_up_and_durations_down() -> None:
    """2,580.95 psig is 2,600; 30.9 min is 30; what is whole already stays."""
    # USN Diving Manual Rev 4 Change A, p. 8-3
    assert cylinder_pressure_up(2580.95) == 2600
    assert cylinder_pressure_up(2600.0) == 2600
    assert down(30.9) == 30
    assert down(29.9999999999) == 30
    assert minutes_up(60.0) == 1
    assert minutes_up(60.5) == 2


@pytest.mark.parametrize(
    ("system_psig", "depth_fsw", "least_psig"), [(250, 100, 250), (100, 100, 144.5), (0, 0, 100)]
)
def test_a_hose_bears_system_and_depth(system_psig: float, depth_fsw: float, least_psig: float) -> None:
    """Working pressure is that of the system, and 100 psi over the depth's at least."""
    # 46 CFR 197.312(a)
    assert least_working_psig(system_psig, depth_fsw) == pytest.approx(least_psig)


def test_a_hose_bursts_at_four_times_and_is_tested_at_one_and_a_half() -> None:
    """Burst and test pressure of a hose rated for 300 psig."""
    # 46 CFR 197.312(a); 46 CFR 197.456(a)(1)
    assert least_burst_psig(300) == 1200
    assert proof_pressure_psig(300) == 450


@pytest.mark.parametrize(
    ("profile", "contaminant", "most"),
    [
        ("29 CFR 1910", CO, 20),  # 29 CFR 1910.430(b)(3)
        ("29 CFR 1910", CO2, 1000),
        ("29 CFR 1910", OIL, 5),
        ("46 CFR 197", CO, 20),  # 46 CFR 197.340(i)
        ("46 CFR 197", CO2, 1000),
        ("CGA Grade E", CO, 10),  # CGA G-7.1, secondary sources
        ("CGA Grade E", CO2, 1000),
        ("CGA Grade E", OIL, 5),
        ("EN 12021", CO, 5),  # EN 12021:2014, secondary sources
        ("EN 12021", CO2, 500),
        ("EN 12021", OIL, 0.5),
        ("Norway", CO, 10),  # Norway, filling plants, s 5-5
        ("Norway", CO2, 500),
        ("Norway", OIL, 1),
    ],
)
def test_limits_of_air_are_as_printed(profile: str, contaminant: Contaminant, most: float) -> None:
    """Each profile limits contaminants by its own figure."""
    (limit,) = [each for each in AIR_LIMITS[profile].limits if each.contaminant is contaminant]
    assert limit.most == most


def test_five_ppm_at_four_atmospheres_act_like_twenty() -> None:
    """A contaminant acts by its partial pressure."""
    # Dalton's law; 99 fsw is 4 ata, USN Diving Manual Rev 4 Change A, p. 7-14
    assert surface_equivalent(5, 99) == pytest.approx(20)
    assert ata_at(99.0) == pytest.approx(4)


@pytest.mark.parametrize(
    ("ata", "single_min", "day_min"),
    [
        # NOAA Diving Manual, normal oxygen exposure limits, secondary sources that agree
        (1.6, 45, 150),
        (1.5, 120, 180),
        (1.4, 150, 180),
        (1.3, 180, 210),
        (1.2, 210, 240),
        (1.1, 240, 270),
        (1.0, 300, 300),
        (0.9, 360, 360),
        (0.8, 450, 450),
        (0.7, 570, 570),
        (0.6, 720, 720),
    ],
)
def test_oxygen_limits_are_as_printed(ata: float, single_min: int, day_min: int) -> None:
    """Each row of the exposure table."""
    limit = exposure_limit(ata)
    assert limit is not None
    assert (limit.single_min, limit.day_min) == (single_min, day_min)


def test_air_reaches_the_oxygen_limits_where_arithmetic_says() -> None:
    """Air has 1.4 ata of oxygen at 187 fsw and 1.6 at 218; pure oxygen 1.91 at 30 fsw."""
    # Dalton's law with 0.21 and 33 fsw/ata
    assert depth_of_oxygen_fsw(1.4) == pytest.approx(187, abs=0.5)
    assert depth_of_oxygen_fsw(1.6) == pytest.approx(218, abs=0.5)
    assert oxygen_ata(30.0, 1.0) == pytest.approx(1.91, abs=0.005)
