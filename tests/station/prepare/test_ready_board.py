"""The ready board: nothing is called ready that was not checked by a named person."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from station.demo.crew import DIVER, SUPERVISOR
from station.prepare.acts import BeginList, EnterGear, Override, PressStep, Waived, WearOutfit
from station.prepare.gear_acts import FindFault, SignBack
from station.prepare.moving import left_surface, left_unready, took_back_leaving
from station.prepare.plan import SetPlan
from station.prepare.profile import Asked
from station.prepare.ready import LIVE, Group, Readiness, required_lists
from station.prepare.run import Begin, Done, Doubt, Rule, Ruling, Sign
from station.prepare.team import Leave


def test_a_whole_preparation_ends_in_ready(deck: Any) -> None:
    """Every list worked off by named persons, all else in order: ready, nothing missing."""
    assert deck.board().readiness is Readiness.NOT_READY
    deck.work_off_all()
    board = deck.board()
    assert board.missing == ()
    assert board.readiness is Readiness.READY
    assert board.may_leave
    assert board.met == tuple(Group)


@pytest.mark.parametrize("profile", ["own", "osha", "uscg"])
def test_an_overdue_hose_is_never_ready(make_deck: Callable[..., Any], profile: str) -> None:
    """The demo's hose, tested on 20 April 2030, blocks where the rules ask every 12 months and not at 24."""
    deck = make_deck(profile, sound=False)
    deck.work_off_all()
    keys = [each.key for each in deck.board().missing if each.key == "gear:A-HOSE:pressure_test"]
    # 29 CFR 1910.430(c)(1)(iii): every year; 46 CFR 197.456(a)(1): every 24 months
    assert bool(keys) == (profile != "uscg")


def test_a_mismatched_breastplate_is_never_ready(deck: Any) -> None:
    """Outfit B's breastplate bears another number than its helmet: the outfit is blocked, and says both."""
    deck.act(WearOutfit(DIVER, "Outfit B"))
    (found,) = [each for each in deck.board().missing if each.key == "outfit:Outfit B:mismatch"]
    assert "helmet 57" in found.what
    assert "breastplate 58" in found.what


def test_a_fault_takes_an_item_out_until_it_is_signed_back(deck: Any) -> None:
    """A fault found after the lists were done blocks; signed back after repair, the tests count anew."""
    deck.work_off_all()
    deck.act(EnterGear("f1", FindFault("A-NRV", "grit in the seat")), "P. Rusk")
    assert [each.what for each in deck.board().missing] == ["non-return valve A-NRV: grit in the seat"]
    deck.act(EnterGear("f2", SignBack("A-NRV", "f1", "opened and cleaned", repaired=True)), "P. Rusk")
    assert [each.key for each in deck.board().missing] == ["gear:A-NRV:service"]


def test_changed_parts_void_the_lists(deck: Any) -> None:
    """Another outfit on the diver: what was proved on the first one proves nothing."""
    deck.work_off_all()
    deck.act(WearOutfit(DIVER, ""))
    deck.act(WearOutfit(DIVER, "Outfit B"))
    assert any("parts were changed" in each.what for each in deck.board().missing)
    deck.act(PressStep("water_entry", DIVER, "ladder", Doubt("moved")), "P. Rusk")
    deck.press("water_entry", DIVER, "ladder", Rule(Ruling.DO_AGAIN, "held now"), SUPERVISOR)
    for press in (Begin(), Done(), Sign()):
        assert "parts were changed" in deck.refused(
            PressStep("water_entry", DIVER, "ladder", press), "P. Rusk"
        )
    deck.act(BeginList("water_entry", DIVER, "other outfit"), "P. Rusk")
    deck.press("water_entry", DIVER, "ladder", Done(), "P. Rusk")


@pytest.mark.parametrize("group", LIVE)
def test_what_the_core_does_not_tell_is_not_ready(deck: Any, group: Group) -> None:
    """Air, gauges and voice are not known: not ready."""
    deck.work_off_all()
    board = deck.board(told=False)
    assert group in {each.group for each in board.missing}
    assert not board.may_leave


def test_a_lost_standby_unmakes_ready(deck: Any) -> None:
    """The standby leaves his post: not ready, at every depth."""
    deck.work_off_all()
    deck.act(Leave("J. Lindal"))
    assert {each.key for each in deck.board().missing} == {"standby:none", "rule:standby"}


