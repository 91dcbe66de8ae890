"""Every published or computed worked example: the rule gives the printed answer.

Source of each vector: its own `source` in tests/data/worked_examples, USN Diving Manual Rev 4 or Rev 7.
"""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from station.core.decompression.altitude import (
    altitude_step_ft,
    equivalent_depth_fsw,
    group_on_arrival,
    pressure_ratio,
    stop_depth_at_altitude_fsw,
    unzeroed_gauge_fsw,
    wait_before_flying,
    whole_stop_fsw,
)
from station.core.decompression.answers import Gas, Mode
from station.core.decompression.ascent import AscentPlan, ascent_plan
from station.core.decompression.chamber import chamber_air_stops
from station.core.decompression.correction import depth_correction_fsw, maximum_depth_fsw
from station.core.decompression.course import course_legs
from station.core.decompression.delays import late_at_first_stop
from station.core.decompression.durations import clock_words, minutes_up
from station.core.decompression.legs import DueStop, Position, What
from station.core.decompression.oxygen import air_breaks, oxygen_period_s
from station.core.decompression.parameters import (
    AIR_BREAK_S,
    ASCENT_RATE_FSW_MIN,
    DESCENT_RATE_FSW_MIN,
    FASTEST_ASCENT_FSW_MIN,
    SLOWEST_ASCENT_FSW_MIN,
)
from station.core.decompression.repetitive import Standing, after_interval
from station.core.decompression.schedule import Schedule, TableEntry, enter
from station.core.decompression.surface import chamber_periods
from station.core.decompression.table_relations import relations
from station.core.decompression.travel import travel_s
from station.core.tables.lookup import table_depth_fsw
from station.core.tables.table_set import TableSet

DATA = Path(__file__).parents[3] / "data" / "worked_examples"
Vector = dict[str, Any]
VECTORS = [
    vector for name in ("published", "computed") for vector in json.loads((DATA / f"{name}.json").read_text())
]


def seconds(words: str) -> int:
    """Seconds of `m:ss` or `h:mm:ss`."""
    total = 0
    for part in words.split(":"):
        total = total * 60 + int(part)
    return total


def planned(tables: TableSet, depth_fsw: float, bottom_min: int, mode: Mode = Mode.AIR) -> AscentPlan:
    """The ascent of a dive to a table depth."""
    plan = ascent_plan(tables, TableEntry(depth_fsw, bottom_min * 60, mode), depth_fsw)
    assert isinstance(plan, AscentPlan)
    return plan


def correction(_: TableSet, asked: Vector, answer: Vector) -> None:
    assert depth_correction_fsw(asked["gauge_fsw"]) == answer["correction_fsw"]
    assert maximum_depth_fsw(asked["gauge_fsw"]) == answer["depth_fsw"]


def next_deeper_row(tables: TableSet, asked: Vector, answer: Vector) -> None:
    """The Rev 4 limit and group of this example are of older tables and are not tested."""
    assert maximum_depth_fsw(asked["gauge_fsw"]) == answer["depth_fsw"]
    assert table_depth_fsw(answer["depth_fsw"], tables.depths) == answer["table_depth_fsw"]


def no_stop_row(tables: TableSet, asked: Vector, answer: Vector) -> None:
    found = enter(tables, TableEntry(maximum_depth_fsw(asked["gauge_fsw"]), asked["bottom_time_min"] * 60))
    assert isinstance(found, Schedule)
    assert found.depth_fsw == answer["table_depth_fsw"]
    assert found.time_min == answer["no_stop_limit_min"]
    assert found.group == answer["repetitive_group"]
    assert found.no_stop


def travel_time(_: TableSet, asked: Vector, answer: Vector) -> None:
    found_s = travel_s(asked["from_fsw"], asked["to_fsw"], asked["rate"])
    assert clock_words(found_s) == answer["exact"]
    assert minutes_up(found_s) == answer["planning_min"]


