"""A number is never older than it looks: without views the windows withdraw every number by themselves."""

from station.panels import samples
from station.panels.window import UNHEARD_AFTER_MS


def test_without_a_view_the_numbers_are_withdrawn_and_come_back(qtbot, open_window):
    """After a second dashes and "station not heard for 1 s"; the next view brings the numbers back."""
    window = open_window(minds_silence=True)
    window.show_view(samples.calm())
    numbers = window.divers[0].numbers
    assert numbers[0].look.value == "58.2"
    qtbot.waitUntil(lambda: window.silent_s == 1, timeout=5 * UNHEARD_AFTER_MS)
    assert [number.look.value for number in numbers] == ["", "", ""]
    assert window.top.look.clock == "--:--:--"
    assert "Station not heard for 1 s." in window.alarms.rows[0].accessibleName()
    window.show_view(samples.calm())
    assert numbers[0].look.value == "58.2"
    assert window.silent_s == 0


def test_before_the_first_view_the_window_says_that_it_waits(open_window):
    """Nothing that could be taken for a number, and the caution; the first view takes its place."""
    window = open_window()
    window.blink.hold()
    waiting = window.grab().toImage()
    # One ground over everything but the two lines in the middle: nothing else is drawn yet.
    above = waiting.copy(0, 0, 1280, 350)
    assert {above.pixel(x, y) for x in range(0, 1280, 7) for y in range(0, 350, 7)} == {waiting.pixel(0, 0)}
    window.show_view(samples.calm())
    assert window.grab().toImage() != waiting
    assert all(pane.isVisible() for pane in window.divers)


def test_a_trace_alone_does_not_bring_numbers_back(open_window):
    """Increments of a trace are no view."""
    window = open_window()
    window.show_view(samples.calm())
    window.count_silence()
    window.show_traces()
    assert window.divers[0].numbers[0].look.value == ""
