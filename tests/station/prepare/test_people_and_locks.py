"""One person in one post, qualified and fit; locks with their keys; signals; cards; the watch afterwards."""

from dataclasses import replace
from typing import Any

import pytest

from shared.clock import Instant
from station.checklists.shipped import load_cards, load_codes, load_profiles
from station.core.alarms.catalogue import BY_ID
from station.demo.crew import DIVER, STANDBY, SUPERVISOR
from station.prepare.acts import EnterPerson, WearOutfit
from station.prepare.after_dive import (
    QUESTIONS,
    AnswerCheck,
    Check,
    by_chamber_left_s,
    checks_due,
    symptoms,
)
from station.prepare.cards import CloseCard, OpenCard, TickCard, offered
from station.prepare.days import months_after
from station.prepare.locks import CheckLock, HandKey, LiftLock, PlaceLock, ReportClear, lifted_early
from station.prepare.moving import left_surface, reached_surface, took_back_surfacing
from station.prepare.people import Fit, Gone, Qualification, Qualify, Skill, people_due
from station.prepare.plan import Hazard
from station.prepare.profile import Exposure
from station.prepare.signals import (
    Exchange,
    GivePull,
    LineStanding,
    line_standing,
    meaning,
    take_pull,
)
from station.prepare.team import Assign, Leave, Post, Relieve, Seat

S = 1_000_000_000
LONG_DIVE = Exposure(depth_fsw=60, bottom_min=90, outside_no_stop=True, stops_min=20, heavy_gear=True)


def test_one_person_holds_one_post_whatever_the_spelling(deck: Any) -> None:
    """Nobody is tender and log keeper, or his own standby."""
    assert "one person, one post" in deck.refused(Assign(Seat(Post.STANDBY_TENDER, "p.  RUSK", STANDBY)))
    assert "relieve him first" in deck.refused(Assign(Seat(Post.SUPERVISOR, "M. Ferrow")))
    assert "which diver" in deck.refused(Assign(Seat(Post.TENDER, "M. Ferrow")))
    assert "has no diver" in deck.refused(Assign(Seat(Post.LOG_KEEPER, "M. Ferrow", DIVER)))
    assert "named person" in deck.refused(Assign(Seat(Post.TENDER, " ", DIVER)))
    deck.act(Leave("A. Morl"))
    assert "nobody is log keeper" in {each.what for each in deck.board().missing}
    assert "holds no post" in deck.refused(Leave("A. Morl"))


def test_a_supervisor_is_relieved_with_words_by_somebody_free(deck: Any) -> None:
    """Relief names what was handed over; the new man signs from then on."""
    assert "handed over" in deck.refused(Relieve(SUPERVISOR, "M. Ferrow", " "))
    assert "one person, one post" in deck.refused(Relieve(SUPERVISOR, "P. Rusk", "all"))
    assert "holds no post" in deck.refused(Relieve("Nobody", "M. Ferrow", "all"))
    deck.act(Relieve(SUPERVISOR, "M. Ferrow", "lists up to dressing, locks on, standby ready"))
    assert deck.desk.crew.supervisor == "M. Ferrow"


def test_who_is_not_qualified_or_fit_today_is_on_the_board(deck: Any) -> None:
    """Fitness to dive ends on its day; a tender who leads, and a stranger, are named."""
    osk = "T. Osk"
    deck.act(EnterPerson("a", Fit(osk, deck.day, "Dr. V")))
    keys = {each.key for each in deck.board().missing}
    assert f"person:{osk}:fitness" not in keys
    deck.act(EnterPerson("b", Fit(osk, "2031-05-01", "Dr. V")))
    assert f"person:{osk}:fitness" in {each.key for each in deck.board().missing}
    deck.act(EnterPerson("c", Qualify(osk, Qualification(Skill.DIVER, "2031-05-01"))))
    assert f"person:{osk}:diver" in {each.key for each in deck.board().missing}
    deck.act(EnterPerson("d", Gone("H. Brask", "moved away")))
    assert "person:H. Brask:unknown" in {each.key for each in deck.board().missing}
    assert "doctor" in deck.refused(EnterPerson("e", Fit(osk, deck.day, " ")))
    assert "no day" in deck.refused(EnterPerson("f", Qualify(osk, Qualification(Skill.DIVER, "soon"))))
    assert any(line.startswith("T. Osk: fitness") for line in people_due(deck.desk.people, deck.day))


