"""The window of the second opinion: the table's stops and the model's side by side, quiet, never live."""

from dataclasses import dataclass

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QWidget

from station.panels.brush import RIGHT, fill, hair, paragraph, word
from station.panels.diver import NamePane
from station.panels.event_key import PlainKey
from station.panels.layout import Box
from station.panels.pane import Pane, Style, place
from station.present import labels
from station.present.looks import View
from station.present.opinion_looks import OpinionLook

_LEADING = 1.4


@dataclass(frozen=True, slots=True)
class OpinionPage:
    """The opinion on one diver's row; None where he is on none."""

    look: OpinionLook | None


class OpinionTable(Pane[OpinionPage]):
    """Bars of minutes: the table's, which governs, above the model's; then what may be said of it."""

    def taken(self, look: OpinionPage, style: Style) -> None:
        """The name that a reader of the screen hears."""
        del style
        told = look.look
        parts = () if told is None else (told.row, told.verdict, told.hidden, *told.sentences)
        self.setAccessibleName(" ".join(part for part in parts if part) or labels.NO_OPINION)

    def draw(self, painter: QPainter, look: OpinionPage, style: Style) -> None:
        """Draw verdict, stops, sentences."""
        palette, px, told = style.palette, style.type("next"), look.look
        head = labels.NO_OPINION if told is None else told.hidden or told.verdict
        y = px * 1.3
        word(painter, 0, y, head, px if told and told.verdict else style.type("name"), palette.ink,
             bold=True, room=self.width())  # fmt: skip
        if told is None:
            return
        y += px * 0.5
        if told.stops:
            y = self._draw_stops(painter, told, style, y)
        elif told.verdict:
            y += style.type("text") * 1.3
            word(painter, 0, y, labels.NO_STOP_BOTH, style.type("text"), palette.ink)
            y += style.type("text") * 0.5
        for sentence in told.sentences:
            area = QRectF(0, y + style.px(6), self.width(), max(1.0, self.height() - y))
            y = paragraph(painter, area, ((sentence, False, palette.ink2),), style.type("text"), _LEADING)

    def _draw_stops(self, painter: QPainter, told: OpinionLook, style: Style, y: float) -> float:
        palette, px = style.palette, style.type("text")
        most = max(max(stop.table_min, stop.model_min) for stop in told.stops)
        left, right = px * 9.5, self.width() - px * 4
        for stop in told.stops:
            hair(painter, 0, y, self.width(), y, palette.hair, 1)
            word(painter, 0, y + px * 1.3, stop.depth, px, palette.ink, bold=True)
            for row, (caption, minutes, colour, bold) in enumerate(
                (
                    (labels.BY_TABLE, stop.table_min, palette.ink2, True),
                    (labels.BY_MODEL, stop.model_min, palette.band, False),
                )
            ):
                base = y + px * (1.3 + 1.35 * row)
                word(painter, left - px * 0.6, base, caption, px * 9 // 10, palette.ink2, align=RIGHT)
                wide = minutes / most * (right - left)
                bar = QRectF(left, base - px * 0.72, wide, px * 0.8)
                fill(painter, bar, colour)
                hair(painter, bar.right(), bar.top(), bar.right(), bar.bottom(), palette.ink, 2)
                ink = palette.ink if bold else palette.ink2
                word(painter, self.width(), base, f"{minutes} min", px, ink, bold=bold, align=RIGHT)
            y += px * 3.1
        hair(painter, 0, y, self.width(), y, palette.hair, 1)
        return y


class OpinionPane(QWidget):
    """The opinion on one diver; the others are a press away."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.name = NamePane(self)
        self.name.quiet = True
        self.table = OpinionTable(self)
        self.divers: list[PlainKey] = []
        self.chosen = ""
        self._shown: tuple[View, Style, Box] | None = None
        self.setAccessibleName(labels.OPINION)

    def choose(self, number: int) -> None:
        """Show another diver."""
        if self._shown is not None and number < len(self._shown[0].divers):
            self.chosen = self._shown[0].divers[number].name
            self.show_view(*self._shown)

    def show_view(self, view: View, style: Style, body: Box) -> tuple[int, ...]:
        """Take a view; `body` is the room in its own pixels."""
        self._shown = (view, style, body)
        found = next((diver for diver in view.divers if diver.name == self.chosen), None)
        diver = found or (view.divers[0] if view.divers else None)
        if diver is None:
            return ()
        margin = style.px(style.measures.arrangement.margin)
        width, y = body.w - 2 * margin, body.y + style.px(10)
        head = style.px(style.measures.arrangement.rule) + style.px(style.measures.arrangement.name)
        key_h = style.px(48)
        place(self.name, Box(margin, y, width, head))
        row = "" if diver.opinion is None else diver.opinion.row
        self.name.show_look((labels.OPINION, diver.name, row), style)
        keys_y = body.bottom - style.px(10) - key_h
        place(self.table, Box(margin, y + head, width, keys_y - style.px(8) - y - head))
        self.table.show_look(OpinionPage(diver.opinion), style)
        self._show_keys(view, style, Box(margin, keys_y, width, key_h), diver.name)
        return ()

    def _show_keys(self, view: View, style: Style, box: Box, shown: str) -> None:
        while len(self.divers) < len(view.divers):
            number = len(self.divers)
            key = PlainKey(self, str(number + 1))
            key.went.connect(lambda number=number: self.choose(number))
            key.show()
            self.divers.append(key)
        gap = style.px(10)
        width = min(style.px(300), (box.w - gap * (len(view.divers) - 1)) // len(view.divers))
        for at, key in enumerate(self.divers):
            key.setVisible(at < len(view.divers))
            if at < len(view.divers):
                place(key, Box(box.x + at * (width + gap), box.y, width, box.h))
                key.show_words(view.divers[at].name, "", style, chosen=view.divers[at].name == shown)
