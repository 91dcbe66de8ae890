"""What can be pressed: key tone and a frame, a name for the screen reader, a key on the keyboard."""

from PySide6.QtCore import QRectF, Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent, QKeySequence, QPainter, QPaintEvent, QPen, QShortcut
from PySide6.QtWidgets import QAbstractButton, QWidget

from station.panels.brush import begin, fill
from station.panels.pane import Style


class Key(QAbstractButton):
    """A button that draws itself; pressed by touch, Space, Return or its own key, once a press.

    `went` is sent when the finger comes down, because that is the moment that is meant.
    """

    went = Signal()

    def __init__(self, parent: QWidget, name: str, shortcut: str = "") -> None:
        super().__init__(parent)
        self.style_: Style | None = None
        self.letter = shortcut
        self.setAccessibleName(name)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.pressed.connect(self.went)
        if shortcut:
            key = QShortcut(QKeySequence(shortcut), self)
            key.setAutoRepeat(False)
            key.activated.connect(self._by_key)

    def _by_key(self) -> None:
        if self.isEnabled() and self.isVisible():
            self.went.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Return and Space press the key that has the focus; a held key does so once."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space):
            if not event.isAutoRepeat():
                self._by_key()
            return
        super().keyPressEvent(event)

    def keyReleaseEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Space acts when it goes down, so its coming up does nothing."""
        if event.key() != Qt.Key.Key_Space:
            super().keyReleaseEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw the key, then the focus."""
        del event
        if self.style_ is None:
            return
        painter = QPainter(self)
        begin(painter)
        fill(painter, QRectF(0, 0, self.width(), self.height()), self.style_.palette.ground)
        self.draw(painter, self.style_)
        if self.hasFocus():
            self._draw_focus(painter, self.style_)
        painter.end()

    def draw(self, painter: QPainter, style: Style) -> None:
        """Draw the key."""
        raise NotImplementedError

    def _draw_focus(self, painter: QPainter, style: Style) -> None:
        pen = QPen(QColor(self.focus_colour(style)), 1.5)
        pen.setDashPattern([3, 3])
        painter.setPen(pen)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(QRectF(4.5, 4.5, self.width() - 9, self.height() - 9))

    def focus_colour(self, style: Style) -> str:
        """The colour of the focus on this key."""
        return style.palette.ink


def framed(painter: QPainter, area: QRectF, fill_colour: str | None, edge: str, width: float) -> None:
    """A frame of a width inside an area, filled when a colour is given."""
    inner = area.adjusted(width / 2, width / 2, -width / 2, -width / 2)
    if fill_colour is not None:
        fill(painter, area, fill_colour)
    painter.setPen(QPen(QColor(edge), width))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRect(inner)
