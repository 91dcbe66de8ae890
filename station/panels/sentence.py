"""What is due next: the act in large type, then what it rests on or costs."""

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter

from station.panels.brush import hair, paragraph, word
from station.panels.pane import Pane, Style
from station.panels.type import fitted_px
from station.present.looks import Sentence


class SentencePane(Pane[Sentence]):
    """A sentence under a hairline."""

    def taken(self, look: Sentence, style: Style) -> None:
        """The name that a reader of the screen hears."""
        del style
        self.setAccessibleName(f"{look.head} {look.lead} {look.detail}".strip())

    def draw(self, painter: QPainter, look: Sentence, style: Style) -> None:
        """Draw head, lead and detail."""
        palette = style.palette
        hair(painter, 0, 1, self.width(), 1, palette.rule, 1.5)
        drawn = style.type("next")
        px = max(drawn * 5 // 8, fitted_px(look.head, drawn, self.width(), bold=True))
        baseline = style.px(4) + drawn * 1.02
        word(painter, 0, baseline, look.head, px, palette.ink, bold=True, room=self.width())
        top = baseline + drawn * 0.22
        area = QRectF(0, top, self.width(), self.height() - top - style.px(2))
        runs = ((look.lead, True, palette.ink), (look.detail, False, palette.ink))
        paragraph(painter, area, runs, style.type("text"), 1.36)
