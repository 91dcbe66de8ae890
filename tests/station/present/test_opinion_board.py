"""The second opinion: shown where the table checks it, hidden with the reason where nothing does."""

from dataclasses import replace

import pytest

from shared.clock import EPOCH, after
from station.core.decompression.answers import Mode
from station.core.fold import initial_state
from station.core.inputs import MarkKind
from station.core.settings import DiverSettings, History, Role, Settings, SupplySettings, Units
from station.core.state import DiverState, Mark, PastDive, State
from station.present.looks import Mode as Shown
from station.present.looks import Transport
from station.present.opinion_board import opinion_look
from station.present.status import LogLine
from station.present.view import view
from station.table_files import load_books

BOOKS = load_books()
NAME = "Diver 1"


def watch(bottom_s: int = 98 * 60, altitude_ft: float = 0.0, **of_diver: object) -> State:
    """A diver at 60 fsw who left the surface so long ago and is still on the bottom."""
    diver = DiverSettings(NAME, "T. Ask", Role.DIVER, "demand-helmet", "bank", 60.0, 40, "", History("none"))
    settings = Settings(
        "Gate", "seal", "M. Ost", Units.US, (diver,), (SupplySettings("bank", "Bank A"),), (),
        altitude_ft=altitude_ft,
    )  # fmt: skip
    left, bottom = after(EPOCH, 60), after(EPOCH, 120)
    marks = (
        Mark(1, 1, 1, MarkKind.LEFT_SURFACE, left, left, "P. Lund"),
        Mark(2, 2, 1, MarkKind.REACHED_BOTTOM, bottom, bottom, "P. Lund"),
    )
    state = initial_state(settings, 0)
    changed: DiverState = replace(
        state.divers[0], marks=marks, deepest_fsw=59.0, deepest_read_fsw=59.0, history_known=True
    )
    changed = replace(changed, **of_diver)
    return replace(state, now=after(EPOCH, 60 + bottom_s), divers=(changed,))


def look_of(state: State):
    """The opinion on the one diver."""
    return opinion_look(state, state.divers[0], BOOKS)


def test_the_model_stands_beside_the_row():
    """60 fsw and 98 min: row 60/100, the stops of both, and that they agree; the table governs."""
    look = look_of(watch())
    assert look is not None
    assert look.row.endswith("60/100")
    assert look.hidden == ""
    assert [stop.table_min for stop in look.stops] == [stop.model_min for stop in look.stops]
    assert look.verdict == "The model agrees with the table"
    assert any("The printed table governs" in sentence for sentence in look.sentences)


@pytest.mark.parametrize(
    ("state", "why"),
    [
        (watch(past=(PastDive("C", None),)), "repetitive"),
        (watch(altitude_ft=6000.0), "altitude"),
        (watch(history_known=False), "history"),
        (watch(mode=Mode.CHAMBER), "Surface decompression"),
    ],
    ids=["repetitive", "altitude", "no history", "chamber"],
)
def test_where_nothing_checks_it_it_is_hidden(state, why):
    """No stop, no verdict, only why."""
    look = look_of(state)
    assert look is not None
    assert why in look.hidden
    assert (look.stops, look.verdict, look.row) == ((), "", "")


def test_it_is_in_a_replay_and_never_on_a_watch():
    """The view of a watch carries none."""
    state = watch()
    live = view(state, Shown.LIVE, LogLine("a", 9, 0.1), BOOKS)
    assert live.divers[0].opinion is None
    transport = Transport(True, 1.0, 0.5, (), (), "recorded", "a", "whole")
    again = view(state, Shown.REPLAY, LogLine("a", 9, None), BOOKS, transport=transport)
    assert again.divers[0].opinion is not None