def test_an_override_names_who_and_why_and_does_not_make_ready(make_deck: Callable[..., Any]) -> None:
    """The supervisor's override lets the diver go for what he read, and for nothing found afterwards."""
    deck = make_deck(sound=False)
    deck.work_off_all()
    given = tuple(Waived(each.key, each.what) for each in deck.board().missing)
    act = Override(DIVER, given, "hose pressed to 375 psig this morning, paper to follow")
    assert "only the supervisor" in deck.refused(act, "P. Rusk")
    assert "reason" in deck.refused(replace(act, reason=" "))
    deck.act(act)
    board = deck.board()
    assert board.readiness is Readiness.OVERRIDDEN
    assert board.may_leave
    assert {each.overridden_by for each in board.missing} == {SUPERVISOR}
    assert deck.desk.overrides[-1].reason.startswith("hose pressed")
    deck.act(EnterGear("f", FindFault("A-HOSE", "chafed at 40 ft")), "P. Rusk")
    assert deck.board().readiness is Readiness.NOT_READY


def test_an_override_covers_no_other_dive(make_deck: Callable[..., Any]) -> None:
    """What was overridden in the morning is missing again before the second dive."""
    deck = make_deck(sound=False)
    given = tuple(Waived(each.key, each.what) for each in deck.board().missing)
    deck.act(Override(DIVER, given, "trial"))
    assert deck.board().may_leave
    deck.dives = ((DIVER, 2), ("Standby", 1))
    assert not deck.board().may_leave
    assert {each.overridden_by for each in deck.board().missing} == {""}


def test_leaving_unready_is_an_alarm_and_no_refusal(deck: Any) -> None:
    """The dive begins all the same; the missing conditions stand for good, until the mark is taken back."""
    desk = left_surface(deck.desk, deck.board(), deck.now)
    found = left_unready(desk, DIVER, 1)
    assert found is not None
    assert "Entering the water: not begun" in found.missing
    assert left_unready(took_back_leaving(desk, DIVER, 1), DIVER, 1) is None


def test_leaving_ready_overridden_or_to_the_rescue_is_no_alarm(deck: Any) -> None:
    """Ready, by override, or as a rescuer: no alarm."""
    rescue = left_surface(deck.desk, deck.board("Standby"), deck.now, rescue=True)
    assert left_unready(rescue, "Standby", 1) is None
    given = tuple(Waived(each.key, each.what) for each in deck.board().missing)
    deck.act(Override(DIVER, given, "trial"))
    by_override = left_surface(deck.desk, deck.board(), deck.now)
    assert left_unready(by_override, DIVER, 1) is None
    assert by_override.departures[-1].overridden
    deck.work_off_all()
    assert left_unready(left_surface(deck.desk, deck.board(), deck.now), DIVER, 1) is None


def test_a_doubt_stands_on_the_board_with_its_words(deck: Any) -> None:
    """A doubt at the ladder is on the board until the supervisor has ruled and the step is done again."""
    deck.work_off_all()
    deck.press("water_entry", DIVER, "leaks", Doubt("bubbles at the collar"), "H. Brask")
    assert [each.what for each in deck.board().missing] == [
        "Entering the water: step 5 with the supervisor, bubbles at the collar"
    ]
    deck.press("water_entry", DIVER, "leaks", Rule(Ruling.DO_AGAIN, "nuts drawn up"), SUPERVISOR)
    assert [each.what for each in deck.board().missing] == ["Entering the water: step 5 of 8"]


def test_beginning_anew_is_no_way_round_the_supervisor(deck: Any) -> None:
    """A list with a doubt or a stop is begun anew by the supervisor only, and always with a reason."""
    deck.act(BeginList("water_entry", DIVER), "P. Rusk")
    assert "reason" in deck.refused(BeginList("water_entry", DIVER), "P. Rusk")
    deck.press("water_entry", DIVER, "ladder", Doubt("loose"), "P. Rusk")
    assert "only he" in deck.refused(BeginList("water_entry", DIVER, "again"), "P. Rusk")
    deck.press("water_entry", DIVER, "ladder", Rule(Ruling.STOP, "ladder broken"), SUPERVISOR)
    assert "only he" in deck.refused(BeginList("water_entry", DIVER, "again"), "P. Rusk")
    assert "stopped" in deck.refused(PressStep("water_entry", DIVER, "slack", Doubt("x")), "P. Rusk")
    deck.act(BeginList("water_entry", DIVER, "new ladder"), SUPERVISOR)


