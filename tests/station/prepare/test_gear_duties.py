"""What falls due, to the day; faults, repairs and entries that were struck out."""

from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.demo.crew import DEMO_DAY, demo_gear
from station.prepare.days import days_between, is_day, months_after
from station.prepare.duties import HINDERS, DueState, Duty, due_list, due_of
from station.prepare.gear import Gear, GearKind, Item, ItemState, Outfit, OutfitKind, Work, WorkDone
from station.prepare.gear_acts import (
    AddItem,
    AddOutfit,
    FitPart,
    GearAct,
    GearEntry,
    GearNote,
    RecordWork,
    Retire,
    SignBack,
    StrikeWork,
)
from station.prepare.gear_fold import take_gear
from station.prepare.outfits import OUTFIT_RULES, outfit_blockers

YEARLY = Duty(Work.PRESSURE_TEST, (GearKind.HOSE,), 12, after_repair=True, says="x", source="test")
ONCE = replace(YEARLY, work=Work.TENSILE_TEST, every_months=None)
UTC = "2031-05-02T08:00:00Z"


def _hose(*works: WorkDone, repaired: str = "") -> ItemState:
    return ItemState(Item("H", GearKind.HOSE, "hose"), "2029-01-01", works, repaired=repaired)


def _done(day: str, *, passed: bool = True, work: Work = Work.PRESSURE_TEST) -> WorkDone:
    return WorkDone(f"{work} {day}", work, day, "K", "held", passed)


@pytest.mark.parametrize(
    ("day", "months", "wanted"),
    [
        ("2031-03-02", 6, "2031-09-02"),
        ("2031-08-31", 6, "2032-02-29"),
        ("2030-08-31", 6, "2031-02-28"),
        ("2031-12-31", 1, "2032-01-31"),
        ("2031-01-31", 3, "2031-04-30"),
        ("2028-02-29", 12, "2029-02-28"),
    ],
)
def test_months_end_where_the_calendar_does(day: str, months: int, wanted: str) -> None:
    """Six months from 31 August are the last of February."""
    assert months_after(day, months) == wanted


@given(st.dates(max_value=date(9980, 1, 1)), st.integers(0, 120))
def test_a_due_day_is_a_day_and_never_before(day: date, months: int) -> None:
    """Whatever the day: a day of the calendar, as many months on, within three days of the same number."""
    text = str(day)
    on = months_after(text, months)
    assert is_day(on)
    assert 28 * months <= days_between(text, on) <= 31 * months
    assert int(text[8:]) - int(on[8:]) in (0, 1, 2, 3)


@pytest.mark.parametrize(
    ("day", "state"),
    [
        ("2030-05-02", DueState.IN_DATE),
        ("2031-04-01", DueState.IN_DATE),
        ("2031-04-02", DueState.SOON),
        ("2031-05-02", DueState.SOON),
        ("2031-05-03", DueState.OVERDUE),
    ],
)
def test_a_test_is_good_through_its_last_day(day: str, state: DueState) -> None:
    """Tested on 2 May 2030, due every year: told of from 30 days before, good on 2 May 2031, then overdue."""
    (due,) = due_of(_hose(_done("2030-05-02")), (YEARLY,), day)
    assert due.state is state
    assert due.on == "2031-05-02"


def test_only_a_passed_test_of_the_right_kind_counts_and_none_of_tomorrow() -> None:
    """Failed, of another sort, or dated later than today: as if there were none."""
    for work in (
        _done("2031-01-01", passed=False),
        _done("2031-01-01", work=Work.CHECK),
        _done("2031-05-03"),
    ):
        (due,) = due_of(_hose(work), (YEARLY,), DEMO_DAY)
        assert due.state is DueState.NEVER
        assert due.state in HINDERS


def test_a_repair_makes_the_test_due_again() -> None:
    """Mended on 1 April: a test of March no longer counts, one of the same day or later does."""
    for day, state in (("2031-03-31", DueState.REPAIRED), ("2031-04-01", DueState.IN_DATE)):
        hose = _hose(_done(day), _done(day, work=Work.TENSILE_TEST), repaired="2031-04-01")
        assert {due.state for due in due_of(hose, (YEARLY, ONCE), DEMO_DAY)} == {state}


def _fold(gear: Gear, *acts: GearAct) -> Gear:
    for number, act in enumerate(acts):
        taken = take_gear(gear, GearEntry(f"e{number}", UTC, "P. Rusk", act))
        assert isinstance(taken, Gear), taken
        gear = taken
    return gear


HELMET = AddItem(Item("H-1", GearKind.HELMET, "helmet"))


def test_a_failed_test_is_a_fault_and_a_struck_one_no_longer_counts() -> None:
    """A test not passed takes the item out of service; an entry made in error is struck out with why."""
    failed = RecordWork("H-1", Work.CHECK, "2031-05-01", "K", "leaks at the port", passed=False)
    gear = _fold(Gear(), HELMET, failed)
    (state,) = gear.items
    assert [fault.what for fault in state.faults] == ["check not passed: leaks at the port"]
    gear = _fold(gear, SignBack("H-1", state.faults[0].entry, "new glass", repaired=True))
    assert gear.items[0].faults == ()
    assert gear.items[0].repaired == "2031-05-02"
    gear = _fold(gear, StrikeWork("H-1", state.works[0].entry, "wrong helmet"))
    assert gear.items[0].works == ()


