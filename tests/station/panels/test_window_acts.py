"""What the operator does at the windows, by key and by touch: each press one act, none by accident."""

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QAbstractButton

from shared.clock import Instant
from station.core.inputs import (
    Acknowledge,
    AmendMark,
    ChooseGround,
    HoseBlown,
    LinePull,
    MarkKind,
    SetMark,
    UndoMark,
)
from station.panels import samples
from station.panels.window import Window
from station.present.labels import TIMEKEEPER, UNDO_REASONS, WATCH
from station.present.looks import EventKey, KeyState, View


@pytest.fixture
def acts() -> list[tuple[object, int]]:
    """What was submitted, with the number of the state that was on the screen."""
    return []


@pytest.fixture
def window(open_window, acts) -> Window:
    """A window on the emergency view, its acts collected."""
    opened = open_window()
    opened.acted.connect(lambda act, seen_seq: acts.append((act, seen_seq)))
    opened.show_view(samples.emergency("day"))
    opened.activateWindow()
    return opened


def keeper(window: Window, view: View | None = None) -> None:
    """Go to the timekeeper's window."""
    window.show_page(TIMEKEEPER)
    window.show_view(view or samples.calm())


def with_next(view: View, key: EventKey) -> View:
    """The view with another next mark for the first diver."""
    first = view.divers[0]
    keeping = replace(first.keeping, next_key=key)
    return replace(view, seq=view.seq + 1, divers=(replace(first, keeping=keeping), *view.divers[1:]))


def test_a_press_anywhere_in_an_alarms_row_acknowledges_it(qtbot, window, acts):
    """Far from the word Acknowledge: the row is the key."""
    row = window.alarms.rows[1]
    qtbot.mouseClick(row, Qt.MouseButton.LeftButton, pos=row.rect().center())
    assert acts == [(Acknowledge("depth-not-heard", "Diver 2"), window.view.seq)]


def test_a_key_acknowledges_the_gravest_alarm(qtbot, window, acts):
    """F8 names the first row that waits to be seen."""
    qtbot.keyClick(window, Qt.Key.Key_F8)
    assert acts == [(Acknowledge("supply-below-minimum", "Diver 1"), window.view.seq)]


def test_an_acknowledged_alarm_takes_no_second_acknowledgement(qtbot, window, acts):
    """Its row is shut, and the key goes to the next one."""
    view = window.view
    first = replace(view.alarms.lines[0], to_acknowledge=False)
    window.show_view(replace(view, alarms=replace(view.alarms, lines=(first, *view.alarms.lines[1:]))))
    row = window.alarms.rows[0]
    qtbot.mouseClick(row, Qt.MouseButton.LeftButton, pos=row.rect().center())
    assert acts == []
    qtbot.keyClick(window, Qt.Key.Key_F8)
    assert acts == [(Acknowledge("depth-not-heard", "Diver 2"), view.seq)]


def test_function_keys_change_the_window_and_the_ground(qtbot, window, acts):
    """F1 and F2 change the window, F9 to F11 the ground, at once and as an act that is logged."""
    qtbot.keyClick(window, Qt.Key.Key_F2)
    assert window.page == TIMEKEEPER
    qtbot.keyClick(window, Qt.Key.Key_F1)
    assert window.page == WATCH
    qtbot.keyClick(window, Qt.Key.Key_F11)
    assert window.ground == "night"
    assert acts == [(ChooseGround("night"), window.view.seq)]


def test_the_ground_of_a_later_view_is_taken_when_the_station_changed_it(window):
    """A ground chosen here stays until the station's own changes."""
    window.choose_ground("night")
    window.show_view(replace(window.view, seq=99))
    assert window.ground == "night"
    window.show_view(replace(window.view, ground="dusk"))
    assert window.ground == "dusk"


