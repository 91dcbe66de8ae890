"""PySide6 6.12.0 on Python before 3.12 drops references until the interpreter aborts (PYSIDE-3474)."""

import sys

import pytest
from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QPushButton

pytestmark = pytest.mark.skipif(
    sys.version_info >= (3, 12), reason="True and None are immortal from Python 3.12 on: nothing to count"
)

CALLS = 200
SLACK = 50
"""Other threads and caches move a count a little; a leak would move it by the number of calls."""


class Emitter(QObject):
    """Something that emits."""

    went = Signal(bool)


def test_an_emit_keeps_the_references_of_true(qtbot):
    """200 emits do not lower the count of references to True: 6.12.0 lost one each, and then aborted."""
    emitter = Emitter()
    before = sys.getrefcount(True)
    for _ in range(CALLS):
        emitter.went.emit(True)
    assert sys.getrefcount(True) > before - SLACK


def test_a_call_that_returns_nothing_keeps_the_references_of_none(qtbot):
    """200 `setEnabled` calls do not lower the count of references to None."""
    button = QPushButton()
    qtbot.addWidget(button)
    before = sys.getrefcount(None)
    for turn in range(CALLS):
        button.setEnabled(bool(turn % 2))
    assert sys.getrefcount(None) > before - SLACK
