"""A diver's column: name, sounding line, three numbers, sentence, trace; and the standby's, narrow."""

from PySide6.QtCore import QRectF, Signal
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QWidget

from station.panels.brush import RIGHT, fill, hair, paragraph, word
from station.panels.figures import Figure, FigureKey
from station.panels.layout import Box, diver_layout
from station.panels.number import NumberPane
from station.panels.pane import Blink, Pane, Style, place
from station.panels.sentence import SentencePane
from station.panels.sounding import LineLook, SoundingPane
from station.panels.trace import TraceLook, TracePane, Traces
from station.panels.type import width_of
from station.present.looks import DiverLook, Fact, Scale


class NamePane(Pane[tuple[str, str, str]]):
    """A thick rule, then name, person, and phase at the right."""

    quiet = False
    """Whether what stands at the right is a detail and no phase."""

    def draw(self, painter: QPainter, look: tuple[str, str, str], style: Style) -> None:
        """Draw them on one baseline."""
        name, person, phase = look
        palette = style.palette
        fill(painter, QRectF(0, 0, self.width(), style.px(style.measures.arrangement.rule)), palette.ink)
        baseline = self.height() * 0.5 + style.type("name") * 0.62
        took = word(painter, 0, baseline, name, style.type("name"), palette.ink, bold=True)
        px, colour = (
            style.type("caption" if self.quiet else "phase"),
            palette.ink2 if self.quiet else palette.ink,
        )
        right = word(painter, self.width(), baseline, phase, px, colour, bold=not self.quiet, align=RIGHT)
        start = took + style.type("name") * 0.5
        room = self.width() - right - start - style.type("name") * 0.5
        if width_of(person, style.type("caption")) * 0.75 <= room:
            word(painter, start, baseline, person, style.type("caption"), palette.ink2, room=room)


class DiverPane(QWidget):
    """A diver in the water, or dressed to go."""

    asked = Signal(str, str)
    """Where from: the diver's name, and which of his figures."""

    def __init__(self, parent: QWidget, blink: Blink, traces: Traces) -> None:
        super().__init__(parent)
        self._traces = traces
        self.name = NamePane(self)
        self.line = SoundingPane(self)
        self.numbers = (NumberPane(self, blink), NumberPane(self, blink), NumberPane(self, blink))
        self.numbers[0].ruled = False
        self.sentence = SentencePane(self)
        self.trace = TracePane(self, traces)
        self._name = ""
        pressed: tuple[tuple[QWidget, Figure], ...] = (
            (self.numbers[0], Figure.DEPTH),
            (self.numbers[1], Figure.CLOCK),
            (self.numbers[2], Figure.AIR),
            (self.sentence, Figure.SCHEDULE),
        )
        for pane, figure in pressed:
            FigureKey(pane, figure).asked.connect(lambda which: self.asked.emit(self._name, which))

    def show_look(self, look: DiverLook, scale: Scale, style: Style) -> None:
        """Hand the parts of a look to the parts of the column."""
        self._name = look.name
        self.setAccessibleName(look.name)
        boxes = diver_layout(style.measures, self.width(), self.height())
        place(self.name, Box(0, 0, boxes.name.w, boxes.name.bottom))
        place(self.line, boxes.line)
        for pane, box in zip(self.numbers, boxes.numbers, strict=True):
            place(pane, box)
        place(self.sentence, boxes.sentence)
        place(self.trace, boxes.trace)
        self.name.show_look((look.name, look.person, look.phase), style)
        self.line.show_look(LineLook(scale, look.line), style)
        for pane, number in zip(self.numbers, (look.depth, look.time, look.air), strict=True):
            pane.show_look(number, style)
        self.sentence.show_look(look.sentence, style)
        points = self._traces.of(look.name)
        begun = self._traces.replaced.get(look.name, 0)
        self.trace.show_look(TraceLook(look.trace, look.name, len(points), begun), style)


class StandbyPane(QWidget):
    """The standby diver: the same line half as wide, and short facts instead of numbers."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.name = NamePane(self)
        self.line = SoundingPane(self)
        self.line.narrow = True
        self.facts = FactsPane(self)
        self.words = StandbyWords(self)

    def show_look(self, look: DiverLook, scale: Scale, people: tuple[Fact, ...], style: Style) -> None:
        """Hand the parts of a look to the parts of the column."""
        self.setAccessibleName(look.name)
        boxes = diver_layout(style.measures, self.width(), self.height())
        line_w = round(self.width() * 0.32)
        place(self.name, Box(0, 0, boxes.name.w, boxes.name.bottom))
        place(self.line, Box(0, boxes.line.y, line_w, boxes.line.h))
        place(self.facts, Box(line_w, boxes.line.y, self.width() - line_w, boxes.line.h))
        foot = boxes.sentence.y
        place(self.words, Box(0, foot, self.width(), self.height() - foot))
        self.name.show_look((look.name, "", ""), style)
        self.line.show_look(LineLook(scale, look.line), style)
        self.facts.show_look(look.short, style)
        self.words.show_look((look.sentence.head, people), style)


class FactsPane(Pane[tuple[Fact, ...]]):
    """Captions with their values under them."""

    def draw(self, painter: QPainter, look: tuple[Fact, ...], style: Style) -> None:
        """Draw one under the other."""
        px = style.type("small")
        y = style.px(style.measures.arrangement.caption) * 0.9
        for fact in look:
            word(painter, 0, y, fact.caption, px, style.palette.ink2, room=self.width())
            word(painter, 0, y + px * 1.32, fact.value, px, style.palette.ink, bold=True, room=self.width())
            y += px * 3.75


class StandbyWords(Pane[tuple[str, tuple[Fact, ...]]]):
    """What the standby is to do, and who else stands by."""

    def draw(self, painter: QPainter, look: tuple[str, tuple[Fact, ...]], style: Style) -> None:
        """Draw the words above and the people from the foot upward."""
        words, people = look
        px, palette = style.type("small"), style.palette
        hair(painter, 0, 1, self.width(), 1, palette.rule, 1.5)
        room = style.px(style.measures.arrangement.sentence)
        area = QRectF(0, style.px(10), self.width(), room - style.px(10))
        paragraph(painter, area, ((words, False, palette.ink),), style.type("text"), 1.36)
        y = room + px * 0.3
        step = min(px * 3.3, (self.height() - y - px * 1.7) / max(1, len(people) - 1))
        people = people if step >= px * 2.4 else people[-2:]
        step = max(step, px * 2.4)
        for fact in people:
            word(painter, 0, y, fact.caption, px, palette.ink2, room=self.width())
            word(painter, 0, y + px * 1.32, fact.value, px, palette.ink, bold=True, room=self.width())
            y += step