def test_one_press_marks_once(qtbot, window, acts):
    """The next mark goes out with the press, carries the state that was seen, and takes no second press."""
    keeper(window)
    key = window.keeper.next_key
    qtbot.mousePress(key, Qt.MouseButton.LeftButton)
    qtbot.mouseRelease(key, Qt.MouseButton.LeftButton)
    qtbot.mouseClick(key, Qt.MouseButton.LeftButton)
    qtbot.keyClick(window, Qt.Key.Key_N)
    assert acts == [(SetMark("Diver 1", 1, MarkKind.LEFT_STOP, 20.0), window.view.seq)]


def test_a_pressed_key_says_marking_until_the_mark_is_in_the_log(qtbot, window):
    """At once by itself, then as the view says: marking until committed, and only then another mark."""
    keeper(window)
    key = window.keeper.next_key
    qtbot.mouseClick(key, Qt.MouseButton.LeftButton)
    assert key.detail() == "marking"
    window.show_view(replace(window.view, seq=window.view.seq + 1))
    assert key.detail() == "marking"
    next_key = samples.calm().divers[0].keeping.next_key
    window.show_view(with_next(window.view, replace(next_key, state=KeyState.MARKING)))
    assert key.detail() == "marking"
    assert not key.isEnabled()


def test_a_bounced_press_does_not_make_the_following_mark(qtbot, window, acts):
    """The view already offers the following mark; a press that bounces on it is not taken."""
    keeper(window)
    key = window.keeper.next_key
    qtbot.mouseClick(key, Qt.MouseButton.LeftButton)
    window.show_view(
        with_next(window.view, EventKey("reached_surface", "Reached surface", "one press", KeyState.NEXT))
    )
    qtbot.mouseClick(key, Qt.MouseButton.LeftButton)
    assert len(acts) == 1
    qtbot.waitUntil(key.isEnabled)
    qtbot.mouseClick(key, Qt.MouseButton.LeftButton)
    assert acts[1][0] == SetMark("Diver 1", 1, MarkKind.REACHED_SURFACE)


def test_a_held_key_marks_once(qtbot, window, acts):
    """The keyboard's repeats are not presses."""
    keeper(window)
    key = window.keeper.others[0]
    key.setFocus()
    qtbot.keyPress(key, Qt.Key.Key_Return)
    qtbot.keyPress(key, Qt.Key.Key_Return)
    assert acts == [(HoseBlown("Diver 1"), window.view.seq)]


@pytest.mark.parametrize(("place", "back_s"), [(0, 15), (1, 30), (2, 60)])
def test_the_next_mark_can_be_set_back_with_one_press(qtbot, window, acts, place, back_s):
    """15, 30 or 60 seconds ago."""
    keeper(window)
    qtbot.mouseClick(window.keeper.late[place], Qt.MouseButton.LeftButton)
    assert acts == [(SetMark("Diver 1", 1, MarkKind.LEFT_STOP, 20.0, back_s), window.view.seq)]


def test_another_divers_keys_are_a_press_away(qtbot, window, acts):
    """Key 2 chooses Diver 2; what is then marked is his."""
    keeper(window)
    qtbot.keyClick(window, Qt.Key.Key_2)
    qtbot.keyClick(window, Qt.Key.Key_A)
    assert acts == [(HoseBlown("Diver 2"), window.view.seq)]


def test_undo_asks_for_a_reason(qtbot, window, acts):
    """No reason, no undo; a canned one is a press."""
    keeper(window)
    qtbot.keyClick(window, Qt.Key.Key_U)
    assert window.keeper.drawer.isVisible()
    assert acts == []
    qtbot.mouseClick(window.keeper.drawer.answers[0], Qt.MouseButton.LeftButton)
    assert acts == [(UndoMark("Diver 1", 14, UNDO_REASONS[0]), window.view.seq)]
    assert not window.keeper.drawer.isVisible()


