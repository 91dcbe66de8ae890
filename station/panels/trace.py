"""The depth-time trace: what is kept of it here, and how it is drawn.

Drawn with a plain painter: at a few points a pixel column a plotting library would add 0.3 s to the start
and nothing that is needed.
"""

from bisect import bisect_left
from collections.abc import Iterable
from dataclasses import dataclass, field

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPolygonF
from PySide6.QtWidgets import QWidget

from station.panels.brush import MIDDLE, RIGHT, dash, hair, word
from station.panels.pane import Pane, Style
from station.panels.type import width_of
from station.present.looks import TraceFrame

Point = tuple[float, float | None]
"""Seconds of station time and depth in the shown unit; None where the gauge was silent."""


@dataclass
class Traces:
    """The traces of all divers as the station sent them: grown by increments, replaced when sent in full."""

    points: dict[str, list[Point]] = field(default_factory=dict)
    replaced: dict[str, int] = field(default_factory=dict)
    """How often each trace was begun anew."""

    def take(self, diver: str, points: list[Point], *, full: bool) -> None:
        """Add an increment, or begin anew."""
        if full:
            self.points[diver] = list(points)
            self.replaced[diver] = self.replaced.get(diver, 0) + 1
        else:
            self.points.setdefault(diver, []).extend(points)

    def of(self, diver: str) -> list[Point]:
        """The points of a diver, oldest first."""
        return self.points.get(diver, [])


class Thinned:
    """A trace between two moments, as many points as `columns` can show; grows with the trace.

    Of the points that share a column the shallowest and the deepest are kept, so no excursion is lost.
    """

    def __init__(self, start_s: float, end_s: float, columns: int) -> None:
        self.span = (start_s, end_s, columns)
        self._start_s, self._end_s = start_s, end_s
        self._width_s = (end_s - start_s) / max(1, columns)
        self._done: list[list[tuple[float, float]]] = [[]]
        self._column: int | None = None
        self._low = self._high = (0.0, 0.0)

    def take(self, points: Iterable[Point]) -> None:
        """Add points that come after those already taken; those outside the span are left out."""
        for at_s, depth in points:
            if self._start_s <= at_s <= self._end_s:
                self._take(at_s, depth)

    def _take(self, at_s: float, depth: float | None) -> None:
        here = None if depth is None else int((at_s - self._start_s) / self._width_s)
        if here != self._column:
            self._done[-1].extend(self._open())
        if depth is None:
            if self._done[-1]:
                self._done.append([])
        elif here != self._column:
            self._low = self._high = (at_s, depth)
        elif depth < self._low[1]:
            self._low = (at_s, depth)
        elif depth > self._high[1]:
            self._high = (at_s, depth)
        self._column = here

    def _open(self) -> list[tuple[float, float]]:
        """The points of the column that still grows."""
        return [] if self._column is None else sorted({self._low, self._high})

    def pieces(self) -> list[list[tuple[float, float]]]:
        """The unbroken pieces, oldest first."""
        last = self._done[-1] + self._open()
        return [piece for piece in (*self._done[:-1], last) if piece]


@dataclass(frozen=True, slots=True)
class TraceLook:
    """A frame, how many points there are to draw in it, and how often they were begun anew."""

    frame: TraceFrame
    diver: str
    length: int
    begun: int


