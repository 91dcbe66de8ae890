"""Figures that can be asked "where from?": which of a diver's origins a press on a part means."""

from enum import StrEnum

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QWidget

from station.present.ascent_looks import Origin


class Figure(StrEnum):
    """What was pressed."""

    DEPTH = "depth"
    CLOCK = "clock"
    AIR = "air"
    SCHEDULE = "schedule"
    CHANGE = "change"


_FIRST_OF: dict[Figure, tuple[str, ...]] = {
    Figure.DEPTH: ("Depth at least", "Maximum depth"),
    Figure.CLOCK: ("Stop time left", "Surface interval", "Travel to the first stop", "Bottom time"),
    Figure.AIR: ("Air margin", "Minimum supply"),
    Figure.SCHEDULE: ("Next row", "Schedule"),
    Figure.CHANGE: ("Change of plan", "Schedule"),
}
"""The names of the origins behind each figure, the nearest first."""


def first_of(figure: Figure, origins: tuple[Origin, ...]) -> int:
    """Which of a diver's origins stands first for a figure: its own, else the first there is."""
    for name in _FIRST_OF[figure]:
        for place, origin in enumerate(origins):
            if origin.figure == name:
                return place
    return 0


class FigureKey(QObject):
    """Lets a drawn part be pressed; the part itself stays as it is."""

    asked = Signal(str)
    """Which figure."""

    def __init__(self, pane: QWidget, figure: Figure) -> None:
        super().__init__(pane)
        self._figure = figure
        pane.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802 - Qt's name
        """A press with finger or left button asks."""
        if isinstance(event, QMouseEvent) and event.type() == QEvent.Type.MouseButtonPress:
            if event.button() == Qt.MouseButton.LeftButton:
                self.asked.emit(self._figure.value)
            return True
        return super().eventFilter(watched, event)
