"""What stands on the ascent window besides the usual parts: stop clock, guide, facts, legs."""

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPolygonF

from station.panels.brush import MIDDLE, RIGHT, fill, hair, word
from station.panels.pane import Pane, Style
from station.panels.type import fitted_px, width_of
from station.present import labels
from station.present.ascent_looks import AscentLook, AscentRow, RateLook, RowState

_SPAN = "00:00:00 to 00:00:00"
_WORDS_EM = 13
"""The words of a leg have at least so much room, in sizes of their type."""


@dataclass(frozen=True, slots=True)
class GuideLook:
    """What stands under the clock: the stop as far as it is served, or the rate of the way up."""

    stop_done: float | None
    stop_min: float
    rate: RateLook | None


class GuidePane(Pane[GuideLook]):
    """A bar: at a stop what is served of it, minute by minute; on the way up the rate against its band."""

    def taken(self, look: GuideLook, style: Style) -> None:
        """The name that a reader of the screen hears."""
        del style
        if look.rate is not None:
            self.setAccessibleName(f"{look.rate.words}, {look.rate.right}")
        elif look.stop_done is not None:
            self.setAccessibleName(f"{look.stop_done * 100:.0f} percent of the stop is served")
        else:
            self.setAccessibleName("")

    def draw(self, painter: QPainter, look: GuideLook, style: Style) -> None:
        """Draw the one that holds."""
        if look.stop_done is not None:
            self._draw_stop(painter, look.stop_done, look.stop_min, style)
        elif look.rate is not None:
            self._draw_rate(painter, look.rate, style)

    def _draw_stop(self, painter: QPainter, done: float, minutes: float, style: Style) -> None:
        palette = style.palette
        bar = QRectF(0, self.height() * 0.2, self.width(), self.height() * 0.28)
        fill(painter, bar, palette.water)
        fill(painter, QRectF(bar.left(), bar.top(), bar.width() * done, bar.height()), palette.ink2)
        x = bar.left() + bar.width() * done
        over = style.px(5)
        hair(painter, x, bar.top() - over, x, bar.bottom() + over, palette.ink, style.px(4))
        step = 1 if minutes <= 30 else 5 if minutes <= 120 else 10
        for minute in range(0, int(minutes) + 1, step):
            at = bar.left() + minute / minutes * (bar.width() - 1)
            long = style.px(9 if minute % (5 * step) == 0 else 5)
            hair(painter, at, bar.bottom(), at, bar.bottom() + long, palette.rule, 1.4)

    def _draw_rate(self, painter: QPainter, rate: RateLook, style: Style) -> None:
        palette, px = style.palette, style.type("text")
        baseline = px * 1.05
        word(painter, 0, baseline, rate.words, px, palette.ink, bold=True, room=self.width() * 0.55)
        word(
            painter,
            self.width(),
            baseline,
            rate.right,
            px,
            palette.ink2,
            align=RIGHT,
            room=self.width() * 0.4,
        )
        bar = QRectF(0, baseline + px * 0.45, self.width(), max(6.0, self.height() * 0.16))
        fill(painter, bar, palette.water)
        left = bar.left() + rate.least / rate.end * bar.width()
        right = bar.left() + rate.most / rate.end * bar.width()
        fill(painter, QRectF(left, bar.top(), right - left, bar.height()), palette.band)
        for x in (left, right):
            hair(painter, x, bar.top() - style.px(2), x, bar.bottom() + style.px(5), palette.ink, 2)
        if rate.at is None:
            return
        x = bar.left() + min(1.0, max(0.0, rate.at / rate.end)) * bar.width()
        side = style.px(9)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(palette.ink))
        top = bar.top() - style.px(3)
        painter.drawRect(QRectF(x - style.px(2), top, style.px(4), bar.height() + style.px(6)))
        foot = bar.bottom() + style.px(3)
        painter.drawPolygon(
            QPolygonF(
                [QPointF(x, foot), QPointF(x - side * 0.7, foot + side), QPointF(x + side * 0.7, foot + side)]
            )
        )


class FactsRow(Pane[AscentLook]):
    """What follows, what is left in all, when he is up, by which row."""

    def taken(self, look: AscentLook, style: Style) -> None:
        """The name that a reader of the screen hears."""
        del style
        self.setAccessibleName(", ".join(f"{caption} {value}" for caption, value, _ in self._facts(look)))

    @staticmethod
    def _facts(look: AscentLook) -> tuple[tuple[str, str, float], ...]:
        return (
            (labels.NEXT_STOP, look.next_stop, 0.0),
            (labels.TOTAL_LEFT, look.left, 0.47),
            (labels.SURFACE_AT, look.surface, 0.7),
        )

    def draw(self, painter: QPainter, look: AscentLook, style: Style) -> None:
        """Draw captions with their values under them, and the row at the foot."""
        palette, px, small = style.palette, style.type("name"), style.type("caption")
        hair(painter, 0, 1, self.width(), 1, palette.rule, 1.5)
        facts = self._facts(look)
        ends = [share for _, _, share in facts[1:]] + [1.0]
        for (caption, value, share), end in zip(facts, ends, strict=True):
            x, room = self.width() * share, self.width() * (end - share) - small * 0.8
            word(painter, x, small * 1.35, caption, small, palette.ink2, room=room)
            word(painter, x, small * 1.55 + px, value or "---", px, palette.ink, bold=True, room=room)