def test_undo_takes_own_words_and_its_letters_are_no_keys(qtbot, window, acts):
    """Words with N and A in them are words, not marks; blanks alone are no reason."""
    keeper(window)
    window.keeper.ask_undo()
    drawer = window.keeper.drawer
    assert not drawer.use.isEnabled()
    drawer.words.setFocus()
    qtbot.keyClicks(drawer.words, "   ")
    qtbot.keyClick(drawer.words, Qt.Key.Key_Return)
    assert acts == []
    qtbot.keyClicks(drawer.words, "an unsteady ladder")
    qtbot.keyClick(drawer.words, Qt.Key.Key_Return)
    assert acts == [(UndoMark("Diver 1", 14, "an unsteady ladder"), window.view.seq)]


def test_undo_can_be_cancelled(qtbot, window, acts):
    """By the key and by Escape: nothing changes."""
    keeper(window)
    for leave in (
        lambda d: qtbot.mouseClick(d.cancel, Qt.MouseButton.LeftButton),
        lambda d: qtbot.keyClick(d, Qt.Key.Key_Escape),
    ):
        window.keeper.ask_undo()
        leave(window.keeper.drawer)
        assert not window.keeper.drawer.isVisible()
    assert acts == []


def test_the_undo_stays_with_the_mark_that_it_was_asked_for(qtbot, window, acts):
    """A mark that comes meanwhile is not undone instead; another diver chosen drops the question."""
    keeper(window)
    window.keeper.ask_undo()
    first = window.view.divers[0]
    last = replace(first.keeping.last, number=15)
    later = replace(first, keeping=replace(first.keeping, last=last))
    window.show_view(replace(window.view, divers=(later, *window.view.divers[1:])))
    qtbot.mouseClick(window.keeper.drawer.answers[1], Qt.MouseButton.LeftButton)
    assert acts[0][0] == UndoMark("Diver 1", 14, UNDO_REASONS[1])
    window.keeper.ask_undo()
    window.keeper.choose("Diver 2")
    assert not window.keeper.drawer.isVisible()


def test_the_time_of_a_mark_is_set_with_a_choice_and_a_reason(qtbot, window, acts):
    """A reason alone sets nothing: the moment comes first."""
    keeper(window)
    window.keeper.ask_time()
    drawer = window.keeper.drawer
    qtbot.mouseClick(drawer.answers[0], Qt.MouseButton.LeftButton)
    assert acts == []
    qtbot.mouseClick(drawer.first[2], Qt.MouseButton.LeftButton)
    qtbot.mouseClick(drawer.answers[0], Qt.MouseButton.LeftButton)
    assert acts == [(AmendMark("Diver 1", 14, Instant(7705_000_000_000), "Pressed late"), window.view.seq)]


def test_a_line_pull_is_asked_for(qtbot, window, acts):
    """From whom, then how many."""
    keeper(window)
    qtbot.mouseClick(window.keeper.others[2], Qt.MouseButton.LeftButton)
    drawer = window.keeper.drawer
    qtbot.mouseClick(drawer.first[0], Qt.MouseButton.LeftButton)
    qtbot.mouseClick(drawer.answers[4], Qt.MouseButton.LeftButton)
    assert acts == [(LinePull("Diver 1", "2-1", True), window.view.seq)]


def test_a_stop_without_a_schedule_is_asked_for(qtbot, window, acts):
    """Which stop was reached is a press; the mark carries its depth."""
    view = samples.calm()
    first = view.divers[0]
    marks = (*first.keeping.marks[:3], EventKey("reached_stop", "Reached stop", "", KeyState.OPEN))
    first = replace(first, keeping=replace(first.keeping, marks=marks))
    keeper(window, replace(view, divers=(first, *view.divers[1:])))
    qtbot.mouseClick(window.keeper.marks[3], Qt.MouseButton.LeftButton)
    qtbot.mouseClick(window.keeper.drawer.answers[1], Qt.MouseButton.LeftButton)
    assert acts == [(SetMark("Diver 1", 1, MarkKind.REACHED_STOP, 20.0), window.view.seq)]


