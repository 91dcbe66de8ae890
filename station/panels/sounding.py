"""The sounding line: a diver against his water, on one scale for all divers of the station."""

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen, QPolygonF

from station.panels.brush import RIGHT, dash, fill, hair, hatch, hatch_path, word
from station.panels.pane import Pane, Style
from station.panels.type import width_of
from station.present.looks import MarkStyle, Rung, Scale, SoundingLine, Tail


@dataclass(frozen=True, slots=True)
class LineLook:
    """A sounding line on its scale."""

    scale: Scale
    line: SoundingLine


@dataclass(frozen=True, slots=True)
class _Frame:
    """Where the column stands within the pane, in pixels."""

    top: float
    foot: float
    left: float
    right: float
    ticks: float
    lane: float
    end: float
    numerals: float = 0.0

    def y(self, depth: float) -> float:
        """The height of a depth."""
        return self.top + max(0.0, min(depth, self.end)) / self.end * (self.foot - self.top)


class SoundingPane(Pane[LineLook]):
    """A diver's line. `narrow` draws it half as wide, without numerals, for a standby diver."""

    narrow = False

    def draw(self, painter: QPainter, look: LineLook, style: Style) -> None:
        """Draw scale, water, line, rungs, maximum, tail, and the mark over them."""
        frame = self._frame(look, style)
        line = look.line
        self._draw_scale(painter, look.scale, style, frame)
        self._draw_water(painter, line, style, frame)
        self._draw_line(painter, line, style, frame)
        for rung in line.rungs:
            self._draw_rung(painter, rung, style, frame)
        if line.tail is not None and line.mark is not None:
            self._draw_tail(painter, line.tail, line.mark, style, frame)
        if line.maximum is not None:
            self._draw_maximum(painter, line, line.maximum, style, frame)
        if line.mark is not None and line.style is not MarkStyle.GONE:
            self._draw_mark(painter, line, line.mark, style, frame)

    def _frame(self, look: LineLook, style: Style) -> _Frame:
        drawn = style.measures.arrangement
        share = 1.0 if self.narrow else min(1.0, self.width() / style.px(drawn.line))
        top: float = style.px(drawn.caption) * 0.5
        foot = self.height() - style.px(4)
        if self.narrow:
            left: float = style.px(drawn.tick_right - drawn.numeral_right - 4)
            right = left + style.px(drawn.column_right - drawn.column_left) * 0.38
            return _Frame(top, foot, left, right, left - style.px(2), right, look.scale.end)
        # Three figures take their room from the column: a numeral is never cut, minutes stay in their lane.
        numerals = style.px(drawn.numeral_right)
        deepest = int(look.scale.end / look.scale.numeral_step + 1e-6) * look.scale.numeral_step
        more = max(0.0, width_of(f"{deepest:g}", style.type("axis")) + 1 - numerals)
        left, right = style.px(drawn.column_left) * share + more, style.px(drawn.column_right) * share
        ticks, lane = style.px(drawn.tick_right) * share + more, style.px(drawn.lane) * share
        return _Frame(top, foot, left, right, ticks, lane, look.scale.end, numerals + more)

    def _draw_scale(self, painter: QPainter, scale: Scale, style: Style, frame: _Frame) -> None:
        palette, px = style.palette, style.type("axis")
        count = int(scale.end / scale.tick_step + 1e-6)
        for step in range(count + 1):
            depth = step * scale.tick_step
            major = abs(depth / scale.numeral_step - round(depth / scale.numeral_step)) < 1e-6
            long = style.px(7 if major else 4)
            y = frame.y(depth)
            hair(
                painter,
                frame.ticks - long,
                y,
                frame.ticks,
                y,
                palette.ink2 if major else palette.rule,
                1.6 if major else 1,
            )
            if major and not self.narrow and y < frame.foot - px * 0.9:
                word(painter, frame.numerals, y + px * 0.38, f"{depth:g}", px, palette.ink2, align=RIGHT)
        if not self.narrow:
            word(painter, 0, frame.foot - 1, scale.unit, px, palette.ink2)

    def _draw_water(self, painter: QPainter, line: SoundingLine, style: Style, frame: _Frame) -> None:
        palette = style.palette
        plan_y = frame.foot if line.plan is None else frame.y(line.plan)
        width = frame.right - frame.left
        fill(painter, QRectF(frame.left, frame.top, width, plan_y - frame.top), palette.water)
        if plan_y < frame.foot:
            below = QRectF(frame.left, plan_y, width, frame.foot - plan_y)
            hatch(painter, below, palette.rule, style.px(7))
        for x in (frame.left, frame.right):
            hair(painter, x, frame.top, x, frame.foot, palette.rule)
        over = style.px(6)
        hair(painter, frame.left - over, frame.top, frame.right + over, frame.top, palette.ink, style.px(2.4))
        if line.plan is not None:
            hair(
                painter,
                frame.left - style.px(1),
                plan_y,
                frame.right + over,
                plan_y,
                palette.ink,
                style.px(2.4),
            )

    def _draw_line(self, painter: QPainter, line: SoundingLine, style: Style, frame: _Frame) -> None:
        middle = (frame.left + frame.right) / 2
        palette = style.palette
        mark_y = frame.top if line.mark is None else frame.y(line.mark)
        plan_y = frame.foot if line.plan is None else frame.y(line.plan)
        if line.mark is not None and line.style is not MarkStyle.GONE:
            hair(painter, middle, frame.top, middle, mark_y, palette.ink, style.px(3))
        if plan_y > mark_y:
            dash(painter, middle, mark_y, middle, plan_y, palette.rule, style.px(1.6), (2, 5))

    def _draw_rung(self, painter: QPainter, rung: Rung, style: Style, frame: _Frame) -> None:
        palette, px = style.palette, style.type("phase")
        y, over = frame.y(rung.depth), style.px(4)
        if rung.due:
            hair(painter, frame.left - over, y, frame.right + over, y, palette.ink, style.px(4))
        else:
            dash(painter, frame.left, y, frame.right + over * 2, y, palette.ink2, style.px(2), (5, 3))
        colour = palette.ink if rung.due else palette.ink2
        word(painter, frame.lane, y + px * 0.38, rung.minutes, px, colour, bold=rung.due)

    def _draw_tail(self, painter: QPainter, tail: Tail, mark: float, style: Style, frame: _Frame) -> None:
        lane = (frame.ticks + frame.left) / 2 + 1
        wide = (frame.left - frame.ticks) - style.px(3)
        top, foot = sorted((frame.y(tail.band_from), frame.y(tail.band_to)))
        fill(painter, QRectF(lane - wide / 2, top, wide, foot - top), style.palette.band)
        end = frame.y(tail.to)
        upper, lower = sorted((frame.y(mark), end))
        hair(painter, lane, upper, lane, lower, style.palette.ink, style.px(3))
        hair(painter, lane - wide / 2, end, lane + wide / 2, end, style.palette.ink, style.px(3))

    def _draw_maximum(
        self, painter: QPainter, line: SoundingLine, maximum: float, style: Style, frame: _Frame
    ) -> None:
        palette, side = style.palette, style.px(9)
        y = frame.y(maximum)
        x = (
            frame.right
            + style.px(style.measures.arrangement.lane - style.measures.arrangement.column_right) * 0.9
        )
        wedge = QPolygonF(
            [QPointF(x, y), QPointF(x + side, y - side * 0.6), QPointF(x + side, y + side * 0.6)]
        )
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(palette.ink2))
        if not self.narrow:
            painter.drawPolygon(wedge)
        roomy = self.width() >= style.px(style.measures.arrangement.line)
        if style.measures.arrangement.words_on_line and roomy and not self.narrow:
            px = style.type("caption")
            word(painter, x + side + style.px(2), y + px * 0.36, "max", px, palette.ink2)
            if line.plan is not None:
                plan_y = max(frame.y(line.plan) + px * 0.36, y + px * 1.35)
                word(painter, x, plan_y, "plan", px, palette.ink2)

    def _draw_mark(
        self, painter: QPainter, line: SoundingLine, depth: float, style: Style, frame: _Frame
    ) -> None:
        palette = style.palette
        half, point, over = style.px(6), style.px(5 if self.narrow else 8), style.px(2)
        y = frame.y(depth)
        left, right = frame.left - over, frame.right + over * (2 if not self.narrow else 1)
        path = QPainterPath()
        path.addPolygon(
            QPolygonF(
                [
                    QPointF(left, y - half),
                    QPointF(right, y - half),
                    QPointF(right + point, y),
                    QPointF(right, y + half),
                    QPointF(left, y + half),
                ]
            )
        )
        path.closeSubpath()
        painter.setPen(QPen(QColor(palette.ground), style.px(5)))
        painter.setBrush(QColor(palette.ground))
        painter.drawPath(path)
        if line.style is MarkStyle.HATCHED:
            hatch_path(painter, path, palette.ink, style.px(5), 2)
        else:
            solid = line.style is MarkStyle.SOLID
            painter.setPen(QPen(QColor(palette.ink), 1 if solid else style.px(2.5)))
            painter.setBrush(QColor(palette.ink if solid else palette.ground))
            painter.drawPath(path)
        if line.at_least:
            self._draw_chevrons(painter, style, (frame.left + frame.right) / 2, y + half)

    def _draw_chevrons(self, painter: QPainter, style: Style, middle: float, top: float) -> None:
        side = style.px(6)
        for halo in (True, False):
            painter.setPen(
                QPen(QColor(style.palette.ground if halo else style.palette.ink), style.px(6 if halo else 2))
            )
            painter.setBrush(Qt.BrushStyle.NoBrush)
            for place in range(3):
                y = top + style.px(8) + place * style.px(9)
                painter.drawPolyline(
                    QPolygonF(
                        [
                            QPointF(middle - side, y),
                            QPointF(middle, y + side * 0.8),
                            QPointF(middle + side, y),
                        ]
                    )
                )