def test_an_outfit_is_on_one_diver(deck: Any) -> None:
    """The same outfit cannot be on two men; unknown divers and outfits are refused."""
    assert "on Diver 1" in deck.refused(WearOutfit(STANDBY, "Outfit A"))
    assert "no outfit" in deck.refused(WearOutfit(DIVER, "Outfit Z"))
    assert "no diver" in deck.refused(WearOutfit("Diver 9", "Outfit B"))


def test_every_hazard_needs_a_lock_that_somebody_looked_at_today(deck: Any) -> None:
    """A lock that nobody has looked at for 12 h does not count; looking at it makes it good again."""
    assert "lock:intake" not in {each.key for each in deck.board().missing}
    deck.act(LiftLock("T-18"))
    assert "lock:intake" in {each.key for each in deck.board().missing}
    deck.later(12 * 3600)
    assert "lock:T-17:old" not in {each.key for each in deck.board().missing}
    deck.later(1)
    assert "lock:T-17:old" in {each.key for each in deck.board().missing}
    deck.act(CheckLock("T-17"))
    assert "lock:T-17:old" not in {each.key for each in deck.board().missing}


def test_a_lock_names_tag_thing_and_key_holder_once(deck: Any) -> None:
    """Blank or twice: refused. A key goes from hand to named hand. Only what is on is looked at or lifted."""
    assert "key holder" in deck.refused(PlaceLock("T-19", Hazard.CRANE, "deck crane", " "))
    assert "already" in deck.refused(PlaceLock("T-17", Hazard.CRANE, "deck crane", "X"))
    assert "named" in deck.refused(HandKey("T-17", " "))
    deck.act(HandKey("T-17", "P. Rusk"))
    assert deck.desk.locks.find("T-17").key_holder == "P. Rusk"
    deck.act(LiftLock("T-17"))
    for act in (LiftLock("T-17"), CheckLock("T-17"), HandKey("T-17", "X"), LiftLock("T-99")):
        assert "is on" in deck.refused(act)
    deck.act(PlaceLock("T-17", Hazard.GATE, "upper gate", "P. Rusk"))


def test_a_lock_lifted_before_the_diver_is_clear_is_taken_and_alarms(deck: Any) -> None:
    """The deck did it, so it is in the log; the alarm stands until it is locked again or he is clear."""
    deck.in_water = (DIVER,)
    deck.desk = left_surface(deck.desk, deck.board(), deck.now)
    deck.act(LiftLock("T-17"), "A. Morl")
    (early,) = lifted_early(deck.desk.locks, deck.in_water)
    assert early.early_for == (DIVER,)
    assert lifted_early(deck.desk.locks, ()) == ()
    deck.act(PlaceLock("T-20", Hazard.GATE, early.what, SUPERVISOR))
    assert lifted_early(deck.desk.locks, deck.in_water) == ()
    assert "supervisor reports" in deck.refused(ReportClear(DIVER), "P. Rusk")
    deck.act(ReportClear(DIVER))
    deck.act(LiftLock("T-20"))
    assert lifted_early(deck.desk.locks, deck.in_water) == ()
    deck.desk = left_surface(deck.desk, deck.board(), deck.now)
    assert deck.desk.locks.clear == (), "he went down again: clear of nothing"


def test_a_lock_for_one_diver_is_no_matter_of_another(deck: Any) -> None:
    """Lifted while only the other man is down: not early."""
    deck.act(PlaceLock("T-21", Hazard.PROPELLER, "bow thruster", SUPERVISOR, (STANDBY,)))
    deck.in_water = (DIVER,)
    deck.act(LiftLock("T-21"))
    assert deck.desk.locks.find("T-21").early_for == ()


(CODE,) = load_codes()


@pytest.mark.parametrize(
    ("pulls", "from_diver", "words"),
    [
        # USN Diving Manual, Table 8-3, from memory, unverified
        ("1", False, "all right"),
        ("4", True, "haul me up"),
        ("2-1", True, "I understand"),
        ("3-2", True, "more air"),
        ("4-3", True, "less air"),
        ("2-2-2", True, "fouled, I need another diver"),
        ("3-3-3", True, "fouled, I can clear myself"),
        ("4-4-4", True, "haul me up at once"),
    ],
)
def test_the_shipped_code_says_what_its_table_says(pulls: str, from_diver: bool, words: str) -> None:
    """Pull by pull; three groups are urgent; seven pulls change to searching signals and back."""
    row = meaning(CODE, pulls, from_diver=from_diver)
    assert row is not None
    assert words in row.means
    assert row.urgent == (pulls.count("-") == 2)
    assert "unverified" in CODE.source
    assert CODE.switches == "7"


