"""What stands on the timekeeper's window besides the event keys: clock, divers, last mark, people."""

from dataclasses import dataclass

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter

from station.panels.brush import RIGHT, fill, hair, paragraph, sign, word
from station.panels.event_key import PlainKey
from station.panels.key import framed
from station.panels.number import DASHED, draw_dashes
from station.panels.pane import Pane, Style, flashes
from station.panels.type import fitted_px, width_of
from station.present.looks import Number


@dataclass(frozen=True, slots=True)
class ClockLook:
    """The clock of a diver, with his depth and air beside it."""

    number: Number
    depth: Number
    air: Number
    diver: str


class ClockPane(Pane[ClockLook]):
    """The one clock that matters now, readable across the deck, and the diver's depth and air under it."""

    def flashing(self) -> bool:
        """Whether a mark of its numbers flashes."""
        look = self.look
        return look is not None and any(
            flashes(number.sign) for number in (look.number, look.depth, look.air)
        )

    def draw(self, painter: QPainter, look: ClockLook, style: Style) -> None:
        """Draw caption, clock, unit; depth and air below."""
        palette, px = style.palette, style.type("clock")
        caption = style.type("name")
        word(painter, 0, caption * 0.85, look.number.caption, caption, palette.ink, bold=True)
        word(
            painter,
            self.width(),
            caption * 0.85,
            f"{look.diver}, {look.number.detail}" if look.number.detail else look.diver,
            style.type("phase"),
            palette.ink2,
            align=RIGHT,
            room=self.width() * 0.6,
        )
        foot = self.height() - style.type("phase") * 2.0
        unit_w = width_of(look.number.unit, style.type("name")) + style.px(26)
        right = self.width() - unit_w
        baseline = foot - style.px(20)
        if look.number.state in DASHED:
            draw_dashes(painter, right, baseline, px, palette.ink)
        else:
            size = fitted_px(look.number.value, px, right, bold=palette.bold_values)
            word(
                painter,
                right,
                baseline,
                look.number.value,
                size,
                palette.ink,
                bold=palette.bold_values,
                align=RIGHT,
            )
        word(
            painter,
            self.width() - unit_w + style.px(22),
            baseline,
            look.number.unit,
            style.type("name"),
            palette.ink2,
        )
        hair(painter, 0, foot - style.px(6), self.width(), foot - style.px(6), palette.hair, 2)
        half = self.width() / 2
        for x, number in ((0.0, look.depth), (half, look.air)):
            self._draw_small(painter, number, style, x, half - style.px(12))

    def _draw_small(self, painter: QPainter, number: Number, style: Style, x: float, room: float) -> None:
        palette, px = style.palette, style.type("name")
        baseline = self.height() - px * 0.35
        if number.sign is not None:
            side = px * 1.05
            if self.blink is None or self.blink.shows(number.sign):
                sign(
                    painter, QRectF(x + 1, baseline - px * 0.9, side, side), number.sign.priority, palette, 2
                )
            x += side + px * 0.3
            room -= side + px * 0.3
        took = word(painter, x, baseline, number.caption, style.type("text"), palette.ink2, room=room * 0.5)
        value = "---" if number.state in DASHED else number.value
        word(
            painter,
            x + took + px * 0.5,
            baseline,
            f"{value} {number.unit}",
            px,
            palette.ink,
            bold=True,
            room=room - took - px * 0.5,
        )


class LastPane(Pane[tuple[str, str, str]]):
    """The mark made last, or what the station refused."""

    def draw(self, painter: QPainter, look: tuple[str, str, str], style: Style) -> None:
        """Draw caption, mark, details."""
        caption, title, detail = look
        palette, px = style.palette, style.type("key")
        y = style.type("caption") * 1.1
        word(painter, 0, y, caption, style.type("caption"), palette.ink2)
        y += px * 1.4
        size = max(px * 3 // 4, fitted_px(title, px * 23 // 20, self.width(), bold=True))
        word(painter, 0, y, title, size, palette.ink, bold=True, room=self.width())
        area = QRectF(0, y + px * 0.45, self.width(), self.height() - y - px * 0.4)
        paragraph(painter, area, ((detail, False, palette.ink2),), style.type("caption"), 1.35)


class PeoplePane(Pane[tuple[tuple[str, str], ...]]):
    """Who is here, under a hairline."""

    def draw(self, painter: QPainter, look: tuple[tuple[str, str], ...], style: Style) -> None:
        """Draw rows."""
        px, palette = style.type("caption"), style.palette
        hair(painter, 0, 1, self.width(), 1, palette.rule, 1.5)
        y = px * 1.7
        for caption, value in look:
            if y > self.height():
                break
            took = word(
                painter,
                self.width(),
                y,
                value,
                px,
                palette.ink,
                bold=True,
                align=RIGHT,
                room=self.width() * 0.6,
            )
            word(painter, 0, y, caption, px, palette.ink2, room=self.width() - took - px * 0.5)
            y += px * 1.7


class DiverKey(PlainKey):
    """A diver to choose: name, where he is in his dive, his clock."""

    def draw(self, painter: QPainter, style: Style) -> None:
        """Draw three lines on a key, or on a block when he is the chosen one."""
        palette, px, small = style.palette, style.type("name") * 5 // 4, style.type("key_detail") * 11 // 10
        back, ink = (palette.ink, palette.ground) if self.chosen else (palette.key, palette.ink)
        framed(painter, QRectF(0, 0, self.width(), self.height()), back, palette.ink, 2)
        inset = style.px(14)
        room = self.width() - 2 * inset
        top = self.height() * 0.36
        word(painter, inset, top, self.title, px, ink, bold=True, room=room - small)
        status, _, clock = self.detail_.partition(", ")
        word(painter, inset, top + small * 1.6, status, small, ink, room=room)
        word(painter, inset, top + small * 3.0, clock, small, ink, room=room)
        tiny = style.type("axis")
        word(painter, self.width() - tiny * 0.6, tiny * 1.4, self.letter, tiny, ink, align=RIGHT)


class LateCaption(Pane[str]):
    """What stands over the keys that set a mark back."""

    def draw(self, painter: QPainter, look: str, style: Style) -> None:
        """Draw it small."""
        px = style.type("caption")
        word(painter, 0, self.height() - px * 0.45, look, px, style.palette.ink2, room=self.width())


class RulePane(Pane[int]):
    """A thick rule."""

    def draw(self, painter: QPainter, look: int, style: Style) -> None:
        """Fill it."""
        del look
        fill(painter, QRectF(0, 0, self.width(), self.height()), style.palette.ink)
