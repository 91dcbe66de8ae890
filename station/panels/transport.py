"""The transport bar of a replay: play, speeds, the alarm before and after, and the whole log as one bar."""

from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QColor, QKeySequence, QMouseEvent, QPainter, QPolygonF, QShortcut
from PySide6.QtWidgets import QWidget

from station.panels.brush import MIDDLE, RIGHT, fill, hair, sign, word
from station.panels.key import Key, framed
from station.panels.layout import Box
from station.panels.pane import Pane, Style, place
from station.panels.type import width_of
from station.present.labels import ALARM_AFTER, ALARM_BEFORE, PAUSE, PLAY, SPEEDS
from station.present.looks import Transport

_SCRUB_TO_WORDS = 3
"""The words at the right end stand where the bar has at least twice their room left."""

_STEP = 0.01
"""What an arrow key moves along the bar, as a share of the whole."""


class _Drive(Key):
    """A drive key with a drawn symbol over its word."""

    def __init__(self, parent: QWidget, title: str, letter: str) -> None:
        super().__init__(parent, f"{title}, {letter}", letter)
        self.title = title

    def show_title(self, title: str, style: Style) -> None:
        """Take a title."""
        if (title, style) != (self.title, self.style_):
            self.title, self.style_ = title, style
            self.setAccessibleName(f"{title}, {self.letter}")
            self.update()

    def draw(self, painter: QPainter, style: Style) -> None:
        """Draw the symbol over the word."""
        palette, px = style.palette, style.type("strip") * 9 // 10
        framed(painter, QRectF(0, 0, self.width(), self.height()), palette.key, palette.rule, 2)
        side = self.height() * 0.26
        box = QRectF(self.width() / 2 - side / 2, self.height() * 0.17, side, side)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(palette.ink))
        match self.title:
            case "pause":
                for share in (0.08, 0.62):
                    painter.drawRect(QRectF(box.left() + side * share, box.top(), side * 0.3, side))
            case "play":
                painter.drawPolygon(_triangle(box, forward=True))
            case _:
                forward = self.title == ALARM_AFTER
                painter.drawPolygon(_triangle(box, forward=forward))
                bar = box.right() if forward else box.left() - side * 0.16
                painter.drawRect(QRectF(bar, box.top(), side * 0.16, side))
        word(
            painter,
            self.width() / 2,
            self.height() * 0.83,
            self.title,
            px,
            palette.ink,
            align=MIDDLE,
            room=self.width() - 6,
        )


def _triangle(box: QRectF, *, forward: bool) -> QPolygonF:
    tip, base = (box.right(), box.left()) if forward else (box.left(), box.right())
    return QPolygonF([QPointF(tip, box.center().y()), QPointF(base, box.top()), QPointF(base, box.bottom())])


class _Speed(Key):
    """One speed; the one in force is a block."""

    def __init__(self, parent: QWidget, speed: int, letter: str) -> None:
        super().__init__(parent, f"speed {speed}, {letter}", letter)
        self.speed = speed
        self.chosen = False

    def show_chosen(self, chosen: bool, style: Style) -> None:
        """Say whether this is the speed in force."""
        if (chosen, style) != (self.chosen, self.style_):
            self.chosen, self.style_ = chosen, style
            self.update()

    def draw(self, painter: QPainter, style: Style) -> None:
        """Draw the speed."""
        palette, px = style.palette, style.type("phase")
        area = QRectF(0, 0, self.width(), self.height())
        framed(painter, area, palette.ink if self.chosen else palette.key, palette.rule, 2)
        colour = palette.ground if self.chosen else palette.ink
        word(
            painter,
            self.width() / 2,
            self.height() / 2 + px * 0.37,
            f"×{self.speed}",
            px,
            colour,
            bold=self.chosen,
            align=MIDDLE,
            room=self.width() - 6,
        )


class ScrubPane(Pane[Transport]):
    """The whole log: what is past, the alarms on it, where the replay stands."""

    sought = Signal(float)
    """A place was chosen, as a share of the whole."""

    def bar(self, style: Style) -> QRectF:
        """The bar, in the pane's pixels."""
        px = style.type("axis")
        return QRectF(0, self.height() * 0.5, self.width() - 1, max(6.0, px * 0.5))

    def draw(self, painter: QPainter, look: Transport, style: Style) -> None:
        """Draw bar, ticks, alarms and the place."""
        palette, px = style.palette, style.type("axis")
        bar = self.bar(style)
        fill(painter, bar, palette.water)
        fill(painter, QRectF(bar.left(), bar.top(), bar.width() * look.at, bar.height()), palette.ink2)
        free_from = 0.0
        for share, text in look.ticks:
            x = bar.left() + share * bar.width()
            hair(painter, x, bar.bottom(), x, bar.bottom() + style.px(4), palette.rule, 1)
            half = width_of(text, px) / 2
            if x - half >= free_from and x + half <= self.width():
                free_from = x + half + px * 0.6
                word(painter, x, bar.bottom() + px * 1.45, text, px, palette.ink2, align=MIDDLE)
        side = px * 1.2
        for share, priority in look.alarms:
            x = bar.left() + share * bar.width()
            sign(painter, QRectF(x - side / 2, bar.top() - side * 1.35, side, side), priority, palette, 2)
        x = bar.left() + look.at * bar.width()
        hair(painter, x, bar.top() - style.px(8), x, bar.bottom() + style.px(8), palette.ink, style.px(4))

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """A press on the bar goes there."""
        self._seek(event.position().x())

    def mouseMoveEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """So does a drag."""
        self._seek(event.position().x())

    def _seek(self, x: float) -> None:
        self.sought.emit(min(1.0, max(0.0, x / max(1, self.width() - 1))))


