"""One large number with its caption, in any of its states."""

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen

from station.panels.brush import RIGHT, fill, hair, hatch, sign, word
from station.panels.measures import CAP_SHARE
from station.panels.pane import Pane, Style, flashes
from station.panels.type import fitted_px, width_of
from station.present.looks import Number, NumberState, Sign

DASHED = (NumberState.STALE, NumberState.LOST, NumberState.NONE)
_BASELINE_SHARE = 0.895
"""Where the digits stand in a row, from its top."""


class NumberPane(Pane[Number]):
    """Caption, digits set right to one edge, unit after them in one column."""

    ruled = True
    """Whether a hairline parts this number from the one above."""

    role = "digits"
    """The role of type of its digits."""

    def taken(self, look: Number, style: Style) -> None:
        """The name that a reader of the screen hears."""
        del style
        self.setAccessibleName(f"{look.caption} {look.value or 'not known'} {look.unit}, {look.detail}")

    def flashing(self) -> bool:
        """Whether the number's mark flashes."""
        return self.look is not None and flashes(self.look.sign)

    def draw(self, painter: QPainter, look: Number, style: Style) -> None:
        """Draw the number."""
        if self.ruled:
            hair(painter, 0, 0, self.width(), 0, style.palette.hair, 2)
        self._draw_caption(painter, look, style)
        baseline = self.height() * _BASELINE_SHARE
        right = self.width() - style.px(style.measures.arrangement.unit)
        if look.state in DASHED or not look.value:
            draw_dashes(painter, right, baseline, self._digits_px(style), self._dash_colour(look, style))
        else:
            self._draw_digits(painter, look, style, right, baseline)
        unit_x = right + style.px(style.measures.arrangement.unit) * 0.24
        word(painter, unit_x, baseline, look.unit, style.type("unit"), style.palette.ink2)
        if look.state is NumberState.MANUAL:
            self._draw_manual(painter, style, unit_x, baseline)

    def _digits_px(self, style: Style) -> int:
        """The size of the role, or what stands between caption and baseline where the row is lower."""
        room = self.height() * _BASELINE_SHARE - style.px(style.measures.arrangement.caption) * 1.04
        return max(1, min(style.type(self.role), int(room / CAP_SHARE)))

    def _dash_colour(self, look: Number, style: Style) -> str:
        return style.palette.ink2 if look.state is NumberState.NONE else style.palette.ink

    def _draw_digits(
        self, painter: QPainter, look: Number, style: Style, right: float, baseline: float
    ) -> None:
        bold = style.palette.bold_values
        left = style.px(14) if look.sign else 0
        # Where the column is narrow every number of it takes the size of the widest usual one.
        px = fitted_px("00:00", self._digits_px(style), right, bold=bold)
        px = fitted_px(look.value, px, right - left, bold=bold)
        word(painter, right, baseline, look.value, px, style.palette.ink, bold=bold, align=RIGHT)
        if look.state is NumberState.SUSPECT:
            width = width_of(look.value, px, bold=bold)
            bar = QRectF(right - width, baseline + px * 0.05, width, max(4.0, px * 0.065))
            hatch(painter, bar, style.palette.ink, max(6.0, px * 0.07), max(2.0, px * 0.025))

    def _draw_caption(self, painter: QPainter, look: Number, style: Style) -> None:
        height = style.px(style.measures.arrangement.caption)
        px = style.type("caption")
        baseline = height / 2 + px * 0.42
        left, ink, ink2 = 0.0, style.palette.ink, style.palette.ink2
        inset = 0.0
        if look.sign is not None:
            left = height + style.px(3)
            inset = style.px(8)
            self._draw_sign(painter, look.sign, style, height, left)
            ink = ink2 = style.palette.text_on(look.sign.priority)
        took = word(
            painter, left + inset, baseline, look.caption, px, ink, bold=True, room=self.width() - left
        )
        right = self.width() - inset
        if look.struck:
            width = width_of(look.struck, px)
            word(painter, right, baseline, look.struck, px, ink2, align=RIGHT)
            hair(painter, right - width - 2, baseline - px * 0.3, right + 2, baseline - px * 0.3, ink2, 2)
            right -= width + width_of(" ", px)
        room = right - left - inset - took - px * 0.6
        detail = look.detail
        if width_of(detail, px) * 0.75 > room:
            # Better the last figure whole than both cut.
            detail = detail.rpartition(", ")[2]
        if width_of(detail, px) * 0.75 > room:
            detail = ""
        word(painter, right, baseline, detail, px, ink2, align=RIGHT, room=room)

    def _draw_sign(self, painter: QPainter, shown: Sign, style: Style, height: int, left: float) -> None:
        palette = style.palette
        colour = palette.fill_of(shown.priority)
        bar = QRectF(left, 1, self.width() - left - 1, height - 3)
        fill(painter, bar, colour)
        if palette.outline_of(shown.priority):
            painter.setPen(QPen(QColor(palette.outline or colour), 2))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(bar)
        if self.blink is None or self.blink.shows(shown):
            sign(painter, QRectF(1, 1, height - 3, height - 3), shown.priority, palette, 2)
        staff = QRectF(height / 2 - style.px(2), height + style.px(2), style.px(4), self.height())
        fill(painter, staff, colour)
        if palette.outline_of(shown.priority):
            hair(painter, staff.left(), staff.top(), staff.left(), self.height(), palette.outline or colour)
            hair(painter, staff.right(), staff.top(), staff.right(), self.height(), palette.outline or colour)

    def _draw_manual(self, painter: QPainter, style: Style, x: float, baseline: float) -> None:
        px = style.type("unit")
        top = baseline - self._digits_px(style) * CAP_SHARE
        side = px * 1.3
        painter.setPen(QPen(QColor(style.palette.ink), 2))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(QRectF(x, top, side, side))
        middle = x + side / 2 - width_of("M", px, bold=True) / 2
        word(painter, middle, top + px * 1.02, "M", px, style.palette.ink, bold=True)


def draw_dashes(painter: QPainter, right: float, baseline: float, px: int, colour: str) -> None:
    """Three dashes where three digits would stand."""
    width, gap, height = px * 0.47, px * 0.18, max(3.0, px * 0.085)
    for place in range(3):
        x = right - width - place * (width + gap)
        painter.fillRect(
            QRectF(
                QPointF(x, baseline - px * 0.375 - height / 2),
                QPointF(x + width, baseline - px * 0.375 + height / 2),
            ),
            QColor(colour),
        )
