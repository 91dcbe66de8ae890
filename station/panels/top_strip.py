"""The top strip: what the numbers come from, who, when, which links are heard, how safe the log is."""

from dataclasses import dataclass

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter

from station.panels.brush import RIGHT, fill, hair, sign, word
from station.panels.pane import Pane, Style, flashes
from station.panels.type import width_of
from station.present.looks import Link, TopStrip


@dataclass(frozen=True, slots=True)
class _Inks:
    """The colours of the strip: those of the ground, or turned round when it is a banner."""

    ground: str
    ink: str
    ink2: str
    block: str
    on_block: str


class TopPane(Pane[TopStrip]):
    """One line of two rows. A rehearsal and a replay have it inverted over the full width."""

    def flashing(self) -> bool:
        """Whether one of its signs flashes."""
        look = self.look
        return look is not None and any(flashes(s) for s in (look.log_sign, *(k.sign for k in look.links)))

    def taken(self, look: TopStrip, style: Style) -> None:
        """The name that a reader of the screen hears."""
        del style
        self.setAccessibleName(
            f"{look.mode_word} {look.station} {look.clock} {look.log_caption} {look.log_value}"
        )

    def draw(self, painter: QPainter, look: TopStrip, style: Style) -> None:
        """Draw from left and right towards the links."""
        palette = style.palette
        if palette.banner:
            inks = _Inks(palette.ink, palette.ground, palette.water, palette.ink, palette.ground)
        else:
            inks = _Inks(palette.ground, palette.ink, palette.ink2, palette.ink, palette.ground)
        fill(painter, QRectF(0, 0, self.width(), self.height()), inks.ground)
        margin = style.px(style.measures.arrangement.margin)
        if not palette.banner:
            hair(
                painter, margin, self.height() - 1, self.width() - margin, self.height() - 1, palette.hair, 2
            )
        px = style.type("strip")
        first, second = self.height() * 0.43, self.height() * 0.79
        x: float = margin + self._draw_mode(painter, look, style, inks, margin)
        x = self._draw_station(painter, look, style, inks, x)
        x = self._draw_clock(painter, look, style, inks, x)
        right: float = self.width() - margin
        right -= self._draw_log(painter, look, style, inks, right)
        self._draw_links(painter, look.links, style, inks, QRectF(x, first, right - x, second - first), px)

    def _draw_mode(self, painter: QPainter, look: TopStrip, style: Style, inks: _Inks, left: float) -> float:
        px = style.type("mode")
        width = width_of(look.mode_word, px, bold=True) + px * 1.1
        height = px * 1.5
        block = QRectF(left, (self.height() - height) / 2, width, height)
        fill(painter, block, inks.block)
        inset = 0.0 if style.palette.banner else px * 0.55
        word(
            painter,
            left + inset,
            block.center().y() + px * 0.37,
            look.mode_word,
            px,
            inks.on_block,
            bold=True,
        )
        return width + px * (0.1 if style.palette.banner else 0.55)

    def _draw_station(self, painter: QPainter, look: TopStrip, style: Style, inks: _Inks, x: float) -> float:
        px = style.type("station")
        room = self.width() * 0.155
        word(painter, x, self.height() * 0.41, look.station, px, inks.ink, bold=True, room=room)
        word(painter, x, self.height() * 0.79, look.job, style.type("strip"), inks.ink2, room=room)
        widest = max(width_of(look.station, px, bold=True), width_of(look.job, style.type("strip")))
        return x + min(room, widest) + px * 1.0

    def _draw_clock(self, painter: QPainter, look: TopStrip, style: Style, inks: _Inks, x: float) -> float:
        px, small = style.type("watch"), style.type("strip")
        # The widest time keeps the room, so that nothing moves with the digits.
        width = width_of("00:00:00", px, bold=True)
        word(painter, x, self.height() / 2 + px * 0.375, look.clock, px, inks.ink, bold=True)
        x += width + px * 0.35
        word(painter, x, self.height() * 0.43, look.clock_caption, small, inks.ink2)
        word(painter, x, self.height() * 0.79, look.clock_detail, small, inks.ink2)
        widest = max(width_of(look.clock_caption, small), width_of("on watch 00:00:00", small))
        return x + widest + small

    def _draw_log(self, painter: QPainter, look: TopStrip, style: Style, inks: _Inks, right: float) -> float:
        px = style.type("strip")
        word(painter, right, self.height() * 0.43, look.log_caption, px, inks.ink2, align=RIGHT)
        took = word(
            painter, right, self.height() * 0.79, look.log_value, px, inks.ink, bold=True, align=RIGHT
        )
        if look.log_sign is not None and (self.blink is None or self.blink.shows(look.log_sign)):
            box = QRectF(right - took - px * 1.3, self.height() * 0.79 - px * 0.85, px, px)
            sign(painter, box, look.log_sign.priority, style.palette, 1.5)
        return max(took, width_of("not for 00 s", px, bold=True)) + px * 1.5

    def _draw_links(  # noqa: PLR0917 - places and colours, as a painter takes them
        self, painter: QPainter, links: tuple[Link, ...], style: Style, inks: _Inks, area: QRectF, px: int
    ) -> None:
        if not links:
            return
        names = max(width_of(link.name, px, bold=True) for link in links)
        each = min(names + px * 1.4, area.width() / len(links))
        px = max(px * 3 // 4, min(px, int(px * (each - px * 0.4) / names)))
        x = area.left()
        for link in links:
            bold = link.sign is not None
            colour = inks.ink if bold else inks.ink2
            word(painter, x, area.top(), link.name, px, colour, bold=bold, room=each - px * 0.4)
            left = x
            if link.sign is not None:
                if self.blink is None or self.blink.shows(link.sign):
                    box = QRectF(x, area.bottom() - px * 0.85, px, px)
                    sign(painter, box, link.sign.priority, style.palette, 1.5)
                left += px * 1.3
            word(painter, left, area.bottom(), link.age, px, inks.ink, bold=bold, room=each - px * 0.4)
            x += each