class _Recorded(Pane[tuple[str, str, str]]):
    def draw(self, painter: QPainter, look: tuple[str, str, str], style: Style) -> None:
        px, palette = style.type("strip") * 9 // 10, style.palette
        for row, text in enumerate(look):
            bold = row == 1
            colour = palette.ink if bold else palette.ink2
            word(
                painter,
                self.width(),
                self.height() * (0.3 + 0.28 * row),
                text,
                px,
                colour,
                bold=bold,
                align=RIGHT,
                room=self.width(),
            )


class _Caution(Pane[str]):
    def draw(self, painter: QPainter, look: str, style: Style) -> None:
        px = style.type("strip")
        word(painter, 0, self.height() * 0.72, look, px, style.palette.ink2, room=self.width())


class TransportPane(QWidget):
    """All of it in one row."""

    commanded = Signal(str, float)
    """play, pause, speed, seek, alarm_before or alarm_after, with its value (0 where there is none)."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.before = _Drive(self, ALARM_BEFORE, ",")
        self.play = _Drive(self, PLAY, "P")
        self.after = _Drive(self, ALARM_AFTER, ".")
        self.speeds = tuple(_Speed(self, speed, f"Ctrl+{place}") for place, speed in enumerate(SPEEDS, 1))
        self.scrub = ScrubPane(self)
        self.scrub.setAccessibleName("place in the log")
        self._recorded = _Recorded(self)
        self._caution = _Caution(self)
        self._look: Transport | None = None
        self.before.went.connect(lambda: self.commanded.emit("alarm_before", 0.0))
        self.after.went.connect(lambda: self.commanded.emit("alarm_after", 0.0))
        self.play.went.connect(self._play)
        for key in self.speeds:
            key.went.connect(lambda key=key: self.commanded.emit("speed", float(key.speed)))
        self.scrub.sought.connect(lambda share: self.commanded.emit("seek", share))
        for letter, step in (("Left", -_STEP), ("Right", _STEP)):
            QShortcut(letter, self).activated.connect(lambda step=step: self._step(step))
        QShortcut(QKeySequence("Home"), self).activated.connect(lambda: self.commanded.emit("seek", 0.0))
        self.setAccessibleName("Replay")

    def _play(self) -> None:
        playing = self._look is not None and self._look.playing
        self.commanded.emit("pause" if playing else "play", 0.0)

    def _step(self, step: float) -> None:
        if self._look is not None:
            self.commanded.emit("seek", min(1.0, max(0.0, self._look.at + step)))

    def show_look(self, look: Transport, caution: str, style: Style) -> None:
        """Place the keys, mark the speed in force, draw the bar, the caution under them."""
        self._look = look
        line_h = round(style.type("strip") * 1.5)
        row_h = self.height() - line_h
        place(self._caution, Box(0, row_h, self.width(), line_h))
        self._caution.show_look(caution, style)
        height = row_h - style.px(12)
        top, gap = style.px(8), style.px(8)
        px = style.type("strip") * 9 // 10
        x = 0
        for key, title in (
            (self.before, ALARM_BEFORE),
            (self.play, PAUSE if look.playing else PLAY),
            (self.after, ALARM_AFTER),
        ):
            width = round(width_of(title if key is not self.play else PAUSE, px) + px * 1.6)
            place(key, Box(x, top, width, height))
            key.show_title(title, style)
            x += width + gap
        x += gap
        for speed in self.speeds:
            width = round(width_of("×300", style.type("phase"), bold=True) + px * 0.8)
            place(speed, Box(x, top, width, height))
            speed.show_chosen(look.speed == speed.speed, style)
            x += width + gap
        recorded_w = round(
            max(width_of(text, px, bold=True) for text in (look.recorded, look.file, look.whole)) + px
        )
        x += gap * 2
        if self.width() - x < recorded_w * _SCRUB_TO_WORDS:
            recorded_w = 0
        place(self.scrub, Box(x, 0, max(10, self.width() - x - recorded_w - gap * 2), row_h))
        self.scrub.show_look(look, style)
        place(self._recorded, Box(self.width() - recorded_w, 0, recorded_w, row_h))
        self._recorded.show_look((look.recorded, look.file, look.whole), style)
