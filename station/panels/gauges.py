"""The window of gauges and links: what each gauge says, how far it may be believed, when it was proved."""

from dataclasses import dataclass

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QWidget

from station.panels.ascent_layout import gauges_layout
from station.panels.brush import RIGHT, hair, sign, word
from station.panels.diver import NamePane
from station.panels.event_key import PlainKey
from station.panels.layout import Box
from station.panels.pane import Blink, Pane, Style, flashes, place
from station.present import labels
from station.present.figure_looks import Sign
from station.present.gauge_looks import GaugeLook, GaugesLook, HealthRow, LineLook
from station.present.looks import View

_ROW = 1.52
"""Height of a row of lines and health, in sizes of its type."""


@dataclass(frozen=True, slots=True)
class GaugePage:
    """The gauges that have room, from `start` of all."""

    gauges: tuple[GaugeLook, ...]


class GaugeTable(Pane[GaugePage]):
    """Two lines a gauge: the figures above, line, faults and calibration under them."""

    def flashing(self) -> bool:
        """Whether a mark flashes."""
        look = self.look
        return look is not None and any(
            flashes(one) for gauge in look.gauges for one in (gauge.sign, gauge.due_sign)
        )

    def taken(self, look: GaugePage, style: Style) -> None:
        """The name that a reader of the screen hears."""
        del style
        self.setAccessibleName(
            ". ".join(f"{each.name} {each.measures}: {each.value}, {each.trust}" for each in look.gauges)
        )

    @staticmethod
    def row_h(style: Style) -> int:
        """The height of a gauge."""
        return round(style.type("caption") * 2.95)

    @staticmethod
    def head_h(style: Style) -> int:
        """The height of the captions."""
        return round(style.type("caption") * 1.6)

    def places(self, style: Style) -> int:
        """How many gauges have room."""
        return max(1, (self.height() - self.head_h(style)) // self.row_h(style))

    def _columns(self, style: Style) -> tuple[float, ...]:
        """Left edge of what is measured, right edges of value to faults, left edge of the dates."""
        start = style.type("caption") * 1.7
        room = self.width() - start
        return tuple(start + share * room for share in (0.0, 0.345, 0.455, 0.53, 0.595, 0.655, 0.685))

    def draw(self, painter: QPainter, look: GaugePage, style: Style) -> None:
        """Draw captions and gauges."""
        palette, px = style.palette, style.type("caption")
        columns, small = self._columns(style), px * 9 // 10
        baseline = px * 1.1
        captions = (labels.NOW, labels.RAW, labels.AGE, labels.PERIOD, labels.FAULTS)
        for right, caption in zip(columns[1:6], captions, strict=True):
            word(painter, right, baseline, caption, small, palette.ink2, align=RIGHT)
        word(painter, columns[6], baseline, f"{labels.PROVED}, {labels.DUE.lower()}", small, palette.ink2)
        top: float = self.head_h(style)
        for gauge in look.gauges:
            self._draw_gauge(painter, gauge, style, columns, top)
            top += self.row_h(style)

    def _draw_gauge(
        self, painter: QPainter, gauge: GaugeLook, style: Style, columns: tuple[float, ...], top: float
    ) -> None:
        palette, px = style.palette, style.type("caption")
        hair(painter, 0, top, self.width(), top, palette.hair, 1)
        first, second = top + px * 1.25, top + px * 2.5
        self._draw_sign(painter, gauge.sign, style, QRectF(2, first - px * 0.98, px * 1.15, px * 1.15))
        troubled = gauge.sign is not None
        left, gap = columns[0], px * 0.6
        took = word(painter, left, first, gauge.name, px, palette.ink, bold=True)
        room = columns[1] - left - took - px * 5.6
        word(painter, left + took + gap, first, gauge.measures, px, palette.ink2, room=room)
        for right, text, bold in (
            (columns[1], gauge.value, True),
            (columns[2], gauge.raw, False),
            (columns[3], gauge.age, troubled),
            (columns[4], gauge.period, False),
            (columns[5], gauge.faults, gauge.faults != "none"),
        ):
            ink = palette.ink if bold else palette.ink2
            word(painter, right, first, text, px, ink, bold=bold, align=RIGHT, room=px * 6)
        word(painter, left, second, gauge.trust, px, palette.ink, bold=troubled)
        line_x = left + px * 5.2
        word(painter, line_x, second, gauge.line, px, palette.ink2, room=columns[1] - line_x)
        fault_x = columns[1] + px * 1.2
        word(painter, fault_x, second, gauge.last_fault, px, palette.ink2, room=columns[6] - fault_x - gap)
        self._draw_proof(painter, gauge, style, columns[6], (first, second))

    def _draw_proof(
        self, painter: QPainter, gauge: GaugeLook, style: Style, x: float, rows: tuple[float, float]
    ) -> None:
        palette, px = style.palette, style.type("caption")
        word(painter, x, rows[0], gauge.proved, px, palette.ink2, room=self.width() - x)
        if gauge.due_sign is not None:
            self._draw_sign(
                painter, gauge.due_sign, style, QRectF(x, rows[1] - px * 0.95, px * 1.1, px * 1.1)
            )
            x += px * 1.5
        overdue = gauge.due_sign is not None or not gauge.due[:1].isdigit()
        ink = palette.ink if overdue else palette.ink2
        text = f"{labels.DUE.lower()} {gauge.due}" if gauge.due[:1].isdigit() else gauge.due
        word(painter, x, rows[1], text, px, ink, bold=overdue, room=self.width() - x)

    def _draw_sign(self, painter: QPainter, shown: Sign | None, style: Style, area: QRectF) -> None:
        if shown is not None and (self.blink is None or self.blink.shows(shown)):
            sign(painter, area, shown.priority, style.palette, 1.5)


class LinesTable(Pane[tuple[LineLook, ...]]):
    """The lines: open or closed, since when, what was last wrong."""

    def taken(self, look: tuple[LineLook, ...], style: Style) -> None:
        """The name that a reader of the screen hears."""
        del style
        self.setAccessibleName(". ".join(f"{line.name} {line.standing} {line.detail}" for line in look))

    def draw(self, painter: QPainter, look: tuple[LineLook, ...], style: Style) -> None:
        """Draw one under the other, smaller where they are many."""
        palette = style.palette
        px = min(style.type("caption"), int(self.height() / _ROW / max(1, len(look))))
        px = max(px, style.type("caption") * 3 // 4)
        left, standing_w = px * 1.7, px * 5.2
        name_w = self.width() * 0.45
        y = px * 1.2
        for line in look:
            if line.sign is not None:
                sign(painter, QRectF(2, y - px * 0.95, px * 1.1, px * 1.1), line.sign.priority, palette, 1.5)
            bold = line.sign is not None
            word(painter, left, y, line.name, px, palette.ink, bold=bold, room=name_w - left - px * 0.5)
            word(painter, name_w, y, line.standing, px, palette.ink, bold=bold, room=standing_w - px * 0.4)
            x = name_w + standing_w
            word(painter, x, y, line.detail, px, palette.ink2, room=self.width() - x)
            y += px * _ROW


class HealthTable(Pane[tuple[HealthRow, ...]]):
    """What the station knows of its log and itself."""

    def taken(self, look: tuple[HealthRow, ...], style: Style) -> None:
        """The name that a reader of the screen hears."""
        del style
        self.setAccessibleName(". ".join(f"{row.caption}: {row.value}" for row in look))

    def draw(self, painter: QPainter, look: tuple[HealthRow, ...], style: Style) -> None:
        """Draw captions with their values."""
        palette, px = style.palette, style.type("caption")
        left, value_x = px * 1.7, self.width() * 0.36
        y = px * 1.2
        for row in look:
            if row.sign is not None:
                sign(painter, QRectF(2, y - px * 0.95, px * 1.1, px * 1.1), row.sign.priority, palette, 1.5)
            word(painter, left, y, row.caption, px, palette.ink2, room=value_x - left - px * 0.5)
            word(painter, value_x, y, row.value, px, palette.ink, bold=True, room=self.width() - value_x)
            y += px * _ROW


class GaugesPane(QWidget):
    """All of it. More gauges than have room stand on further pages, a press away."""

    def __init__(self, parent: QWidget, blink: Blink) -> None:
        super().__init__(parent)
        self.name, self.lines_name, self.health_name = NamePane(self), NamePane(self), NamePane(self)
        for name in (self.name, self.lines_name, self.health_name):
            name.quiet = True
        self.table = GaugeTable(self, blink)
        self.lines = LinesTable(self)
        self.health = HealthTable(self)
        self.more = PlainKey(self, "M")
        self.more.went.connect(self.turn)
        self._page = 0
        self._shown: tuple[View, Style, Box] | None = None
        self.setAccessibleName(labels.GAUGES_TITLE)

    def turn(self) -> None:
        """Show the next gauges."""
        self._page += 1
        if self._shown is not None:
            self.show_view(*self._shown)

    def show_view(self, view: View, style: Style, body: Box) -> tuple[int, ...]:
        """Take a view; `body` is the room in its own pixels."""
        self._shown = (view, style, body)
        look = view.gauges or GaugesLook("", (), (), ())
        boxes = gauges_layout(style.measures, body, len(look.lines), len(look.health))
        place(self.table, boxes.gauges)
        places = self.table.places(style)
        pages = max(1, -(-len(look.gauges) // places))
        self._page %= pages
        start = self._page * places
        place(self.name, boxes.name)
        summary = look.summary if pages == 1 else ""
        self.name.show_look((labels.GAUGES_TITLE, look.summary if pages > 1 else "", summary), style)
        self.table.show_look(GaugePage(look.gauges[start : start + places]), style)
        self.more.setVisible(pages > 1)
        if pages > 1:
            place(self.more, boxes.more)
            self.more.show_words(f"{labels.MORE_GAUGES}, {self._page + 1} of {pages}", "", style)
            self.more.raise_()
        self._show_below(look, style, boxes.lines, boxes.health)
        return ()

    def _show_below(self, look: GaugesLook, style: Style, lines: Box, health: Box) -> None:
        head = style.px(style.measures.arrangement.rule) + style.px(style.measures.arrangement.name)
        for name, title, box in (
            (self.lines_name, labels.LINES_TITLE, lines),
            (self.health_name, labels.HEALTH_TITLE, health),
        ):
            place(name, Box(box.x, box.y, box.w, head))
            name.show_look((title, "", ""), style)
        place(self.lines, Box(lines.x, lines.y + head, lines.w, lines.h - head))
        place(self.health, Box(health.x, health.y + head, health.w, health.h - head))
        self.lines.show_look(look.lines, style)
        self.health.show_look(look.health, style)
