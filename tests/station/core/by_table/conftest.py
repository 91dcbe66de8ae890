"""Dives by the tables, driven by hand: marks to the second, the gauge where the plan has the diver."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

import pytest

from shared.clock import Instant, after
from station.core.books import Books
from station.core.by_table.bottom import IfHeLeft, schedule_of
from station.core.by_table.coming_up import Ascent, Followed, ascent_of
from station.core.decompression.answers import Mode, NotCovered
from station.core.decompression.schedule import Schedule
from station.core.facts import Fact, PlanChanged
from station.core.inputs import AmendMark, ChooseMode, MarkKind, NextDive
from station.core.state import DiverState, State
from station.present.next_acts import next_act
from station.table_files import load_books

BOOKS = load_books()
ONE = "Diver 1"
LONG_S = 300
START_S = 20_000.0


@dataclass
class Dive:
    """A watch with the questions that these tests ask of it."""

    watch: Any

    @property
    def state(self) -> State:
        """The state of the watch."""
        return self.watch.state

    def diver(self, name: str = ONE) -> DiverState:
        """The state of a diver."""
        return self.watch.diver(name)

    def run(self, seconds: float) -> tuple[Fact, ...]:
        """Let the watch go on, a tick a second; a long stay with half as many, to its very second."""
        if seconds <= LONG_S:
            return self.watch.run(seconds, 1.0)
        return (*self.watch.run(seconds - seconds % 2, 2.0), *self.watch.run(seconds % 2, 1.0))

    def act(self, act: Any) -> tuple[Fact, ...]:
        """Press something."""
        return self.watch.act(act)

    def mark(self, kind: MarkKind, stop: float | None = None, name: str = ONE) -> tuple[Fact, ...]:
        """Mark a moment now."""
        return self.watch.mark(kind, name, stop=stop)

    def go_to(self, fsw: float, seconds: float, name: str = ONE) -> None:
        """Move the gauge straight to a depth in so many seconds."""
        begin = self.watch.diver(name).shown_fsw or 0.0
        self.watch.depth(lambda t: begin + (fsw - begin) * min(1.0, t / seconds) if seconds else fsw, name)
        self.run(seconds)
        self.watch.depth(fsw, name)

    def down(self, gauge_fsw: float, bottom_s: int, name: str = ONE) -> None:
        """Be on the bottom, exactly so many seconds after leaving the surface.

        A long stay is not lived through: leaving the surface is set to its earlier time.
        """
        lived_s = min(bottom_s, 90)
        self.mark(MarkKind.LEFT_SURFACE, name=name)
        number = self.diver(name).marks[-1].number
        self.go_to(gauge_fsw, 60, name)
        self.mark(MarkKind.REACHED_BOTTOM, name=name)
        self.run(lived_s - 60)
        if bottom_s > lived_s:
            self.act(AmendMark(name, number, after(self.watch.now, 1 - bottom_s), "from the stopwatch"))
            self.run(1)
        assert self.watch.times(name).bottom_s == bottom_s

    def down_longer(self, bottom_s: int) -> None:
        """The stopwatch says another time since leaving the surface."""
        number = self.diver().marks[0].number
        self.act(AmendMark(ONE, number, after(self.watch.now, -bottom_s), "from the stopwatch"))
        self.run(2)

    def forget(self) -> None:
        """As if nobody had told what he brings along."""
        untold = replace(self.diver(), history_known=False)
        self.watch.state = replace(self.state, divers=(untold,))

    def leave(self) -> None:
        """Leave the bottom now."""
        self.mark(MarkKind.LEFT_BOTTOM)

    def mode(self, mode: Mode, reason: str = "planned so") -> tuple[Fact, ...]:
        """Take another way of decompressing."""
        return self.act(ChooseMode(ONE, mode, reason))

    def stop(self, fsw: float, way_s: float, stay_s: float) -> None:
        """Take so long to a stop, mark it, stay so long, and mark leaving it."""
        self.go_to(fsw, way_s)
        self.mark(MarkKind.REACHED_STOP, fsw)
        self.run(stay_s)
        self.mark(MarkKind.LEFT_STOP, fsw)

    def up(self, seconds: float) -> None:
        """Come to the surface and mark it."""
        self.go_to(0.0, seconds)
        self.mark(MarkKind.REACHED_SURFACE)

    def next_dive(self) -> None:
        """Dress again."""
        self.act(NextDive(ONE))

    def now(self, name: str = ONE) -> IfHeLeft:
        """The schedule if he left now."""
        found = schedule_of(self.state, self.diver(name), BOOKS)
        assert found is not None
        return found

    def answer(self, name: str = ONE) -> Schedule:
        """That schedule, where the tables have one."""
        answer = self.now(name).answer
        assert isinstance(answer, Schedule), answer
        return answer

    def ascent(self, name: str = ONE) -> Ascent:
        """The ascent of a diver who has left the bottom."""
        found = ascent_of(self.state, self.diver(name), BOOKS)
        assert isinstance(found, Ascent), found
        return found

    def found(self) -> Followed:
        """How his ascent stands."""
        return self.ascent().found

    def stops(self) -> list[tuple[int, int]]:
        """The stops still due, in seconds."""
        plan = self.found().plan
        assert plan is not None, self.found().refused
        return [(stop.depth_fsw, stop.due_s) for stop in plan.due]

    def row(self) -> str:
        """The row that he comes up by."""
        plan = self.found().plan
        assert plan is not None, self.found().refused
        return f"{plan.schedule.depth_fsw}/{plan.schedule.time_min}"

    def refused(self) -> NotCovered:
        """Why there is no plan any more."""
        refused = self.found().refused
        assert refused is not None
        return refused

    def says(self, name: str = ONE) -> str:
        """The next sentence."""
        return next_act(self.state, name, BOOKS).sentence()

    def changed(self) -> list[PlanChanged]:
        """Every change of a plan so far."""
        return [fact for fact in self.watch.facts if isinstance(fact, PlanChanged)]

    def at(self, second: int) -> Instant:
        """Station time of a second of the ascent."""
        return self.ascent().at(second)


@pytest.fixture(scope="session")
def books() -> Books:
    """The tables that come with the program."""
    return BOOKS


@pytest.fixture
def new_dive(new_watch: Callable[..., Any]) -> Callable[..., Dive]:
    """Begins a watch of one diver without a plan, calm for a while; keywords are those of the station."""

    def begin(**options: Any) -> Dive:
        settled = {
            "names": (ONE,),
            "every_s": 1.0,
            "step_s": 1.0,
            "plan_fsw": None,
            "start_s": START_S,
            **options,
        }
        watch = new_watch(**settled)
        watch.run(12)
        return Dive(watch)

    return begin


@pytest.fixture
def dive(new_dive: Callable[..., Dive]) -> Dive:
    """One diver, calm."""
    return new_dive()
