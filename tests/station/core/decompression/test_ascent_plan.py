"""The planned ascent: legs that join, stop clocks, oxygen and its breaks, the chamber, altitude."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.core.decompression.answers import Gas, Mode
from station.core.decompression.ascent import AscentPlan, ascent_plan
from station.core.decompression.chamber import chamber_air_stops, chamber_s, chamber_steps
from station.core.decompression.course import course_legs
from station.core.decompression.legs import DueStop, Position, What, legs_join
from station.core.decompression.oxygen import air_breaks, air_left_min, oxygen_left_min, oxygen_period_s
from station.core.decompression.schedule import Schedule, TableEntry, enter
from station.core.decompression.surface import planned_interval_s
from station.core.decompression.travel import (
    first_stop_clock_s,
    later_stop_clock_s,
    planned_travel_s,
    travel_s,
)
from station.core.tables.lookup import schedule_row
from station.core.tables.table_set import ScheduleRow, TableSet
from station.table_files import load_tables

TABLES = load_tables()
ROWS = tuple(row for block in TABLES.blocks for row in block.rows)


def planned(entry: TableEntry, stage_fsw: float | None = None, ratio: float = 1.0) -> AscentPlan:
    """The ascent of an entry that has one, from its own depth by itself."""
    plan = ascent_plan(TABLES, entry, entry.max_fsw if stage_fsw is None else stage_fsw, ratio)
    assert isinstance(plan, AscentPlan)
    return plan


def test_the_legs_of_every_row_end_at_the_printed_total(tables: TableSet) -> None:
    """In every mode; only 170/180 on oxygen prints 20 s less than its parts, as its note says."""
    differing = []
    for block in tables.blocks:
        for row in block.rows:
            for mode in Mode:
                plan = planned(TableEntry(row.depth_fsw, row.time_min * 60, mode))
                assert legs_join(plan.legs)
                assert plan.legs[0].start_s == 0
                assert plan.legs[-1].to_fsw == 0
                if plan.ends_s != plan.schedule.total_ascent_s:
                    differing.append((row.depth_fsw, row.time_min, mode, plan.ends_s))
    assert differing == [(170, 180, Mode.AIR_OXYGEN, 648 * 60 + 20)]


@given(
    st.sampled_from(ROWS),
    st.sampled_from(Mode),
    st.floats(5, 310),
    st.sampled_from([1.0, 0.95, 0.8, 0.69]),
)
def test_legs_join_without_a_gap(row: ScheduleRow, mode: Mode, stage_fsw: float, ratio: float) -> None:
    """From any stage depth and at any altitude the legs join, never go down in the water, never overlap."""
    plan = planned(TableEntry(row.depth_fsw, row.time_min * 60, mode), stage_fsw, ratio)
    legs = plan.legs
    assert legs_join(legs)
    assert legs[0].from_fsw == stage_fsw
    assert legs[-1].to_fsw == 0
    assert all(leg.end_s > leg.start_s or leg.from_fsw != leg.to_fsw for leg in legs)
    in_water = [leg for leg in legs if leg.what in {What.TRAVEL, What.STOP, What.AIR_BREAK, What.WAIT}]
    assert all(leg.to_fsw <= leg.from_fsw for leg in in_water)
    due_s = sum(stop.due_s for stop in plan.due)
    held_s = sum(leg.end_s - leg.start_s for leg in in_water if leg.what is What.STOP)
    assert due_s - 20 * len(plan.due) <= held_s <= due_s


def test_a_stop_deeper_than_the_stage_is_taken_at_the_stage() -> None:
    """Rule A1: from a stage at 35 the 40-fsw stop of 120/70 is taken at 35, without travel."""
    plan = planned(TableEntry(120.0, 70 * 60), 35.0)
    assert plan.first_stop_travel_s == 0
    assert [(stop.depth_fsw, stop.level_fsw) for stop in plan.due] == [(40, 35.0), (30, 30.0), (20, 20.0)]
    assert (plan.legs[0].what, plan.legs[0].end_s) == (What.STOP, 13 * 60)


def test_oxygen_is_breathed_from_30_fsw_and_to_the_surface() -> None:
    """120/70 on oxygen: air to 30, oxygen at 30, between 30 and 20, at 20 and on the way up."""
    legs = planned(TableEntry(120.0, 70 * 60, Mode.AIR_OXYGEN)).legs
    assert [leg.gas for leg in legs if leg.from_fsw > 30] == [Gas.AIR] * 3
    assert {leg.gas for leg in legs if leg.from_fsw <= 30 and leg.what is not What.AIR_BREAK} == {Gas.OXYGEN}
    assert [leg.gas for leg in legs if leg.what is What.AIR_BREAK] == [Gas.AIR]


def test_no_oxygen_run_is_longer_than_its_period(tables: TableSet) -> None:
    """Rule X1 on every row: no run before a break over 30 min, none at the end over 35 at the stops."""
    for block in tables.blocks:
        for row in block.rows:
            runs, run_s = [], 0
            legs = planned(TableEntry(row.depth_fsw, row.time_min * 60, Mode.AIR_OXYGEN)).legs
            for leg in legs[:-1]:
                run_s = run_s + leg.end_s - leg.start_s if leg.gas is Gas.OXYGEN else 0
                runs.append((run_s, leg))
            assert max((run for run, _ in runs), default=0) <= 35 * 60
            before_breaks = [
                runs[at - 1][0] for at, (_, leg) in enumerate(runs) if leg.what is What.AIR_BREAK
            ]
            assert all(run <= 30 * 60 for run in before_breaks)


def test_a_period_that_ends_with_the_stop_is_broken_before_travel() -> None:
    """Rule X1: 30 min at 30 and 20 at 20: the break is taken at 30, and nobody breathes past 30 min."""
    due = (
        DueStop(30, 30.0, 30 * 60, Gas.OXYGEN, counts_travel=False),
        DueStop(20, 20.0, 20 * 60, Gas.OXYGEN, counts_travel=True),
    )
    legs = course_legs(Position(0, 30.0), due, None)
    assert [(leg.what, leg.to_fsw, leg.end_s) for leg in legs] == [
        (What.STOP, 30.0, 1800),
        (What.AIR_BREAK, 30.0, 2100),
        (What.TRAVEL, 20.0, 2120),
        (What.STOP, 20.0, 3300),
        (What.TRAVEL, 0.0, 3340),
    ]


@pytest.mark.parametrize(
    ("due_min", "periods_min"), [(35, [35]), (36, [30, 6]), (64, [30, 34]), (95, [30, 30, 35])]
)
def test_oxygen_periods_are_decided_at_their_start(due_min: int, periods_min: list[int]) -> None:
    """Rule X1: 64 minutes are 30, break, 34 (USN Diving Manual Rev 4, p. 14-6)."""
    found, due_s = [], due_min * 60
    while due_s:
        found.append(oxygen_period_s(due_s) // 60)
        due_s -= oxygen_period_s(due_s)
    assert found == periods_min
    assert air_breaks(due_min * 60) == len(periods_min) - 1


def test_the_first_stop_clock_waits_for_planned_travel_and_oxygen() -> None:
    """Rule A2: early arrival waits for the planned time, an oxygen stop for oxygen confirmed."""
    assert first_stop_clock_s(150, 180) == 180
    assert first_stop_clock_s(200, 180) == 200
    assert first_stop_clock_s(150, 180, on_oxygen_s=170) == 180
    assert first_stop_clock_s(200, 180, on_oxygen_s=260) == 260


def test_a_later_stop_clock_starts_on_leaving_unless_travel_was_long() -> None:
    """Rule A2: to 1:00 late from leaving; past it from the end of the delay; between oxygen stops never."""
    assert later_stop_clock_s(1000, 1020, 20) == 1000
    assert later_stop_clock_s(1000, 1080, 20) == 1000
    assert later_stop_clock_s(1000, 1081, 20) == 1061
    assert later_stop_clock_s(1000, 1081, 20, on_oxygen=True) == 1000


def test_travel_is_whole_seconds_up() -> None:
    """30 fsw a minute is 2 s a foot; a fraction of a second counts as one; at or above the stop none."""
    assert travel_s(120, 30) == 180
    assert travel_s(58.2, 20) == 77
    assert planned_travel_s(30, 30) == planned_travel_s(25, 30) == 0


def test_surface_decompression_goes_through_the_interval_to_the_chamber() -> None:
    """200/20: stops to 40 fsw, 1:00 up, 3:30 to undress, 0:30 down: 5:00 to the chamber (rule X4)."""
    plan = planned(TableEntry(200.0, 20 * 60, Mode.CHAMBER))
    kinds = [leg.what for leg in plan.legs]
    assert [(stop.depth_fsw, stop.due_s) for stop in plan.due] == [(60, 120), (50, 240), (40, 360)]
    left_40_s = plan.legs[kinds.index(What.UNDRESSING) - 1].start_s
    reached_50_s = plan.legs[kinds.index(What.COMPRESSION)].end_s
    assert reached_50_s - left_40_s == 300 == planned_interval_s(40)
    in_chamber = plan.legs[kinds.index(What.COMPRESSION) + 1 :]
    assert sum(leg.end_s - leg.start_s for leg in in_chamber) == chamber_s(1.0) == 30 * 60 + 80


def test_a_no_stop_dive_in_chamber_mode_comes_straight_up() -> None:
    """Without a period due there is no chamber: 60 fsw is two minutes of travel."""
    plan = planned(TableEntry(60.0, 60 * 60, Mode.CHAMBER))
    assert [(leg.what, leg.end_s) for leg in plan.legs] == [(What.TRAVEL, 120)]


def test_shallower_than_40_the_interval_starts_on_leaving_bottom() -> None:
    """35/240 in the chamber: up at 40 fsw/min at once, at most 5:00 to the chamber (rule X4)."""
    plan = planned(TableEntry(35.0, 240 * 60, Mode.CHAMBER))
    down = next(leg for leg in plan.legs if leg.what is What.COMPRESSION)
    assert plan.legs[0].end_s == 53
    assert down.end_s == planned_interval_s(35) <= 300


@pytest.mark.parametrize(
    ("periods", "late", "steps"),
    # depth fsw and minutes on oxygen; USN Diving Manual Rev 4, p. 14-7; half periods and late: from memory
    [
        (0.5, False, [(50, 15)]),
        (1.0, False, [(50, 15), (40, 15)]),
        (1.5, False, [(50, 15), (40, 15), (40, 15)]),
        (4.5, False, [(50, 15), (40, 15), (40, 30), (40, 30), (40, 30), (30, 15)]),
        (6.0, False, [(50, 15), (40, 15), (40, 30), (40, 30), (40, 30), (30, 30), (30, 30)]),
        (0.5, True, [(50, 30)]),
        (1.0, True, [(50, 30), (40, 15)]),
        (4.0, True, [(50, 30), (40, 30), (40, 30), (40, 30), (30, 15)]),
        (0.0, False, []),
    ],
)
def test_chamber_periods_by_depth(periods: float, late: bool, steps: list[tuple[int, int]]) -> None:
    """Rule X5: the first at 50 and 40, the next at 40, after the fourth at 30; a late one all at 50."""
    found = chamber_steps(periods, late=late)
    on_oxygen = [(step.depth_fsw, step.duration_s // 60) for step in found if step.gas is Gas.OXYGEN]
    assert on_oxygen == steps
    total = sum(minutes for _, minutes in steps)
    assert total == (periods + (0.5 if late else 0)) * 30
    breaks = [step for step in found if step.gas is Gas.AIR]
    assert all(step.duration_s == 300 for step in breaks)
    assert len(breaks) == max(0, -(-total // 30) - 1)


@pytest.mark.parametrize(
    ("left_min", "depth_fsw", "stops"),
    # USN Diving Manual Rev 4, p. 9-25: three times, 10/20/70 %, or 30/70 % from 30 fsw
    [
        (10, 50, ((40, 3), (30, 6), (20, 21))),
        (15, 30, ((30, 14), (20, 32))),
        (1, 40, ((40, 1), (30, 1), (20, 3))),
    ],
)
def test_chamber_oxygen_lost(left_min: int, depth_fsw: int, stops: tuple[tuple[int, int], ...]) -> None:
    """Rule X6: air in shares, each up, never deeper than 40 fsw again."""
    assert chamber_air_stops(left_min, depth_fsw) == stops


def test_air_for_oxygen_and_back_in_the_proportion_of_the_row(tables: TableSet) -> None:
    """Rules X2 and X3 on 120/60: 30 fsw 27 on air, 14 on oxygen (Table 9-9)."""
    row = schedule_row(tables, 120, 60)
    assert row is not None
    assert air_left_min(row, 30, 14) == 27
    assert air_left_min(row, 30, 7) == 14
    assert oxygen_left_min(row, 30, 27) == 14
    with pytest.raises(ValueError, match="no oxygen stop at 40"):
        air_left_min(row, 40, 1)
    with pytest.raises(ValueError, match="no air stop at 40"):
        oxygen_left_min(row, 40, 1)


def test_stops_at_altitude_scale_and_chamber_stops_do_not() -> None:
    """Rule N4: at 0.743 of sea-level pressure 40 is taken at 30; the chamber stays at 50 and 40."""
    plan = planned(TableEntry(120.0, 70 * 60, Mode.CHAMBER), 84.0, 0.743)
    assert [(stop.depth_fsw, stop.level_fsw) for stop in plan.due] == [(40, 30.0)]
    depths = {leg.to_fsw for leg in plan.legs if leg.what is What.CHAMBER}
    assert depths == {50.0, 40.0}


def test_a_plan_past_the_table_is_not_covered(tables: TableSet) -> None:
    """Where there is no schedule there is no ascent."""
    entry = TableEntry(320.0, 600)
    assert ascent_plan(tables, entry, 320.0) == enter(tables, entry)
    assert not isinstance(ascent_plan(tables, entry, 320.0), Schedule)
