"""What the supervisor chooses and people type: each way through the drawer ends in one act, or in none."""

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt

from shared.gauges import Channel
from station.core.decompression.answers import Mode
from station.core.inputs import (
    BindDivers,
    ChooseCold,
    ChooseMode,
    ChooseRow,
    EnterHistory,
    ManualDepth,
    ManualPressure,
    MarkKind,
    PartDivers,
    ReadBy,
    RowChoice,
    SetMark,
    ShiftSupply,
)
from station.panels import samples, samples_ascent
from station.panels.window import Window
from station.present import labels
from station.present.looks import EventKey, KeyState, View


@pytest.fixture
def acts() -> list[object]:
    """What was submitted."""
    return []


@pytest.fixture
def window(open_window, acts) -> Window:
    """A watch in which everything may be chosen, its acts collected."""
    opened = open_window()
    opened.acted.connect(lambda act, _: acts.append(act))
    opened.show_view(samples_ascent.at_stop("day"))
    opened.activateWindow()
    return opened


def press(qtbot, window: Window, title: str) -> None:
    """Press the key of the drawer with this title."""
    drawer = window.drawer
    keys = (*drawer.first, *drawer.answers, *drawer.pad, drawer.use, drawer.cancel)
    key = next(key for key in keys if key.title == title)
    qtbot.mouseClick(key, Qt.MouseButton.LeftButton)


def go(qtbot, window: Window, *titles: str) -> None:
    """Open the choices by their key and press one key after another."""
    qtbot.keyClick(window, Qt.Key.Key_F5)
    for title in titles:
        press(qtbot, window, title)


@pytest.mark.parametrize(
    ("titles", "act"),
    [
        ((labels.HISTORY, "none"), EnterHistory("Diver 1", "none")),
        ((labels.HISTORY, "Group C", "1:30"), EnterHistory("Diver 1", "C", 5400)),
        ((labels.HISTORY, "not given", labels.BEGINS_IN_IT), EnterHistory("Diver 1", "not given")),
        (
            (labels.MODE, "Air and oxygen", "Weather or current"),
            ChooseMode("Diver 1", Mode.AIR_OXYGEN, "Weather or current"),
        ),
        (
            ("Diver 2", labels.ROW, "Next longer", "Hard work"),
            ChooseRow("Diver 2", RowChoice.NEXT_LONGER, "Hard work"),
        ),
        ((labels.COLD, "Cold or strenuous", "Cold water"), ChooseCold("Diver 1", True, "Cold water")),
        (
            (labels.BINDING, "Diver 1 and Diver 2", "One stage"),
            BindDivers(("Diver 1", "Diver 2"), "One stage"),
        ),
        (
            (labels.SUPPLY, "His own cylinder", "Supply fails"),
            ShiftSupply("Diver 1", "emergency gas", "Supply fails"),
        ),
        (
            (labels.TYPE_DEPTH, "5", "8", ".", "5", labels.ENTER),
            ManualDepth("Diver 1", 58.5, ReadBy.HAND_GAUGE),
        ),
        (
            (labels.TYPE_DEPTH, "Sounding", "6", "1", labels.BACK, "0", labels.ENTER),
            ManualDepth("Diver 1", 60.0, ReadBy.SOUNDING),
        ),
        (
            (labels.TYPE_PRESSURE, "Bank B", "2", "6", "4", "0", labels.ENTER),
            ManualPressure(Channel.BANK, "secondary", 2640.0),
        ),
    ],
)
def test_each_way_ends_in_its_act(qtbot, window, acts, titles, act):
    """By touch alone, from the key to the act; the drawer is then closed."""
    go(qtbot, window, *titles)
    assert acts == [act]
    assert not window.drawer.isVisible()


def test_bound_divers_are_parted(qtbot, window, acts):
    """Where he is bound, the question is each by his own."""
    view = window.view
    bound = replace(samples_ascent.CHOICES, bound="with Diver 2")
    window.show_view(replace(view, divers=tuple(replace(diver, choices=bound) for diver in view.divers)))
    go(qtbot, window, labels.BINDING, labels.EACH_BY_HIS_OWN, "Not on one stage")
    assert acts == [PartDivers("Not on one stage")]


def test_a_choice_needs_its_reason(qtbot, window, acts):
    """The way alone sends nothing; own words are a reason, blanks are none."""
    go(qtbot, window, labels.MODE, "Surface decompression")
    assert acts == []
    drawer = window.drawer
    drawer.words.setFocus()
    qtbot.keyClicks(drawer.words, "   ")
    qtbot.keyClick(drawer.words, Qt.Key.Key_Return)
    assert acts == []
    qtbot.keyClicks(drawer.words, "ice on the ladder")
    qtbot.keyClick(drawer.words, Qt.Key.Key_Return)
    assert acts == [ChooseMode("Diver 1", Mode.CHAMBER, "ice on the ladder")]


def test_a_reason_without_a_choice_sends_nothing(qtbot, window, acts):
    """The reasons are shut until something is chosen."""
    go(qtbot, window, labels.ROW)
    assert not any(key.isEnabled() for key in window.drawer.answers)
    press(qtbot, window, labels.ROW_REASONS[0])
    assert acts == []


