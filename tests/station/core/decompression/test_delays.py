"""Being late: a minute is ignored, a second more counts where the rule says, and nothing is ever credited."""

import pytest

from station.core.decompression.answers import Gas, Mode, NotCovered
from station.core.decompression.ascent import AscentPlan, ascent_plan
from station.core.decompression.change import PlanChange
from station.core.decompression.delays import (
    deep_delay_s,
    late_at_first_stop,
    late_between_stops,
    late_leaving_stop,
    oxygen_overstay,
)
from station.core.decompression.legs import What, legs_join
from station.core.decompression.oxygen import oxygen_min
from station.core.decompression.oxygen_lost import oxygen_lost, reached_chamber, served_s, to_chamber
from station.core.decompression.progress import left_stop, reached_stop
from station.core.decompression.schedule import TableEntry
from station.table_files import load_tables

TABLES = load_tables()
ROWS = tuple(row for block in TABLES.blocks for row in block.rows)


def planned(depth_fsw: float, bottom_min: int, mode: Mode = Mode.AIR) -> AscentPlan:
    """The ascent of a dive from its own depth."""
    plan = ascent_plan(TABLES, TableEntry(depth_fsw, bottom_min * 60, mode), depth_fsw)
    assert isinstance(plan, AscentPlan)
    return plan


def new(change: PlanChange) -> AscentPlan:
    """The plan after a change, which has one."""
    assert isinstance(change.new, AscentPlan)
    assert legs_join(change.new.legs)
    return change.new


def minutes(plan: AscentPlan) -> list[tuple[int, float]]:
    """Stops due as depth and minutes."""
    return [(stop.depth_fsw, stop.due_s / 60) for stop in plan.due]


def arrived(plan: AscentPlan, late_s: int = 0, deep_s: int = 0) -> AscentPlan:
    """The diver at his first stop, so many seconds late."""
    return new(late_at_first_stop(TABLES, plan, plan.first_stop_travel_s + late_s, deep_s=deep_s))


def through(plan: AscentPlan, depth_fsw: int) -> AscentPlan:
    """The diver arrived in time at the stop of this depth, every stop before served to the second."""
    plan = arrived(plan)
    while plan.due[0].depth_fsw != depth_fsw:
        plan = new(left_stop(TABLES, plan, plan.served().at_s))
        plan = new(reached_stop(TABLES, plan, plan.start.at_s + 20))
    return plan


def test_an_ascent_dived_as_planned_changes_nothing() -> None:
    """Every mark in time: the legs as dived end where the plan ended, on air and on oxygen."""
    for mode in (Mode.AIR, Mode.AIR_OXYGEN):
        whole_periods = (row for row in ROWS if oxygen_min(row) in {30, 35, 36, 65})
        for row in (*ROWS[::7], *whole_periods):
            plan = planned(row.depth_fsw, row.time_min, mode)
            ends_s = plan.ends_s
            step = new(reached_stop(TABLES, plan, plan.first_stop_travel_s))
            while step.due:
                change = left_stop(TABLES, step, step.served().at_s)
                assert not change.changed
                step = new(change)
                if step.due:
                    change = reached_stop(TABLES, step, step.start.at_s + 20)
                    assert not change.changed
                    step = new(change)
                assert step.ends_s == ends_s


@pytest.mark.parametrize("mode", Mode)
def test_a_minute_late_at_the_first_stop_is_ignored(mode: Mode) -> None:
    """Rule A4: 1:00 changes nothing, 1:01 does, whether it was deep or not."""
    plan = planned(120, 70, mode)
    for deep_s in (0, 60):
        in_time = late_at_first_stop(TABLES, plan, plan.first_stop_travel_s + 60, deep_s=deep_s)
        assert (in_time.changed, in_time.delay_min) == (False, 0)
        assert minutes(new(in_time)) == minutes(plan)
        late = late_at_first_stop(TABLES, plan, plan.first_stop_travel_s + 61, deep_s=deep_s)
        assert (late.changed, late.delay_min) == (True, 2)


def test_a_shallow_delay_goes_to_the_first_stop() -> None:
    """Rule A4: 3:25 lost at 50 fsw or shallower is four minutes more at the first stop only."""
    late = arrived(planned(120, 60), 205)
    assert minutes(late) == [(30, 31), (20, 142)]
    assert late.entry.added_min == 0


