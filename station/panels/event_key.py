"""The large keys of the timekeeper: one event each, from a press until it stands in the log."""

from PySide6.QtCore import QRectF, QTimer
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QWidget

from station.panels.brush import RIGHT, fill, paragraph, tick, word
from station.panels.key import Key, framed
from station.panels.pane import Style
from station.panels.type import fitted_px, width_of
from station.present.labels import MARKING, NEXT_MARK, NO_NEXT_MARK, NOT_TAKEN
from station.present.looks import EventKey, KeyState

_NOT_TAKEN_AFTER_MS = 3000
"""A press that the station has not taken after this is said to be not taken. Own choice."""

_GUARD_MS = 800
"""After a press the same key takes no other for this long: a glove bounces, and the next mark is another one.
Own choice."""

_PRESSABLE = (KeyState.OPEN, KeyState.NEXT)


class EventKeyPane(Key):
    """A key for one event. Between a press and the view that shows it, it says "marking" and is shut."""

    def __init__(self, parent: QWidget, shortcut: str = "") -> None:
        super().__init__(parent, "", shortcut)
        self.look: EventKey | None = None
        self.waiting = False
        self.missed = False
        self._patience = QTimer(self)
        self._patience.setSingleShot(True)
        self._patience.setInterval(_NOT_TAKEN_AFTER_MS)
        self._patience.timeout.connect(self._not_taken)
        self._guard = QTimer(self)
        self._guard.setSingleShot(True)
        self._guard.setInterval(_GUARD_MS)
        self._guard.timeout.connect(self._open_again)
        self._may_act = False

    def show_look(self, look: EventKey, style: Style, *, may_act: bool) -> None:
        """Take a look; one that differs from the last ends the waiting for a press."""
        if look != self.look:
            self.waiting = self.missed = False
            self._patience.stop()
        elif style == self.style_ and self.isEnabled() == self._may_go(look, may_act):
            return
        self.look, self.style_, self._may_act = look, style, may_act
        self.setAccessibleName(f"{look.title}, {look.detail}, {self.letter}")
        self.setEnabled(self._may_go(look, may_act))
        self.update()

    def _may_go(self, look: EventKey, may_act: bool) -> bool:
        return may_act and not self.waiting and not self._guard.isActive() and look.state in _PRESSABLE

    def wait_for_view(self) -> None:
        """It was pressed: say so at once, and take no second press."""
        self.waiting, self.missed = True, False
        self.setEnabled(False)
        self._patience.start()
        self._guard.start()
        self.update()

    def _not_taken(self) -> None:
        self.waiting, self.missed = False, True
        self._open_again()

    def _open_again(self) -> None:
        self.setEnabled(self.look is not None and self._may_go(self.look, self._may_act))
        self.update()

    def detail(self) -> str:
        """What stands under the title now."""
        if self.look is None:
            return ""
        if self.waiting or self.look.state is KeyState.MARKING:
            return MARKING
        return NOT_TAKEN if self.missed else self.look.detail

    def draw(self, painter: QPainter, style: Style) -> None:
        """Draw frame, title, detail, and the tick of what is done."""
        if self.look is None:
            return
        palette, state = style.palette, self.look.state
        area = QRectF(0, 0, self.width(), self.height())
        pressable = self.isEnabled()
        edge = palette.ink if pressable or self.waiting else palette.hair
        next_one = state is KeyState.NEXT
        framed(
            painter,
            area,
            palette.key if pressable or self.waiting else None,
            edge,
            style.px(4) if next_one else 2,
        )
        ink = palette.ink if pressable or state is KeyState.DONE else palette.ink2
        px, small = style.type("key"), style.type("key_detail")
        inset = style.px(13)
        room = self.width() - 2 * inset
        top = self.height() / 2 - px * 0.25
        px = fitted_px(self.look.title, px, room, bold=True)
        word(
            painter,
            inset,
            top,
            self.look.title,
            px,
            ink if state is not KeyState.DONE else palette.ink2,
            bold=True,
            room=room,
        )
        side = style.px(18)
        done = state is KeyState.DONE
        detail_room = room - (side * 1.3 if done else 0)
        word(
            painter,
            inset,
            top + small * 1.6,
            self.detail(),
            small,
            palette.ink if pressable else palette.ink2,
            room=detail_room,
        )
        if done:
            box = QRectF(self.width() - inset - side * 0.9, self.height() - inset - side, side, side * 0.85)
            tick(painter, box, palette.ink, style.px(3))
        self._draw_letter(painter, style, palette.ink2)

    def _draw_letter(self, painter: QPainter, style: Style, colour: str) -> None:
        px = style.type("axis")
        if self.letter and self.isEnabled():
            word(painter, self.width() - px * 0.6, px * 1.4, self.letter, px, colour, align=RIGHT)


