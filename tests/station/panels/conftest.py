"""The windows are tested without a screen, with the bundled fonts."""

import os

os.environ["QT_QPA_PLATFORM"] = "offscreen"

import pytest
from PySide6.QtWidgets import QApplication

from station.panels import samples
from station.panels.type import load_fonts
from station.panels.window import Window

_FONTS_LOADED = []


@pytest.fixture(autouse=True)
def _fonts(qapp: QApplication):
    """The bundled family, loaded once for the process."""
    if not _FONTS_LOADED:
        load_fonts()
        _FONTS_LOADED.append(True)
    return qapp


@pytest.fixture
def open_window(qtbot):
    """Opens a window of a size in pixels; only one that minds silence withdraws numbers on a slow machine."""

    def opened(width: int = 1280, height: int = 800, *, minds_silence: bool = False) -> Window:
        window = Window(0.204, samples.traces())
        window.minds_silence = minds_silence
        qtbot.addWidget(window, before_close_func=lambda closing: setattr(closing, "_may_close", True))
        window.resize(width, height)
        window.show()
        qtbot.waitExposed(window)
        return window

    return opened