def delay_rounding(tables: TableSet, asked: Vector, answer: Vector) -> None:
    plan = planned(tables, 120, 60)
    late_s = seconds(asked["delay"])
    change = late_at_first_stop(tables, plan, plan.first_stop_travel_s + late_s, deep_s=late_s)
    assert isinstance(change.new, AscentPlan)
    assert change.new.entry.added_min == answer["added_to_bottom_time_min"]


def shallow_delay(tables: TableSet, asked: Vector, answer: Vector) -> None:
    plan = planned(tables, 70, 70)
    assert [(stop.depth_fsw, stop.due_s) for stop in plan.due] == [
        (asked["first_stop_fsw"], asked["first_stop_min"] * 60)
    ]
    change = late_at_first_stop(tables, plan, plan.first_stop_travel_s + seconds(asked["delay"]))
    assert change.delay_min == answer["delay_rounded_min"]
    assert isinstance(change.new, AscentPlan)
    assert change.new.due[0].due_s == answer["first_stop_min"] * 60
    assert change.new.schedule == plan.schedule


def ignored_delay(tables: TableSet, asked: Vector, answer: Vector) -> None:
    plan = planned(tables, 70, 70)
    change = late_at_first_stop(tables, plan, plan.first_stop_travel_s + seconds(asked["delay"]))
    assert answer["action"] == "ignore"
    assert not change.changed
    assert isinstance(change.new, AscentPlan)
    assert change.new.due == plan.due