def test_a_shut_key_marks_nothing(qtbot, window, acts):
    """What has no place in this phase, and what is already marked, cannot be pressed."""
    keeper(window)
    for place in (0, 5):
        qtbot.mouseClick(window.keeper.marks[place], Qt.MouseButton.LeftButton)
    assert acts == []


def test_a_replay_takes_no_acts(qtbot, window, acts):
    """Every key of a replay that would change the watch is shut; its ground is changed here only."""
    keeper(window, samples.replay())
    for key in (window.keeper.next_key, window.keeper.undo, *window.keeper.others, *window.keeper.late):
        assert not key.isEnabled()
    qtbot.keyClick(window, Qt.Key.Key_N)
    qtbot.keyClick(window, Qt.Key.Key_F10)
    assert window.ground == "dusk"
    assert acts == []


def test_the_transport_bar_commands_the_replay(qtbot, window):
    """Play, speeds, alarms and places go out as commands, by touch and by key."""
    told: list[tuple[str, float]] = []
    window.replayed.connect(lambda command, value: told.append((command, value)))
    window.show_view(samples.replay())
    bar = window.transport
    qtbot.keyClick(window, Qt.Key.Key_P)
    qtbot.mouseClick(bar.speeds[4], Qt.MouseButton.LeftButton)
    qtbot.mouseClick(bar.before, Qt.MouseButton.LeftButton)
    qtbot.mouseClick(bar.after, Qt.MouseButton.LeftButton)
    qtbot.mouseClick(bar.scrub, Qt.MouseButton.LeftButton, pos=bar.scrub.rect().center())
    assert told[:4] == [("pause", 0.0), ("speed", 300.0), ("alarm_before", 0.0), ("alarm_after", 0.0)]
    assert told[4][0] == "seek"
    assert told[4][1] == pytest.approx(0.5, abs=0.02)


def test_a_live_watch_is_not_closed_by_a_slip(qtbot, window):
    """Closing asks first, in a drawer that leaves depth, time and air in sight; going on is the default."""
    ended: list[bool] = []
    window.ended.connect(lambda: ended.append(True))
    window.close()
    assert window.isVisible()
    drawer = window.drawer
    assert drawer.isVisible()
    assert drawer.cancel.hasFocus()
    pane = window.divers[0]
    assert drawer.y() >= pane.y() + pane.numbers[2].geometry().bottom()
    qtbot.mouseClick(drawer.cancel, Qt.MouseButton.LeftButton)
    assert window.isVisible()
    window.close()
    qtbot.mouseClick(drawer.answers[0], Qt.MouseButton.LeftButton)
    assert ended == [True]
    assert not window.isVisible()


def test_a_replay_closes_at_once(window):
    """There is no watch to end."""
    window.show_view(samples.replay())
    window.close()
    assert not window.isVisible()


@pytest.mark.parametrize("page", [WATCH, TIMEKEEPER])
@pytest.mark.parametrize("view", [samples.emergency(), samples.replay()], ids=["live", "replay"])
def test_every_control_has_a_name_and_can_be_reached(window, page, view):
    """Each button has an accessible name, takes the focus, and is large enough to be hit."""
    window.show_page(page)
    window.show_view(view)
    shown = [button for button in window.findChildren(QAbstractButton) if button.isVisible()]
    assert shown
    for button in shown:
        assert button.accessibleName()
        assert button.focusPolicy() == Qt.FocusPolicy.StrongFocus
        assert button.height() >= 27


def test_nothing_moves_when_an_alarm_comes(window):
    """The strip is kept empty when calm: every part stands where it stood."""
    window.show_view(samples.calm())
    before = [pane.geometry() for pane in (*window.divers, window.air, window.footer, window.alarms)]
    window.show_view(samples.emergency("day"))
    assert before == [pane.geometry() for pane in (*window.divers, window.air, window.footer, window.alarms)]