def test_a_signal_is_given_back_or_sent_again_and_then_means_trouble() -> None:
    """Ten seconds, sent again, ten more: trouble. USN Diving Manual Rev 4, p. 8-24."""
    one = GivePull(DIVER, "1", from_diver=False)
    line = take_pull(CODE, None, one, Instant(0))
    assert line_standing(CODE, line, Instant(9 * S)) is LineStanding.WAITING
    assert line_standing(CODE, line, Instant(10 * S)) is LineStanding.SEND_AGAIN
    line = take_pull(CODE, line, one, Instant(12 * S))
    assert line_standing(CODE, line, Instant(21 * S)) is LineStanding.WAITING
    assert line_standing(CODE, line, Instant(22 * S)) is LineStanding.NO_ANSWER
    answered = take_pull(CODE, line, replace(one, from_diver=True), Instant(23 * S))
    assert line_standing(CODE, answered, Instant(99 * S)) is LineStanding.QUIET


def test_signals_on_the_desk_follow_one_line_each(deck: Any) -> None:
    """Signal and repeat close a line; without diver, pulls or code it is refused."""
    deck.act(GivePull(DIVER, "1", from_diver=False))
    deck.act(GivePull(STANDBY, "1", from_diver=False))
    deck.act(GivePull(DIVER, "1", from_diver=True))
    assert {line.diver: line.answered_at for line in deck.desk.lines} == {DIVER: 0, STANDBY: None}
    assert "names a diver" in deck.refused(GivePull("Diver 9", "1", from_diver=False))
    assert "its pulls" in deck.refused(GivePull(DIVER, " ", from_diver=False))
    deck.desk = replace(deck.desk, code=None)
    assert "no code" in deck.refused(GivePull(DIVER, "1", from_diver=False))


def test_come_up_waits_for_no_repeat_and_other_pulls_are_no_answer() -> None:
    """The diver comes when he is ready; two pulls do not answer one."""
    four = take_pull(CODE, None, GivePull(DIVER, "4", from_diver=False), Instant(0))
    assert line_standing(CODE, four, Instant(60 * S)) is LineStanding.QUIET
    one = take_pull(CODE, None, GivePull(DIVER, "1", from_diver=False), Instant(0))
    other = take_pull(CODE, one, GivePull(DIVER, "2", from_diver=True), Instant(1 * S))
    assert other.answered_at is None
    assert (other.pulls, other.from_diver) == ("2", True)


def test_searching_signals_begin_and_end_with_seven_given_back() -> None:
    """After seven and its repeat, three pulls mean the right hand; after seven again, stand by to come up."""

    def seven(line: Exchange | None) -> Exchange:
        sent = take_pull(CODE, line, GivePull(DIVER, "7", from_diver=False), Instant(0))
        return take_pull(CODE, sent, GivePull(DIVER, "7", from_diver=True), Instant(1))

    on = seven(None)
    three = take_pull(CODE, on, GivePull(DIVER, "3", from_diver=False), Instant(2))
    assert three.searching
    right = meaning(CODE, "3", from_diver=False, searching=three.searching)
    assert right is not None
    assert "right" in right.means
    assert not seven(on).searching


CARDS = load_cards()


def test_there_is_a_card_for_every_emergency_and_it_names_real_alarms() -> None:
    """Every emergency, with alarms out of the catalogue, its sources and its limits."""
    wanted = {
        "loss_of_air", "fouled", "lost_comms", "blow_up", "fall", "unconscious", "oxygen_convulsion",
        "oxygen_symptoms", "chamber_delay", "symptoms_water", "symptoms_interval", "symptoms_chamber",
        "symptoms_after", "foul_air", "differential_pressure", "dead_station", "fire_on_deck",
    }  # fmt: skip
    assert {card.key for card in CARDS} == wanted
    for card in CARDS:
        assert set(card.alarms) <= set(BY_ID), card.key
        assert "local emergency plan stands above" in card.stands_above
        assert card.never
        assert all(step.who and step.text and step.source for step in card.steps)


def test_an_alarm_offers_its_cards_once() -> None:
    """Several alarms at a time, one card: offered once, in the order of the alarms."""
    found = offered(CARDS, ("log-not-durable", "supply-below-minimum", "on-reserve"))
    assert [card.key for card in found] == ["dead_station", "loss_of_air"]
    assert offered(CARDS, ("gauge-frozen",)) == ()


