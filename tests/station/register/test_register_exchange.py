"""Registers as JSON and TOML: out and in again without loss, and every error of a file at once."""

from pathlib import Path
from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shared.toml_file import FileFault
from station.demo.crew import DEMO_UTC, STOREKEEPER, demo_acts, demo_gear, demo_people
from station.plain import ACTS, canonical, parse
from station.prepare.acts import DESK_ACTS, DeskAct
from station.prepare.checklist import PROOFS, Proof
from station.prepare.gear import Gear, GearKind, Item
from station.prepare.gear_acts import GEAR_ACTS, AddItem, FindFault, GearAct, GearEntry, RecordWork
from station.prepare.gear_fold import take_gear
from station.prepare.people import PERSON_ACTS, PersonAct, PersonEntry
from station.prepare.run import PRESSES, Press
from station.register.codec import from_plain, to_plain
from station.register.exchange import read_gear, read_history, read_people, write_gear, write_history
from station.register.fault import RegisterFault
from station.register.file import open_gear

PLACE = Path("brought.json")


def _folded(entries: tuple[GearEntry, ...]) -> Gear:
    gear = Gear()
    for entry in entries:
        taken = take_gear(gear, entry)
        assert isinstance(taken, Gear), taken
        gear = taken
    return gear


def test_a_history_comes_back_entry_for_entry() -> None:
    """Written and read: the same entries, of gear and of people."""
    assert read_history(PLACE, write_history(demo_gear()), GearEntry) == demo_gear()
    assert read_history(PLACE, write_history(demo_people()), PersonEntry) == demo_people()


def test_every_bad_entry_of_a_history_is_told_at_once() -> None:
    """Three entries wrong in three ways: three reasons, each with its place."""
    plain = parse(write_history(demo_gear()[:4]))
    assert isinstance(plain, dict)
    rows = plain["entries"]
    assert isinstance(rows, list)
    rows[0], rows[2], rows[3] = {"uid": "x"}, {**rows[2], "extra": 1}, 7  # type: ignore[dict-item] # wrong by design
    with pytest.raises(RegisterFault) as caught:
        read_history(PLACE, canonical(plain).decode(), GearEntry)
    assert [reason.split(":")[0] for reason in caught.value.reasons] == ["entry 1", "entry 3", "entry 4"]


@pytest.mark.parametrize(
    "text", ["", "[]", "{", '{"schema": "other"}', '{"schema": "overbottom-register-history/1"}']
)
def test_what_is_no_history_is_told_of(text: str) -> None:
    """Torn JSON, another file, a file without entries: file and reason."""
    with pytest.raises(RegisterFault, match=r"brought\.json"):
        read_history(PLACE, text, GearEntry)


def test_the_gear_as_it_stands_goes_out_and_in_again(tmp_path: Path) -> None:
    """A list written from one register gives another the same standing; brought twice it adds nothing."""
    gear = _folded(demo_gear())
    entries = read_gear("list.toml", write_gear(gear), DEMO_UTC, STOREKEEPER)
    assert write_gear(_folded(entries)) == write_gear(gear)
    register = open_gear(tmp_path / "gear.register")
    register.add(entries)
    later = read_gear("list.toml", write_gear(gear), "2031-06-01T08:00:00Z", "A. Morl")
    assert register.add(later) == 0
    register.close()


@given(st.text(st.characters(codec="utf-8"), min_size=1).filter(str.strip))
def test_any_words_survive_the_list(words: str) -> None:
    """Quotes, breaks, control characters and other scripts in a serial, a title and a fault."""
    gear = _folded(
        (
            GearEntry("a", DEMO_UTC, "x", AddItem(Item(words, GearKind.HELMET, words))),
            GearEntry("b", DEMO_UTC, "x", FindFault(words, words)),
        )
    )
    assert write_gear(_folded(read_gear("l", write_gear(gear), DEMO_UTC, "x"))) == write_gear(gear)


def test_every_error_of_a_gear_list_is_told_at_once() -> None:
    """Each by its key: unknown kind, twin, strange outfit, bad day, missing word, unknown key."""
    text = """
[[outfit]]
name = "A"
kind = "deep_sea"
[[item]]
serial = "1"
kind = "helmt"
title = "helmet"
[[item]]
serial = "1"
kind = "hose"
title = "hose"
outfit = "B"
colour = "yellow"
[[item.work]]
work = "pressure_test"
day = "yesterday"
who = "K"
"""
    with pytest.raises(FileFault) as caught:
        read_gear("gear.toml", text, DEMO_UTC, "K")
    assert [problem.key for problem in caught.value.problems] == [
        "item[1].kind",
        "item[2].serial",
        "item[2].outfit",
        "item[2].colour",
        "item[2].work[1].what",
        "item[2].work[1].day",
    ]


def test_every_error_of_a_crew_list_is_told_at_once() -> None:
    """A twin, a skill that there is not, and a fitness without its doctor."""
    text = '[[person]]\nname = "K"\n[[person]]\nname = "K"\ncan = ["swim"]\nfit_until = 2031-01-01\n'
    with pytest.raises(FileFault) as caught:
        read_people("crew.toml", text, DEMO_UTC, "K")
    assert {problem.key for problem in caught.value.problems} == {
        "person[2].name",
        "person[2].can",
        "person[2].doctor",
    }


def test_every_act_has_a_stored_name() -> None:
    """The names and the closed sets are the same, so that nothing can be pressed that the log cannot hold."""
    for names, kinds in (
        (DESK_ACTS, DeskAct),
        (GEAR_ACTS, GearAct),
        (PERSON_ACTS, PersonAct),
        (PRESSES, Press),
        (PROOFS, Proof),
    ):
        assert set(names.values()) == set(get_args(kinds))
    assert all(ACTS.get(name, kind) is kind for name, kind in DESK_ACTS.items())


def test_every_act_of_the_demo_comes_back_from_json() -> None:
    """Lists, rules, plan and crew travel whole, so that a record replays without the files."""
    for act in demo_acts():
        assert from_plain(parse(canonical(to_plain(act))), DeskAct) == act


def test_a_test_that_lies_after_its_entry_or_names_nobody_is_refused() -> None:
    """A certificate of tomorrow proves nothing today."""
    gear = _folded(demo_gear())
    good = RecordWork("A-HOSE", "pressure_test", "2031-05-02", "K", "held", passed=True)  # type: ignore[arg-type]
    entry = GearEntry("t", DEMO_UTC, "K", good)
    assert isinstance(take_gear(gear, entry), Gear)
    for bad in ({"day": "2031-05-03"}, {"day": "2 May"}, {"who": ""}, {"what": " "}, {"serial": "none"}):
        changed = GearEntry("t", DEMO_UTC, "K", RecordWork(**{**_fields(good), **bad}))  # type: ignore[arg-type]
        assert not isinstance(take_gear(gear, changed), Gear), bad


def _fields(work: RecordWork) -> dict[str, object]:
    return {name: getattr(work, name) for name in RecordWork.__slots__}
