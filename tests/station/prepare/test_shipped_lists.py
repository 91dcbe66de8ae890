"""The shipped lists say what the trade says; every mistake in a file of one's own is told at once."""

from pathlib import Path

import pytest

from shared.toml_file import FileFault
from station.checklists.cards import read_card
from station.checklists.profiles import read_profile
from station.checklists.reading import read_checklist
from station.checklists.shipped import (
    FilesFault,
    copy_shipped,
    load_cards,
    load_checklists,
    load_codes,
    load_profiles,
)
from station.checklists.signals import read_code
from station.prepare.checklist import Checklist, Measured, Stage
from station.prepare.sources import COMMON_PRACTICE

LISTS = {each.key: each for each in load_checklists()}


def test_the_lists_of_the_whole_job_are_there() -> None:
    """From the bench to the store, one list for each part of the job."""
    assert set(LISTS) == {
        "deep_sea_inspection", "deep_sea_dressing", "demand_setup", "free_flow_setup", "light_dressing",
        "air_plant", "pneumo_waterline", "voice_check", "water_entry", "crossed_hoses", "chamber_readiness",
        "turn_round", "aftercare",
    }  # fmt: skip


@pytest.mark.parametrize("checklist", LISTS.values(), ids=lambda each: each.key)
def test_every_step_says_why_and_where_from(checklist: Checklist) -> None:
    """A reason and a source on every step; the maker's manual and local rules stand above, said on each."""
    assert "maker's manual" in checklist.stands_above
    assert "local rules" in checklist.stands_above
    for step in checklist.steps:
        assert step.why
        assert step.source
        assert step.signs


@pytest.mark.parametrize("key", ["deep_sea_inspection", "demand_setup", "free_flow_setup", "turn_round"])
def test_the_non_return_valve_is_a_hold_point_by_two_persons(key: str) -> None:
    """Common practice, no source: it is tested before every dive and signed by the supervisor."""
    (step,) = [each for each in LISTS[key].steps if each.key == "non_return"]
    assert step.hold
    assert step.persons == 2


def _measured(key: str, step: str) -> Measured:
    (proof,) = [each.proof for each in LISTS[key].steps if each.key == step]
    assert isinstance(proof, Measured)
    return proof


def test_facts_of_the_trade() -> None:
    """160 lb on a strap; twelve studs and nuts, tightened evenly; no oil on the electrical gasket."""
    # all four: common practice, no source
    assert _measured("deep_sea_inspection", "harness_load").low == 160
    assert (
        _measured("deep_sea_inspection", "studs").low,
        _measured("deep_sea_inspection", "studs").high,
    ) == (12, 12)
    steps = {step.key: step for each in LISTS.values() for step in each.steps}
    assert "No oil on it" in steps["electric_gasket"].text
    assert "evenly" in steps["nuts_even"].text
    assert steps["nuts_even"].persons == 2
    for key in ("harness_load", "studs", "electric_gasket", "nuts_even"):
        assert steps[key].source == COMMON_PRACTICE


@pytest.mark.parametrize(("key", "closed"), [("deep_sea_dressing", "port"), ("light_dressing", "helmet_on")])
def test_air_is_on_before_the_helmet_is_closed(key: str, closed: str) -> None:
    """The list is ordered, and the hold point of the air stands before the closing."""
    checklist = LISTS[key]
    air, shut = checklist.place("air_on"), checklist.place(closed)
    assert air is not None
    assert shut is not None
    assert checklist.ordered
    assert checklist.steps[air].hold
    assert air in checklist.rests_on(shut)


def test_the_way_to_the_chamber_fits_into_the_surface_interval() -> None:
    """At most 5 min from the last stop to depth in the chamber. USN Diving Manual Rev 4, p. 14-7."""
    (step,) = [each for each in LISTS["chamber_readiness"].steps if each.key == "clear_way"]
    assert step.most_s == 300
    assert LISTS["chamber_readiness"].when == "chamber"
    assert LISTS["aftercare"].stage is Stage.AFTER


GOOD = """
[list]
key = "mine"
title = "My list"
version = 1
stands_above = "maker and local rules"
source = "own"
stage = "gear"
about = "diver"
[[step]]
key = "a"
text = "look"
why = "because"
signs = ["tender"]
source = "own"
"""