def test_a_deep_delay_goes_to_bottom_time() -> None:
    """Rule A4: 3:25 lost deeper than 50 is four minutes of bottom time: 120/58 becomes 120/70."""
    plan = planned(120, 58)
    assert plan.schedule.time_min == 60
    late = arrived(plan, 205, deep_s=205)
    assert (late.entry.added_min, late.schedule.time_min) == (4, 70)
    assert minutes(late) == [(40, 13), (30, 28), (20, 190)]
    assert late.due[0].level_fsw == 30  # taken at his present depth, never by going down


def test_a_delay_in_two_parts_counts_its_total_once() -> None:
    """Rule A4: of 3:25 the 1:10 lost deeper than 50 is two minutes to bottom time, two to the first stop."""
    late = arrived(planned(120, 50), 205, deep_s=70)
    assert late.entry.added_min == 2
    assert minutes(late)[0] == (30, minutes(planned(120, 52))[0][1] + 2)


def test_on_a_no_stop_dive_all_of_a_delay_is_bottom_time() -> None:
    """Rule A4: 60/62 late by 1:01 at 20 fsw is 64 minutes: two minutes at 20, taken where he is."""
    plan = planned(60, 62)
    late = new(late_at_first_stop(TABLES, plan, 80 + 61, present_fsw=20.0))
    assert late.schedule.time_min == 65
    assert minutes(late) == [(20, 2)]
    assert late.ends_s == 141 + 120 + 40


def test_up_already_when_stops_become_due_is_omitted_decompression() -> None:
    """Rule A4: late on the whole way of a no-stop dive, at the surface: no plan but rule O1."""
    change = late_at_first_stop(TABLES, planned(60, 63), 120 + 61)
    assert isinstance(change.new, NotCovered)
    assert change.new.rule.id == "O1"
    assert "medical officer" in change.new.consult


def test_surface_decompression_without_a_water_stop_takes_all_to_bottom_time() -> None:
    """Rule A4: 80/60 in the chamber has no stop in the water: 2:30 late at 40 fsw is 63 minutes."""
    plan = planned(80, 60, Mode.CHAMBER)
    assert not plan.due
    late = new(late_at_first_stop(TABLES, plan, 80 + 150))
    assert late.entry.added_min == 3
    assert late.schedule.time_min == 70


def test_a_delay_past_the_table_has_no_plan() -> None:
    """Rule A4: when the delay goes past the last row the answer is a sentence."""
    change = late_at_first_stop(TABLES, planned(300, 25), 400 + 600, deep_s=600)
    assert change.changed
    assert isinstance(change.new, NotCovered)
    leaving = arrived(planned(300, 25))
    assert isinstance(late_leaving_stop(TABLES, leaving, leaving.served().at_s + 90).new, NotCovered)


def test_early_at_the_first_stop_waits_for_the_clock() -> None:
    """Rule A2: thirty seconds early are waited out before the stop time runs."""
    plan = planned(120, 60)
    early = arrived(plan, -30)
    assert [leg.what for leg in early.legs[:3]] == [What.TRAVEL, What.WAIT, What.STOP]
    assert early.ends_s == plan.ends_s


def test_deep_delay_is_counted_to_50_fsw() -> None:
    """From 120 fsw 50 is due after 2:20; passed at 3:00 the delay lost deeper is 40 s."""
    assert deep_delay_s(120, 180) == 40
    assert deep_delay_s(120, 120) == 0
    assert deep_delay_s(45, 0) == 0


def test_late_leaving_a_deep_stop_is_bottom_time() -> None:
    """Rule A5: 1:01 late at 60 fsw of 200/20 is two minutes; 1:00 is not; the next stop holds."""
    at_60 = through(planned(200, 20), 60)
    leaves_s = at_60.served().at_s
    assert not late_leaving_stop(TABLES, at_60, leaves_s + 60).changed
    change = late_leaving_stop(TABLES, at_60, leaves_s + 61)
    assert (change.changed, change.delay_min, change.rule.id) == (True, 2, "A5")
    late = new(change)
    assert late.schedule.time_min == 25
    assert minutes(late) == [(50, 6), (40, 6), (30, 7), (20, 85)]


