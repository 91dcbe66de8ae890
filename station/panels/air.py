"""The air board: each supply with its pressure and minutes, and what the station does about it next."""

from PySide6.QtCore import QRectF, Signal
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QWidget

from station.panels.brush import RIGHT, fill, hair, sign, word
from station.panels.diver import NamePane
from station.panels.event_key import shown_key
from station.panels.layout import Box, diver_layout
from station.panels.number import DASHED, draw_dashes
from station.panels.pane import Blink, Pane, Style, flashes, place
from station.panels.sentence import SentencePane
from station.panels.type import width_of
from station.present import labels
from station.present.looks import AirBoard, BankLook, Fact, Number

_KEY_H = 46
_KEY_GAP = 8
"""The keys at the foot, in drawn pixels."""

_BANK_SHARE = 0.36
"""Height of a bank's part as a share of the three number rows."""


_NUMBERS_APART = 0.7
"""Room between the two numbers and before their units, as a share of the digits' size."""


class BankPane(Pane[BankLook]):
    """One supply: title and role, pressure and minutes, a bar that shows the need before what is spare."""

    def flashing(self) -> bool:
        """Whether one of its marks flashes."""
        return self.look is not None and flashes(self.look.pressure.sign)

    def draw(self, painter: QPainter, look: BankLook, style: Style) -> None:
        """Draw the supply from the caption down."""
        palette, caption = style.palette, style.type("caption")
        self.setAccessibleName(f"{look.title} {look.role}: {look.pressure.value or 'not known'}")
        baseline = caption * 1.15
        start = 0.0
        if look.pressure.sign is not None:
            start = caption * 1.5
            if self.blink is None or self.blink.shows(look.pressure.sign):
                box = QRectF(1, baseline - caption, caption * 1.2, caption * 1.2)
                sign(painter, box, look.pressure.sign.priority, palette, 2)
        role = word(painter, self.width(), baseline, look.role, caption, palette.ink2, align=RIGHT)
        room = self.width() - role - start - caption * 0.4
        word(painter, start, baseline, look.title, caption, palette.ink, bold=True, room=room)
        px = style.type("bank")
        digits = baseline + px * 1.04
        drawn = self._fitted(look, style)
        self._draw_number(painter, look.pressure, style, drawn, digits)
        self._draw_minutes(painter, look.minutes, style, drawn, digits)
        bar = QRectF(0, digits + px * 0.26, self.width(), style.px(15 if px > 40 else 11))
        self._draw_bar(painter, look, style, bar)
        under = bar.bottom() + style.px(6) + caption
        took = word(painter, 0, under, look.note, caption, palette.ink, bold=True, room=self.width())
        room = self.width() - took - caption * 0.5
        if width_of(look.note_detail, caption) * 0.75 <= room:
            word(
                painter, self.width(), under, look.note_detail, caption, palette.ink2, align=RIGHT, room=room
            )
        else:
            word(
                painter, 0, under + caption * 1.35, look.note_detail, caption, palette.ink2, room=self.width()
            )

    def _fitted(self, look: BankLook, style: Style) -> int:
        """The size of the digits at which pressure and minutes stand side by side with their units."""
        px, bold = style.type("bank"), style.palette.bold_values
        units = width_of(look.pressure.unit, style.type("text")) + width_of(
            look.minutes.unit, style.type("text")
        )
        digits = sum(
            width_of(number.value, px, bold=bold) if number.state not in DASHED else px * 1.5
            for number in (look.pressure, look.minutes)
        )
        room = self.width() - units - px * _NUMBERS_APART
        return px if digits <= room else int(px * room / digits)

    def _draw_number(self, painter: QPainter, number: Number, style: Style, px: int, baseline: float) -> None:
        x, palette = 0.0, style.palette
        if number.state in DASHED:
            width = px * (3 * 0.47 + 2 * 0.18)
            draw_dashes(painter, x + width, baseline, px, palette.ink)
        else:
            width = word(painter, x, baseline, number.value, px, palette.ink, bold=palette.bold_values)
        word(painter, x + width + px * 0.15, baseline, number.unit, style.type("text"), palette.ink2)

    def _draw_minutes(
        self, painter: QPainter, number: Number, style: Style, px: int, baseline: float
    ) -> None:
        unit, palette = style.type("text"), style.palette
        right = self.width() - width_of(number.unit, unit)
        word(painter, right, baseline, number.unit, unit, palette.ink2)
        right -= px * 0.15
        if number.state in DASHED:
            draw_dashes(painter, right, baseline, px * 6 // 10, palette.ink2)
        else:
            word(
                painter, right, baseline, number.value, px, palette.ink, bold=palette.bold_values, align=RIGHT
            )

    def _draw_bar(self, painter: QPainter, look: BankLook, style: Style, bar: QRectF) -> None:
        palette = style.palette
        fill(painter, bar, palette.water)
        if look.full is not None:
            spare = QRectF(bar.left(), bar.top(), bar.width() * look.full, bar.height())
            fill(painter, spare, palette.band)
            hair(painter, spare.right(), bar.top(), spare.right(), bar.bottom(), palette.ink2, 1)
        if look.needed is not None:
            needed = QRectF(bar.left(), bar.top(), bar.width() * look.needed, bar.height())
            fill(painter, needed, palette.ink2)
            over = style.px(4)
            hair(
                painter,
                needed.right(),
                bar.top() - over,
                needed.right(),
                bar.bottom() + over,
                palette.ink,
                style.px(3),
            )
        for quarter in range(5):
            x = bar.left() + quarter * (bar.width() - 1) / 4
            hair(painter, x, bar.bottom(), x, bar.bottom() + style.px(4), palette.rule, 1)


class RowsPane(Pane[tuple[Fact, ...]]):
    """Captions at the left with their values at the right."""

    def draw(self, painter: QPainter, look: tuple[Fact, ...], style: Style) -> None:
        """Draw them one under the other, under a hairline."""
        px, palette = style.type("caption"), style.palette
        if look:
            hair(painter, 0, 1, self.width(), 1, palette.hair, 2)
        y = px * 1.65
        for fact in look:
            if y > self.height():
                break
            value = self._fitted(fact, px)
            took = word(painter, self.width(), y, value, px, palette.ink, bold=True, align=RIGHT)
            word(painter, 0, y, fact.caption, px, palette.ink2, room=self.width() - took - px * 0.5)
            y += px * 1.85

    def _fitted(self, fact: Fact, px: int) -> str:
        """The value, or what stands behind its first comma where the caption would have no room."""
        taken = width_of(fact.value, px, bold=True) + width_of(fact.caption, px)
        return fact.value if taken + px * 0.5 <= self.width() else fact.value.split(", ", 1)[-1]


class AirPane(QWidget):
    """The whole board, and at its foot the keys that are about every diver."""

    choosing = Signal()
    asking = Signal()

    def __init__(self, parent: QWidget, blink: Blink) -> None:
        super().__init__(parent)
        self._blink = blink
        self.name = NamePane(self)
        self.name.quiet = True
        self.banks: list[BankPane] = []
        self.facts = RowsPane(self)
        self.sentence = SentencePane(self)
        self.choose_key = shown_key(self, labels.CHOICES_KEY)
        self.choose_key.went.connect(self.choosing)
        self.where_key = shown_key(self, labels.WHERE_FROM_KEY)
        self.where_key.went.connect(self.asking)
        self.setAccessibleName("Air")

    def show_look(self, look: AirBoard, title: str, style: Style, *, may_act: bool = True) -> None:
        """Hand the parts of the board to its parts."""
        boxes = diver_layout(style.measures, self.width(), self.height())
        place(self.name, Box(0, 0, boxes.name.w, boxes.name.bottom))
        self.name.show_look((title, "", look.detail), style)
        while len(self.banks) < len(look.banks):
            self.banks.append(BankPane(self, self._blink))
            self.banks[-1].show()
        top, rows = boxes.name.bottom, boxes.line.h
        share = _BANK_SHARE if len(look.banks) < 3 else 0.88 / len(look.banks)
        each = round(rows * share)
        for place_, pane in enumerate(self.banks):
            pane.setVisible(place_ < len(look.banks))
            if place_ < len(look.banks):
                place(pane, Box(0, top + place_ * each, self.width(), each))
                pane.show_look(look.banks[place_], style)
        foot = top + len(look.banks) * each
        place(self.facts, Box(0, foot, self.width(), boxes.sentence.y - foot))
        self.facts.show_look(look.facts, style)
        key_h = style.px(_KEY_H)
        # In a replay nothing can be chosen: its key leaves its room to the words.
        keys = (self.choose_key, self.where_key) if may_act else (self.where_key,)
        self.choose_key.setVisible(may_act)
        foot_y = self.height() - len(keys) * (key_h + style.px(_KEY_GAP)) + style.px(_KEY_GAP)
        place(self.sentence, Box(0, boxes.sentence.y, self.width(), foot_y - style.px(4) - boxes.sentence.y))
        self.sentence.show_look(look.sentence, style)
        for at, key in enumerate(keys):
            place(key, Box(0, foot_y + at * (key_h + style.px(_KEY_GAP)), self.width(), key_h))
        self.choose_key.show_words(labels.CHOICES, "", style)
        self.where_key.show_words(labels.WHERE_FROM, "", style)
