"""Contaminants and oxygen: by pressure, with steps and edges."""

import pytest

from station.core.air.emergency_gas import emergency_endurance, emergency_need
from station.core.air.gas_limits import (
    AIR_LIMITS,
    Contaminant,
    contaminant_findings,
    oxygen_is_within,
)
from station.core.air.oxygen import (
    Exposure,
    OxygenStanding,
    exposure_limit,
    oxygen_dose,
    oxygen_standing,
)

CO = Contaminant.CARBON_MONOXIDE
CO2 = Contaminant.CARBON_DIOXIDE


def test_air_good_at_the_surface_can_be_foul_at_depth() -> None:
    """6 ppm of carbon monoxide pass at the surface and fail at 99 fsw, where they act like 24."""
    limits = AIR_LIMITS["29 CFR 1910"]
    measured = {CO: 6.0, CO2: 200.0}
    assert not any(finding.is_over for finding in contaminant_findings(limits, measured, 0))
    over = [finding for finding in contaminant_findings(limits, measured, 99) if finding.is_over]
    assert [(finding.contaminant, finding.most, finding.unit) for finding in over] == [(CO, 20, "ppm")]
    assert over[0].surface_equivalent == pytest.approx(24)


def test_exactly_the_limit_is_allowed() -> None:
    """The limit itself is not over it."""
    (finding,) = contaminant_findings(AIR_LIMITS["29 CFR 1910"], {CO: 20.0}, 0)
    assert not finding.is_over


def test_what_was_not_measured_is_not_found() -> None:
    """Only what an analyser gave is judged; silence is no zero."""
    assert contaminant_findings(AIR_LIMITS["EN 12021"], {}, 100) == ()


@pytest.mark.parametrize(("percent", "within"), [(19.9, False), (20, True), (22, True), (22.1, False)])
def test_oxygen_in_air_has_two_limits(percent: float, within: bool) -> None:
    """20 to 22 %, both ends allowed; a profile without a limit takes any."""
    # EN 12021:2014, secondary sources: 21 +/- 1 %
    assert oxygen_is_within(AIR_LIMITS["EN 12021"], percent) is within
    assert oxygen_is_within(AIR_LIMITS["29 CFR 1910"], percent)


@pytest.mark.parametrize(
    ("ata", "standing"),
    [
        (0.15, OxygenStanding.LACKING),
        (0.16, OxygenStanding.LOW),
        (0.18, OxygenStanding.GOOD),
        (1.40, OxygenStanding.GOOD),
        (1.41, OxygenStanding.HIGH),
    ],
)
def test_oxygen_stands_among_its_limits(ata: float, standing: OxygenStanding) -> None:
    """Lacking, low, good, high: each edge belongs to the milder side."""
    # 0.16: old U.S. Navy text, secondary; 0.18: own choice; 1.40: 29 CFR 1910 appendix C, from memory
    assert oxygen_standing(ata) is standing


@pytest.mark.parametrize(
    ("ata", "single_min"), [(0.51, 720), (1.21, 180), (1.4000001, 150), (1.41, 120), (1.2 + 0.2, 150)]
)
def test_the_exposure_table_is_entered_at_the_next_higher_row(ata: float, single_min: int) -> None:
    """Never between two rows; dust of arithmetic does not cost a row."""
    limit = exposure_limit(ata)
    assert limit is not None
    assert limit.single_min == single_min


def test_above_the_table_there_is_no_limit_to_give() -> None:
    """More than 1.6 ata is beyond the table."""
    assert exposure_limit(1.61) is None


def test_a_dose_is_minutes_over_minutes_allowed() -> None:
    """An hour at 1.4 and 27 min at 1.58 ata are a whole single exposure; in a day less."""
    dose = oxygen_dose([Exposure(1.4, 60), Exposure(1.58, 27)])
    assert dose.single_share == pytest.approx(60 / 150 + 27 / 45)
    assert dose.day_share == pytest.approx(60 / 180 + 27 / 150)
    assert dose.beyond_min == 0


def test_air_at_the_surface_counts_for_nothing() -> None:
    """To 0.5 ata the day may be as long as it likes."""
    dose = oxygen_dose([Exposure(0.21, 1440), Exposure(0.5, 60)])
    assert (dose.single_share, dose.day_share) == (0, 0)


def test_oxygen_stops_are_told_apart() -> None:
    """20 min at 1.91 ata have no share in a table that ends at 1.6; they are not lost either."""
    dose = oxygen_dose([Exposure(1.91, 20), Exposure(1.4, 15)])
    assert dose.beyond_min == 20
    assert dose.single_share == pytest.approx(0.1)


def test_emergency_gas_reaches_a_first_stop() -> None:
    """With stops the ascent ends at the first, whose pressure must still be left in the cylinder."""
    straight = emergency_need(150, 180, 0.399, 1.4)
    to_stop = emergency_need(150, 180, 0.399, 1.4, first_stop_fsw=30)
    assert to_stop.ascent_min == 4
    assert to_stop.ascent_scf < straight.ascent_scf
    assert to_stop.least_psig == pytest.approx(135 + 30 * 0.445)


def test_emergency_gas_lasts_by_its_smaller_content() -> None:
    """2,600 psig in 0.399 ft³ at 190 fsw last 6 min; an empty one none; a hot one has no figure."""
    lasts = emergency_endurance(2600, 190, 0.399, 1.4)
    assert lasts.minutes == 6
    assert lasts.content.handbook_scf == pytest.approx(0.399 * (2600 - 135 - 190 * 0.445) / 14.7)
    assert emergency_endurance(150, 190, 0.399, 1.4).minutes == 0
    assert emergency_endurance(2600, 190, 0.399, 1.4, temperature_f=160).minutes is None