def test_still_at_a_deep_stop_the_minutes_served_count_and_the_delay_does_not() -> None:
    """Rule A5: 200/20 has 2 min at 60, 200/25 five: three more are due there after the delay."""
    at_60 = through(planned(200, 20), 60)
    now_s = at_60.served().at_s + 61
    late = new(late_leaving_stop(TABLES, at_60, now_s, still_there=True))
    assert minutes(late) == [(60, 3), (50, 6), (40, 6), (30, 7), (20, 85)]
    assert late.served().at_s == now_s + 180
    in_time = new(late_leaving_stop(TABLES, at_60, now_s - 1, still_there=True))
    assert minutes(in_time)[:2] == [(60, 0), (50, 4)]


def test_at_exactly_50_fsw_a_delay_counts_as_deep() -> None:
    """Rule A5: the manual is silent at 50; it goes to bottom time [own]. At 40 it does not."""
    at_50 = through(planned(200, 20), 50)
    assert late_leaving_stop(TABLES, at_50, at_50.served().at_s + 90).changed
    at_40 = through(planned(200, 20), 40)
    assert not late_leaving_stop(TABLES, at_40, at_40.served().at_s + 90).changed


def test_overstay_on_air_is_never_credited() -> None:
    """Rule A5: ten minutes over at 30 leave the 20-fsw stop as it is, from leaving on."""
    at_30 = through(planned(120, 60), 30)
    left_s = at_30.served().at_s + 600
    late = new(left_stop(TABLES, at_30, left_s))
    assert minutes(late) == [(20, 142)]
    assert late.ends_s == left_s + 142 * 60 + 40
    assert late.done[-1].what is What.DELAY


def test_a_long_way_between_stops_starts_the_clock_at_its_end() -> None:
    """Rules A5 and A2: 1:01 late from 30 to 20 on air changes no stop, but the clock starts 1:01 later."""
    on_way = new(left_stop(TABLES, at := through(planned(120, 60), 30), at.served().at_s))
    in_time = new(late_between_stops(TABLES, on_way, on_way.start.at_s + 20 + 60))
    assert in_time.ends_s == on_way.ends_s
    late = late_between_stops(TABLES, on_way, on_way.start.at_s + 20 + 61)
    assert not late.changed
    assert new(late).ends_s == on_way.ends_s + 61


def test_a_long_way_between_deep_stops_is_bottom_time() -> None:
    """Rule A5: two minutes lost between 60 and 50 put 200/20 on 200/25 and its minutes at 50."""
    on_way = new(left_stop(TABLES, at := through(planned(200, 20), 60), at.served().at_s))
    change = late_between_stops(TABLES, on_way, on_way.start.at_s + 20 + 120)
    assert change.delay_min == 2
    assert minutes(new(change)) == [(50, 6), (40, 6), (30, 7), (20, 85)]
    for delay_fsw, counts in ((50.0, True), (49.9, False)):
        change = late_between_stops(TABLES, on_way, on_way.start.at_s + 20 + 120, delay_fsw=delay_fsw)
        assert change.changed is counts


def test_the_first_oxygen_stop_waits_for_oxygen() -> None:
    """Rule A2: 40 s until oxygen is confirmed at 30 fsw are added, and the way to it is outside the stop."""
    at_40 = through(planned(120, 70, Mode.AIR_OXYGEN), 40)
    on_way = new(left_stop(TABLES, at_40, at_40.served().at_s))
    arrived_s = on_way.start.at_s + 20
    change = reached_stop(TABLES, on_way, arrived_s, on_oxygen_s=arrived_s + 40)
    assert new(change).ends_s == on_way.ends_s + 40
    early = reached_stop(TABLES, on_way, arrived_s - 10, on_oxygen_s=arrived_s - 5)
    assert new(early).ends_s == on_way.ends_s


