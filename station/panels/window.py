"""The window: strips, one of its pages, footer or transport bar; gets views, sends acts."""

from PySide6.QtCore import QTimer, Signal
from PySide6.QtGui import QCloseEvent, QPainter, QPaintEvent, QResizeEvent, QShortcut
from PySide6.QtWidgets import QWidget

from station.caution import CAUTION
from station.core.inputs import Acknowledge, ChooseGround
from station.panels.air import AirPane
from station.panels.alarm_strip import ROWS, AlarmPane
from station.panels.ascent import AscentPane
from station.panels.brush import MIDDLE, begin, fill, hair, hatch, rect, word
from station.panels.choosing import Chooser
from station.panels.diver import DiverPane, StandbyPane
from station.panels.drawer import Choice, DrawerPane, Question
from station.panels.figures import Figure
from station.panels.footer import FooterLook, FooterPane
from station.panels.gauges import GaugesPane
from station.panels.layout import (
    Box,
    WindowLayout,
    diver_layout,
    keeper_layout,
    watch_layout,
    window_layout,
)
from station.panels.measures import measures_for
from station.panels.opinion import OpinionPane
from station.panels.palette import palette_of
from station.panels.pane import Blink, Pane, Style, place
from station.panels.timekeeper import TimekeeperPane
from station.panels.top_strip import TopPane
from station.panels.trace import Traces
from station.panels.transport import TransportPane
from station.panels.where_from import WhereFromDrawer
from station.present import labels
from station.present.looks import Mode, View
from station.present.unheard import unheard

_LOW_ALARMS = (labels.TIMEKEEPER, labels.GAUGES, labels.OPINION)
"""The pages whose alarm strip has one row."""

_NO_ROOM = (labels.GAUGES, labels.OPINION)
"""The pages on which a drawer would cover what is read."""

UNHEARD_AFTER_MS = 1000
"""Without a view for this long, no number is shown any more. Own choice: ten views are due in it."""


class _Cover(Pane[str]):
    """What stands over everything until the first view has come."""

    def draw(self, painter: QPainter, look: str, style: Style) -> None:
        px = style.type("next")
        middle = self.height() / 2
        word(painter, self.width() / 2, middle, look, px, style.palette.ink, bold=True, align=MIDDLE)
        word(
            painter,
            self.width() / 2,
            middle + px * 1.6,
            CAUTION,
            style.type("text"),
            style.palette.ink2,
            align=MIDDLE,
        )


