"""The timekeeper's window: one large key per event, what was marked last, undo with a reason."""

from dataclasses import dataclass

from PySide6.QtCore import QRectF, Signal
from PySide6.QtGui import QPainter
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
from station.panels.brush import RIGHT, fill, hair, paragraph, sign, word
from station.panels.drawer import Choice, DrawerPane, Question
from station.panels.event_key import EventKeyPane, NextKeyPane, PlainKey
from station.panels.key import framed
from station.panels.layout import Box, keeper_layout
from station.panels.number import DASHED, draw_dashes
from station.panels.pane import Blink, Pane, Style, flashes, place
from station.panels.type import fitted_px, width_of
from station.present import labels
from station.present.looks import (
    MARK_ACTS,
    DiverLook,
    EventKey,
    KeyState,
    LastMark,
    Number,
    View,
)

_MARK_LETTERS = "QWERTY"
_OTHER_LETTERS = "ASDFG"
_LATE_LETTERS = "XCV"
_MARK_KEYS = 6
"""Keys that have room in a row; the row keeps it whether all are used or not."""


@dataclass(frozen=True, slots=True)
class _ClockLook:
    number: Number
    depth: Number
    air: Number
    diver: str


class ClockPane(Pane[_ClockLook]):
    """The one clock that matters now, readable across the deck, and the diver's depth and air under it."""

    def flashing(self) -> bool:
        """Whether a mark of its numbers flashes."""
        look = self.look
        return look is not None and any(
            flashes(number.sign) for number in (look.number, look.depth, look.air)
        )

    def draw(self, painter: QPainter, look: _ClockLook, style: Style) -> None:
        """Draw caption, clock, unit; depth and air below."""
        palette, px = style.palette, style.type("clock")
        caption = style.type("name")
        word(painter, 0, caption * 0.85, look.number.caption, caption, palette.ink, bold=True)
        word(
            painter,
            self.width(),
            caption * 0.85,
            f"{look.diver}, {look.number.detail}" if look.number.detail else look.diver,
            style.type("phase"),
            palette.ink2,
            align=RIGHT,
            room=self.width() * 0.6,
        )
        foot = self.height() - style.type("phase") * 2.0
        unit_w = width_of(look.number.unit, style.type("name")) + style.px(26)
        right = self.width() - unit_w
        baseline = foot - style.px(20)
        if look.number.state in DASHED:
            draw_dashes(painter, right, baseline, px, palette.ink)
        else:
            size = fitted_px(look.number.value, px, right, bold=palette.bold_values)
            word(
                painter,
                right,
                baseline,
                look.number.value,
                size,
                palette.ink,
                bold=palette.bold_values,
                align=RIGHT,
            )
        word(
            painter,
            self.width() - unit_w + style.px(22),
            baseline,
            look.number.unit,
            style.type("name"),
            palette.ink2,
        )
        hair(painter, 0, foot - style.px(6), self.width(), foot - style.px(6), palette.hair, 2)
        half = self.width() / 2
        for x, number in ((0.0, look.depth), (half, look.air)):
            self._draw_small(painter, number, style, x, half - style.px(12))

    def _draw_small(self, painter: QPainter, number: Number, style: Style, x: float, room: float) -> None:
        palette, px = style.palette, style.type("name")
        baseline = self.height() - px * 0.35
        if number.sign is not None:
            side = px * 1.05
            if self.blink is None or self.blink.shows(number.sign):
                sign(
                    painter, QRectF(x + 1, baseline - px * 0.9, side, side), number.sign.priority, palette, 2
                )
            x += side + px * 0.3
            room -= side + px * 0.3
        took = word(painter, x, baseline, number.caption, style.type("text"), palette.ink2, room=room * 0.5)
        value = "---" if number.state in DASHED else number.value
        word(
            painter,
            x + took + px * 0.5,
            baseline,
            f"{value} {number.unit}",
            px,
            palette.ink,
            bold=True,
            room=room - took - px * 0.5,
        )


class LastPane(Pane[tuple[str, str, str]]):
    """The mark made last, or what the station refused."""

    def draw(self, painter: QPainter, look: tuple[str, str, str], style: Style) -> None:
        """Draw caption, mark, details."""
        caption, title, detail = look
        palette, px = style.palette, style.type("key")
        y = style.type("caption") * 1.1
        word(painter, 0, y, caption, style.type("caption"), palette.ink2)
        y += px * 1.4
        size = max(px * 3 // 4, fitted_px(title, px * 23 // 20, self.width(), bold=True))
        word(painter, 0, y, title, size, palette.ink, bold=True, room=self.width())
        area = QRectF(0, y + px * 0.45, self.width(), self.height() - y - px * 0.4)
        paragraph(painter, area, ((detail, False, palette.ink2),), style.type("caption"), 1.35)


class PeoplePane(Pane[tuple[tuple[str, str], ...]]):
    """Who is here, under a hairline."""

    def draw(self, painter: QPainter, look: tuple[tuple[str, str], ...], style: Style) -> None:
        """Draw rows."""
        px, palette = style.type("caption"), style.palette
        hair(painter, 0, 1, self.width(), 1, palette.rule, 1.5)
        y = px * 1.7
        for caption, value in look:
            if y > self.height():
                break
            took = word(
                painter,
                self.width(),
                y,
                value,
                px,
                palette.ink,
                bold=True,
                align=RIGHT,
                room=self.width() * 0.6,
            )
            word(painter, 0, y, caption, px, palette.ink2, room=self.width() - took - px * 0.5)
            y += px * 1.7


class DiverKey(PlainKey):
    """A diver to choose: name, where he is in his dive, his clock."""

    def draw(self, painter: QPainter, style: Style) -> None:
        """Draw three lines on a key, or on a block when he is the chosen one."""
        palette, px, small = style.palette, style.type("name") * 5 // 4, style.type("key_detail") * 11 // 10
        back, ink = (palette.ink, palette.ground) if self.chosen else (palette.key, palette.ink)
        framed(painter, QRectF(0, 0, self.width(), self.height()), back, palette.ink, 2)
        inset = style.px(14)
        room = self.width() - 2 * inset
        top = self.height() * 0.36
        word(painter, inset, top, self.title, px, ink, bold=True, room=room - small)
        status, _, clock = self.detail_.partition(", ")
        word(painter, inset, top + small * 1.6, status, small, ink, room=room)
        word(painter, inset, top + small * 3.0, clock, small, ink, room=room)
        tiny = style.type("axis")
        word(painter, self.width() - tiny * 0.6, tiny * 1.4, self.letter, tiny, ink, align=RIGHT)


class LateCaption(Pane[str]):
    """What stands over the keys that set a mark back."""

    def draw(self, painter: QPainter, look: str, style: Style) -> None:
        """Draw it small."""
        px = style.type("caption")
        word(painter, 0, self.height() - px * 0.45, look, px, style.palette.ink2, room=self.width())


class RulePane(Pane[int]):
    """A thick rule."""

    def draw(self, painter: QPainter, look: int, style: Style) -> None:
        """Fill it."""
        del look
        fill(painter, QRectF(0, 0, self.width(), self.height()), style.palette.ink)


class TimekeeperPane(QWidget):
    """All of it. Sends acts; marks and times come back with the next view."""

    acted = Signal(object)
    """An `Act`."""

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
        self.clock.show_look(_ClockLook(diver.keeping.clock, diver.depth, diver.air, diver.name), style)
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
        height = min(style.px(132), (box.bottom - top) // (len(view.divers) + 1))
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
        place(self.people, Box(box.x, y + gap // 2, box.w, max(1, box.bottom - y - gap // 2)))
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
