"""Two windows press, correct and undo, seen or unseen, against a plain list of what was marked.

The model knows neither phases as a table nor presumed starts: the diver's gauge is silent here, so that marks
alone make the dive. What the trace adds is held by test_timekeeping.
"""

from dataclasses import dataclass, replace

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, rule, run_state_machine_as_test

from shared.clock import EPOCH, Instant, after
from station.core.facts import MarkAmended, MarkTaken, Refused
from station.core.inputs import AmendMark, MarkKind, NextDive, SetMark, Tick, UndoMark
from station.core.phase import Phase

ONE = "Diver 1"
KINDS = list(MarkKind)
STOPS = (MarkKind.REACHED_STOP, MarkKind.LEFT_STOP)
LISTED = st.sampled_from([40.0, 30.0, 20.0])
WINDOW = st.sampled_from([0, 1])


@dataclass
class Entry:
    """One press as somebody would write it on a slate; struck out when undone."""

    number: int
    dive: int
    kind: MarkKind
    at: Instant
    stop: float | None
    struck: bool = False


def _walk(entries: list[Entry]) -> tuple[str, Instant | None, Instant | None, Instant | None]:
    """Where he is, and when he left the surface, the bottom, and reached the surface, as the slate reads."""
    where, left, off_bottom, up = "dressed", None, None, None
    for entry in entries:
        match where, entry.kind:
            case "dressed", MarkKind.LEFT_SURFACE:
                where, left = "descending", entry.at
            case "descending" | "ascending" | "at_stop", MarkKind.REACHED_BOTTOM:
                where, off_bottom = "on_bottom", None
            case "descending" | "on_bottom", MarkKind.LEFT_BOTTOM:
                where, off_bottom = "ascending", entry.at
            case "ascending" | "at_stop", MarkKind.REACHED_STOP:
                where = "at_stop"
            case "at_stop", MarkKind.LEFT_STOP:
                where = "ascending"
            case "descending" | "on_bottom" | "ascending" | "at_stop", MarkKind.REACHED_SURFACE:
                where, up = "surfaced", entry.at
            case "surfaced", MarkKind.REACHED_CHAMBER:
                where = "chamber"
            case "chamber", MarkKind.REACHED_SURFACE:
                where, up = "done", entry.at
            case _:
                pass
    return where, left, off_bottom, up


