"""The ascent window: the stop, what follows, every change with its rule; cards cover no number."""

from dataclasses import replace
from itertools import combinations

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QAbstractButton, QWidget

from station.panels import samples, samples_ascent
from station.panels.ascent_layout import AscentLayout, ascent_layout, gauges_layout
from station.panels.layout import Box, window_layout
from station.panels.measures import measures_for
from station.panels.palette import GROUNDS
from station.panels.shots import SHOTS
from station.panels.type import width_of
from station.panels.window import Window
from station.present.ascent_looks import RowState
from station.present.labels import ASCENT, GAUGES, TIMEKEEPER, WATCH
from station.present.unheard import unheard

SCREENS = [(1920, 1080, 0.277), (1280, 800, 0.204), (3840, 2160, 0.16), (1920, 1200, 0.27)]
SIZES = [(1280, 800), (1920, 1080)]


@pytest.fixture(params=SIZES, ids=["1280", "1920"])
def window(request, open_window) -> Window:
    """A window on the ascent page at both sizes."""
    opened = open_window(*request.param)
    opened.show_view(samples_ascent.at_stop("dusk"))
    opened.show_page(ASCENT)
    opened.activateWindow()
    return opened


def boxes_of(layout: AscentLayout) -> dict[str, Box]:
    """The boxes that are drawn at one time."""
    names = (
        "name", "line", "depth", "air", "divers", "phase", "clock", "guide", "sentence", "facts", "legs",
        "right", "trace", "keys",
    )  # fmt: skip
    return {name: getattr(layout, name) for name in names}


def over(widget: QWidget, window: Window) -> Box:
    """Where a widget stands in the window."""
    corner = widget.mapTo(window, QPoint(0, 0))
    return Box(corner.x(), corner.y(), widget.width(), widget.height())


@pytest.mark.parametrize("screen", SCREENS)
@pytest.mark.parametrize("divers", [1, 2, 3])
@pytest.mark.parametrize("replayed", [False, True])
def test_nothing_of_the_ascent_overlaps(screen, divers, replayed):
    """Every part stands apart, within the body; the drawer leaves depth, air and clock free."""
    measures = measures_for(*screen)
    body = window_layout(measures, low_alarms=False, replay=replayed).body
    layout = ascent_layout(measures, body, divers)
    boxes = boxes_of(layout)
    for (one, first), (other, second) in combinations(boxes.items(), 2):
        assert not first.overlaps(second), (one, other)
    for name, box in boxes.items():
        assert box.w > 0, name
        assert box.h > 0, name
        assert box.bottom <= body.bottom, name
    for kept in (layout.depth, layout.air, layout.clock):
        assert not layout.drawer.overlaps(kept)


@pytest.mark.parametrize("screen", SCREENS)
def test_nothing_of_the_gauges_overlaps(screen):
    """Table above, lines and health below, the key to turn the page over none of them."""
    measures = measures_for(*screen)
    body = window_layout(measures, low_alarms=True, replay=False).body
    layout = gauges_layout(measures, body, 4, 6)
    parts = (layout.name, layout.gauges, layout.lines, layout.health)
    assert not any(one.overlaps(other) for one, other in combinations(parts, 2))
    assert layout.health.bottom <= body.bottom


def test_the_stop_and_what_follows_are_said(window):
    """Clock with its unit and length, next, total left, time of surfacing, gas; no alarm, no colour word."""
    page = window.ascent
    assert (page.clock.look.value, page.clock.look.unit) == ("12:40", "min")
    assert page.clock.look.caption == "Stop time left"
    assert page.phase.look == ("Stop at 20 fsw", "", "on air")
    assert "Total left 13:20" in page.facts.accessibleName()
    assert "Surface at 08:39:00" in page.facts.accessibleName()
    assert page.sentence.look.head == "Leave 20 fsw at 08:38:20"


def test_depth_and_air_stand_on_the_ascent_page(window):
    """The diver who is shown has his depth and his air beside the clock."""
    assert window.ascent.depth_number.look.value == "20.2"
    assert window.ascent.air_number.look.value == "+33"


def test_a_change_is_heard_with_its_rule(window):
    """The rule's name and sentence are in the accessible name; so are the cards and whom to call."""
    assert "Rule A4: 3:12 late at the first stop" in window.ascent.changes.accessibleName()
    window.show_view(samples_ascent.omitted("night"))
    told = window.ascent.changes.accessibleName()
    assert "Call the diving medical officer" in told
    assert "Only without symptoms; with any symptom: treat." in told


def test_cards_cover_neither_depth_nor_time_nor_air(window):
    """They stand in a column of their own."""
    window.show_view(samples_ascent.omitted("night"))
    page = window.ascent
    cards = over(page.changes, window)
    for kept in (page.depth_number, page.clock, page.air_number, page.sentence):
        assert kept.isVisible()
        assert not cards.overlaps(over(kept, window))


def test_the_leg_of_now_is_always_shown(window):
    """With more legs than rows the present one and what follows have rows; how many are left out is said."""
    view = samples_ascent.on_oxygen("night")
    rows = view.divers[1].ascent.rows * 3
    first = replace(view.divers[1].ascent, rows=rows)
    second = replace(view.divers[1], ascent=first)
    window.show_view(replace(view, divers=(view.divers[0], second, view.divers[2])))
    legs = window.ascent.legs
    start, end = legs.shown(legs.look, window._style)
    here = next(at for at, row in enumerate(rows) if row.state is RowState.HERE)
    assert start <= here < end
    assert end - start < len(rows)