@pytest.mark.parametrize(
    ("change", "key"),
    [
        ({"site": ""}, "plan:the place"),
        ({"contingencies": ()}, "plan:contingencies"),
        ({"hazards": ()}, "plan:hazards"),
        ({"provided": ()}, "rule:reserve"),
        ({"briefed": ()}, "briefing:T. Osk"),
    ],
)
def test_a_gap_in_the_plan_is_on_the_board(deck: Any, change: dict[str, Any], key: str) -> None:
    """What was not written, provided, locked or told is missing by name."""
    (plan,) = deck.desk.plans
    deck.act(SetPlan(replace(plan, **change)))
    assert key in {each.key for each in deck.board().missing}


@pytest.mark.parametrize(
    "wrong",
    [
        {"depth_fsw": 0},
        {"bottom_min": 0},
        {"stops_min": -1},
        {"depth_fsw": float("inf")},
        {"stops_min": float("nan")},
    ],
)
def test_a_plan_without_real_numbers_is_refused(deck: Any, wrong: dict[str, float]) -> None:
    """Depth and bottom time above zero, stops not below, all finite: else the earlier plan stands."""
    (plan,) = deck.desk.plans
    assert "plan" in deck.refused(SetPlan(replace(plan, exposure=replace(plan.exposure, **wrong))))
    assert deck.desk.plans == (plan,)
    assert "no diver" in deck.refused(SetPlan(replace(plan, diver="Diver 9")))


def test_the_second_dive_of_the_day_asks_for_the_short_list(deck: Any) -> None:
    """First dive: the long inspection; every later one: the turn-round in its place, dressing as before."""
    first, second, third = (
        {each.key for each in required_lists(deck.desk, DIVER, dive)} for dive in (1, 2, 3)
    )
    assert first - second == {"deep_sea_inspection"}
    assert second - first == {"turn_round"}
    assert third == second


def test_a_chamber_that_the_rules_ask_for_is_asked_for_its_list_as_well(deck: Any) -> None:
    """Deeper than the figure of the profile: the chamber must be there, and its list worked off."""
    (plan,) = deck.desk.plans
    assert "chamber_readiness" not in {each.key for each in required_lists(deck.desk, DIVER, 1)}
    deep = replace(plan, exposure=replace(plan.exposure, depth_fsw=120))
    deck.act(SetPlan(deep))
    keys = {each.key for each in deck.board().missing}
    assert {"rule:chamber", "rule:stage", "list:chamber_readiness"} <= keys
    deck.act(SetPlan(replace(deep, provided=(*deep.provided, Asked.CHAMBER, Asked.STAGE))))
    keys = {each.key for each in deck.board().missing}
    assert "rule:chamber" not in keys
    assert "list:chamber_readiness" in keys


def test_a_plan_beyond_the_depth_of_the_rules_is_on_the_board(deck: Any) -> None:
    """Deeper than the profile allows: not ready, with rule and source, whatever is there."""
    (plan,) = deck.desk.plans
    deck.act(SetPlan(replace(plan, exposure=replace(plan.exposure, depth_fsw=190), provided=tuple(Asked))))
    (found,) = [each for each in deck.board().missing if each.key == "rule:depth_limit"]
    assert "less than 190 fsw" in found.what
    assert "197.432(a)" in found.source


@pytest.mark.parametrize(
    ("serial", "group"),
    [("PG-1", Group.GEAR), ("PG-3", Group.STANDBY), ("CO-1", Group.GEAR), ("CL-1", Group.GEAR)],
)
def test_gauges_and_plant_in_use_must_be_fit(deck: Any, serial: str, group: Group) -> None:
    """A fault on the diver's gauge, the standby's, the compressor or the clock is on the board."""
    deck.act(EnterGear("f", FindFault(serial, "dropped")), "P. Rusk")
    (found,) = [each for each in deck.board().missing if serial in each.key]
    assert found.group is group
    assert "dropped" in found.what


def test_gear_in_the_store_or_on_nobody_keeps_nobody_out(deck: Any) -> None:
    """The gauge of a diver who does not dive, and the other outfit, may be faulty."""
    for number, serial in enumerate(("PG-2", "B-HOSE")):
        deck.act(EnterGear(f"f{number}", FindFault(serial, "dropped")), "P. Rusk")
    assert Group.GEAR not in {each.group for each in deck.board().missing}


def test_a_plan_for_other_gear_than_he_wears_is_on_the_board(deck: Any) -> None:
    """The law excepts heavy gear from some things: who plans light and wears heavy is told."""
    (plan,) = deck.desk.plans
    deck.act(SetPlan(replace(plan, exposure=replace(plan.exposure, heavy_gear=False))))
    assert "plan:dress" in {each.key for each in deck.board().missing}