class NextKeyPane(EventKeyPane):
    """The one mark that comes next: a black block, readable across the deck."""

    def focus_colour(self, style: Style) -> str:
        """The focus on the black block."""
        return style.palette.ground

    def show_none(self, style: Style) -> None:
        """There is nothing to mark."""
        self.look, self.style_ = None, style
        self.waiting = self.missed = False
        self._patience.stop()
        self.setAccessibleName(f"{NEXT_MARK}: {NO_NEXT_MARK}")
        self.setEnabled(False)
        self.update()

    def draw(self, painter: QPainter, style: Style) -> None:
        """Draw caption, the mark, and what a press does."""
        palette = style.palette
        area = QRectF(0, 0, self.width(), self.height())
        inset, px, small = style.px(22), style.type("mark"), style.type("key_detail") * 11 // 10
        if not self.isEnabled() and not self.waiting:
            framed(painter, area, None, palette.hair, 2)
            word(painter, inset, inset + small, NEXT_MARK, small, palette.ink2)
            title = "" if self.look is None else self.look.title
            middle = self.height() / 2 + small * 0.33
            word(painter, inset, middle, title, style.type("name"), palette.ink2, bold=True)
            text = NO_NEXT_MARK if self.look is None else self.detail()
            below = QRectF(inset, middle + small, self.width() - 2 * inset, small * 3)
            paragraph(painter, below, ((text, False, palette.ink2),), small, 1.3)
            return
        fill(painter, area, palette.ink)
        word(painter, inset, inset + small, NEXT_MARK, small, palette.ground)
        room = self.width() - 2 * inset
        title = self.look.title if self.look is not None else ""
        word(
            painter,
            inset,
            self.height() / 2 + px * 0.33,
            title,
            fitted_px(title, px, room, bold=True),
            palette.ground,
            bold=True,
            room=room,
        )
        word(painter, inset, self.height() - inset, self.detail(), small, palette.ground, room=room)
        if self.letter:
            word(
                painter, self.width() - inset, inset + small, self.letter, small, palette.ground, align=RIGHT
            )


class PlainKey(Key):
    """A key with a title and a detail: undo, set the time, a reason, a diver."""

    def __init__(self, parent: QWidget, shortcut: str = "") -> None:
        super().__init__(parent, "", shortcut)
        self.title = ""
        self.detail_ = ""
        self.chosen = False

    def show_words(
        self, title: str, detail: str, style: Style, *, enabled: bool = True, chosen: bool = False
    ) -> None:
        """Take words and standing."""
        told = (title, detail, style, enabled, chosen)
        if told == (self.title, self.detail_, self.style_, self.isEnabled(), self.chosen):
            return
        self.title, self.detail_, self.style_, self.chosen = title, detail, style, chosen
        self.setAccessibleName(", ".join(part for part in (title, detail, self.letter) if part))
        self.setEnabled(enabled)
        self.update()

    def focus_colour(self, style: Style) -> str:
        """The focus must be seen on the black block."""
        return style.palette.ground if self.chosen else style.palette.ink

    def draw(self, painter: QPainter, style: Style) -> None:
        """Draw frame, title, detail and letter."""
        palette, px, small = style.palette, style.type("key"), style.type("key_detail")
        area = QRectF(0, 0, self.width(), self.height())
        enabled = self.isEnabled()
        back = palette.ink if self.chosen else palette.key if enabled else None
        framed(painter, area, back, palette.ink if enabled or self.chosen else palette.hair, 2)
        ink = palette.ground if self.chosen else palette.ink if enabled else palette.ink2
        inset, tiny = style.px(13), style.type("axis")
        room = float(self.width() - 2 * inset)
        low = self.height() < px * 1.2 + small * 1.9
        sign = self.letter.removeprefix("Alt+") if enabled else ""
        if low or not self.detail_:
            room -= width_of(sign, tiny)
        if low:
            self._draw_low(painter, style, QRectF(inset, 0, room, self.height()), ink)
        else:
            middle = self.height() / 2 + (px * 0.37 if not self.detail_ else -px * 0.2)
            word(painter, inset, middle, self.title, px, ink, bold=True, room=room)
            word(painter, inset, middle + small * 1.55, self.detail_, small, ink, room=room)
        colour = ink if self.chosen else palette.ink2
        word(painter, self.width() - tiny * 0.5, tiny * 1.3, sign, tiny, colour, align=RIGHT)

    def _draw_low(self, painter: QPainter, style: Style, area: QRectF, ink: str) -> None:
        """One line: the title, and the detail beside it where it fits whole."""
        px, small = style.type("key"), style.type("key_detail")
        baseline = area.height() / 2 + px * 0.37
        took = word(painter, area.left(), baseline, self.title, px, ink, bold=True, room=area.width())
        rest = area.width() - took - small * 0.7
        if width_of(self.detail_, small) * 0.75 <= rest:
            word(painter, area.left() + took + small * 0.7, baseline, self.detail_, small, ink, room=rest)


def shown_key(parent: QWidget, letter: str) -> PlainKey:
    """A key that shows the letter under which the whole window takes it, on every page."""
    key = PlainKey(parent)
    key.letter = letter
    return key
