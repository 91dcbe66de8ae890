"""The second opinion stands in a replay only, beside the table, in words that the model may use."""

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt

from station.core.decompression.gas_model.opinion import WHAT_IT_IS, WHAT_IT_IS_NOT
from station.panels import samples, samples_ascent
from station.panels.window import Window
from station.present.labels import OPINION, WATCH
from station.present.looks import View


def replayed(view: View) -> View:
    """The view as a replay shows it."""
    other = samples.replay()
    return replace(view, mode=other.mode, top=other.top, transport=other.transport)


@pytest.fixture
def window(open_window) -> Window:
    """A replay with a dive that the model differs on."""
    opened = open_window()
    opened.show_view(replayed(samples_ascent.with_opinion("day", differs=True)))
    opened.activateWindow()
    return opened


def test_a_live_watch_has_no_such_page(qtbot, open_window):
    """Neither key nor shortcut: a second schedule on a live deck invites argument."""
    window = open_window()
    window.show_view(samples_ascent.with_opinion("day"))
    window.activateWindow()
    assert not any(key.isVisible() for key in window.footer.replay_windows.values())
    qtbot.keyClick(window, Qt.Key.Key_F7)
    assert window.page == WATCH


def test_a_replay_opens_it_by_its_key(qtbot, window):
    """F7; it says what the model is, what it is not, by how much it differs, and what to do then."""
    qtbot.keyClick(window, Qt.Key.Key_F7)
    assert window.page == OPINION
    told = window.opinion.table.accessibleName()
    for part in ("differs from the table by 2 min", WHAT_IT_IS, WHAT_IT_IS_NOT, "Follow the table"):
        assert part in told
    assert window.opinion.name.look[2] == "USN Rev 7 9-9, 80/50"


def test_another_diver_is_a_key_away(qtbot, window):
    """One without a row says so."""
    window.show_page(OPINION)
    qtbot.keyClick(window, Qt.Key.Key_2)
    assert window.opinion.name.look[1] == "Diver 2"
    assert window.opinion.table.accessibleName().startswith("No row of the table yet")
