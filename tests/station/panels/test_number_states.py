"""The six states of a number: what is drawn, what is heard, and that calm has no colour."""

from dataclasses import replace

import pytest
from PySide6.QtGui import QColor, QImage

from station.core.state import Priority
from station.panels import samples
from station.panels.measures import measures_for
from station.panels.number import NumberPane
from station.panels.palette import PALETTES
from station.panels.pane import Blink, Style
from station.present.looks import Flash, MarkStyle, Mode, Number, NumberState, Sign

STYLE = Style(measures_for(1280, 800, 0.204), PALETTES[Mode.LIVE, "day"])
GOOD = Number("Depth", "deepest 58.9", "58.2", "fsw", NumberState.GOOD)


def drawn(qtbot, number: Number, style: Style = STYLE) -> QImage:
    """A picture of one number."""
    pane = NumberPane(None, None)
    qtbot.addWidget(pane)
    pane.resize(312, 121)
    pane.show_look(number, style)
    return pane.grab().toImage()


def colours(image: QImage) -> set[str]:
    """Every colour of a picture."""
    return {QColor(image.pixel(x, y)).name() for x in range(image.width()) for y in range(image.height())}


def is_grey(colour: str) -> bool:
    """Whether a colour has no hue to speak of."""
    shown = QColor(colour)
    levels = (shown.red(), shown.green(), shown.blue())
    return max(levels) - min(levels) <= 12


def test_calm_has_no_colour(qtbot):
    """A good number is grey on grey: any colour on the screen is news."""
    assert all(is_grey(colour) for colour in colours(drawn(qtbot, GOOD)))


def test_every_state_looks_different(qtbot):
    """No two states of a number give the same picture."""
    warning = Sign(Priority.WARNING)
    looks = [
        GOOD,
        replace(GOOD, caption="Depth at least", state=NumberState.AT_LEAST),
        replace(GOOD, value="58", detail="P. Rusk, 40 s old", state=NumberState.MANUAL),
        replace(GOOD, state=NumberState.SUSPECT, sign=warning),
        replace(
            GOOD, caption="Depth, 14 s old", value="", state=NumberState.STALE, sign=warning, struck="58.2"
        ),
        replace(GOOD, caption="Depth lost", value="", state=NumberState.LOST, sign=warning, struck="58.2"),
        replace(GOOD, value="", state=NumberState.NONE),
    ]
    images = [drawn(qtbot, look) for look in looks]
    assert all(one != other for place, one in enumerate(images) for other in images[:place])


@pytest.mark.parametrize("state", [NumberState.STALE, NumberState.LOST, NumberState.NONE])
def test_a_silent_number_shows_no_digits_even_when_it_is_given_some(qtbot, state: NumberState):
    """Dashes by the state, not by an empty value: 58.2 and 11.1 give the same picture."""
    assert drawn(qtbot, replace(GOOD, state=state)) == drawn(qtbot, replace(GOOD, value="11.1", state=state))


def test_the_alarms_colour_stands_at_its_number_and_the_digits_stay_ink(qtbot):
    """An EMERGENCY colours caption and staff; below the caption only the staff has colour."""
    palette = STYLE.palette
    image = drawn(qtbot, replace(GOOD, sign=Sign(Priority.EMERGENCY)))
    assert palette.red.lower() in colours(image)
    digits = image.copy(40, 34, 272, 87)
    assert all(is_grey(colour) for colour in colours(digits))


def test_only_the_mark_flashes(qtbot):
    """With the flash off the picture differs only where the mark stands."""
    blink = Blink(None)
    blink.hold()
    pane = NumberPane(None, blink)
    qtbot.addWidget(pane)
    pane.resize(312, 121)
    pane.show_look(replace(GOOD, sign=Sign(Priority.WARNING, Flash.FAST)), STYLE)
    shown = pane.grab().toImage()
    blink.turn(Flash.FAST)
    gone = pane.grab().toImage()
    differing = {(x, y) for x in range(312) for y in range(121) if shown.pixel(x, y) != gone.pixel(x, y)}
    assert differing
    assert max(x for x, _ in differing) < 34
    assert max(y for _, y in differing) < 34


def test_the_rhythms_are_two_hertz_and_a_little_over_half(qtbot):
    """2 Hz and 0.6 Hz: half periods of 250 ms and 833 ms, under three flashes a second."""
    blink = Blink(None)
    intervals = sorted(timer.interval() for timer in blink.children())
    assert intervals == [250, 833]


def test_a_number_is_repainted_only_when_its_look_changed(qtbot):
    """The same look again is no news; another digit is."""
    pane = NumberPane(None, None)
    qtbot.addWidget(pane)
    assert pane.show_look(GOOD, STYLE)
    assert not pane.show_look(replace(GOOD), STYLE)
    assert pane.show_look(replace(GOOD, value="58.3"), STYLE)


def test_a_reader_of_the_screen_hears_the_number(qtbot):
    """Caption, value and unit are the accessible name; a silent one says that it is not known."""
    pane = NumberPane(None, None)
    qtbot.addWidget(pane)
    pane.show_look(GOOD, STYLE)
    assert pane.accessibleName().startswith("Depth 58.2 fsw")
    pane.show_look(replace(GOOD, value="", state=NumberState.LOST), STYLE)
    assert "not known" in pane.accessibleName()


def test_the_lines_mark_follows_the_trust(open_window):
    """Solid, hollow, hatched and gone marks give four pictures of the sounding line."""
    images = []
    for style in MarkStyle:
        window = open_window()
        window.blink.hold()
        view = samples.calm()
        first = replace(view.divers[0], line=replace(view.divers[0].line, style=style))
        window.show_view(replace(view, divers=(first, *view.divers[1:])))
        images.append(window.divers[0].line.grab().toImage())
    assert all(one != other for place, one in enumerate(images) for other in images[:place])