def test_every_mistake_in_a_list_is_told_at_once() -> None:
    """Twins, a step that waits for a later one, limits the wrong way round, unknown words and keys."""
    text = (
        GOOD.replace('stage = "gear"', 'stage = "deck"')
        + """
after = ["c"]
colour = "red"
[[step]]
key = "a"
text = "measure"
why = "because"
signs = ["tender", "cook"]
source = "own"
proof = { kind = "measured", quantity = "weight", unit = "lb", low = 5, high = 3 }
least_s = 60
most_s = 30
[[step]]
key = "c"
text = "sign"
why = ""
signs = ["supervisor"]
source = "own"
hold = true
persons = 3
"""
    )
    with pytest.raises(FileFault) as caught:
        read_checklist("mine.toml", text)
    assert {problem.key for problem in caught.value.problems} == {
        "list.stage", "step[1].key", "step[1].after", "step[1].colour", "step[2].key", "step[2].signs",
        "step[2].proof.high", "step[2].most_s", "step[3].why", "step[3].signs", "step[3].persons",
    }  # fmt: skip
    assert all(problem.line > 0 for problem in caught.value.problems)


def test_a_list_of_ones_own_stands_in_the_place_of_ours(tmp_path: Path) -> None:
    """The same key: theirs; another key: beside ours. Two files of one key are told of."""
    (tmp_path / "a.toml").write_text(GOOD.replace('"mine"', '"water_entry"'), encoding="utf-8")
    (tmp_path / "b.toml").write_text(GOOD, encoding="utf-8")
    found = {each.key: each for each in load_checklists(tmp_path)}
    assert found["water_entry"].title == "My list"
    assert set(found) == {*LISTS, "mine"}
    (tmp_path / "c.toml").write_text(GOOD, encoding="utf-8")
    (tmp_path / "d.toml").write_text("no toml", encoding="utf-8")
    with pytest.raises(FilesFault) as caught:
        load_checklists(tmp_path)
    assert len(caught.value.lines) == 2
    assert load_checklists(tmp_path / "not there") == load_checklists()


def test_every_mistake_in_a_profile_card_and_code_is_told_at_once() -> None:
    """Each reader tells all problems of its file, by key."""
    with pytest.raises(FileFault) as profile:
        read_profile(
            "p.toml",
            '[profile]\nkey = "p"\n[[threshold]]\nasked = "tea"\nfigure = -1\nshort_dive_min = 3\n'
            '[[duty]]\nwork = "polish"\nkinds = ["boat"]\nsays = "x"\nsource = "y"\n',
        )
    assert {problem.key for problem in profile.value.problems} == {
        "profile.title", "profile.version", "profile.dated", "profile.stands_above", "threshold[1].asked",
        "threshold[1].figure", "threshold[1].short_dive_min", "threshold[1].says", "threshold[1].source",
        "duty[1].work", "duty[1].kinds",
    }  # fmt: skip
    with pytest.raises(FileFault) as card:
        read_card("c.toml", '[card]\nkey = "c"\nknows = ["luck"]\n[[step]]\nkey = "a"\n[[step]]\nkey = "a"\n')
    assert {"card.knows", "card.title", "step[1].who", "step[2].key"} <= {
        problem.key for problem in card.value.problems
    }
    row = '[[signal]]\npulls = "{}"\ngiver = "{}"\nmeans = "x"\n'
    text = '[code]\nkey = "k"\ntitle = "t"\nsource = "s"\nstands_above = "a"\n'
    with pytest.raises(FileFault) as code:
        read_code(
            "k.toml", text + row.format("2-", "diver") + row.format("3", "diver") + row.format("3", "either")
        )
    assert {problem.key for problem in code.value.problems} == {"signal[1].pulls", "signal[3].pulls"}
    assert read_code("k.toml", text + row.format("3", "diver") + row.format("3", "tender")).signals


def test_everything_that_is_shipped_can_be_read() -> None:
    """Lists, profiles, cards and codes, without a problem."""
    assert load_checklists()
    assert {each.key for each in load_profiles()} == {"osha", "uscg", "own"}
    assert load_cards()
    assert load_codes()


def test_our_files_are_laid_out_to_be_changed_and_never_over_ones_own(tmp_path: Path) -> None:
    """Copied lists read as ours; a changed one is left alone by the next copying, and counts."""
    written = copy_shipped(tmp_path)
    assert len(written) == len(LISTS)
    assert {each.key: each for each in load_checklists(tmp_path)} == LISTS
    entry = tmp_path / "water_entry.toml"
    entry.write_text(
        entry.read_text(encoding="utf-8").replace("version = 1", "version = 2"), encoding="utf-8"
    )
    assert copy_shipped(tmp_path) == ()
    assert {each.version for each in load_checklists(tmp_path) if each.key == "water_entry"} == {2}
    assert len(copy_shipped(tmp_path / "cards", "cards")) == len(load_cards())