@pytest.mark.parametrize(
    "act",
    [
        HELMET,
        AddItem(Item(" ", GearKind.HELMET, "helmet")),
        AddItem(Item("H-2", GearKind.HELMET, "helmet", outfit="none")),
        AddOutfit(Outfit(" ", OutfitKind.DEMAND)),
        SignBack("H-1", "no such fault", "done", repaired=False),
        StrikeWork("H-1", "no such entry", "why"),
        StrikeWork("H-1", "e0", " "),
        FitPart("H-1", "no such outfit"),
        Retire("H-1", " "),
        GearNote("H-1", " "),
        GearNote("H-9", "words"),
    ],
)
def test_an_entry_that_cannot_be_taken_is_refused_with_its_reason(act: GearAct) -> None:
    """Twins, blanks and names that the register does not have."""
    taken = take_gear(_fold(Gear(), HELMET), GearEntry("x", UTC, "P. Rusk", act))
    assert not isinstance(taken, Gear)
    assert taken.reason


def test_a_retired_item_is_out_for_good() -> None:
    """Nothing is entered for it any more, and no outfit has it as a part."""
    gear = _fold(Gear(), AddOutfit(Outfit("A", OutfitKind.DEEP_SEA)), HELMET, FitPart("H-1", "A"))
    assert len(gear.parts("A")) == 1
    gear = _fold(gear, Retire("H-1", "cracked"))
    assert gear.parts("A") == ()
    assert not isinstance(take_gear(gear, GearEntry("x", UTC, "K", GearNote("H-1", "w"))), Gear)


def _demo() -> Gear:
    gear = Gear()
    for entry in demo_gear():
        taken = take_gear(gear, entry)
        assert isinstance(taken, Gear)
        gear = taken
    return gear


def test_the_demo_has_one_old_hose_and_one_strange_breastplate() -> None:
    """Outfit A: the hose alone; outfit B: the number alone; outfit S: nothing."""
    gear = _demo()
    found = {
        name: outfit_blockers(gear, name, (YEARLY,), DEMO_DAY)
        for name in ("Outfit A", "Outfit B", "Outfit S")
    }
    assert {name: [each.key for each in blockers] for name, blockers in found.items()} == {
        "Outfit A": ["gear:A-HOSE:pressure_test"],
        "Outfit B": ["outfit:Outfit B:mismatch"],
        "Outfit S": [],
    }


@pytest.mark.parametrize("kind", OUTFIT_RULES[OutfitKind.DEEP_SEA].parts)
def test_each_part_of_an_outfit_is_missed(kind: GearKind) -> None:
    """Taken out one by one: the outfit says what it has not. Parts: 46 CFR 197.346(b)."""
    gear = _demo()
    (part,) = [state for state in gear.parts("Outfit A") if state.item.kind is kind]
    without = _fold(gear, FitPart(part.item.serial, ""))
    keys = [each.key for each in outfit_blockers(without, "Outfit A", (), DEMO_DAY)]
    assert f"outfit:Outfit A:missing:{kind}" in keys


def test_matched_parts_need_their_number_and_only_one_of_each() -> None:
    """No number at all, on all three parts, is no match; two helmets in one outfit neither."""
    gear = _demo()
    bare = replace(
        gear,
        items=tuple(replace(state, item=replace(state.item, matched="")) for state in gear.items),
    )
    assert [each.key for each in outfit_blockers(bare, "Outfit A", (), DEMO_DAY)] == [
        "outfit:Outfit A:mismatch"
    ]
    two = _fold(gear, AddItem(Item("H-2", GearKind.HELMET, "helmet", outfit="Outfit A", matched="41")))
    assert [each.key for each in outfit_blockers(two, "Outfit A", (), DEMO_DAY)] == [
        "outfit:Outfit A:doubled:helmet"
    ]
    assert outfit_blockers(gear, "Outfit X", (), DEMO_DAY)


def test_the_list_of_the_day_is_in_order_of_its_days() -> None:
    """What is overdue or due within thirty days, the most pressing first; retired gear is not on it."""
    gear = _demo()
    calibration = Duty(Work.CALIBRATION, (GearKind.GAUGE,), 6, after_repair=True, says="x", source="test")
    found = due_list(gear, (YEARLY, calibration), DEMO_DAY)
    assert [(each.serial, each.state) for each in found] == [
        ("A-HOSE", DueState.OVERDUE),
        ("PG-2", DueState.SOON),
    ]
    assert "was due on 2031-04-20" in found[0].sentence
    gone = _fold(gear, Retire("A-HOSE", "cut up"))
    assert [each.serial for each in due_list(gone, (YEARLY, calibration), DEMO_DAY)] == ["PG-2"]