def test_the_guide_is_the_stop_or_the_rate(window):
    """At a stop what is served of it; on the way up the rate against what is right."""
    assert window.ascent.guide.accessibleName() == "26 percent of the stop is served"
    window.show_view(samples_ascent.coming_up("day"))
    assert window.ascent.guide.accessibleName() == "Up 28 fsw a minute, right: 20 to 40"


def test_the_diver_who_comes_up_is_shown_and_others_are_a_key_away(qtbot, window):
    """Diver 2 without a press; key 1 shows Diver 1, and says that he is not coming up."""
    assert window.ascent.name.look[0] == "Diver 2"
    qtbot.keyClick(window, Qt.Key.Key_1)
    assert window.ascent.name.look[0] == "Diver 1"
    assert window.ascent.nothing.isVisible()
    assert window.ascent.nothing.look[0] == "Diver 1 is not coming up"


def test_without_a_view_nothing_of_the_ascent_runs_on(window):
    """Clock, rate and foreseen times are withdrawn; the plan stays to be read."""
    window.show_view(unheard(samples_ascent.coming_up("day"), 4))
    page = window.ascent
    assert page.clock.look.value == ""
    assert page.guide.look.rate is None
    assert "Total left ---" in page.facts.accessibleName()
    assert page.legs.look


def test_function_keys_open_every_page(qtbot, window):
    """F1 to F4, on any of them."""
    pages = (
        (Qt.Key.Key_F1, WATCH),
        (Qt.Key.Key_F2, TIMEKEEPER),
        (Qt.Key.Key_F3, ASCENT),
        (Qt.Key.Key_F4, GAUGES),
    )
    for key, page in pages:
        qtbot.keyClick(window, key)
        assert window.page == page


@pytest.mark.parametrize("replayed", [False, True])
def test_every_key_of_the_footer_stands_in_the_window(open_window, replayed):
    """Four pages and three grounds, whole, at the small size; a replay has one page more."""
    window = open_window(1280, 800)
    window.show_view(samples.replay() if replayed else samples.calm())
    footer = window.footer
    keys = (*footer.windows.values(), *footer.replay_windows.values(), *footer.grounds.values())
    keys = tuple(key for key in keys if key.isVisible())
    assert len(keys) == (8 if replayed else 7)
    for key in keys:
        box = over(key, window)
        assert 0 <= box.x < box.right <= 1280
        assert box.right <= over(footer, window).right
    boxes = [over(key, window) for key in keys]
    assert not any(one.overlaps(other) for one, other in combinations(boxes, 2))


@pytest.mark.parametrize("shot", SHOTS, ids=[shot.name for shot in SHOTS])
def test_no_drawer_covers_depth_time_or_air_and_every_control_has_a_name(open_window, shot):
    """Every picture that is drawn, at the small size: what is asked stands beside the figures."""
    window = open_window(1280, 800)
    window.show_view(shot.view)
    window.show_page(shot.page)
    if shot.ask is not None:
        shot.ask(window)
    kept: list[QWidget] = []
    if window.page == WATCH:
        kept = [number for pane in window.divers for number in pane.numbers]
        kept += [bank for bank in window.air.banks if bank.isVisible()]
    elif window.page == TIMEKEEPER:
        kept = [window.keeper.clock]
    elif window.page == ASCENT:
        kept = [window.ascent.depth_number, window.ascent.air_number, window.ascent.clock]
    drawers = [drawer for drawer in (window.drawer, window.where_from) if drawer.isVisible()]
    assert len(drawers) == (shot.ask is not None)
    for drawer in drawers:
        for number in kept:
            if number.isVisible():
                assert not over(drawer, window).overlaps(over(number, window))
    for button in window.findChildren(QAbstractButton):
        if button.isVisible():
            assert button.accessibleName()
            assert button.focusPolicy() == Qt.FocusPolicy.StrongFocus
            assert button.height() >= 27


def test_every_page_is_pictured_on_every_ground():
    """Ascent and gauges in calm and in trouble, day, dusk and night; a replay and a rehearsal too."""
    for stem in ("ascent-stop", "ascent-omitted", "gauges", "gauges-troubled"):
        assert {shot.view.ground for shot in SHOTS if shot.name.rpartition("-")[0] == stem} == set(GROUNDS)
    modes = {shot.view.mode for shot in SHOTS if shot.page == ASCENT}
    assert len(modes) == 3


def test_a_numeral_of_three_figures_is_not_cut(open_window):
    """On a scale past 100 the numerals take their room from the column; none begins left of the pane."""
    window = open_window(1280, 800)
    view = samples.calm()
    window.show_view(replace(view, scale=replace(view.scale, end=138.0, numeral_step=20.0)))
    pane = window.divers[0].line
    frame = pane._frame(pane.look, window._style)
    assert frame.numerals >= 0
    assert width_of("120", window._style.type("axis")) <= frame.numerals
    assert frame.numerals < frame.ticks < frame.left < frame.right
