"""The plan of a dive as `overbottom-plan/1`: every promised key, nothing made up."""

import json
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.caution import CAUTION
from station.core.decompression.answers import Mode
from station.core.decompression.plan import SCHEMA, TOO_SHORT, plan, plan_json
from station.core.decompression.planning import PlanAsked, plan_dive
from station.table_files import load_tables

TABLES = load_tables()
KEYS = {
    "schema",
    "caution",
    "inputs",
    "depth",
    "time",
    "group_before",
    "group_at_dive",
    "group_after",
    "stops",
    "total_ascent_s",
    "time_to_first_stop_s",
    "chamber_periods",
    "category",
    "ascent",
    "air",
    "model",
    "notes",
    "next_deeper",
    "next_longer",
}


def planned(depth_fsw: float, bottom_s: int, **asked: Any) -> dict[str, Any]:
    """The plan as another program reads it."""
    return dict(
        json.loads(json.dumps(plan(TABLES, PlanAsked(depth_fsw, bottom_s, **asked)), allow_nan=False))
    )


def note_ids(found: dict[str, Any]) -> list[str]:
    """The notes by id."""
    return [note["id"] for note in found["notes"]]


def test_a_plan_on_air() -> None:
    """59 on the gauge is 60 in the table; 66 min are 60/70, seven minutes at 20 (USN Rev 7, Table 9-9)."""
    found = planned(59.0, 66 * 60)
    assert found["schema"] == SCHEMA
    assert found["caution"] == CAUTION
    assert found["depth"] == {
        "gauge_fsw": 59.0,
        "correction_fsw": 1.0,
        "max_fsw": 60.0,
        "altitude_equivalent_fsw": None,
        "table_fsw": 60,
    }
    assert found["time"] == {"bottom_min": 66, "residual_min": 0, "equivalent_min": 66, "table_min": 70}
    assert (found["stops"], found["total_ascent_s"], found["time_to_first_stop_s"]) == ([[20, 7]], 540, 80)
    assert (found["group_after"], found["chamber_periods"], found["category"]) == ("L", 0.5, "normal")
    assert found["model"]["agrees"] is True
    assert found["model"]["stops"] == found["stops"]
    assert found["planned_travel_s"] == 78
    assert (found["next_longer"]["in_s"], found["next_longer"]["stops"]) == (240, [[20, 14]])
    assert (found["next_deeper"]["in_fsw"], found["next_deeper"]["table_fsw"]) == (0.0, 70)


def test_the_legs_of_a_plan_have_the_promised_keys() -> None:
    """Each leg says from, to, start, end, gas and what; the first starts at leaving the bottom."""
    legs = planned(120.0, 70 * 60, corrected=True, mode=Mode.AIR_OXYGEN)["ascent"]
    assert all({"from_fsw", "to_fsw", "start_s", "end_s", "gas", "what"} <= set(leg) for leg in legs)
    assert legs[0]["start_s"] == 0
    assert {leg["gas"] for leg in legs} == {"air", "oxygen"}
    assert legs[-1]["end_s"] == 86 * 60 + 40


def test_a_corrected_depth_is_taken_as_it_is() -> None:
    """With the correction already made nothing is added and neither reading nor correction is told."""
    found = planned(60.0, 600, corrected=True)
    assert found["depth"]["max_fsw"] == 60.0
    assert found["depth"]["gauge_fsw"] is None
    assert "D2" not in note_ids(found)


def test_no_stop_is_an_empty_list_and_no_answer_is_null() -> None:
    """No stops due and not knowing are told apart; past the table the last row is marked TOO SHORT."""
    assert planned(59.0, 600)["stops"] == []
    beyond = planned(149.0, 400 * 60)
    assert beyond["stops"] is beyond["total_ascent_s"] is beyond["ascent"] is beyond["model"] is None
    assert beyond["not_covered"]["rule"] == "S5"
    assert beyond["not_covered"]["too_short"]["marked"] == TOO_SHORT
    assert planned(59.0, 600)["not_covered"] is None


@pytest.mark.parametrize(
    ("depth_fsw", "asked", "rule"),
    [
        (401.0, {}, "D2"),
        (301.0, {}, "S5"),
        (60.0, {"group": "C", "interval_s": 300}, "N1"),
        (60.0, {"interval_s": 7200}, "S4"),
        (60.0, {"altitude_ft": 12_000.0}, "N4"),
        (18.0, {"group": "Z"}, "S9"),
    ],
)
def test_what_is_not_covered_names_its_rule(depth_fsw: float, asked: dict[str, Any], rule: str) -> None:
    """Every plan without a schedule says by which rule, and whom to ask."""
    found = planned(depth_fsw, 600, **asked)
    assert found["not_covered"]["rule"] == rule
    assert found["not_covered"]["consult"]
    assert found["stops"] is None


