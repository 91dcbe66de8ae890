"""The alarm strip: kept empty when calm, so that nothing jumps when an alarm comes."""

from PySide6.QtCore import QRectF, Qt, Signal
from PySide6.QtGui import QColor, QPainter, QPen
from PySide6.QtWidgets import QWidget

from station.core.state import Priority
from station.panels.brush import MIDDLE, RIGHT, fill, hair, sign, word
from station.panels.key import Key
from station.panels.layout import Box
from station.panels.pane import Blink, Pane, Style, flashes, place
from station.panels.type import width_of
from station.present.labels import ACKNOWLEDGE, ACKNOWLEDGE_KEY, more_alarms
from station.present.looks import AlarmLine, AlarmStrip

ROWS = 2
"""Rows that have room."""

_FILLED = (Priority.EMERGENCY, Priority.ALARM)


class AlarmRow(Key):
    """One alarm: mark, word, who, what, what to do, age. A press anywhere acknowledges it."""

    def __init__(self, parent: QWidget, blink: Blink) -> None:
        super().__init__(parent, "")
        self.line: AlarmLine | None = None
        self.key_shown = False
        self._blink = blink
        blink.changed.connect(self._on_blink)

    def show_line(self, line: AlarmLine, style: Style, *, key_shown: bool) -> None:
        """Take a line; `key_shown` on the row that the key acknowledges."""
        if (line, style, key_shown) == (self.line, self.style_, self.key_shown):
            return
        self.line, self.style_, self.key_shown = line, style, key_shown
        self.setAccessibleName(f"{line.word}, {line.who} {line.what} {line.action} {line.age}".strip())
        self.setEnabled(line.to_acknowledge)
        self.update()

    def _on_blink(self) -> None:
        if self.line is not None and flashes(self.line.sign):
            self.update(0, 0, self.height() + 2, self.height())

    def focus_colour(self, style: Style) -> str:
        """The focus must be seen on a filled row."""
        if self.line is not None and self.line.sign.priority in _FILLED:
            return style.palette.text_on(self.line.sign.priority)
        return style.palette.ink

    def draw(self, painter: QPainter, style: Style) -> None:
        """Draw the row from the mark to the Acknowledge."""
        line = self.line
        if line is None:
            return
        palette, height = style.palette, self.height()
        priority = line.sign.priority
        filled = priority in _FILLED
        colour, on_colour = palette.fill_of(priority), palette.text_on(priority)
        left = height + style.px(6)
        if self._blink.shows(line.sign):
            inset = height * 0.08
            sign(
                painter,
                QRectF(1, 1, height - 2, height - 2).adjusted(inset, inset, -inset, -inset),
                priority,
                palette,
                2,
            )
        bar = QRectF(left, 1, self.width() - left - 1, height - 2)
        label_w = max(
            width_of("EMERGENCY", style.type("alarm"), bold=True) * 0.92 + style.px(24), bar.width() * 0.118
        )
        fill(painter, bar if filled else QRectF(bar.left(), bar.top(), label_w, bar.height()), colour)
        painter.setPen(QPen(QColor(palette.outline or colour), 2))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(bar)
        ink = on_colour if filled else palette.ink
        self._draw_words(painter, line, style, bar, label_w, ink, on_colour)

    def _draw_words(  # noqa: PLR0917 - places and colours, as a painter takes them
        self,
        painter: QPainter,
        line: AlarmLine,
        style: Style,
        bar: QRectF,
        label_w: float,
        ink: str,
        on_colour: str,
    ) -> None:
        px = style.type("alarm")
        baseline = self.height() / 2 + px * 0.37
        word(
            painter,
            bar.left() + style.px(14),
            baseline,
            line.word,
            px * 9 // 10,
            on_colour,
            bold=True,
            room=label_w - style.px(20),
        )
        right = bar.right() - style.px(6)
        if line.to_acknowledge:
            right -= self._draw_acknowledge(painter, style, right, ink) + style.px(18)
        else:
            right -= style.px(10)
        word(painter, right, baseline, line.age, px, ink, align=RIGHT)
        right -= max(width_of(line.age, px), width_of("00 min", px)) + px * 0.5
        x = bar.left() + label_w + style.px(18)
        px = self._fitting(line, px, right - x)
        x += word(painter, x, baseline, line.who, px, ink, bold=True) + px * 0.5
        action = self._action(line, px, right - x)
        room = right - x - px * 0.75 - width_of(action, px, bold=True)
        x += word(painter, x, baseline, line.what, px, ink, room=max(px * 3.0, room)) + px * 0.75
        word(painter, x, baseline, action, px, ink, bold=True, room=right - x)

    @staticmethod
    def _action(line: AlarmLine, px: int, room: float) -> str:
        """All that is to be done; where that leaves too little for what happened, the first of it."""
        if width_of(line.action, px, bold=True) + width_of(line.what, px) * 0.75 + px <= room:
            return line.action
        first, stop, _ = line.action.partition(". ")
        return f"{first}{stop.strip()}"

    @staticmethod
    def _fitting(line: AlarmLine, px: int, room: float) -> int:
        """The size at which the whole row fits, not below 3/4: what to do must not be cut first."""
        for size in range(px, px * 3 // 4, -1):
            width = width_of(f"{line.who}  {line.what}   ", size) + width_of(line.action, size, bold=True)
            if width + size <= room:
                return size
        return px * 3 // 4

    def _draw_acknowledge(self, painter: QPainter, style: Style, right: float, ink: str) -> float:
        px = style.type("alarm") * 9 // 10
        text = f"{ACKNOWLEDGE}  {ACKNOWLEDGE_KEY}" if self.key_shown else ACKNOWLEDGE
        width = width_of(f"{ACKNOWLEDGE}  {ACKNOWLEDGE_KEY}", px, bold=True) + style.px(28)
        box = QRectF(right - width + style.px(3), style.px(4), width, self.height() - 2 * style.px(4))
        painter.setPen(QPen(QColor(ink), 2))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(box)
        word(painter, box.center().x(), box.center().y() + px * 0.37, text, px, ink, bold=True, align=MIDDLE)
        return width


class CalmPane(Pane[AlarmStrip]):
    """What the strip says under and beside its rows."""

    inset = 0
    """What a frame round the window takes of the margin."""

    def draw(self, painter: QPainter, look: AlarmStrip, style: Style) -> None:
        """Say that no alarm stands, or how many more there are."""
        palette = style.palette
        margin = style.px(style.measures.arrangement.margin) - self.inset
        hair(painter, margin, self.height() - 1, self.width() - margin, self.height() - 1, palette.hair, 2)
        if look.lines:
            return
        px = style.type("text")
        baseline = self.height() / 2 + px * 0.37
        took = word(
            painter, margin, baseline, look.calm, style.type("phase") * 19 // 20, palette.ink, bold=True
        )
        sound = word(
            painter,
            self.width() - margin,
            baseline,
            look.sound,
            style.type("caption"),
            palette.ink2,
            align=RIGHT,
        )
        x = margin + took + px
        word(
            painter,
            x,
            baseline,
            look.calm_detail,
            style.type("caption"),
            palette.ink2,
            room=self.width() - margin - sound - px - x,
        )


class AlarmPane(QWidget):
    """Two rows; where there are more, the two highest and how many are not shown."""

    acknowledged = Signal(str, str)
    """Catalogue name of the alarm, and its subject."""

    def __init__(self, parent: QWidget, blink: Blink) -> None:
        super().__init__(parent)
        self.calm = CalmPane(self)
        self.rows = tuple(AlarmRow(self, blink) for _ in range(ROWS))
        self.more = MorePane(self)
        for row in self.rows:
            row.went.connect(lambda row=row: self._went(row))
        self.setAccessibleName("Alarms")

    def show_look(self, look: AlarmStrip, style: Style, rows: int, inset: int) -> None:
        """Put the lines into so many rows; `inset` is what a frame takes of the margin."""
        self.calm.inset = inset
        place(self.calm, Box(0, 0, self.width(), self.height()))
        self.calm.show_look(look, style)
        margin = style.px(style.measures.arrangement.margin) - inset
        gap = style.px(3)
        more = more_alarms(len(look.lines) - rows)
        more_w = style.px(90) if more else 0
        row_h = (self.height() - style.px(4) - gap * (rows + 1)) // rows
        shown = look.lines[:rows]
        first = next((line for line in look.lines if line.to_acknowledge), None)
        for number, row in enumerate(self.rows):
            row.setVisible(number < len(shown))
            if number < len(shown):
                y = gap + number * (row_h + gap)
                is_last = number == len(shown) - 1
                width = self.width() - 2 * margin - (more_w if is_last else 0)
                place(row, Box(margin, y, width, row_h))
                row.show_line(shown[number], style, key_shown=shown[number] == first)
        self.more.setVisible(bool(more))
        if more:
            y = gap + (len(shown) - 1) * (row_h + gap)
            place(self.more, Box(self.width() - margin - more_w, y, more_w, row_h))
            self.more.show_look(more, style)

    def acknowledge_first(self) -> None:
        """Acknowledge the highest alarm that is not; what the key does."""
        for row in self.rows:
            if row.isVisible() and row.isEnabled():
                self._went(row)
                return

    def _went(self, row: AlarmRow) -> None:
        if row.line is not None and row.line.to_acknowledge:
            self.acknowledged.emit(row.line.id, row.line.subject)


class MorePane(Pane[str]):
    """How many alarms stand that have no row."""

    def draw(self, painter: QPainter, look: str, style: Style) -> None:
        """Say it at the right."""
        px = style.type("alarm")
        word(
            painter,
            self.width(),
            self.height() / 2 + px * 0.37,
            look,
            px,
            style.palette.ink,
            bold=True,
            align=RIGHT,
            room=self.width() - px * 0.4,
        )
