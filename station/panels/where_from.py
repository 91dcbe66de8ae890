"""The drawer that answers "where from?": rule, table and row, what went in, how well it is known, notes."""

from dataclasses import dataclass

from PySide6.QtCore import QRectF, Signal
from PySide6.QtGui import QPainter, QShortcut
from PySide6.QtWidgets import QWidget

from station.panels.brush import hair, lines_of, paragraph, word
from station.panels.event_key import PlainKey
from station.panels.figures import Figure, first_of
from station.panels.layout import Box
from station.panels.pane import Pane, Style, place
from station.present import labels
from station.present.ascent_looks import Origin
from station.present.looks import View

_LEADING = 1.32
_KEYS_SHARE = 0.5
"""The keys stand at the right of the title, over so much of the width."""


def key_h(style: Style) -> int:
    """The height of the keys beside the title."""
    return max(style.px(44), 28)


@dataclass(frozen=True, slots=True)
class OriginLook:
    """One figure with whose it is and which of how many."""

    diver: str
    origin: Origin | None
    at: int
    of: int


class OriginPane(Pane[OriginLook]):
    """The figure and its rule at the left, source, evidence and notes at the right."""

    def taken(self, look: OriginLook, style: Style) -> None:
        """The name that a reader of the screen hears."""
        del style
        origin = look.origin
        if origin is None:
            self.setAccessibleName(labels.NO_ORIGINS)
            return
        told = (f"{look.diver}, {origin.figure}: {origin.value}", f"rule {origin.rule}", origin.sentence)
        self.setAccessibleName(
            ". ".join((*told, origin.source, origin.evidence, origin.inputs, *origin.notes))
        )

    def draw(self, painter: QPainter, look: OriginLook, style: Style) -> None:
        """Draw the title, then two columns."""
        palette, px = style.palette, style.type("name")
        hair(painter, 0, style.px(2), self.width(), style.px(2), palette.ink, style.px(3))
        if look.origin is None:
            word(painter, 0, style.px(10) + px, labels.NO_ORIGINS, style.type("text"), palette.ink)
            return
        origin = look.origin
        room = self.width() * (1 - _KEYS_SHARE) - px
        title = f"{origin.figure}: {origin.value}"
        took = word(painter, 0, style.px(10) + px, title, px, palette.ink, bold=True, room=room)
        whose = f"{look.diver}, {look.at + 1} of {look.of}"
        small = style.type("caption")
        if room - took > small * 6:
            word(painter, took + px * 0.5, style.px(10) + px, whose, small, palette.ink2, room=room - took)
        top = style.px(8) + key_h(style) + style.px(14)
        gutter = style.px(style.measures.arrangement.gutter)
        half = (self.width() - gutter) / 2
        left = ((f"{labels.RULE} {origin.rule}", origin.sentence), (labels.INPUTS, origin.inputs))
        notes = tuple((labels.NOTES, note) for note in origin.notes)
        right = ((labels.SOURCE, origin.source), (labels.EVIDENCE, origin.evidence), *notes)
        for x, rows in ((0.0, left), (half + gutter, right)):
            self._draw_column(painter, style, QRectF(x, top, half, self.height() - top - 2), rows)

    def _draw_column(
        self, painter: QPainter, style: Style, area: QRectF, rows: tuple[tuple[str, str], ...]
    ) -> None:
        """Captions in a lane, words beside them; the type shrinks before a word is lost."""
        rows = tuple((caption, text) for caption, text in rows if text)
        px = style.type("caption")
        while px > style.type("caption") * 3 // 4 and self._needs(rows, px, area.width()) > area.height():
            px -= 1
        y = area.top()
        lane = self._lane(px)
        for caption, text in rows:
            if y + px > area.bottom():
                break
            word(painter, area.left(), y + px * 1.02, caption, px, style.palette.ink2, room=lane - px * 0.4)
            where = QRectF(area.left() + lane, y, area.width() - lane, area.bottom() - y)
            y = paragraph(painter, where, ((text, False, style.palette.ink),), px, _LEADING) + px * 0.25

    @staticmethod
    def _lane(px: int) -> float:
        return px * 6.2

    def _needs(self, rows: tuple[tuple[str, str], ...], px: int, width: float) -> float:
        lines = [len(lines_of(((text, False, ""),), px, width - self._lane(px))) for _, text in rows]
        return sum(lines) * px * _LEADING + len(rows) * px * 0.25


class WhereFromDrawer(QWidget):
    """One figure at a time, with keys to the one before and after. Covers neither depth, time nor air."""

    closed = Signal()

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.pane = OriginPane(self)
        self.before = PlainKey(self, "PgUp")
        self.after = PlainKey(self, "PgDown")
        self.leave = PlainKey(self)
        self.before.went.connect(lambda: self.step(-1))
        self.after.went.connect(lambda: self.step(1))
        self.leave.went.connect(self.close_drawer)
        QShortcut("Escape", self).activated.connect(self.close_drawer)
        self._figures: tuple[tuple[str, Origin], ...] = ()
        self._at = 0
        self._style: Style | None = None
        self.setAccessibleName(labels.WHERE_FROM)
        self.hide()

    def ask(self, view: View, diver: str, figure: Figure, style: Style) -> None:
        """Open at a figure of a diver; of the first one when the name is empty."""
        self._figures = _figures(view)
        self._at = 0
        for each in view.divers:
            if each.origins and diver in ("", each.name):
                start = next(at for at, (name, _) in enumerate(self._figures) if name == each.name)
                self._at = start + first_of(figure, each.origins)
                break
        self.show()
        self.raise_()
        self.arrange(style)
        self.after.setFocus()

    def show_view(self, view: View, style: Style) -> None:
        """Keep the figure that is shown, with its newest value."""
        was = self._figures[self._at] if self._figures else None
        self._figures = _figures(view)
        if was is not None:
            nearest = [
                at
                for at, (name, origin) in enumerate(self._figures)
                if (name, origin.figure) == (was[0], was[1].figure)
            ]
            self._at = min(nearest, key=lambda at: abs(at - self._at), default=0)
        self.arrange(style)

    def step(self, by: int) -> None:
        """Go to another figure, round and round."""
        if self._figures and self._style is not None:
            self._at = (self._at + by) % len(self._figures)
            self.arrange(self._style)

    def arrange(self, style: Style) -> None:
        """Place everything for the present size and style."""
        self._style = style
        place(self.pane, Box(0, 0, self.width(), self.height()))
        count = len(self._figures)
        diver, origin = self._figures[self._at] if self._figures else ("", None)
        self.pane.show_look(OriginLook(diver, origin, self._at, count), style)
        gap = style.px(10)
        width = (round(self.width() * _KEYS_SHARE) - 2 * gap) // 3
        height = key_h(style)
        x = self.width() - 3 * width - 2 * gap
        for key, title in (
            (self.before, labels.FIGURE_BEFORE),
            (self.after, labels.FIGURE_AFTER),
            (self.leave, labels.CLOSE),
        ):
            place(key, Box(x, style.px(8), width, height))
            key.show_words(title, "", style, enabled=key is self.leave or count > 1)
            key.raise_()
            x += width + gap

    def close_drawer(self) -> None:
        """Close it."""
        self.hide()
        self.closed.emit()


def _figures(view: View) -> tuple[tuple[str, Origin], ...]:
    return tuple((diver.name, origin) for diver in view.divers for origin in diver.origins)