class TracePane(Pane[TraceLook]):
    """Depth against time: what was, solid; what was planned, dashed; now, an upright line with a dot."""

    def __init__(self, parent: QWidget, traces: Traces) -> None:
        super().__init__(parent)
        self.traces = traces
        self._thin = Thinned(0.0, 1.0, 1)
        self._of: tuple[str, int] | None = None
        self._taken = 0

    def draw(self, painter: QPainter, look: TraceLook, style: Style) -> None:
        """Draw axes, plan, trace and now."""
        frame, palette = look.frame, style.palette
        area = self._area(frame, style)
        self._draw_axes(painter, frame, style, area)
        if len(frame.plan) > 1:
            for (from_s, from_depth), (to_s, to_depth) in zip(frame.plan, frame.plan[1:], strict=False):
                start, end = self._at(frame, area, from_s, from_depth), self._at(frame, area, to_s, to_depth)
                dash(painter, start.x(), start.y(), end.x(), end.y(), palette.rule, 1.4, (5, 3))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(QColor(palette.ink), style.px(2)))
        last: QPointF | None = None
        for piece in self._thinned(look, frame, int(area.width())):
            line = QPolygonF([self._at(frame, area, at_s, depth) for at_s, depth in piece])
            painter.drawPolyline(line)
            last = line.last()
        self._draw_now(painter, frame, style, area, last)

    def _thinned(self, look: TraceLook, frame: TraceFrame, columns: int) -> list[list[tuple[float, float]]]:
        points = self.traces.of(look.diver)
        of = (look.diver, self.traces.replaced.get(look.diver, 0))
        if self._thin.span != (frame.start_s, frame.end_s, columns) or self._of != of:
            self._thin, self._of = Thinned(frame.start_s, frame.end_s, columns), of
            self._taken = bisect_left(points, frame.start_s, key=lambda point: point[0])
        self._thin.take(points[self._taken :])
        self._taken = len(points)
        return self._thin.pieces()

    def _area(self, frame: TraceFrame, style: Style) -> QRectF:
        left = self._numerals(frame, style) + style.type("axis") * 0.5
        top = style.type("axis") * 0.5
        return QRectF(
            left,
            top,
            self.width() - left - 1,
            self.height() - top - style.px(style.measures.arrangement.axis),
        )

    @staticmethod
    def _numerals(frame: TraceFrame, style: Style) -> float:
        """The right edge of the numerals: the widest of them stands whole."""
        px = style.type("axis")
        return max(px * 1.4, width_of(f"{frame.deepest:.0f}", px) + 1)

    @staticmethod
    def _at(frame: TraceFrame, area: QRectF, at_s: float, depth: float) -> QPointF:
        x = area.left() + (at_s - frame.start_s) / (frame.end_s - frame.start_s) * area.width()
        y = area.top() + min(1.0, max(0.0, depth / frame.deepest)) * area.height()
        return QPointF(min(max(x, area.left()), area.right()), y)

    def _draw_axes(self, painter: QPainter, frame: TraceFrame, style: Style, area: QRectF) -> None:
        palette, px = style.palette, style.type("axis")
        steps = int(frame.deepest / frame.numeral_step + 1e-6)
        every = 1 if area.height() / max(1, steps) > px * 1.1 else 2
        for step in range(steps + 1):
            depth = step * frame.numeral_step
            y = self._at(frame, area, frame.start_s, depth).y()
            hair(painter, area.left(), y, area.right(), y, palette.rule if step == 0 else palette.hair, 1)
            if step % every == 0:
                word(
                    painter,
                    self._numerals(frame, style),
                    y + px * 0.38,
                    f"{depth:g}",
                    px,
                    palette.ink2,
                    align=RIGHT,
                )
        hair(painter, area.left(), area.bottom(), area.right(), area.bottom(), palette.hair, 1)
        for at_s, text in frame.ticks:
            x = self._at(frame, area, at_s, 0).x()
            hair(painter, x, area.bottom(), x, area.bottom() + style.px(4), palette.rule, 1)
            half = width_of(text, px) / 2
            if area.left() - px <= x - half and x + half <= self.width() + 1:
                word(painter, x, area.bottom() + px * 1.4, text, px, palette.ink2, align=MIDDLE)

    def _draw_now(
        self, painter: QPainter, frame: TraceFrame, style: Style, area: QRectF, last: QPointF | None
    ) -> None:
        if frame.now_s is None:
            return
        x = self._at(frame, area, frame.now_s, 0).x()
        hair(painter, x, area.top(), x, area.bottom(), style.palette.rule, 1)
        if last is not None and abs(last.x() - x) < style.px(6):
            painter.setPen(QPen(QColor(style.palette.ground), 2))
            painter.setBrush(QColor(style.palette.ink))
            painter.drawEllipse(last, style.px(5), style.px(5))
