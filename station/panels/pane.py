"""What every drawn part of a window has: its look, its style, and a repaint only when one of them changed."""

from dataclasses import dataclass
from typing import Generic, TypeVar

from PySide6.QtCore import QObject, QRect, Qt, QTimer, Signal
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from station.panels.brush import begin, fill, rect
from station.panels.layout import Box
from station.panels.measures import Measures
from station.panels.palette import Palette
from station.present.looks import Flash, Sign

LookT = TypeVar("LookT")

_FAST_MS = 250
_SLOW_MS = 833
"""Half periods of 2 Hz and 0.6 Hz."""


@dataclass(frozen=True, slots=True)
class Style:
    """Sizes and colours of a window."""

    measures: Measures
    palette: Palette

    def px(self, drawn: float) -> int:
        """Whole pixels of a drawn size."""
        return self.measures.px(drawn)

    def type(self, role: str) -> int:
        """Size of type in pixels."""
        return self.measures.type_px(role)


class Blink(QObject):
    """The two rhythms in which marks flash, the same for every part of a window."""

    changed = Signal()

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self._on = {Flash.FAST: True, Flash.SLOW: True, Flash.STEADY: True}
        for flash, half_ms in ((Flash.FAST, _FAST_MS), (Flash.SLOW, _SLOW_MS)):
            timer = QTimer(self)
            timer.setInterval(half_ms)
            timer.timeout.connect(lambda flash=flash: self.turn(flash))
            timer.start()

    def turn(self, flash: Flash) -> None:
        """Show the marks of a rhythm, or hide them."""
        self._on[flash] = not self._on[flash]
        self.changed.emit()

    def hold(self) -> None:
        """Keep every mark shown: for pictures."""
        for timer in self.findChildren(QTimer):
            timer.stop()
        self._on = dict.fromkeys(Flash, True)

    def shows(self, sign: Sign | None) -> bool:
        """Whether a sign is shown at this moment."""
        return sign is not None and self._on[sign.flash]


class Pane(QWidget, Generic[LookT]):
    """A part that draws one look and holds no fact. Subclasses write `draw`."""

    def __init__(self, parent: QWidget, blink: Blink | None = None) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.look: LookT | None = None
        self.style_: Style | None = None
        self.blink = blink
        if blink is not None:
            blink.changed.connect(self._on_blink)

    def show_look(self, look: LookT, style: Style) -> bool:
        """Take a look; repaint when it or the style is another one. Returns whether it was."""
        if look == self.look and style == self.style_:
            return False
        self.look, self.style_ = look, style
        self.taken(look, style)
        self.update()
        return True

    def taken(self, look: LookT, style: Style) -> None:
        """What a subclass does besides drawing when it takes another look."""

    def flashing(self) -> bool:
        """Whether a mark of this part flashes."""
        return False

    def _on_blink(self) -> None:
        if self.flashing():
            self.update()

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw the ground, then the look."""
        del event
        if self.style_ is None:
            return
        painter = QPainter(self)
        begin(painter)
        fill(painter, rect(Box(0, 0, self.width(), self.height())), self.style_.palette.ground)
        if self.look is not None:
            self.draw(painter, self.look, self.style_)
        painter.end()

    def draw(self, painter: QPainter, look: LookT, style: Style) -> None:
        """Draw the look."""
        raise NotImplementedError


def place(widget: QWidget, box: Box) -> None:
    """Put a widget into a box."""
    widget.setGeometry(QRect(box.x, box.y, box.w, box.h))


def flashes(sign: Sign | None) -> bool:
    """Whether a sign flashes at all."""
    return sign is not None and sign.flash is not Flash.STEADY