def test_a_card_is_ticked_in_any_order_and_closed_with_its_outcome(deck: Any) -> None:
    """Ticks have names and times, once each; a card is not opened twice nor closed in silence."""
    card = CARDS[0]
    deck.act(OpenCard(card, DIVER))
    assert "open already" in deck.refused(OpenCard(card, DIVER))
    last = card.steps[-1].key
    deck.later(5)
    deck.act(TickCard(card.key, DIVER, last), "P. Rusk")
    assert "ticked already" in deck.refused(TickCard(card.key, DIVER, last))
    assert "no step" in deck.refused(TickCard(card.key, DIVER, "dance"))
    assert "how it ended" in deck.refused(CloseCard(card.key, DIVER, " "))
    deck.act(CloseCard(card.key, DIVER, "at the surface, well"))
    (opened,) = deck.desk.cards
    assert [(tick.by, tick.at) for tick in opened.ticks] == [("P. Rusk", 5 * S)]
    assert "no card" in deck.refused(TickCard(card.key, DIVER, last))
    deck.act(OpenCard(card, DIVER))


def test_the_surfaced_diver_is_asked_at_once_after_ten_minutes_and_after_an_hour(deck: Any) -> None:
    """Each check stands with its instant until it is answered; five minutes late is missed."""
    assert "has not surfaced" in deck.refused(AnswerCheck(DIVER, Check.FIRST, ()))
    deck.desk = reached_surface(deck.desk, DIVER, 1, deck.now, LONG_DIVE)
    watch = deck.desk.after[0]
    assert [(due.check, due.at // S // 60) for due in checks_due(watch, deck.now)] == [
        (Check.FIRST, 0),
        (Check.TEN_MINUTES, 10),
        (Check.HOUR, 60),
    ]
    assert not checks_due(watch, Instant(5 * 60 * S))[0].missed
    assert checks_due(watch, Instant(5 * 60 * S + 1))[0].missed
    deck.act(AnswerCheck(DIVER, Check.FIRST, ()), "H. Brask")
    assert [due.check for due in checks_due(deck.desk.after[0], deck.now)] == [Check.TEN_MINUTES, Check.HOUR]
    assert "no question" in deck.refused(AnswerCheck(DIVER, Check.HOUR, ("luck",)))
    assert "where" in deck.refused(AnswerCheck(DIVER, Check.HOUR, (QUESTIONS[1].key,)))
    deck.act(AnswerCheck(DIVER, Check.AGAIN, (QUESTIONS[1].key,), "left knee since the ladder"))
    assert [each.words for each in symptoms(deck.desk.after[0])] == ["left knee since the ladder"]
    assert took_back_surfacing(deck.desk, DIVER, 1).after == ()


@pytest.mark.parametrize(
    ("depth_fsw", "outside", "hours"),
    [(100, False, 0), (101, False, 1), (60, True, 1)],  # 29 CFR 1910.423(b)(2)
)
def test_the_hour_near_the_chamber_runs_from_surfacing(
    make_deck: Any, depth_fsw: float, outside: bool, hours: int
) -> None:
    """Deeper than 100 fsw or outside the no-stop limits: awake and near the chamber for one hour."""
    deck = make_deck("osha")
    dive = replace(LONG_DIVE, depth_fsw=depth_fsw, outside_no_stop=outside)
    deck.desk = reached_surface(deck.desk, DIVER, 1, deck.now, dive)
    watch = deck.desk.after[0]
    assert by_chamber_left_s(watch, deck.now) == hours * 3600
    assert by_chamber_left_s(watch, Instant(3599 * S)) == (1 if hours else 0)
    assert by_chamber_left_s(watch, Instant(3600 * S)) == 0
    assert bool(watch.chamber_rule) == bool(hours)


def test_without_rules_the_hour_is_kept(deck: Any) -> None:
    """A station that chose no profile keeps the careful side."""
    desk = reached_surface(replace(deck.desk, profile=None), DIVER, 1, deck.now, LONG_DIVE)
    assert by_chamber_left_s(desk.after[0], deck.now) == 3600


def test_the_profiles_of_the_demo_are_in_step_with_the_calendar() -> None:
    """Every interval of every profile can be added to any day of a leap year."""
    for profile in load_profiles():
        for duty in profile.duties:
            if duty.every_months is not None:
                assert months_after("2032-02-29", duty.every_months) > "2032-02-29"