class Window(QWidget):
    """Everything on the screen. Holds the newest view and draws it; decides nothing."""

    acted = Signal(object, int)
    """An act and the number of the state that was on the screen."""
    replayed = Signal(str, float)
    """A command for the replay."""
    ended = Signal()
    """The user closed the window."""

    def __init__(self, mm_per_px: float, traces: Traces | None = None) -> None:
        super().__init__()
        self.setWindowTitle("Overbottom")
        self.setMinimumSize(800, 500)
        self.mm_per_px = mm_per_px
        self.view: View | None = None
        self.page = labels.WATCH
        self.ground = ""
        self.traces = traces or Traces()
        self.silent_s = 0
        self.minds_silence = True
        """Whether numbers are withdrawn when no view comes; a picture of one view has no other coming."""
        self.blink = Blink(self)
        self.top = TopPane(self, self.blink)
        self.alarms = AlarmPane(self, self.blink)
        self.divers: list[DiverPane] = []
        self.standby: list[StandbyPane] = []
        self.air = AirPane(self, self.blink)
        self.keeper = TimekeeperPane(self, self.blink)
        self.footer = FooterPane(self)
        self.transport = TransportPane(self)
        self.ascent = AscentPane(self, self.blink, self.traces)
        self.gauges = GaugesPane(self, self.blink)
        self.opinion = OpinionPane(self)
        self.drawer = DrawerPane(self)
        self.where_from = WhereFromDrawer(self)
        self.chooser = Chooser(self._ask, self._act)
        self._cover = _Cover(self)
        self._connect()
        self._lines: tuple[int, ...] = ()
        self._layout: WindowLayout | None = None
        self._style: Style | None = None
        self._may_close = False
        self._silence = QTimer(self)
        self._silence.setInterval(UNHEARD_AFTER_MS)
        self._silence.timeout.connect(self.count_silence)

    def _connect(self) -> None:
        self.alarms.acknowledged.connect(lambda alarm, subject: self._act(Acknowledge(alarm, subject)))
        self.keeper.acted.connect(self._act)
        self.ascent.asked.connect(self.ask_where_from)
        for page in (self.keeper, self.ascent, self.air):
            page.choosing.connect(self.ask_choices)
        self.air.asking.connect(self.ask_where_from)
        self.footer.window_chosen.connect(self.show_page)
        self.footer.ground_chosen.connect(self.choose_ground)
        self.transport.commanded.connect(self.replayed)
        for letter, act in (
            (labels.ACKNOWLEDGE_KEY, self.alarms.acknowledge_first),
            (labels.CHOICES_KEY, self.ask_choices),
            (labels.WHERE_FROM_KEY, self.ask_where_from),
        ):
            key = QShortcut(letter, self)
            key.setAutoRepeat(False)
            key.activated.connect(act)

    def show_view(self, view: View) -> None:
        """Take the newest view."""
        if self.view is None or view.ground != self.view.ground:
            self.ground = view.ground
        self._cover.hide()
        self.view = view
        self.silent_s = 0
        if self.minds_silence:
            self._silence.start()
        self._show(view)

    def show_traces(self) -> None:
        """The traces have grown."""
        if self.view is not None and not self.silent_s:
            self._show(self.view)

    def show_page(self, page: str) -> None:
        """Show another window; what was asked on the one before is dropped."""
        if page != self.page:
            self.drawer.close_drawer()
            self.where_from.close_drawer()
        self.page = page
        self._refresh()

    def choose_ground(self, ground: str) -> None:
        """Put the windows on another ground at once, and have it logged."""
        self.ground = ground
        if self.view is not None and self.view.transport is None:
            self._act(ChooseGround(ground))
        self._refresh()

    def _act(self, act: object) -> None:
        if self.view is not None and self.view.transport is None:
            self.acted.emit(act, self.view.seq)

    def count_silence(self) -> None:
        """Another second has passed without a view."""
        self.silent_s += 1
        self._refresh()

    def _refresh(self) -> None:
        if self.view is not None:
            self._show(unheard(self.view, self.silent_s) if self.silent_s else self.view)

    def _show(self, view: View) -> None:
        measures = measures_for(self.width(), self.height(), self.mm_per_px)
        style = Style(measures, palette_of(view.mode, self.ground or view.ground))
        watching, low = self.page == labels.WATCH, self.page in _LOW_ALARMS
        layout = window_layout(measures, low_alarms=low, replay=view.transport is not None)
        place(self.top, layout.top)
        self.top.show_look(view.top, style)
        inset = style.px(measures.arrangement.frame) if style.palette.banner else 0
        strip = layout.alarms
        place(self.alarms, Box(inset, strip.y, strip.w - 2 * inset, strip.h))
        self.alarms.show_look(view.alarms, style, 1 if low else ROWS, inset)
        self.air.setVisible(watching)
        for name, page in self._pages().items():
            page.setVisible(name == self.page)
        # A pane that is hidden and shown again is painted again: only what changes is touched.
        counts = self._counts(view) if watching else (0, 0)
        for panes, count in ((self.divers, counts[0]), (self.standby, counts[1])):
            for pane in panes[count:]:
                pane.setVisible(False)
        lines = (
            self._show_watch(view, style, layout.body)
            if watching
            else self._show_page(view, style, layout.body)
        )
        place(self.footer, layout.footer)
        footer = FooterLook(self.page, self.ground or view.ground, view.caution, view.transport is not None)
        self.footer.show_look(footer, style)
        self.transport.setVisible(view.transport is not None)
        if layout.transport is not None and view.transport is not None:
            place(self.transport, layout.transport)
            self.transport.show_look(view.transport, view.caution, style)
        if self.drawer.isVisible():
            self._place_drawer(self.drawer, style, layout)
            self.drawer.arrange(style)
        if self.where_from.isVisible():
            self._place_drawer(self.where_from, style, layout)
            self.where_from.show_view(view, style)
        if (layout, lines, style) != (self._layout, self._lines, self._style):
            self._layout, self._lines, self._style = layout, lines, style
            self.update()

    def _pages(self) -> dict[str, TimekeeperPane | AscentPane | GaugesPane | OpinionPane]:
        return {
            labels.TIMEKEEPER: self.keeper,
            labels.ASCENT: self.ascent,
            labels.GAUGES: self.gauges,
            labels.OPINION: self.opinion,
        }

    def _show_page(self, view: View, style: Style, body: Box) -> tuple[int, ...]:
        """One of the pages that fill the body; returns the x of the lines between its columns."""
        page = self._pages()[self.page]
        place(page, body)
        return page.show_view(view, style, Box(0, 0, body.w, body.h)) or ()

    @staticmethod
    def _counts(view: View) -> tuple[int, int]:
        standby = sum(diver.standby for diver in view.divers)
        return len(view.divers) - standby, standby

    def _show_watch(self, view: View, style: Style, body: Box) -> tuple[int, ...]:
        wide = [diver for diver in view.divers if not diver.standby]
        narrow = [diver for diver in view.divers if diver.standby]
        boxes = watch_layout(style.measures, body, len(wide), len(narrow))
        while len(self.divers) < len(wide):
            self.divers.append(DiverPane(self, self.blink, self.traces))
            self.divers[-1].asked.connect(self.ask_where_from)
            self.drawer.raise_()
            self.where_from.raise_()
        while len(self.standby) < len(narrow):
            self.standby.append(StandbyPane(self))
        for pane, diver, box in zip(self.divers, wide, boxes.divers, strict=False):
            place(pane, box)
            pane.show_look(diver, view.scale, style)
            pane.show()
        for narrow_pane, diver, box in zip(self.standby, narrow, boxes.standby, strict=False):
            place(narrow_pane, box)
            narrow_pane.show_look(diver, view.scale, view.people, style)
            narrow_pane.show()
        place(self.air, boxes.air)
        self.air.show_look(view.air, labels.AIR, style, may_act=view.transport is None)
        return boxes.lines

    def _place_drawer(self, drawer: QWidget, style: Style, layout: WindowLayout) -> None:
        """Over sentence and trace, or over the timekeeper's keys: depth, time and air stay in sight."""
        body = layout.body
        inner = Box(0, 0, body.w, body.h)
        if self.page == labels.TIMEKEEPER:
            box = keeper_layout(style.measures, inner).drawer
            place(drawer, Box(box.x, body.y + box.y, box.w, box.h))
            return
        if self.page == labels.ASCENT:
            box = self.ascent.layout_for(style, inner).drawer
            place(drawer, Box(box.x, body.y + box.y, box.w, box.h))
            return
        margin = style.px(style.measures.arrangement.margin)
        column = watch_layout(style.measures, layout.body, 1, 0).divers[0]
        y = column.y + diver_layout(style.measures, column.w, column.h).sentence.y
        place(drawer, Box(margin, y, layout.body.w - 2 * margin, layout.body.bottom - y))

    def _ask(self, question: Question) -> None:
        """Ask in the drawer. The window of gauges has no room for it beside its figures: the watch has."""
        if self.page in _NO_ROOM:
            self.show_page(labels.WATCH)
        if self._style is None or self._layout is None:
            return
        self.keeper.drawer.close_drawer()
        self.where_from.close_drawer()
        self.drawer.show()
        self._place_drawer(self.drawer, self._style, self._layout)
        self.drawer.ask(question, self._style)

    def ask_choices(self) -> None:
        """Ask what is chosen or entered, and for whom; a replay is asked nothing."""
        if self.view is None or self.view.transport is not None:
            return
        ascending = self.ascent.diver()
        shown = {
            labels.TIMEKEEPER: self.keeper.chosen,
            labels.ASCENT: "" if ascending is None else ascending.name,
        }
        self.chooser.begin(self.view, shown.get(self.page, ""))

    def ask_where_from(self, diver: str = "", figure: str = Figure.CLOCK.value) -> None:
        """Open the drawer that says where a figure comes from; pressed again, close it."""
        if self.view is None or self.silent_s:
            return
        if self.page in _NO_ROOM:
            self.show_page(labels.WATCH)
        if self.where_from.isVisible() and not diver:
            self.where_from.close_drawer()
            return
        if self._style is None or self._layout is None:
            return
        self.drawer.close_drawer()
        self.keeper.drawer.close_drawer()
        self._place_drawer(self.where_from, self._style, self._layout)
        self.where_from.ask(self.view, diver, Figure(figure), self._style)

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Lay out anew."""
        super().resizeEvent(event)
        if self.view is None:
            measures = measures_for(self.width(), self.height(), self.mm_per_px)
            place(self._cover, Box(0, 0, self.width(), self.height()))
            self._cover.show_look(labels.STARTING, Style(measures, palette_of(Mode.LIVE, "day")))
        self._refresh()

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw the ground, the hairlines between columns, the frame of what is not live."""
        del event
        style = self._style
        if style is None or self._layout is None:
            return
        painter = QPainter(self)
        begin(painter)
        palette = style.palette
        fill(painter, rect(Box(0, 0, self.width(), self.height())), palette.ground)
        body = self._layout.body
        for x in self._lines:
            hair(painter, x, body.y + style.px(8), x, body.bottom - style.px(8), palette.hair, 2)
        if palette.banner:
            self._draw_frame(painter, style)
        painter.end()

    def _draw_frame(self, painter: QPainter, style: Style) -> None:
        wide = style.px(style.measures.arrangement.frame)
        step, width = max(5.0, wide * 0.7), max(2.0, wide * 0.25)
        top = self._layout.top.bottom if self._layout is not None else 0
        for box in (
            Box(0, top, wide, self.height() - top),
            Box(self.width() - wide, top, wide, self.height() - top),
            Box(0, self.height() - wide, self.width(), wide),
        ):
            hatch(painter, rect(box), style.palette.ink, step, width)

    def closeEvent(self, event: QCloseEvent) -> None:  # noqa: N802 - Qt's name
        """A watch is not ended by a slip: ask first, in a drawer that covers no number."""
        live = self.view is not None and self.view.mode is not Mode.REPLAY
        if live and not self._may_close:
            event.ignore()
            self._ask_close()
            return
        event.accept()
        self.ended.emit()

    def _ask_close(self) -> None:
        question = Question(
            labels.CLOSE_LIVE_TITLE,
            (Choice("close", labels.CLOSE_LIVE, labels.CLOSE_LIVE_DETAIL),),
            lambda _, __: self.close_now(),
            cancel=(labels.KEEP_WATCH, ""),
        )
        self._ask(question)

    def close_now(self) -> None:
        """Close without asking: the parent ended, or the user said so."""
        self._may_close = True
        self.close()
