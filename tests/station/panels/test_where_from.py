"""Where from? A press on a figure, or a key, says rule, source, evidence and what went in."""

import pytest
from PySide6.QtCore import Qt

from station.panels import samples, samples_ascent
from station.panels.figures import Figure, first_of
from station.panels.window import Window
from station.present.labels import ASCENT, GAUGES, NO_ORIGINS, TIMEKEEPER, WATCH
from station.present.unheard import unheard


@pytest.fixture
def window(open_window) -> Window:
    """A watch with a diver at his stop."""
    opened = open_window()
    opened.show_view(samples_ascent.at_stop("day"))
    opened.activateWindow()
    return opened


def shown(window: Window) -> str:
    """The figure that the drawer is about."""
    return window.where_from.pane.look.origin.figure


@pytest.mark.parametrize(
    ("number", "figure"), [(0, "Maximum depth"), (1, "Stop time left"), (2, "Air margin")]
)
def test_a_press_on_a_figure_asks_for_it(qtbot, window, number, figure):
    """Depth, time and air of the diver whose column was pressed."""
    pane = window.divers[1].numbers[number]
    qtbot.mouseClick(pane, Qt.MouseButton.LeftButton, pos=pane.rect().center())
    assert window.where_from.isVisible()
    assert window.where_from.pane.look.diver == "Diver 2"
    assert shown(window) == figure


def test_a_press_on_the_sentence_asks_for_the_schedule(qtbot, window):
    """With the row's notes."""
    pane = window.divers[1].sentence
    qtbot.mouseClick(pane, Qt.MouseButton.LeftButton, pos=pane.rect().center())
    told = window.where_from.pane.accessibleName()
    assert shown(window) == "Schedule"
    for part in (
        "rule S2",
        "USN Diving Manual Rev 7, Table 9-9",
        "P: read in the source",
        "USN Rev 7 9-9, 80/50",
    ):
        assert part in told
    assert "not against a second print" in told


@pytest.mark.parametrize("page", [WATCH, TIMEKEEPER, ASCENT, GAUGES])
def test_the_key_opens_and_closes_it_on_every_page(qtbot, window, page):
    """F6 opens, F6 closes; the page of gauges gives way to the watch, where there is room for it."""
    window.show_page(page)
    qtbot.keyClick(window, Qt.Key.Key_F6)
    assert window.where_from.isVisible()
    assert window.page == (WATCH if page == GAUGES else page)
    qtbot.keyClick(window, Qt.Key.Key_F6)
    assert not window.where_from.isVisible()


def test_keys_go_through_every_figure_of_every_diver(qtbot, window):
    """Page Down through all of them and round; Page Up back; Escape leaves."""
    qtbot.keyClick(window, Qt.Key.Key_F6)
    first = window.where_from.pane.look
    seen = []
    for _ in range(first.of):
        look = window.where_from.pane.look
        seen.append((look.diver, look.origin.figure))
        qtbot.keyClick(window, Qt.Key.Key_PageDown)
    assert len(set(seen)) == 5
    assert window.where_from.pane.look == first
    qtbot.keyClick(window, Qt.Key.Key_PageUp)
    assert (window.where_from.pane.look.diver, shown(window)) == seen[-1]
    qtbot.keyClick(window.where_from, Qt.Key.Key_Escape)
    assert not window.where_from.isVisible()


def test_the_figure_is_kept_while_its_value_changes(window):
    """A later view shows the same figure with its newest value."""
    window.ask_where_from("Diver 2", Figure.AIR.value)
    window.show_view(samples_ascent.omitted("day"))
    assert shown(window) == "Air margin"


def test_a_view_without_figures_says_so(window):
    """No schedule, no air: words instead of an empty drawer."""
    window.show_view(samples.calm())
    window.ask_where_from()
    assert window.where_from.pane.accessibleName() == NO_ORIGINS
    assert not window.where_from.after.isEnabled()


def test_nothing_is_explained_that_is_not_shown(window):
    """While the station is not heard no figure stands, and none is explained."""
    window.show_view(unheard(samples_ascent.at_stop("day"), 3))
    window.ask_where_from("Diver 2", Figure.DEPTH.value)
    assert window.where_from.pane.accessibleName() == NO_ORIGINS


def test_a_replay_is_asked_too(qtbot, window):
    """Where a recorded figure came from can be asked; nothing can be chosen."""
    acts: list[object] = []
    window.acted.connect(lambda act, _: acts.append(act))
    window.show_view(samples.replay())
    qtbot.keyClick(window, Qt.Key.Key_F5)
    assert not window.drawer.isVisible()
    qtbot.keyClick(window, Qt.Key.Key_F6)
    assert window.where_from.isVisible()
    assert acts == []


def test_a_figure_without_an_origin_of_its_own_begins_at_the_first():
    """A press always shows something, where there is anything."""
    assert first_of(Figure.CHANGE, samples_ascent.ORIGINS[:1]) == 0
    assert first_of(Figure.AIR, samples_ascent.ORIGINS) == 3