def test_oxygen_overstayed_at_30_comes_off_20_in_whole_minutes() -> None:
    """Rule A6: 14 min due at 30; 3:25 over takes three minutes off the 51 at 20, 1:00 nothing."""
    at_30 = through(planned(120, 70, Mode.AIR_OXYGEN), 30)
    leaves_s = at_30.served().at_s
    assert not oxygen_overstay(at_30, leaves_s + 60).changed
    change = oxygen_overstay(at_30, leaves_s + 205)
    assert (change.changed, change.delay_min, change.rule.id) == (True, 3, "A6")
    assert minutes(new(change)) == [(20, 48)]


def test_oxygen_overstay_stops_counting_at_30_minutes_unbroken() -> None:
    """Rule A6: after 14 min at 30 at most 16 more are oxygen; then air, which counts for nothing."""
    at_30 = through(planned(120, 70, Mode.AIR_OXYGEN), 30)
    late = new(oxygen_overstay(at_30, at_30.served().at_s + 40 * 60))
    assert minutes(late) == [(20, 35)]
    assert [leg.gas for leg in late.done[-2:]] == [Gas.OXYGEN, Gas.AIR]
    assert late.start.gas is Gas.AIR
    assert not late.due[0].counts_travel


@pytest.mark.parametrize(("air_s", "break_s"), [(120, 300), (300, 0)])
def test_a_way_too_long_on_oxygen_is_shifted_to_air(air_s: int, break_s: int) -> None:
    """Rule A6: 14 min at 30, then 16 on the way: the rest of it is air, and no break unless it was short."""
    at_30 = through(planned(120, 70, Mode.AIR_OXYGEN), 30)
    on_way = new(left_stop(TABLES, at_30, at_30.served().at_s))
    arrived_s = on_way.start.at_s + 16 * 60 + air_s
    late = new(late_between_stops(TABLES, on_way, arrived_s))
    assert minutes(late) == [(20, 35)]
    assert [leg.gas for leg in late.done[-2:]] == [Gas.OXYGEN, Gas.AIR]
    assert late.ends_s == arrived_s + break_s + 35 * 60 + 40


def test_an_overstay_on_air_at_the_oxygen_stop_counts_for_nothing() -> None:
    """Rule A6: shifted to air at once, no minute comes off the 20-fsw stop."""
    at_30 = through(planned(120, 70, Mode.AIR_OXYGEN), 30)
    change = oxygen_overstay(at_30, at_30.served().at_s + 300, oxygen_s=0)
    assert not change.changed
    assert minutes(new(change)) == [(20, 51)]


def test_late_leaving_20_on_oxygen_changes_nothing() -> None:
    """Rule A6: overstay at the last stop has nothing to come off."""
    at_20 = through(planned(120, 70, Mode.AIR_OXYGEN), 20)
    change = left_stop(TABLES, at_20, at_20.served().at_s + 300)
    assert not change.changed
    assert new(change).ends_s == at_20.served().at_s + 300 + 40


def test_oxygen_lost_scales_the_stop_and_takes_the_air_row_after() -> None:
    """Rule X2 on 120/60: half of 14 min at 30 done, 14 min of air there, then 142 at 20 (Table 9-9)."""
    at_30 = through(planned(120, 60, Mode.AIR_OXYGEN), 30)
    lost_s = at_30.start.at_s + 7 * 60
    assert served_s(at_30, lost_s) == 420
    late = new(oxygen_lost(at_30, lost_s, lost_s + 180))
    assert minutes(late) == [(30, 14), (20, 142)]
    assert late.ends_s == lost_s + 180 + 14 * 60 + 142 * 60 + 40
    assert {leg.gas for leg in late.legs if leg.start_s >= lost_s} == {Gas.AIR}