class TwoWindows(RuleBasedStateMachine):
    """The slate and the fold side by side."""

    begin = None

    @initialize()
    def start(self) -> None:
        """A minute and more into the log, so that marks can be set back."""
        self.watch = type(self).begin(names=(ONE,), start_s=100.0)
        self.watch.depth(None)
        self.slate: list[Entry] = []
        self.seen = [self.watch.state.seq, self.watch.state.seq]
        self.last_now = self.watch.now

    def _standing(self) -> list[Entry]:
        dive = self.watch.diver().dive
        held = [e for e in self.slate if not e.struck and e.dive == dive]
        return sorted(held, key=lambda e: (e.at, e.number))

    def _act(self, act, window: int):
        before = self.watch.state
        facts = self.watch.act(act, seen=self.seen[window], by=f"window {window}")
        if any(isinstance(f, Refused) for f in facts):
            assert len(facts) == 1
            assert facts[0].reason
            assert replace(self.watch.state, seq=before.seq) == before
        return facts

    @rule(seconds=st.floats(0, 120))
    def wait(self, seconds: float) -> None:
        """Time goes on."""
        self.watch.give(Tick(after(self.watch.now, seconds)))

    @rule(window=WINDOW)
    def look(self, window: int) -> None:
        """A window gets the newest state."""
        self.seen[window] = self.watch.state.seq

    @rule(window=WINDOW, kind=st.sampled_from(KINDS), back=st.sampled_from([0, 15, 30, 60]), stop=LISTED)
    def press(self, window: int, kind: MarkKind, back: int, stop: float) -> None:
        """A mark is pressed; pressed again at once at the other window it is refused."""
        dive = self.watch.diver().dive
        act = SetMark(ONE, dive, kind, stop if kind in STOPS else None, back)
        for fact in self._act(act, window):
            if isinstance(fact, MarkTaken):
                mark = fact.mark
                assert mark.at == after(self.watch.now, -back)
                self.slate.append(Entry(mark.number, dive, kind, mark.at, mark.stop_fsw))
                again = self._act(act, 1 - window)
                assert isinstance(again[0], Refused)

    @rule(data=st.data(), window=WINDOW)
    def undo(self, data: st.DataObject, window: int) -> None:
        """Any press of the slate is taken back, or refused when it is struck out or of another dive."""
        if self.slate:
            entry = data.draw(st.sampled_from(self.slate))
            for fact in self._act(UndoMark(ONE, entry.number, "wrong"), window):
                if isinstance(fact, MarkAmended):
                    assert not entry.struck
                    assert entry.dive == self.watch.diver().dive
                    entry.struck = True

    @rule(data=st.data(), window=WINDOW, seconds=st.floats(-90, 90))
    def amend(self, data: st.DataObject, window: int, seconds: float) -> None:
        """Any press is set to another time, or refused; never into the future."""
        if self.slate:
            entry = data.draw(st.sampled_from(self.slate))
            to = after(entry.at, seconds)
            for fact in self._act(AmendMark(ONE, entry.number, to, "stopwatch"), window):
                if isinstance(fact, MarkAmended):
                    assert not entry.struck
                    assert EPOCH <= to <= self.watch.now
                    entry.at = to

    @rule(window=WINDOW)
    def dress_again(self, window: int) -> None:
        """A further dive begins only from the surface."""
        surfaced = self.watch.phase() is Phase.SURFACED
        facts = self._act(NextDive(ONE), window)
        assert surfaced != any(isinstance(f, Refused) for f in facts)

    @rule(window=WINDOW, kind=st.sampled_from(KINDS))
    def press_for_another_dive(self, window: int, kind: MarkKind) -> None:
        """A window of another dive marks nothing."""
        dive = self.watch.diver().dive + 1
        assert isinstance(self._act(SetMark(ONE, dive, kind, 20.0), window)[0], Refused)

    @invariant()
    def slate_and_fold_agree(self) -> None:
        """Marks, phase and times are what the slate says."""
        held = self._standing()
        assert [(m.number, m.kind, m.at, m.stop_fsw) for m in self.watch.marks()] == [
            (e.number, e.kind, e.at, e.stop) for e in held
        ]
        where, left, off_bottom, up = _walk(held)
        assert self.watch.phase().value == where
        times = self.watch.times()
        assert (times.left_surface, times.left_bottom, times.reached_surface) == (left, off_bottom, up)
        if left is None:
            assert times.bottom_min is None
        else:
            end = next(i for i in (off_bottom, up, self.watch.now) if i is not None)
            assert 0 <= end - left <= times.bottom_s * 10**9 < end - left + 10**9
            assert times.bottom_s <= times.bottom_min * 60 < times.bottom_s + 60

    @invariant()
    def nothing_is_lost(self) -> None:
        """Every press is still there as it was first taken, numbered in order; time has not run back."""
        marks = self.watch.diver().marks
        assert [m.number for m in marks] == [e.number for e in self.slate] == list(range(1, len(marks) + 1))
        assert self.watch.now >= self.last_now
        self.last_now = self.watch.now


def test_two_windows_and_a_slate(new_watch) -> None:
    """Whatever two windows press in whatever order, the fold says what the slate says."""

    class Begun(TwoWindows):
        """The machine with a way to begin a watch."""

        begin = staticmethod(new_watch)

    run_state_machine_as_test(
        Begun, settings=settings(max_examples=60, stateful_step_count=30, deadline=None)
    )


@pytest.mark.parametrize("undone", range(1, 7))
def test_an_undo_leaves_all_as_if_it_had_not_been(new_watch, undone) -> None:
    """The same dive with one press fewer: the same marks, phase, times and deepest, the trace running."""
    presses = [
        (MarkKind.LEFT_SURFACE, None, 0.0),
        (MarkKind.REACHED_BOTTOM, None, 40.0),
        (MarkKind.LEFT_BOTTOM, None, 40.0),
        (MarkKind.REACHED_STOP, 20.0, 20.0),
        (MarkKind.LEFT_STOP, 20.0, 20.0),
        (MarkKind.REACHED_SURFACE, None, 0.0),
    ]
    with_undo, without = (new_watch(names=(ONE,), every_s=0.5, step_s=0.5) for _ in range(2))
    for watch in (with_undo, without):
        watch.run(3)
        for number, (kind, stop, depth) in enumerate(presses, 1):
            begin = watch.diver().shown_fsw
            watch.depth(lambda t, b=begin, d=depth: b + max(-t / 2, min(t / 2, d - b)))
            watch.run(85)
            if watch is with_undo or number != undone:
                watch.mark(kind, stop=stop)
            if watch is with_undo and number == undone:
                watch.undo(undone)
    assert [(m.kind, m.at) for m in with_undo.marks()] == [(m.kind, m.at) for m in without.marks()]
    assert with_undo.phase() is without.phase()
    assert with_undo.times() == without.times()
    assert with_undo.diver().deepest_fsw == without.diver().deepest_fsw
