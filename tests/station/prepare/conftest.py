"""A prepared station to start from: the invented crew, and a hand that presses."""

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from functools import cache

import pytest

from shared.clock import EPOCH, Instant, after
from station.demo.crew import (
    DEMO_DAY,
    DEMO_UTC,
    DIVER,
    STANDBY,
    SUPERVISOR,
    demo_acts,
    demo_gear,
    demo_people,
)
from station.prepare.acts import BeginList, DeskAct, PressStep
from station.prepare.checklist import Checklist, Measured, SerialRead, Step
from station.prepare.desk import Desk, Moment
from station.prepare.gear import Gear
from station.prepare.gear_acts import BringGear
from station.prepare.gear_fold import take_gear
from station.prepare.people import BringPeople, People, take_person
from station.prepare.ready import LIVE, Board, Sight, Told, board_of, required_lists
from station.prepare.refusal import Refusal
from station.prepare.run import Begin, Done, Press, Sign
from station.prepare.taking import take_act


@cache
def gear_of_the_demo() -> Gear:
    """The demo's register, folded."""
    gear = Gear()
    for entry in demo_gear():
        taken = take_gear(gear, entry)
        assert isinstance(taken, Gear), taken
        gear = taken
    return gear


@cache
def people_of_the_demo() -> People:
    """The demo's people, folded."""
    people = People()
    for entry in demo_people():
        taken = take_person(people, entry)
        assert isinstance(taken, People), taken
        people = taken
    return people


@dataclass
class Deck:
    """A desk with a clock and somebody's hand on it."""

    desk: Desk = field(default_factory=Desk)
    now: Instant = EPOCH
    day: str = DEMO_DAY
    dives: tuple[tuple[str, int], ...] = ((DIVER, 1), (STANDBY, 1))
    in_water: tuple[str, ...] = ()
    journal: list[tuple[DeskAct, Moment]] = field(default_factory=list)

    def moment(self, by: str) -> Moment:
        """Now, by somebody."""
        return Moment(self.now, f"{self.day}T08:00:00Z", by, self.dives, self.in_water)

    def act(self, act: DeskAct, by: str = SUPERVISOR) -> None:
        """An act that must be taken."""
        taken = take_act(self.desk, act, self.moment(by))
        assert isinstance(taken, Desk), f"{act}: {taken}"
        self.desk = taken
        self.journal.append((act, self.moment(by)))

    def refused(self, act: DeskAct, by: str = SUPERVISOR) -> str:
        """An act that must be refused; the reason. The desk stays as it is."""
        taken = take_act(self.desk, act, self.moment(by))
        assert isinstance(taken, Refusal), f"taken: {act}"
        return taken.reason

    def later(self, seconds: float) -> None:
        """Let time pass."""
        self.now = after(self.now, seconds)

    def board(self, diver: str = DIVER, *, told: bool = True) -> Board:
        """The ready board now; `told` says that the core finds air, gauges and voice good."""
        live = tuple(Told(group) for group in LIVE) if told else ()
        return board_of(
            self.desk, diver, dict(self.dives)[diver], Sight(self.now, self.day, self.dives, live)
        )

    def press(self, list_key: str, subject: str, step: str, press: Press, by: str) -> None:
        """A press that must be taken."""
        self.act(PressStep(list_key, subject, step, press), by)

    def work_off(self, checklist: Checklist, subject: str, hands: tuple[str, str]) -> None:
        """The whole list, as it should be done."""
        self.act(BeginList(checklist.key, subject), hands[0])
        for step in checklist.steps:
            self.do(checklist, subject, step, hands)

    def do(self, checklist: Checklist, subject: str, step: Step, hands: tuple[str, str]) -> None:
        """One step, by as many hands as it asks for, signed where it is a hold point."""
        if step.timed:
            self.press(checklist.key, subject, step.key, Begin(), hands[0])
            self.later(step.least_s or 0)
        able = tuple(seat.person for seat in self.desk.crew.seats if seat.post in step.signs)
        for by in (hands if self.desk.crew.holds(hands[0], step.signs) else able)[: step.persons]:
            self.press(checklist.key, subject, step.key, self.proof(subject, step), by)
        if step.hold:
            self.press(checklist.key, subject, step.key, Sign(), SUPERVISOR)

    def proof(self, subject: str, step: Step) -> Done:
        """What proves a step."""
        match step.proof:
            case Measured(low=low):
                return Done(value=low)
            case SerialRead(kind):
                return Done(serial=dict(self.desk.serials_of(subject))[kind])
            case _:
                return Done()

    def work_off_all(self, diver: str = DIVER) -> None:
        """Every list that the diver's and the standby's boards ask for."""
        hands = ("P. Rusk", "H. Brask")
        for checklist in required_lists(self.desk, diver, dict(self.dives)[diver]):
            self.work_off(checklist, diver if checklist.about == "diver" else "", hands)
        for checklist in required_lists(self.desk, STANDBY, 1):
            self.work_off(checklist, STANDBY, hands)


def sound_hose(gear: Gear) -> Gear:
    """The demo's gear with outfit A's hose tested in time."""
    items = tuple(
        replace(state, works=tuple(replace(done, day="2031-04-20") for done in state.works))
        if state.item.serial == "A-HOSE"
        else state
        for state in gear.items
    )
    return replace(gear, items=items)


@cache
def _prepared(profile: str, *, sound: bool) -> Desk:
    deck = Deck()
    gear = gear_of_the_demo()
    deck.act(BringGear(sound_hose(gear) if sound else gear))
    deck.act(BringPeople(people_of_the_demo()))
    for act in demo_acts(profile):
        deck.act(act)
    return deck.desk


@pytest.fixture(scope="session")
def make_deck() -> Callable[..., Deck]:
    """Makes a station on which everything but the lists is done; `sound=False` keeps the old hose."""

    def make(profile: str = "own", *, sound: bool = True) -> Deck:
        return Deck(_prepared(profile, sound=sound))

    return make


@pytest.fixture
def deck(make_deck: Callable[..., Deck]) -> Deck:
    """A station on which everything but the lists is done."""
    return make_deck()


__all__ = ["DEMO_UTC", "Deck"]
