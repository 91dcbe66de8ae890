"""Why the plan changed: each change with its rule, old and new plan side by side; cards that advise."""

from dataclasses import dataclass

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter

from station.panels.brush import RIGHT, fill, hair, lines_of, paragraph, word
from station.panels.pane import Pane, Style
from station.panels.type import width_of
from station.present import labels
from station.present.ascent_looks import AscentLook, CardsLook, ChangeLook, PlanLook

_LEADING = 1.34
_OLD_SHARE = 0.2
_NEW_SHARE = 0.6
"""Where the columns of the old and the new plan begin."""


@dataclass(frozen=True, slots=True)
class ChangesLook:
    """What the right column says: the changes, the row in force, the cards, a refusal of the tables."""

    row: str
    changes: tuple[ChangeLook, ...]
    cards: CardsLook | None
    refused: str


def changes_of(ascent: AscentLook) -> ChangesLook:
    """The part of an ascent that this column draws."""
    told = bool(ascent.changes) and ascent.changes[-1].sentence == ascent.refused
    return ChangesLook(ascent.row, ascent.changes, ascent.cards, "" if told else ascent.refused)


class ChangesPane(Pane[ChangesLook]):
    """Cards first, because they want a decision; then the newest change in full, the older ones in a line."""

    def taken(self, look: ChangesLook, style: Style) -> None:
        """The name that a reader of the screen hears."""
        del style
        parts = [] if look.cards is None else [look.cards.head, look.cards.holds, look.cards.call]
        parts += [] if look.cards is None else [card.text for card in look.cards.cards]
        parts += [f"Rule {each.rule}: {each.sentence}" for each in reversed(look.changes)]
        self.setAccessibleName(". ".join((*parts, look.refused, look.row)).strip(". "))

    def draw(self, painter: QPainter, look: ChangesLook, style: Style) -> None:
        """Draw from the top."""
        y = 0.0
        if look.cards is not None:
            y = self._draw_cards(painter, look.cards, style, y)
        if look.refused:
            y = self._words(painter, style, y, look.refused, style.type("text"), bold=True)
        if look.refused and not look.changes:
            # There is no plan: nothing may say that one stands.
            return
        y = self._draw_head(painter, look, style, y)
        if not look.changes:
            return
        *before, newest = look.changes
        y = self._draw_change(painter, newest, style, y)
        if before and y + style.type("caption") * 2 < self.height():
            y = self._words(painter, style, y + style.px(6), labels.EARLIER_CHANGES, style.type("caption"))
            for change in reversed(before):
                text = f"Rule {change.rule}: {change.sentence}"
                y = self._words(painter, style, y, text, style.type("caption"))

    def _words(
        self, painter: QPainter, style: Style, y: float, text: str, px: int, *, bold: bool = False
    ) -> float:
        """Words broken to the width, whole lines only; returns the y under them."""
        colour = style.palette.ink if bold else style.palette.ink2
        count = len(lines_of(((text, bold, colour),), px, self.width()))
        height = min(self.height() - y, count * px * _LEADING)
        if height < px * 1.1:
            return self.height()
        return paragraph(painter, QRectF(0, y, self.width(), height), ((text, bold, colour),), px, _LEADING)

    def _draw_head(self, painter: QPainter, look: ChangesLook, style: Style, y: float) -> float:
        palette, px = style.palette, style.type("name")
        drawn = style.measures.arrangement
        fill(painter, QRectF(0, y, self.width(), style.px(drawn.rule)), palette.ink)
        baseline = y + style.px(drawn.rule) + style.px(drawn.name) * 0.72
        small = style.type("caption")
        right = word(
            painter, self.width(), baseline, look.row.rpartition(", ")[2], small, palette.ink2, align=RIGHT
        )
        title = labels.WHY_CHANGED if look.changes else labels.PLAN_STANDS
        took = word(
            painter, 0, baseline, title, px, palette.ink, bold=True, room=self.width() - right - small
        )
        if not look.changes and look.row:
            room = self.width() - right - took - px * 0.5 - small
            detail = labels.PLAN_STANDS_DETAIL
            if width_of(detail, small) * 0.75 <= room:
                word(painter, took + px * 0.5, baseline, detail, small, palette.ink2, room=room)
        return y + style.px(drawn.rule) + style.px(drawn.name)

    def _draw_change(self, painter: QPainter, change: ChangeLook, style: Style, y: float) -> float:
        palette, px = style.palette, style.type("text")
        rule = f"Rule {change.rule}"
        head = f"{rule}, {labels.RUNNING}:" if change.running else f"{rule}:"
        runs = ((head, False, palette.ink2), (change.sentence, True, palette.ink))
        count = len(lines_of(runs, px, self.width()))
        room = max(px * 1.2, min(count * px * _LEADING, self.height() - y - px * 7))
        y = paragraph(painter, QRectF(0, y, self.width(), room), runs, px, _LEADING) + style.px(4)
        return self._draw_plans(painter, change.old, change.new, style, y)

    def _draw_plans(self, painter: QPainter, old: PlanLook, new: PlanLook, style: Style, y: float) -> float:
        palette, px = style.palette, style.type("caption")
        old_x, new_x = self.width() * _OLD_SHARE, self.width() * _NEW_SHARE
        hair(painter, 0, y, self.width(), y, palette.rule, 1.5)
        baseline = y + px * 1.35
        word(painter, old_x, baseline, labels.OLD_PLAN, px, palette.ink2)
        word(painter, new_x, baseline, labels.NEW_PLAN, px, palette.ink, bold=True)
        y += px * 1.8
        for caption, before, after in (
            (labels.ROW, old.row, new.row),
            (labels.STOPS_DUE, old.stops, new.stops),
            (labels.SURFACE_AT, old.surface, new.surface),
        ):
            y = self._draw_pair(painter, (caption, before, after), style, y)
        return y

    def _draw_pair(self, painter: QPainter, texts: tuple[str, str, str], style: Style, y: float) -> float:
        palette, px = style.palette, style.type("caption")
        caption, before, after = texts
        old_x, new_x, gap = self.width() * _OLD_SHARE, self.width() * _NEW_SHARE, px * 0.7
        widths = (new_x - old_x - gap, self.width() - new_x)
        same = before == after
        counts = (
            len(lines_of(((before or "–", False, ""),), px, widths[0])),
            len(lines_of(((after or "–", not same, ""),), px, widths[1])),
        )
        height = max(counts) * px * _LEADING
        if y + height > self.height():
            return self.height()
        hair(painter, 0, y, self.width(), y, palette.hair, 1)
        word(painter, 0, y + px * 1.2, caption, px, palette.ink2, room=old_x - gap)
        top = y + px * 0.22
        paragraph(
            painter,
            QRectF(old_x, top, widths[0], height),
            ((before or "–", False, palette.ink2),),
            px,
            _LEADING,
        )
        paragraph(
            painter,
            QRectF(new_x, top, widths[1], height),
            ((after or "–", not same, palette.ink),),
            px,
            _LEADING,
        )
        return y + height + px * 0.35

    def _draw_cards(self, painter: QPainter, cards: CardsLook, style: Style, y: float) -> float:
        """They advise and are no keys: words between hairlines; whom to call on a block."""
        palette, px = style.palette, style.type("text")
        drawn = style.measures.arrangement
        fill(painter, QRectF(0, y, self.width(), style.px(drawn.rule)), palette.ink)
        baseline = y + style.px(drawn.rule) + style.px(drawn.name) * 0.72
        name = style.type("name")
        took = word(painter, 0, baseline, labels.CARDS, name, palette.ink, bold=True)
        word(
            painter, self.width(), baseline, cards.head, style.type("caption"), palette.ink, align=RIGHT,
            room=self.width() - took - name * 0.6,
        )  # fmt: skip
        y += style.px(drawn.rule) + style.px(drawn.name)
        y = self._words(painter, style, y, cards.holds, px, bold=True) + style.px(3)
        block = QRectF(0, y, self.width(), px * 1.6)
        fill(painter, block, palette.ink)
        word(
            painter, px * 0.5, y + px * 1.15, cards.call, px, palette.ground, bold=True,
            room=self.width() - px,
        )  # fmt: skip
        y = block.bottom() + style.px(4)
        for number, card in enumerate(cards.cards, start=1):
            hair(painter, 0, y, self.width(), y, palette.hair, 1)
            first = f"{labels.MEDICAL_OFFICER_FIRST} " if card.medical_officer_first else ""
            runs = (
                (f"{number}.", False, palette.ink2),
                (first, True, palette.ink),
                (card.text, False, palette.ink),
            )
            count = len(lines_of(runs, px, self.width()))
            area = QRectF(0, y + px * 0.15, self.width(), count * px * _LEADING)
            y = paragraph(painter, area, runs, px, _LEADING) + px * 0.2
        return y + style.px(10)
