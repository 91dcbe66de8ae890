"""The timekeeper's window: one large key per event, what was marked last, undo with a reason."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from shared.clock import Instant
from station.core.inputs import (
    Act,
    AmendMark,
    AsksToComeUp,
    HoseBlown,
    LinePull,
    MarkKind,
    NextDive,
    NoAnswer,
    SetMark,
    UndoMark,
    VoiceAnswered,
)
from station.panels.drawer import Choice, DrawerPane, Question
from station.panels.event_key import EventKeyPane, NextKeyPane, PlainKey, shown_key
from station.panels.keeper_parts import (
    ClockLook,
    ClockPane,
    DiverKey,
    LastPane,
    LateCaption,
    PeoplePane,
    RulePane,
)
from station.panels.layout import Box, keeper_layout
from station.panels.pane import Blink, Style, place
from station.present import labels
from station.present.looks import (
    MARK_ACTS,
    DiverLook,
    EventKey,
    KeyState,
    LastMark,
    View,
)

_MARK_LETTERS = "QWERTY"
_OTHER_LETTERS = "ASDFG"
_LATE_LETTERS = "XCV"
_CHOOSE_H = 72
"""Height of the key to choose or enter, in drawn pixels."""

_MARK_KEYS = 6
"""Keys that have room in a row; the row keeps it whether all are used or not."""


class TimekeeperPane(QWidget):
    """All of it. Sends acts; marks and times come back with the next view."""

    acted = Signal(object)
    """An `Act`."""
    choosing = Signal()
    """The key to choose or enter was pressed."""

    def __init__(self, parent: QWidget, blink: Blink) -> None:
        super().__init__(parent)
        self.view: View | None = None
        self.chosen = ""
        self._style: Style | None = None
        self._body = Box(0, 0, 0, 0)
        self.divers: list[DiverKey] = []
        self.rule = RulePane(self)
        self.clock = ClockPane(self, blink)
        self.next_key = NextKeyPane(self, "N")
        self.next_key.went.connect(lambda: self._mark(self.next_key))
        self.marks = tuple(EventKeyPane(self, letter) for letter in _MARK_LETTERS)
        self.others = tuple(EventKeyPane(self, letter) for letter in _OTHER_LETTERS)
        for key in (*self.marks, *self.others):
            key.went.connect(lambda key=key: self._mark(key))
        self.late = tuple(PlainKey(self, letter) for letter in _LATE_LETTERS)
        for place_, late in enumerate(self.late):
            late.went.connect(lambda place_=place_: self._mark_late(place_))
        self.late_caption = LateCaption(self)
        self.last = LastPane(self)
        self.amend = PlainKey(self, "I")
        self.amend.went.connect(self.ask_time)
        self.undo = PlainKey(self, "U")
        self.undo.went.connect(self.ask_undo)
        self.people = PeoplePane(self)
        self.choose_key = shown_key(self, labels.CHOICES_KEY)
        self.choose_key.went.connect(self.choosing)
        self.drawer = DrawerPane(self)
        self.setAccessibleName(labels.TIMEKEEPER)

    def diver(self) -> DiverLook | None:
        """The diver whose keys are shown."""
        if self.view is None:
            return None
        found = next((diver for diver in self.view.divers if diver.name == self.chosen), None)
        return found or (self.view.divers[0] if self.view.divers else None)

    def choose(self, name: str) -> None:
        """Show the keys of another diver; a question about the one before is dropped."""
        if name != self.chosen:
            self.drawer.close_drawer()
        self.chosen = name
        if self.view is not None and self._style is not None:
            self.show_view(self.view, self._style, self._body)

    def show_view(self, view: View, style: Style, body: Box) -> None:
        """Take a view; `body` is the room for this window, in its own pixels."""
        self.view, self._style, self._body = view, style, body
        diver = self.diver()
        if diver is None:
            return
        self.chosen = diver.name
        boxes = keeper_layout(style.measures, body)
        may_act = view.transport is None
        self._show_divers(view, style, boxes.divers)
        place(self.rule, boxes.rule)
        self.rule.show_look(0, style)
        place(self.clock, boxes.clock)
        self.clock.show_look(ClockLook(diver.keeping.clock, diver.depth, diver.air, diver.name), style)
        place(self.next_key, boxes.next_key)
        if diver.keeping.next_key is None:
            self.next_key.show_none(style)
        else:
            self.next_key.show_look(diver.keeping.next_key, style, may_act=may_act)
        self._show_keys(self.marks, diver.keeping.marks, boxes.marks, style, may_act, places=_MARK_KEYS)
        self._show_keys(
            self.others, diver.keeping.others, boxes.others, style, may_act, places=len(self.others)
        )
        self._show_late(diver, boxes.late, style, may_act)
        self._show_last(view, diver.keeping.last, style, boxes.last)
        has_mark = may_act and diver.keeping.last is not None and diver.keeping.last.number > 0
        place(self.amend, boxes.amend)
        self.amend.show_words(labels.SET_TIME, labels.SET_TIME_DETAIL, style, enabled=has_mark)
        place(self.undo, boxes.undo)
        self.undo.show_words(labels.UNDO, labels.UNDO_DETAIL, style, enabled=has_mark)
        place(self.drawer, boxes.drawer)
        self.drawer.arrange(style)

    def _show_divers(self, view: View, style: Style, box: Box) -> None:
        while len(self.divers) < len(view.divers):
            number = len(self.divers)
            key = DiverKey(self, str(number + 1))
            key.went.connect(lambda number=number: self._choose_at(number))
            key.show()
            self.divers.append(key)
        gap = style.px(12)
        top = box.y + style.px(14)
        lines = round(style.type("name") * 1.25 + style.type("key_detail") * 5.9)
        height = min(lines, (box.bottom - style.px(_CHOOSE_H) - gap - top) // (len(view.divers) + 1))
        y = top
        for number, key in enumerate(self.divers):
            key.setVisible(number < len(view.divers))
            if number < len(view.divers):
                diver = view.divers[number]
                place(key, Box(box.x, y, box.w, height))
                status = (
                    f"{diver.keeping.status}, {diver.keeping.status_detail}"
                    if diver.keeping.status_detail
                    else diver.keeping.status
                )
                key.show_words(diver.name, status, style, chosen=diver.name == self.chosen)
                y += height + gap
        foot = box.bottom - style.px(_CHOOSE_H)
        place(self.choose_key, Box(box.x, foot, box.w, style.px(_CHOOSE_H)))
        self.choose_key.show_words(labels.CHOICES, "", style, enabled=view.transport is None)
        place(self.people, Box(box.x, y + gap // 2, box.w, max(1, foot - gap - y - gap // 2)))
        self.people.show_look(tuple((fact.caption, fact.value) for fact in view.people), style)

    def _choose_at(self, number: int) -> None:
        if self.view is not None and number < len(self.view.divers):
            self.choose(self.view.divers[number].name)

    def _show_keys(
        self,
        keys: tuple[EventKeyPane, ...],
        looks: tuple[EventKey, ...],
        box: Box,
        style: Style,
        may_act: bool,
        *,
        places: int,
    ) -> None:
        gap = style.px(10)
        width = (box.w - gap * (places - 1)) // places
        for column, key in enumerate(keys):
            key.setVisible(column < len(looks))
            if column < len(looks):
                place(key, Box(box.x + column * (width + gap), box.y, width, box.h))
                key.show_look(looks[column], style, may_act=may_act)

    def _show_late(self, diver: DiverLook, box: Box, style: Style, may_act: bool) -> None:
        gap = style.px(10)
        width = (box.w - gap * (len(self.late) - 1)) // len(self.late)
        next_key = diver.keeping.next_key
        enabled = (
            may_act
            and next_key is not None
            and not self.next_key.waiting
            and next_key.state is KeyState.NEXT
            and next_key.act in MARK_ACTS
        )
        for column, key in enumerate(self.late):
            key.setVisible(column < len(diver.keeping.late))
            if column < len(diver.keeping.late):
                place(key, Box(box.x + column * (width + gap), box.y, width, box.h))
                key.show_words(diver.keeping.late[column][1], "", style, enabled=enabled)
        heading = style.px(26)
        place(self.late_caption, Box(box.x, box.y - heading, box.w, heading))
        self.late_caption.show_look(labels.LATE if enabled else "", style)

    def _show_last(self, view: View, last: LastMark | None, style: Style, box: Box) -> None:
        place(self.last, box)
        if view.notice:
            self.last.show_look((labels.NOT_TAKEN_TITLE, view.notice, ""), style)
        elif last is None:
            self.last.show_look((labels.LAST_MARK, labels.NO_LAST_MARK, ""), style)
        else:
            self.last.show_look((labels.LAST_MARK, last.title, last.detail), style)

    def _mark(self, key: EventKeyPane) -> None:
        diver = self.diver()
        if diver is None or key.look is None or not key.isEnabled():
            return
        if key.look.act == "line_pull":
            self._ask_line_pull(diver)
            return
        if key.look.act == MarkKind.REACHED_STOP and key.look.stop_fsw is None:
            self._ask_stop(diver, key)
            return
        key.wait_for_view()
        self.acted.emit(act_of(key.look, diver, 0))

    def _mark_late(self, number: int) -> None:
        diver = self.diver()
        if diver is None or diver.keeping.next_key is None or not self.next_key.isEnabled():
            return
        self.next_key.wait_for_view()
        for late in self.late:
            late.setEnabled(False)
        self.acted.emit(act_of(diver.keeping.next_key, diver, diver.keeping.late[number][0]))

    def ask_undo(self) -> None:
        """Ask why the last mark is undone."""
        diver = self.diver()
        if diver is None or diver.keeping.last is None or self._style is None:
            return
        name, number = diver.name, diver.keeping.last.number
        self.drawer.ask(
            Question(
                f"{labels.UNDO_TITLE} {diver.keeping.last.title}",
                tuple(Choice(reason, reason) for reason in labels.UNDO_REASONS),
                lambda _, reason: self.acted.emit(UndoMark(name, number, reason)),
                own_words=True,
            ),
            self._style,
        )

    def ask_time(self) -> None:
        """Ask what the last mark is set to, and why."""
        diver = self.diver()
        if diver is None or diver.keeping.last is None or self._style is None:
            return
        name, last = diver.name, diver.keeping.last
        self.drawer.ask(
            Question(
                f"{labels.SET_TIME_TITLE}: {last.title}",
                tuple(Choice(reason, reason) for reason in labels.SET_TIME_REASONS),
                lambda to, reason: self.acted.emit(AmendMark(name, last.number, Instant(int(to)), reason)),
                first=tuple(Choice(str(shift.to_ns), shift.title, shift.detail) for shift in last.shifts),
                own_words=True,
            ),
            self._style,
        )

    def _ask_stop(self, diver: DiverLook, key: EventKeyPane) -> None:
        """Ask which stop was reached: there is no schedule to know it from."""
        if self._style is None:
            return
        name, dive = diver.name, diver.keeping.dive

        def answered(_: str, stop_fsw: str) -> None:
            key.wait_for_view()
            self.acted.emit(SetMark(name, dive, MarkKind.REACHED_STOP, float(stop_fsw)))

        choices = tuple(Choice(stop, stop, labels.STOP_UNIT) for stop in labels.STOPS)
        self.drawer.ask(Question(labels.STOP_TITLE, choices, answered), self._style)

    def _ask_line_pull(self, diver: DiverLook) -> None:
        if self._style is None:
            return
        name = diver.name
        self.drawer.ask(
            Question(
                labels.LINE_PULL_TITLE,
                tuple(Choice(pulls, pulls) for pulls in labels.LINE_PULLS),
                lambda way, pulls: self.acted.emit(LinePull(name, pulls, way == "from")),
                first=(Choice("from", labels.FROM_DIVER), Choice("to", labels.TO_DIVER)),
            ),
            self._style,
        )


def act_of(key: EventKey, diver: DiverLook, back_s: int) -> Act:
    """The act that a press of this key is. Raises ValueError for a key that names none."""
    if key.act in MARK_ACTS:
        return SetMark(diver.name, diver.keeping.dive, MarkKind(key.act), key.stop_fsw, back_s)
    match key.act:
        case "hose_blown":
            return HoseBlown(diver.name)
        case "voice_answered":
            return VoiceAnswered(diver.name)
        case "no_answer":
            return NoAnswer(diver.name)
        case "asks_to_come_up":
            return AsksToComeUp(diver.name)
        case "next_dive":
            return NextDive(diver.name)
        case _:
            raise ValueError(f"no act is named {key.act}")
