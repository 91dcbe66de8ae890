"""Repetitive dives, altitude, omitted stops: what a dive brings to the next, and what it leaves behind."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.core.decompression.altitude import (
    Wait,
    altitude_counts,
    altitude_step_ft,
    equivalent_depth_fsw,
    group_on_arrival,
    pressure_ratio,
    stop_depth_at_altitude_fsw,
    unzeroed_gauge_fsw,
    wait_before_altitude,
    wait_before_flying,
    whole_stop_fsw,
)
from station.core.decompression.answers import Mode, NotCovered
from station.core.decompression.omitted import omitted_cards
from station.core.decompression.repetitive import (
    AfterInterval,
    Residual,
    Standing,
    after_interval,
    residual_time,
)
from station.core.decompression.schedule import Schedule, TableEntry, enter
from station.core.decompression.series import EarlierDive, as_one_dive, series_choice
from station.core.decompression.surface import (
    IntervalVerdict,
    WaterLeft,
    chamber_periods,
    interval_verdict,
    periods_left,
)
from station.core.tables.lookup import schedule_row
from station.core.tables.table_set import TableSet
from station.table_files import load_tables

TABLES = load_tables()


def test_the_interval_is_cut_to_whole_minutes(tables: TableSet) -> None:
    """Rule N1: 2:20:59 is still 2:20, and A still A (Table 9-8); 2:21:00 clears it."""
    assert after_interval(tables, "A", 140 * 60 + 59) == AfterInterval(Standing.REPETITIVE, 140, "A")
    assert after_interval(tables, "A", 141 * 60) == AfterInterval(Standing.NOT_REPETITIVE, 141, None)


def test_under_ten_minutes_it_is_one_dive(tables: TableSet) -> None:
    """Rule N1: 9:59 is one dive even without a group; 10:00 is an interval."""
    assert after_interval(tables, None, 599) == AfterInterval(Standing.ONE_DIVE, 9, None)
    assert after_interval(tables, "K", 600) == AfterInterval(Standing.REPETITIVE, 10, "K")


def test_without_a_group_the_next_dive_has_no_figure(tables: TableSet) -> None:
    """Rule S4: a schedule without a group is not followed by another dive on these tables."""
    answer = after_interval(tables, None, 24 * 3600)
    assert isinstance(answer, NotCovered)
    assert answer.rule.id == "S4"


def test_an_interval_the_table_does_not_have_is_not_covered(tables: TableSet) -> None:
    """A credit table that begins later than ten minutes leaves the time before it without an answer."""
    later = replace(tables, credit=tuple(span for span in tables.credit if span.first_min > 52))
    answer = after_interval(later, "Z", 1800)
    assert isinstance(answer, NotCovered)
    assert answer.rule.id == "N2"


def test_residual_time_by_group_and_depth(tables: TableSet) -> None:
    """Rules N2 and S9: G at 100 fsw 23 min; none for the clean; no figure where undefined."""
    assert residual_time(tables, "G", 100) == Residual(23, 100)
    assert residual_time(tables, None, 100) == Residual(0, 100)
    assert residual_time(tables, "Z", 25) == Residual(372, 30)
    assert isinstance(residual_time(tables, "G", 10), NotCovered)
    assert isinstance(residual_time(tables, "G", 250), NotCovered)


def test_dives_as_one_add_whole_minutes_at_the_deepest_depth() -> None:
    """Rule N1: 10:01 and 20:30 are 11 and 21 minutes; the deeper depth and the first group hold."""
    entry = TableEntry(60.0, 20 * 60 + 30, group="C")
    one = as_one_dive(entry, (EarlierDive(80.0, 10 * 60 + 1),))
    assert one == TableEntry(80.0, 32 * 60, group="C")


def test_the_series_is_shown_both_ways_and_none_is_taken(tables: TableSet) -> None:
    """Rule N3: 100/20 after 130/20 with group G: 100/45 by residual time, 130/40 by the sum."""
    choice = series_choice(tables, TableEntry(100.0, 20 * 60, group="G"), (EarlierDive(130.0, 20 * 60),))
    assert isinstance(choice.by_residual, Schedule)
    assert isinstance(choice.by_sum, Schedule)
    assert (choice.by_residual.depth_fsw, choice.by_residual.time_min) == (100, 45)
    assert (choice.by_sum.depth_fsw, choice.by_sum.time_min) == (130, 40)
    assert not choice.sum_is_shorter
    shorter = series_choice(tables, TableEntry(60.0, 10 * 60, group="K"), (EarlierDive(60.0, 20 * 60),))
    assert shorter.sum_is_shorter


@pytest.mark.parametrize(
    ("altitude_ft", "depth_fsw", "counts"),
    # USN Diving Manual Rev 4, p. 9-38; "about 145" read as 145 or deeper
    [
        (300, 190, False),
        (301, 144, False),
        (301, 145, True),
        (1000, 145, True),
        (1000, 144, False),
        (1001, 20, True),
    ],
)
def test_where_altitude_counts(altitude_ft: int, depth_fsw: int, counts: bool) -> None:
    """Rule N4: none to 300 ft, deep dives to 1,000 ft, all above."""
    assert altitude_counts(altitude_ft, depth_fsw) is counts


def test_altitude_goes_up_to_the_next_thousand() -> None:
    """Rules N4 and D8: 7,750 ft counts as 8,000, and a gauge not zeroed there reads 8 fsw shallow."""
    assert [altitude_step_ft(altitude) for altitude in (0, 1, 1000, 1001, 7750)] == [
        0,
        1000,
        1000,
        2000,
        8000,
    ]
    assert unzeroed_gauge_fsw(75, 7750) == 83


@pytest.mark.parametrize(
    ("altitude_ft", "pressure_mb"),
    # standard atmosphere; 843 also USN Diving Manual Rev 4, p. 9-38
    [(1000, 977.2), (5000, 843.1), (8000, 752.6), (10000, 696.8)],
)
def test_pressure_by_the_standard_atmosphere(altitude_ft: int, pressure_mb: float) -> None:
    """The ratio of local to sea-level pressure agrees with the tabulated atmosphere."""
    ratio = pressure_ratio(altitude_ft)
    assert isinstance(ratio, float)
    assert ratio * 1013.25 == pytest.approx(pressure_mb, abs=0.1)


def test_above_the_tables_there_is_no_ratio(tables: TableSet) -> None:
    """Past 10,000 ft neither depth, nor arrival group, nor wait has a figure."""
    assert isinstance(pressure_ratio(10_001), NotCovered)
    assert isinstance(group_on_arrival(tables, 10_001), NotCovered)
    assert isinstance(wait_before_altitude(tables, ("C",), 10_001), NotCovered)


@given(st.floats(1, 200), st.floats(0, 10_000))
def test_altitude_makes_a_dive_deeper_and_its_stops_shallower(depth_fsw: float, altitude_ft: float) -> None:
    """Rule N4: equivalent depth is never shallower than the dive, a stop never deeper than in the table."""
    ratio = pressure_ratio(altitude_ft)
    assert isinstance(ratio, float)
    assert equivalent_depth_fsw(depth_fsw, ratio) >= depth_fsw
    assert stop_depth_at_altitude_fsw(30, ratio) <= 30
    assert whole_stop_fsw(30, ratio) <= 30


def test_stops_at_altitude_go_to_the_nearest_foot() -> None:
    """Rule N4: 22.3 is 22 (USN Diving Manual Rev 4, p. 9-44)."""
    assert whole_stop_fsw(30, 0.743) == 22
    assert whole_stop_fsw(30, 0.752) == 23


def test_arrival_group_by_increase(tables: TableSet) -> None:
    """Rule N5, Table 9-5: to 300 ft nothing counts, 7,750 ft is G as 8,000."""
    assert group_on_arrival(tables, 300) is None
    assert group_on_arrival(tables, 7750) == "G"


def test_the_highest_group_waits(tables: TableSet) -> None:
    """Rule N5, Table 9-6: J and C before 8,000 ft wait as J, 14:13; no increase waits nothing."""
    assert wait_before_flying(tables, ("J", "C")) == Wait(14 * 60 + 13, "J", 8000)
    assert wait_before_altitude(tables, ("A",), 9000) == Wait(0, "A", 9000)
    assert wait_before_altitude(tables, ("Z",), 0) == Wait(0, "Z", 0)


def test_exceptional_exposure_or_no_group_waits_48_hours(tables: TableSet) -> None:
    """Rule N5: 48 h after exceptional exposure [P], and where a dive gave no group [own]."""
    for wait in (
        wait_before_flying(tables, ("C",), exceptional=True),
        wait_before_flying(tables, ("C", None)),
    ):
        assert wait == Wait(48 * 60, None, 8000)
    with pytest.raises(ValueError, match="no dive"):
        wait_before_flying(tables, ())


def test_chamber_periods_go_up_to_the_half() -> None:
    """Rule X3: 1.1 times over 30; 150 of 11-tenths exactly is no more than its half periods."""
    assert [chamber_periods(minutes) for minutes in (0, 1, 12, 13, 14, 46)] == [0, 0.5, 0.5, 0.5, 1.0, 2.0]
    assert chamber_periods(150 / 11) == 0.5


def test_periods_of_air_left_count_as_the_oxygen_of_their_stop(tables: TableSet) -> None:
    """Rule X3 on 120/60: all of 27 and 142 min of air are 14 and 39 of oxygen: 2 periods, as printed."""
    row = schedule_row(tables, 120, 60)
    assert row is not None
    left = (WaterLeft(30, 27, on_air=True), WaterLeft(20, 142, on_air=True))
    assert periods_left(row, left) == row.chamber_periods == 2.0
    assert periods_left(row, (WaterLeft(20, 0, on_air=False),)) == 0.5


def test_interval_edges() -> None:
    """Rule X4: 5:00 and 7:00 belong to the better side; past 7:00 two periods are table 5, more table 6."""
    assert interval_verdict(300, 3) is IntervalVerdict.AS_PLANNED
    assert interval_verdict(420, 3) is IntervalVerdict.HALF_PERIOD_MORE
    assert interval_verdict(421, 2) is IntervalVerdict.TREATMENT_5
    assert interval_verdict(421, 2.5) is IntervalVerdict.TREATMENT_6


def test_with_symptoms_no_card_is_laid_out() -> None:
    """Rule O1: with symptoms none of it holds; the list is empty whatever else is known."""
    for depth in (None, 20, 60):
        assert omitted_cards(depth, 100, 1.0, symptoms=True, chamber=True, oxygen=True) == ()


def test_late_omission_with_many_periods_suggests_the_longer_table() -> None:
    """Rule O1: past 7:00 two periods are table 5, more table 6, both under the medical officer."""
    five = omitted_cards(30, 421, 2.0, symptoms=False, chamber=True, oxygen=True)
    six = omitted_cards(30, 421, 2.5, symptoms=False, chamber=True, oxygen=True)
    assert ("Table 5" in five[0].action, "Table 6" in six[0].action) == (True, True)
    assert five[0].medical_officer_first
    assert six[0].medical_officer_first


def test_deep_omission_without_a_chamber_says_what_gas_is_to_hand() -> None:
    """Rule O1: the water card names oxygen only where there is some."""
    with_oxygen, on_air = (
        omitted_cards(50, 0, 1.0, symptoms=False, chamber=False, oxygen=oxygen)[0] for oxygen in (True, False)
    )
    assert "oxygen" in with_oxygen.action
    assert "oxygen" not in on_air.action


@given(
    st.none() | st.integers(2, 13).map(lambda tens: tens * 10),
    st.integers(0, 2000),
    st.sampled_from([0.5, 2.0, 4.5]),
    st.booleans(),
    st.booleans(),
)
def test_there_is_always_a_card_and_treatment_is_never_an_order(
    missed_fsw: int | None, clock_s: int, periods: float, chamber: bool, oxygen: bool
) -> None:
    """Whatever was missed some card is laid out; a treatment table is only suggested."""
    cards = omitted_cards(missed_fsw, clock_s, periods, symptoms=False, chamber=chamber, oxygen=oxygen)
    assert cards
    for card in cards:
        if "Treatment Table" in card.action:
            assert "suggested" in card.action
            assert card.medical_officer_first


def test_all_modes_end_in_the_same_group(tables: TableSet) -> None:
    """Rule S8: 120/60 ends in Z on air, on oxygen and after the chamber."""
    groups = {getattr(enter(tables, TableEntry(120.0, 3600, mode)), "group", None) for mode in Mode}
    assert groups == {"Z"}