def stop_sequence(tables: TableSet, asked: Vector, answer: Vector) -> None:
    plan = planned(tables, 120, 60)
    assert {str(stop.depth_fsw): stop.due_s // 60 for stop in plan.due} == asked["stops"]
    left_s = seconds(asked["left_bottom"])
    ends = {(leg.what, leg.to_fsw): left_s + leg.end_s for leg in plan.legs}
    assert ends[What.TRAVEL, 30] == seconds(answer["arrive_30"])
    assert ends[What.STOP, 30] == seconds(answer["leave_30"])
    assert ends[What.TRAVEL, 20] == seconds(answer["arrive_20"])
    assert ends[What.STOP, 20] == seconds(answer["leave_20"])
    assert ends[What.TRAVEL, 0] == seconds(answer["surface"])
    assert clock_words(plan.ends_s) == answer["total_ascent"]


def bottom_time(_: TableSet, asked: Vector, answer: Vector) -> None:
    assert (
        minutes_up(seconds(asked["left_bottom"]) - seconds(asked["left_surface"]))
        == answer["bottom_time_min"]
    )


def ascent_rates(_: TableSet, asked: Vector, answer: Vector) -> None:
    way = asked["from_fsw"], asked["to_fsw"]
    assert travel_s(*way, ASCENT_RATE_FSW_MIN) == seconds(answer["nominal"])
    assert travel_s(*way, FASTEST_ASCENT_FSW_MIN) == seconds(answer["fastest_ok"])
    assert travel_s(*way, SLOWEST_ASCENT_FSW_MIN) == seconds(answer["slowest_ok"])


def descent_limit(_: TableSet, asked: Vector, answer: Vector) -> None:
    assert travel_s(0, asked["depth_fsw"], DESCENT_RATE_FSW_MIN) == seconds(answer["fastest_descent"])


def break_in_legs(_: TableSet, asked: Vector, answer: Vector) -> None:
    minutes = {int(depth): due for depth, due in asked["o2_stop_min"].items()}
    due = tuple(
        DueStop(depth, float(depth), due * 60, Gas.OXYGEN, depth == 20) for depth, due in minutes.items()
    )
    legs = course_legs(Position(0, 30.0), due, None)
    first_break = next(leg for leg in legs if leg.what is What.AIR_BREAK)
    assert first_break.start_s - minutes[30] * 60 == 7 * 60
    assert answer["first_break_after"].startswith("7 min into the 20 stop")
    assert first_break.end_s - first_break.start_s == answer["break_min"] * 60 == AIR_BREAK_S
    oxygen_s = sum(leg.end_s - leg.start_s for leg in legs[:-1] if leg.gas is Gas.OXYGEN)
    assert oxygen_s == sum(minutes.values()) * 60
    last_s = sum(leg.end_s - leg.start_s for leg in legs[:-1] if leg.start_s >= first_break.end_s)
    assert last_s == answer["final_o2_min"] * 60
    assert air_breaks(oxygen_s) == answer["breaks"]


def breaks(_: TableSet, asked: Vector, answer: Vector) -> None:
    due_s = asked["total_o2_stop_min"] * 60
    assert air_breaks(due_s) == answer["air_breaks"]
    assert air_breaks(due_s) * AIR_BREAK_S == answer["added_min"] * 60
    while oxygen_period_s(due_s) < due_s:
        due_s -= oxygen_period_s(due_s)
    assert due_s == answer["last_period_min"] * 60


def chamber_air(_: TableSet, asked: Vector, answer: Vector) -> None:
    stops = chamber_air_stops(answer["remaining_o2_min"], 40)
    assert answer["remaining_o2_min"] == asked["o2_stop_required_min"] - asked["o2_done_min"]
    assert {str(depth): minutes for depth, minutes in stops} == answer["stops"]


def chamber_air_at_30(_: TableSet, asked: Vector, answer: Vector) -> None:
    stops = chamber_air_stops(asked["remaining_o2_min"], 30)
    assert {str(depth): minutes for depth, minutes in stops} == answer["stops"]


def water_to_chamber(_: TableSet, asked: Vector, answer: Vector) -> None:
    assert chamber_periods(asked["remaining_in_water_o2_min"]) == answer["chamber_periods"]


def old_repetitive(tables: TableSet, asked: Vector, answer: Vector) -> None:
    """Groups and residual times are of older tables; depth, row step and sum are the procedure."""
    first = maximum_depth_fsw(asked["dive1"]["gauge_fsw"])
    depth, time = answer["dive1_schedule"].split("/")
    assert table_depth_fsw(first, tables.depths) == int(depth)
    row = enter(tables, TableEntry(first, asked["dive1"]["bottom_min"] * 60))
    assert isinstance(row, Schedule)
    assert row.time_min == int(time)
    assert asked["dive2"]["bottom_min"] + answer["rnt_min"] == answer["esdt_min"]


def cleared(tables: TableSet, asked: Vector, answer: Vector) -> None:
    after = after_interval(tables, asked["group"], seconds(asked["surface_interval"] + ":00"))
    assert getattr(after, "standing", None) is Standing.NOT_REPETITIVE
    assert answer["repetitive"] is False


def equivalent_depth(tables: TableSet, asked: Vector, answer: Vector) -> None:
    printed = asked["pressure_mb"] / asked["sea_level_mb"]
    assert equivalent_depth_fsw(asked["depth_fsw"], printed) == pytest.approx(
        answer["equivalent_fsw"], abs=0.05
    )
    computed = pressure_ratio(asked["altitude_ft"])
    assert computed == pytest.approx(printed, abs=0.001)
    assert table_depth_fsw(answer["equivalent_fsw"], tables.depths) == 80


def altitude_stop(_: TableSet, asked: Vector, answer: Vector) -> None:
    ratio = asked["pressure_mb"] / asked["sea_level_mb"]
    found = stop_depth_at_altitude_fsw(asked["sea_level_stop_fsw"], ratio)
    assert found == pytest.approx(answer["stop_fsw"], abs=0.05)


def altitude_change(tables: TableSet, asked: Vector, answer: Vector) -> None:
    difference_ft = asked["dive_site_ft"] - asked["base_ft"]
    assert difference_ft == answer["difference_ft"]
    assert group_on_arrival(tables, difference_ft) == answer["arrival_group"]


def altitude_dive(tables: TableSet, asked: Vector, answer: Vector) -> None:
    """Groups and minutes are of older tables; altitude, depths and stop depth are the procedure."""
    altitude_ft = asked["altitude_ft"]
    assert altitude_step_ft(altitude_ft) == answer["altitude_used_ft"]
    depth = maximum_depth_fsw(unzeroed_gauge_fsw(asked["gauge_fsw"], altitude_ft))
    assert depth == answer["actual_depth_fsw"]
    ratio = pressure_ratio(altitude_ft)
    assert isinstance(ratio, float)
    assert table_depth_fsw(equivalent_depth_fsw(depth, ratio), tables.depths) == answer["sled_fsw"]
    assert whole_stop_fsw(answer["water_stop_fsw_sea_level"], ratio) == answer["water_stop_fsw_at_altitude"]


def highest_group(tables: TableSet, asked: Vector, answer: Vector) -> None:
    groups = asked["dive1"]["group"], asked["dive2"]["group"]
    assert getattr(wait_before_flying(tables, groups), "group", None) == answer["group_used"]


def relation(*checked: str) -> Callable[[TableSet, Vector, Vector], None]:
    """A relation over the whole table, and the rows that the vector says break it."""

    def holds(tables: TableSet, _: Vector, answer: Vector) -> None:
        found = [one for done in relations(tables) if done.id in checked for one in done.differences]
        rows = [row.split(" ")[0] for row in answer.get("fail_rows", [])]
        assert [one.row for one in found] == rows

    return holds


def realigned(tables: TableSet, asked: Vector, answer: Vector) -> None:
    for key, mode in (("air", Mode.AIR), ("air_o2", Mode.AIR_OXYGEN)):
        found = enter(tables, TableEntry(asked["depth"], asked["bottom"] * 60, mode))
        assert isinstance(found, Schedule)
        assert f"{found.depth_fsw}/{found.time_min}" == answer[key]["schedule"]
        assert {str(stop.depth_fsw): stop.minutes for stop in found.stops} == answer[key]["stops_min_by_fsw"]
        assert clock_words(found.total_ascent_s) == answer[key]["total_ascent"]
        assert found.group == answer[key]["repetitive_group"]
        assert found.chamber_periods == answer[key]["chamber_o2_periods"]


CHECKS: dict[str, Callable[[TableSet, Vector, Vector], None]] = {
    "PN-01": correction,
    "PN-02": next_deeper_row,
    "PN-02b": no_stop_row,
    "TIME-01": travel_time,
    "TIME-02": delay_rounding,
    "TIME-04": shallow_delay,
    "TIME-05": ignored_delay,
    "TIME-07": stop_sequence,
    "TIME-08": bottom_time,
    "TIME-09": ascent_rates,
    "TIME-10": descent_limit,
    "O2-01": break_in_legs,
    "O2-02": breaks,
    "O2-03": breaks,
    "O2-04": breaks,
    "O2-06": breaks,
    "O2-07": breaks,
    "O2-09": chamber_air,
    "O2-10": chamber_air_at_30,
    "O2-12": water_to_chamber,
    "REP-01": old_repetitive,
    "REP-07": cleared,
    "ALT-01": equivalent_depth,
    "ALT-02": altitude_stop,
    "ALT-04": altitude_change,
    "ALT-05": altitude_dive,
    "ALT-07": highest_group,
    "INV-01": relation("first-stop"),
    "INV-02": relation("total-air"),
    "INV-03": relation("total-oxygen"),
    "INV-04": relation("deep-stops"),
    "INV-05": relation("chamber-periods"),
    "INV-120-60": realigned,
    "INV-120-70": realigned,
}


@pytest.mark.parametrize("vector", VECTORS, ids=[vector["id"] for vector in VECTORS])
def test_worked_example_comes_out_as_printed(tables: TableSet, vector: Vector) -> None:
    """The rule gives the answer of the example; an example without a check fails."""
    CHECKS[vector["id"]](tables, vector["inputs"], vector["expected"])


def test_every_check_has_its_example() -> None:
    """No check is left without a vector, and every vector is published or computed."""
    assert set(CHECKS) == {vector["id"] for vector in VECTORS}
    assert {vector["kind"] for vector in VECTORS} == {"published", "computed"}