def test_oxygen_lost_on_the_way_down_the_list_counts_travel_once() -> None:
    """Rule X2 at 20 fsw: the 0:20 from 30 on oxygen counts; what is left of 39 in proportion of 142."""
    at_20 = through(planned(120, 60, Mode.AIR_OXYGEN), 20)
    left_30_s = at_20.start.at_s - 20
    assert served_s(at_20, left_30_s + 16 * 60) == 16 * 60
    # 14 min at 30 and 16 here are a period; then five minutes of air, which is no stop time.
    lost_s = left_30_s + 24 * 60
    assert served_s(at_20, lost_s) == 19 * 60
    late = new(oxygen_lost(at_20, lost_s, lost_s))
    assert minutes(late) == [(20, -(-20 * 142 // 39))]


def test_oxygen_that_never_came_is_the_air_row() -> None:
    """Rule X2 before the first oxygen stop: the whole air row is due."""
    plan = planned(120, 60, Mode.AIR_OXYGEN)
    late = new(oxygen_lost(plan, 60, 60))
    assert minutes(late) == minutes(planned(120, 60))
    assert late.ends_s == planned(120, 60).ends_s


def test_from_oxygen_in_the_water_to_the_chamber() -> None:
    """Rule X3: 7 min of 14 left at 30 and 39 at 20 are 46 x 1.1 / 30, two periods."""
    at_30 = through(planned(120, 60, Mode.AIR_OXYGEN), 30)
    left_s = at_30.start.at_s + 7 * 60
    late = new(to_chamber(at_30, left_s))
    assert late.chamber is not None
    assert late.chamber.periods == 2.0
    assert not late.due
    assert late.legs[-1].what is What.CHAMBER_TRAVEL


def test_from_air_in_the_water_to_the_chamber() -> None:
    """Rule X3: air minutes count as the oxygen of their stop: nearly done still asks for half a period."""
    at_20 = through(planned(120, 60), 20)
    late = new(to_chamber(at_20, at_20.served().at_s - 60))
    assert late.chamber is not None
    assert late.chamber.periods == 0.5


def test_between_two_stops_the_way_to_the_chamber_starts_where_he_is() -> None:
    """Rule X3: called up at 25 fsw on the way from 30 to 20 on air, 142 min at 20 still due: 39 of oxygen."""
    at_30 = through(planned(120, 60), 30)
    on_way = new(left_stop(TABLES, at_30, at_30.served().at_s))
    late = new(to_chamber(on_way, on_way.start.at_s + 10, 25.0))
    assert late.start.depth_fsw == 25.0
    assert late.chamber is not None
    assert late.chamber.periods == 1.5
    assert new(to_chamber(on_way, on_way.start.at_s)).start.depth_fsw == 30.0


def test_early_and_late_are_told_in_words() -> None:
    """A stop left early is told as early, one within a minute as ignored."""
    at_30 = through(planned(120, 60), 30)
    leaves_s = at_30.served().at_s
    assert left_stop(TABLES, at_30, leaves_s - 90).sentence == "1:30 early"
    assert left_stop(TABLES, at_30, leaves_s).sentence == "in time"
    assert left_stop(TABLES, at_30, leaves_s + 30).sentence == "0:30 late: ignored"


def test_deep_stops_come_before_the_chamber_and_the_printed_periods_hold() -> None:
    """Rule X3: with the 40-fsw stop of 120/70 still due it is done first; 2.5 periods as printed."""
    late = new(to_chamber(planned(120, 70), 0))
    assert minutes(late) == [(40, 13)]
    assert late.chamber is not None
    assert late.chamber.periods == 2.5


def test_the_surface_interval_decides_the_chamber() -> None:
    """Rule X4: 5:00 as planned, 5:01 half a period more, 7:01 the medical officer and no figure."""
    plan = planned(120, 70, Mode.CHAMBER)
    assert not reached_chamber(plan, 300).changed
    late = new(reached_chamber(plan, 301))
    assert late.ends_s == plan.ends_s + 15 * 60
    beyond = reached_chamber(plan, 421)
    assert isinstance(beyond.new, NotCovered)
    assert "Treatment Table 6" in beyond.new.sentence
    assert "Treatment Table 5" in str(reached_chamber(planned(80, 60, Mode.CHAMBER), 421).new)


def test_rules_asked_where_they_cannot_hold_are_mistakes() -> None:
    """No oxygen due, nothing due, no chamber planned: the caller is told."""
    air, free = planned(120, 60), planned(60, 60)
    with pytest.raises(ValueError, match="none is due"):
        oxygen_lost(air, 0, 0)
    with pytest.raises(ValueError, match="nothing to do"):
        to_chamber(free, 0)
    with pytest.raises(ValueError, match="no chamber"):
        reached_chamber(air, 0)
    with pytest.raises(ValueError, match="no stop is due"):
        free.served()
