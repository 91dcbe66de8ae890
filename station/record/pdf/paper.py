"""The paper: size, pens, type, and where on it the next thing goes."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPdfWriter, QPen

from station.panels.type import FAMILY
from station.record.sheet import wrapped

DOTS_PER_INCH: Final = 1440
DOTS_PER_MM: Final = DOTS_PER_INCH / 25.4
DOTS_PER_POINT: Final = DOTS_PER_INCH / 72
"""The paper is drawn in dots so fine that whole numbers of them serve for type. Own choice."""

MARGIN_MM: Final = 9.5
FOOT_MM: Final = 6.5
"""What is kept free around the page, and for its foot. Own choice."""

INK: Final = "#000000"
GREY: Final = "#555555"
HAIR: Final = "#B0B0B0"
PALE: Final = "#E4E4E4"
"""Ink, small words, hairlines, areas: greys only, so that a copy in grey loses nothing."""

SMALL_PT: Final = 6.25
WORDS_PT: Final = 7.0
TITLE_PT: Final = 8.0
FIGURE_PT: Final = 17.0
HEAD_PT: Final = 15.0


def mm(length_mm: float) -> float:
    """A length in dots."""
    return length_mm * DOTS_PER_MM


@lru_cache(maxsize=32)
def face(points: float, *, bold: bool = False) -> QFont:
    """The bundled family in a size of points."""
    made = QFont(FAMILY)
    made.setPixelSize(round(points * DOTS_PER_POINT))
    made.setWeight(QFont.Weight.Bold if bold else QFont.Weight.Normal)
    # Each glyph where its own width puts it: the type is measured and drawn alike, and copies as words.
    made.setHintingPreference(QFont.HintingPreference.PreferNoHinting)
    made.setKerning(False)
    return made


@lru_cache(maxsize=32)
def measure(points: float, *, bold: bool = False) -> QFontMetricsF:
    """The metrics of that type."""
    return QFontMetricsF(face(points, bold=bold))


@dataclass(frozen=True, slots=True)
class Type:
    """A size of type, light or bold, and its colour."""

    points: float = WORDS_PT
    bold: bool = False
    colour: str = INK

    @property
    def line(self) -> float:
        """The height of a line in dots."""
        return measure(self.points, bold=self.bold).height()

    def width(self, text: str) -> float:
        """The width of a text in dots."""
        return measure(self.points, bold=self.bold).horizontalAdvance(text)

    def lines(self, text: str, width: float) -> list[str]:
        """The lines that a text takes within a width in dots."""
        return wrapped(text, width, self.width)


WORDS: Final = Type()
SMALL: Final = Type(SMALL_PT, colour=GREY)
TITLE: Final = Type(TITLE_PT, bold=True)


class Paper:
    """Pages of one document, filled from the top; `new_page` draws what stands on every page."""

    def __init__(self, writer: QPdfWriter, painter: QPainter) -> None:
        self._writer = writer
        self.painter = painter
        self.head: Callable[[], None] = lambda: None
        self.enlarge(1.0)

    def enlarge(self, by: float) -> None:
        """Draw everything larger from here on; the page holds so much less."""
        self.painter.resetTransform()
        self.painter.scale(by, by)
        self.left = self.top = mm(MARGIN_MM) / by
        self.width = self._writer.width() / by - 2 * self.left
        self.bottom = (self._writer.height() - mm(MARGIN_MM)) / by - mm(FOOT_MM)
        self.y = self.top

    def room(self, height: float) -> None:
        """Go on to a new page where so much does not fit any more; nothing is ever higher than a page."""
        if self.y + height > self.bottom and self.y > self.top:
            self.turn()

    def turn(self) -> None:
        """A new page, with its head."""
        self.page()
        self.head()

    def page(self) -> None:
        """A new page with nothing on it."""
        self._writer.newPage()
        self.y = self.top

    def text(self, x: float, y: float, text: str, kind: Type = WORDS) -> None:
        """One line of text; `y` is the top of its line. Drawn as it is, never interpreted."""
        self.painter.setFont(face(kind.points, bold=kind.bold))
        self.painter.setPen(QColor(kind.colour))
        self.painter.drawText(QPointF(x, y + measure(kind.points, bold=kind.bold).ascent()), text)

    def right_text(self, right: float, y: float, text: str, kind: Type = WORDS) -> None:
        """One line of text that ends at `right`."""
        self.text(right - kind.width(text), y, text, kind)

    def rule(
        self, y: float, *, left: float | None = None, width: float | None = None, ink: str = HAIR
    ) -> None:
        """A hairline across the page, or a part of it."""
        start = self.left if left is None else left
        self.line((start, y), (start + (self.width if width is None else width), y), pen(ink, 0.12))

    def line(self, start: tuple[float, float], end: tuple[float, float], drawn: QPen) -> None:
        """A straight line."""
        self.painter.setPen(drawn)
        self.painter.drawLine(QPointF(*start), QPointF(*end))

    def fill(self, x: float, y: float, width: float, height: float, ink: str) -> None:
        """An area."""
        self.painter.fillRect(QRectF(x, y, width, height), QColor(ink))


def pen(ink: str, wide_mm: float, *, dashed: bool = False) -> QPen:
    """A pen with round joins, so that a curve shows no spikes."""
    made = QPen(QColor(ink), mm(wide_mm))
    made.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    made.setCapStyle(Qt.PenCapStyle.FlatCap)
    if dashed:
        made.setDashPattern([5.0, 4.0])
    return made
