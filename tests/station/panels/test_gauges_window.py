"""The window of gauges: trust, age, faults, calibration of each; lines; the log."""

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt

from station.panels import samples, samples_gauges
from station.panels.window import Window
from station.present.labels import GAUGES
from station.present.unheard import unheard


@pytest.fixture
def window(open_window) -> Window:
    """A window on the page of gauges, in trouble."""
    opened = open_window()
    opened.show_view(samples_gauges.gauges_troubled("night"))
    opened.show_page(GAUGES)
    opened.activateWindow()
    return opened


def test_the_trouble_is_named(window):
    """Which gauges, above them all; each with its trust."""
    assert "in trouble: pneumo-2, supply-2" in window.gauges.name.look
    told = window.gauges.table.accessibleName()
    assert "pneumo-2 Depth, Diver 2: ---, stale" in told
    assert "supply-2 Supply, Diver 2: 132 psi, frozen" in told


def test_lines_and_log_are_told(window):
    """A closed line with what the system said; a log that lags."""
    assert "closed gone since 08:25:26" in window.gauges.lines.accessibleName()
    assert "Log behind: 12 s" in window.gauges.health.accessibleName()


def test_more_gauges_than_rows_are_a_key_away(qtbot, window):
    """M turns the page, round and round; every gauge is on one of them."""
    view = samples_gauges.gauges_well()
    many = tuple(replace(samples_gauges.GAUGES[0], name=f"gauge-{number}") for number in range(20))
    window.show_view(replace(view, gauges=replace(view.gauges, gauges=many)))
    assert window.gauges.more.isVisible()
    seen: set[str] = set()
    for _ in range(4):
        seen |= {gauge.name for gauge in window.gauges.table.look.gauges}
        qtbot.keyClick(window, Qt.Key.Key_M)
    assert seen == {gauge.name for gauge in many}


def test_the_usual_gauges_fit_on_one_page(window):
    """Eight of them at the small size."""
    window.show_view(samples_gauges.gauges_well())
    assert len(window.gauges.table.look.gauges) == 8
    assert not window.gauges.more.isVisible()


def test_without_a_view_no_gauge_shows_a_value(window):
    """Dashes, and not known; when it was calibrated stays."""
    window.show_view(unheard(samples_gauges.gauges_well(), 4))
    for gauge in window.gauges.table.look.gauges:
        assert (gauge.value, gauge.raw, gauge.age, gauge.trust) == ("---", "---", "---", "not known")
        assert gauge.proved


def test_a_view_of_an_older_station_shows_an_empty_page(window):
    """No gauges in the view: the page stands, and nothing is made up."""
    window.show_view(samples.calm())
    assert window.gauges.table.look.gauges == ()
