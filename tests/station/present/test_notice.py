"""The reason of a refusal is told for a while, and ends with the next mark that is taken."""

from dataclasses import replace

import pytest

from shared.clock import after
from station.core.facts import MarkTaken, Refused
from station.core.fold import initial_state
from station.core.inputs import MarkKind
from station.core.settings import Settings, Units
from station.core.state import Mark
from station.present.notice import SHOWN_FOR_S, Notice


@pytest.fixture
def state():
    """An empty station at its beginning."""
    return initial_state(Settings("", "", "", Units.US, (), (), ()), 0)


def test_refusal_is_told_for_ten_seconds(state, moved):
    """A refusal is said at once and no more after its time."""
    notice = Notice()
    notice.hear(state, Refused(state.now, "SetMark", "not now"))
    assert notice.at(state) == "not now"
    assert notice.at(moved(state, SHOWN_FOR_S - 0.1)) == "not now"
    assert notice.at(moved(state, SHOWN_FOR_S)) == ""


def test_mark_that_is_taken_ends_it(state):
    """The next mark that is taken clears the refusal."""
    notice = Notice()
    notice.hear(state, Refused(state.now, "SetMark", "not now"))
    mark = Mark(1, 1, 1, MarkKind.LEFT_SURFACE, state.now, state.now, "tender")
    notice.hear(state, MarkTaken("Diver 1", mark))
    assert notice.at(state) == ""


@pytest.fixture
def moved():
    """Moves a state on by so many seconds."""
    return lambda state, seconds: replace(state, now=after(state.now, seconds))