@pytest.mark.parametrize("typed", ["2:75", "245", "1:5", ":", "0:00"])
def test_an_interval_that_is_none_stays_in_the_drawer(qtbot, window, acts, typed):
    """It is said what an interval looks like; nothing is sent and nothing typed is lost."""
    go(qtbot, window, labels.HISTORY, "Group C", *typed, labels.ENTER)
    assert acts == []
    assert window.drawer.isVisible()
    assert window.drawer.trouble == labels.INTERVAL_WRONG
    assert window.drawer.words.text() == typed


def test_a_figure_that_is_none_stays_in_the_drawer(qtbot, window, acts):
    """Two points are no depth."""
    go(qtbot, window, labels.TYPE_DEPTH, "5", ".", ".", labels.ENTER)
    assert acts == []
    assert window.drawer.trouble == labels.NUMBER_WRONG


def test_everything_goes_by_the_keyboard(qtbot, window, acts):
    """F5, Alt and the figure of each key; digits typed; Return."""
    qtbot.keyClick(window, Qt.Key.Key_F5)
    qtbot.keyClick(window.drawer, Qt.Key.Key_2, Qt.KeyboardModifier.AltModifier)
    qtbot.keyClick(window.drawer, Qt.Key.Key_4, Qt.KeyboardModifier.AltModifier)
    qtbot.keyClick(window.drawer, Qt.Key.Key_5, Qt.KeyboardModifier.AltModifier)
    qtbot.keyClicks(window.drawer.words, "2:45")
    qtbot.keyClick(window.drawer.words, Qt.Key.Key_Return)
    assert acts == [EnterHistory("Diver 2", "C", 9900)]


def test_a_metric_depth_is_sent_in_fsw(qtbot, window, acts):
    """What is typed in msw is a depth of the tables."""
    metric = replace(samples_ascent.CHOICES, depth_unit="msw")
    view = window.view
    window.show_view(replace(view, divers=tuple(replace(diver, choices=metric) for diver in view.divers)))
    go(qtbot, window, labels.TYPE_DEPTH, "1", "8", labels.ENTER)
    assert acts[0].depth_fsw == pytest.approx(58.67, abs=0.01)


def test_the_choices_can_be_left(qtbot, window, acts):
    """Cancel and Escape at any question; another page drops it too."""
    go(qtbot, window, labels.MODE)
    press(qtbot, window, labels.CANCEL)
    assert not window.drawer.isVisible()
    go(qtbot, window, labels.HISTORY)
    qtbot.keyClick(window.drawer, Qt.Key.Key_Escape)
    assert not window.drawer.isVisible()
    go(qtbot, window)
    window.show_page(labels.TIMEKEEPER)
    assert not window.drawer.isVisible()
    assert acts == []


def test_the_diver_who_is_shown_stands_chosen(qtbot, window):
    """On the ascent page the one who comes up, at the timekeeper's the one whose keys are shown."""
    window.show_page(labels.ASCENT)
    qtbot.keyClick(window, Qt.Key.Key_F5)
    assert [key.title for key in window.drawer.first if key.chosen] == ["Diver 2"]
    window.show_page(labels.TIMEKEEPER)
    window.keeper.choose("Standby")
    qtbot.keyClick(window, Qt.Key.Key_F5)
    assert [key.title for key in window.drawer.first if key.chosen] == ["Standby"]


def _on_oxygen(view: View) -> View:
    marks = tuple(
        EventKey(kind.value, title, "", state)
        for kind, title, state in (
            (MarkKind.ON_OXYGEN, "On oxygen", KeyState.OPEN),
            (MarkKind.OFF_OXYGEN, "Off oxygen", KeyState.OPEN),
            (MarkKind.REACHED_CHAMBER, "50 fsw in chamber", KeyState.OPEN),
        )
    )
    first = view.divers[0]
    keeping = replace(
        first.keeping,
        next_key=EventKey("on_oxygen", "On oxygen", "one press marks it", KeyState.NEXT),
        marks=marks,
    )
    return replace(view, divers=(replace(first, keeping=keeping), *view.divers[1:]))


@pytest.mark.parametrize(
    ("place", "kind"),
    [(0, MarkKind.ON_OXYGEN), (1, MarkKind.OFF_OXYGEN), (2, MarkKind.REACHED_CHAMBER)],
)
def test_oxygen_and_chamber_are_marked_with_one_press(qtbot, window, acts, place, kind):
    """The timekeeper's keys of an ascent on oxygen, or by the chamber."""
    window.show_page(labels.TIMEKEEPER)
    window.show_view(_on_oxygen(samples.calm()))
    qtbot.mouseClick(window.keeper.marks[place], Qt.MouseButton.LeftButton)
    assert acts == [SetMark("Diver 1", 1, kind)]


def test_the_next_mark_can_be_oxygen(qtbot, window, acts):
    """N confirms it."""
    window.show_page(labels.TIMEKEEPER)
    window.show_view(_on_oxygen(samples.calm()))
    qtbot.keyClick(window, Qt.Key.Key_N)
    assert acts == [SetMark("Diver 1", 1, MarkKind.ON_OXYGEN)]