@dataclass(frozen=True, slots=True)
class _Columns:
    """The right edges of the columns of the legs; `whole` when the planned ones show both their ends."""

    words: float
    planned: float
    actual: float
    minutes: float
    whole: bool


class LegsPane(Pane[tuple[AscentRow, ...]]):
    """The legs as dived and as foreseen, each beside the planned one; the present one on a block."""

    def taken(self, look: tuple[AscentRow, ...], style: Style) -> None:
        """The name that a reader of the screen hears."""
        del style
        here = next((row for row in look if row.state is RowState.HERE), None)
        self.setAccessibleName("Legs" if here is None else f"Leg {here.depth} {here.what}, {here.actual}")

    def shown(self, look: tuple[AscentRow, ...], style: Style) -> tuple[int, int]:
        """Which rows have room: the present one with the one before it, and as many after as fit."""
        row_h = self.row_h(style)
        places = max(1, int((self.height() - self._head(style)) / row_h))
        if len(look) <= places:
            return 0, len(look)
        here = next((at for at, row in enumerate(look) if row.state is not RowState.DONE), len(look) - 1)
        # One place is for the words that say how many are not shown.
        places = max(1, places - 1)
        start = min(max(0, here - 1), len(look) - places)
        return start, start + places

    @staticmethod
    def row_h(style: Style) -> float:
        """The height of a row."""
        return style.type("caption") * 1.62

    @staticmethod
    def _head(style: Style) -> float:
        return style.type("caption") * 1.75

    def draw(self, painter: QPainter, look: tuple[AscentRow, ...], style: Style) -> None:
        """Draw head and rows."""
        palette, px = style.palette, style.type("caption")
        hair(painter, 0, 1, self.width(), 1, palette.rule, 1.5)
        columns = self._columns(style)
        small = px * 9 // 10
        y = px * 1.25
        word(painter, 0, y, labels.LEG, small, palette.ink2)
        for right, text in (
            (columns.planned, labels.PLANNED if columns.whole else labels.PLANNED_END),
            (columns.actual, labels.ACTUAL),
            (columns.minutes, labels.MINUTES),
        ):
            word(painter, right, y, text, small, palette.ink2, align=RIGHT)
        start, end = self.shown(look, style)
        top = self._head(style)
        for row in look[start:end]:
            self._draw_row(painter, row, style, columns, top)
            top += self.row_h(style)
        words = ", ".join(
            part for part in (labels.more_done(start), labels.more_to_come(len(look) - end)) if part
        )
        word(painter, 0, top + px * 1.15, words, small, palette.ink2)

    def _columns(self, style: Style) -> _Columns:
        """The planned leg with both its ends where that leaves room for the words, else with its end."""
        px = style.type("caption")
        gap = px * 0.6
        minutes = self.width() - style.px(4)
        span = width_of(_SPAN, px, bold=True)
        actual = minutes - width_of("000:00", px, bold=True) - gap
        planned = actual - span - gap
        whole = planned - span - gap >= px * _WORDS_EM
        ends = max(width_of("00:00:00", px), width_of(labels.PLANNED_END, px * 9 // 10))
        gas = planned - (span if whole else ends) - gap
        return _Columns(gas, planned, actual, minutes, whole=whole)

    def _draw_row(
        self, painter: QPainter, row: AscentRow, style: Style, columns: _Columns, top: float
    ) -> None:
        palette, px, height = style.palette, style.type("caption"), self.row_h(style)
        here = row.state is RowState.HERE
        if here:
            fill(painter, QRectF(0, top, self.width(), height), palette.water)
            fill(painter, QRectF(0, top, style.px(4), height), palette.ink)
        else:
            hair(painter, 0, top, self.width(), top, palette.hair, 1)
        ink = palette.ink2 if row.state is RowState.DONE else palette.ink
        baseline = top + height / 2 + px * 0.37
        left, gap = float(style.px(8)), px * 0.5
        oxygen = row.gas != labels.AIR.lower()
        right = columns.words
        if oxygen:
            right -= gap + word(painter, right, baseline, row.gas, px, palette.ink, bold=True, align=RIGHT)
        left += gap + word(painter, left, baseline, row.depth, px, ink, bold=here, room=right - left)
        word(painter, left, baseline, row.what, px, ink, bold=here, room=right - left)
        planned = row.planned if columns.whole else row.planned.rpartition(" ")[2]
        word(painter, columns.planned, baseline, planned, px, palette.ink2, align=RIGHT)
        word(painter, columns.actual, baseline, row.actual, px, ink, bold=here, align=RIGHT)
        word(painter, columns.minutes, baseline, row.minutes, px, ink, bold=here, align=RIGHT)


class NotComingUp(Pane[tuple[str, str]]):
    """What stands in place of legs and changes while nobody comes up."""

    def draw(self, painter: QPainter, look: tuple[str, str], style: Style) -> None:
        """Draw it in the middle."""
        px = fitted_px(look[0], style.type("next"), self.width() * 0.9, bold=True)
        middle = self.height() * 0.4
        word(painter, self.width() / 2, middle, look[0], px, style.palette.ink2, bold=True, align=MIDDLE)
        text = style.type("text")
        word(
            painter, self.width() / 2, middle + px * 1.2, look[1], text, style.palette.ink2,
            align=MIDDLE, room=self.width() * 0.95,
        )  # fmt: skip
