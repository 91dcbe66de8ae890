"""The ascent window: the stop, the minutes left, the next stop, and the rule behind every change."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from station.panels.ascent_changes import ChangesPane, changes_of
from station.panels.ascent_layout import AscentLayout, ascent_layout
from station.panels.ascent_parts import FactsRow, GuideLook, GuidePane, LegsPane, NotComingUp
from station.panels.diver import NamePane
from station.panels.event_key import PlainKey, shown_key
from station.panels.figures import Figure, FigureKey
from station.panels.layout import Box
from station.panels.number import NumberPane
from station.panels.pane import Blink, Style, place
from station.panels.sentence import SentencePane
from station.panels.sounding import LineLook, SoundingPane
from station.panels.trace import TraceLook, TracePane, Traces
from station.present import labels
from station.present.looks import DiverLook, View


class AscentPane(QWidget):
    """All of it for one diver; the others are a press away."""

    asked = Signal(str, str)
    """Where from: the diver's name, and which of his figures."""
    choosing = Signal()
    """The key to choose or enter was pressed."""

    def __init__(self, parent: QWidget, blink: Blink, traces: Traces) -> None:
        super().__init__(parent)
        self.view: View | None = None
        self.chosen = ""
        self._style: Style | None = None
        self._body = Box(0, 0, 0, 0)
        self._traces = traces
        self.name = NamePane(self)
        self.line = SoundingPane(self)
        self.depth_number, self.air_number = NumberPane(self, blink), NumberPane(self, blink)
        self.clock = NumberPane(self, blink)
        for number in (self.depth_number, self.clock):
            number.ruled = False
        self.clock.role = "clock"
        self.divers: list[PlainKey] = []
        self.phase = NamePane(self)
        self.guide = GuidePane(self)
        self.sentence = SentencePane(self)
        self.facts = FactsRow(self)
        self.legs = LegsPane(self)
        self.changes = ChangesPane(self)
        self.nothing = NotComingUp(self)
        self.trace = TracePane(self, traces)
        self.choose_key = shown_key(self, labels.CHOICES_KEY)
        self.choose_key.went.connect(self.choosing)
        self.where_key = shown_key(self, labels.WHERE_FROM_KEY)
        self.where_key.went.connect(lambda: self._ask(Figure.CLOCK.value))
        pressed: tuple[tuple[QWidget, Figure], ...] = (
            (self.depth_number, Figure.DEPTH),
            (self.air_number, Figure.AIR),
            (self.clock, Figure.CLOCK),
            (self.facts, Figure.SCHEDULE),
            (self.legs, Figure.SCHEDULE),
            (self.changes, Figure.CHANGE),
            (self.sentence, Figure.SCHEDULE),
        )
        for pane, figure in pressed:
            FigureKey(pane, figure).asked.connect(self._ask)
        self.setAccessibleName(labels.ASCENT)

    def diver(self) -> DiverLook | None:
        """The diver who is shown: the chosen one, else the first who comes up, else the first."""
        if self.view is None or not self.view.divers:
            return None
        divers = self.view.divers
        chosen = next((diver for diver in divers if diver.name == self.chosen), None)
        coming_up = next((diver for diver in divers if diver.ascent is not None), None)
        return chosen or coming_up or divers[0]

    def _ask(self, figure: str) -> None:
        diver = self.diver()
        if diver is not None:
            self.asked.emit(diver.name, figure)

    def choose(self, name: str) -> None:
        """Show another diver, until somebody chooses again."""
        self.chosen = name
        if self.view is not None and self._style is not None:
            self.show_view(self.view, self._style, self._body)

    def layout_for(self, style: Style, body: Box) -> AscentLayout:
        """Where everything stands in a body."""
        return ascent_layout(style.measures, body, 0 if self.view is None else len(self.view.divers))

    def show_view(self, view: View, style: Style, body: Box) -> tuple[int, ...]:
        """Take a view; `body` is the room in its own pixels. Returns the x of the lines between columns."""
        self.view, self._style, self._body = view, style, body
        boxes = self.layout_for(style, body)
        diver = self.diver()
        if diver is None:
            return boxes.lines
        self._show_left(diver, view, style, boxes)
        self._show_middle(diver, style, boxes)
        self._show_right(diver, style, boxes)
        return boxes.lines

    def _show_left(self, diver: DiverLook, view: View, style: Style, boxes: AscentLayout) -> None:
        for pane, box in ((self.name, boxes.name), (self.line, boxes.line)):
            place(pane, box)
        self.name.show_look((diver.name, diver.person, ""), style)
        self.line.show_look(LineLook(view.scale, diver.line), style)
        for number, look, box in (
            (self.depth_number, diver.depth, boxes.depth),
            (self.air_number, diver.air, boxes.air),
        ):
            place(number, box)
            number.show_look(look, style)
        while len(self.divers) < len(view.divers):
            number_ = len(self.divers)
            key = PlainKey(self, str(number_ + 1))
            key.went.connect(lambda number_=number_: self._choose_at(number_))
            key.show()
            self.divers.append(key)
        gap = style.px(8)
        height = (boxes.divers.h - gap * (len(view.divers) - 1)) // len(view.divers)
        for at, key in enumerate(self.divers):
            key.setVisible(at < len(view.divers))
            if at < len(view.divers):
                each = view.divers[at]
                place(key, Box(boxes.divers.x, boxes.divers.y + at * (height + gap), boxes.divers.w, height))
                key.show_words(f"{each.name}: {each.phase}", "", style, chosen=each.name == diver.name)

    def _choose_at(self, number: int) -> None:
        if self.view is not None and number < len(self.view.divers):
            self.choose(self.view.divers[number].name)

    def _show_middle(self, diver: DiverLook, style: Style, boxes: AscentLayout) -> None:
        ascent = diver.ascent
        place(self.phase, boxes.phase)
        gas = "" if ascent is None or not ascent.gas else f"on {ascent.gas}"
        self.phase.show_look((diver.phase, "", gas), style)
        place(self.clock, boxes.clock)
        self.clock.show_look(diver.time if ascent is None else ascent.clock, style)
        place(self.guide, boxes.guide)
        done = (None, 0.0) if ascent is None else (ascent.stop_done, ascent.stop_min)
        self.guide.show_look(GuideLook(*done, diver.rate), style)
        place(self.sentence, boxes.sentence)
        self.sentence.show_look(diver.sentence, style)
        place(self.facts, boxes.facts)
        place(self.legs, boxes.legs)
        self.facts.setVisible(ascent is not None)
        self.legs.setVisible(ascent is not None)
        if ascent is not None:
            self.facts.show_look(ascent, style)
            self.legs.show_look(ascent.rows, style)

    def _show_right(self, diver: DiverLook, style: Style, boxes: AscentLayout) -> None:
        ascent = diver.ascent
        # What is to be decided needs the room of the trace.
        decide = ascent is not None and ascent.cards is not None
        tall = Box(boxes.right.x, boxes.right.y, boxes.right.w, boxes.trace.bottom - boxes.right.y)
        place(self.changes, tall if decide else boxes.right)
        self.trace.setVisible(not decide)
        place(self.nothing, boxes.right)
        self.changes.setVisible(ascent is not None)
        self.nothing.setVisible(ascent is None)
        if ascent is not None:
            self.changes.show_look(changes_of(ascent), style)
        else:
            self.nothing.show_look(
                (f"{diver.name} {labels.NOT_COMING_UP}", labels.NOT_COMING_UP_DETAIL), style
            )
        place(self.trace, boxes.trace)
        points = self._traces.of(diver.name)
        begun = self._traces.replaced.get(diver.name, 0)
        self.trace.show_look(TraceLook(diver.trace, diver.name, len(points), begun), style)
        self._show_keys(style, boxes.keys)

    def _show_keys(self, style: Style, box: Box) -> None:
        gap = style.px(12)
        width = (box.w - gap) // 2
        may_act = self.view is not None and self.view.transport is None
        place(self.choose_key, Box(box.x, box.y, width, box.h))
        self.choose_key.show_words(labels.CHOICES, "", style, enabled=may_act)
        place(self.where_key, Box(box.x + width + gap, box.y, box.w - width - gap, box.h))
        self.where_key.show_words(labels.WHERE_FROM, "", style)