def test_a_repetitive_plan() -> None:
    """Group I after 2:00 is G; 20 min at 100 fsw are 43 with 23 of residual time: row 100/45."""
    found = planned(99.0, 20 * 60, group="I", interval_s=7200)
    assert (found["group_before"], found["group_at_dive"]) == ("I", "G")
    assert found["time"] == {"bottom_min": 20, "residual_min": 23, "equivalent_min": 43, "table_min": 45}
    assert {"N1", "N2"} <= set(note_ids(found))


def test_a_plan_at_altitude_goes_in_order() -> None:
    """75 on a gauge not zeroed at 7,750 ft: +8, +1, then 84 x sea-level over local is 113, row 120."""
    found = planned(75.0, 60 * 60, altitude_ft=7750.0, zeroed=False, mode=Mode.CHAMBER)
    assert found["depth"]["gauge_fsw"] == 83.0
    assert found["depth"]["max_fsw"] == 84.0
    assert found["depth"]["altitude_equivalent_fsw"] == pytest.approx(113.1, abs=0.1)
    assert found["depth"]["table_fsw"] == 120
    assert found["model"] is None
    assert {"D8", "N4", "X4", "X5"} <= set(note_ids(found))
    deeper = planned(75.0, 80 * 60, altitude_ft=7750.0)
    assert deeper["stops"][0][0] == 40
    assert deeper["stops_at_altitude"] == [
        [round(depth * 0.7428), minutes] for depth, minutes in deeper["stops"]
    ]


def test_a_doubtful_row_is_noted_beside_its_figures() -> None:
    """150/30 carries its doubt with document and reading; by feet the single copy is told too."""
    found = planned(150.0, 30 * 60, corrected=True)
    note = next(note for note in found["notes"] if note["id"] == "chamber_150_30")
    assert "1.5" in note["text"]
    assert "copies" in note["source"]
    by_feet = planned(41.0, 600, corrected=True, shallow=True, group="C")
    assert {"limit_single_source_41", "residual_single_source_41"} <= set(note_ids(by_feet))


def test_notes_carry_evidence_in_words() -> None:
    """A rule that rests on notes or memory says so where the plan shows it."""
    found = planned(100.0, 40 * 60, corrected=True, cold=True)
    cold = next(note for note in found["notes"] if note["id"] == "S7")
    assert cold["evidence"] == ["S: study notes, the page itself not read", "M: from memory, unverified"]


def test_unlimited_time_has_no_next_row_and_no_model() -> None:
    """At 15 fsw there is no limit: no time of a row, nothing next, nothing to compare."""
    found = planned(14.0, 300 * 60)
    assert found["time"]["table_min"] is None
    assert found["next_longer"] is None
    assert found["model"] is None


def test_the_caller_adds_the_air() -> None:
    """Air is null until the caller who knows the supplies hands it over."""
    asked = PlanAsked(60.0, 600)
    assert plan(TABLES, asked)["air"] is None
    assert plan_json(TABLES, plan_dive(TABLES, asked), {"scf": 1.0})["air"] == {"scf": 1.0}


@given(
    st.builds(
        PlanAsked,
        depth_fsw=st.floats(0, 420),
        bottom_s=st.integers(1, 800 * 60),
        mode=st.sampled_from(Mode),
        corrected=st.booleans(),
        group=st.none() | st.sampled_from(TABLES.groups),
        interval_s=st.none() | st.integers(0, 60_000),
        altitude_ft=st.floats(0, 11_000),
        cold=st.booleans(),
        shallow=st.booleans(),
        zeroed=st.booleans(),
    )
)
def test_every_plan_has_every_key_and_no_number_that_is_none(asked: PlanAsked) -> None:
    """Whatever is asked: all keys, legs that join, and either a schedule or the reason why there is none."""
    found = plan(TABLES, asked)
    json.dumps(found, allow_nan=False)
    assert set(found) >= KEYS
    assert (found["not_covered"] is None) == (found["stops"] is not None)
    legs: Any = found["ascent"] or []
    assert all(one["end_s"] == two["start_s"] for one, two in pairwise(legs))
