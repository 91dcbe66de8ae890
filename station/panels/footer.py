"""The footer: window keys, the caution, and the keys of the grounds."""

from dataclasses import dataclass

from PySide6.QtCore import QRectF, Signal
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QWidget

from station.panels.brush import MIDDLE, fill, hair, word
from station.panels.key import Key, framed
from station.panels.layout import Box
from station.panels.pane import Pane, Style, place
from station.panels.type import width_of
from station.present.labels import GROUND_KEYS, REPLAY_WINDOWS, WINDOWS


class TabKey(Key):
    """A window's or a ground's key: the one in use is a black block or framed."""

    def __init__(self, parent: QWidget, letter: str, title: str, *, block: bool) -> None:
        super().__init__(parent, f"{title}, {letter}", letter)
        self.title = title
        self.chosen = False
        self._block = block

    def show_chosen(self, chosen: bool, style: Style) -> None:
        """Say whether this is the one in use."""
        if (chosen, style) != (self.chosen, self.style_):
            self.chosen, self.style_ = chosen, style
            self.update()

    def focus_colour(self, style: Style) -> str:
        """The focus must be seen on the black block."""
        return style.palette.ground if self.chosen and self._block else style.palette.ink

    def draw(self, painter: QPainter, style: Style) -> None:
        """Draw letter and title."""
        palette, px = style.palette, style.type("strip")
        area = QRectF(0, 0, self.width(), self.height())
        ink, ink_letter = palette.ink2, palette.ink2
        if self.chosen and self._block:
            fill(painter, area, palette.ink)
            ink = ink_letter = palette.ground
        elif self.chosen:
            framed(painter, area.adjusted(0, style.px(6), 0, -style.px(6)), None, palette.ink, 2)
            ink = ink_letter = palette.ink
        baseline = self.height() / 2 + px * 0.37
        text = width_of(self.letter, px) + px * 0.6 + width_of(self.title, px, bold=self.chosen)
        left = (self.width() - text) / 2
        took = word(
            painter, left, baseline, self.letter, px, ink_letter, bold=self.chosen and not self._block
        )
        word(painter, left + took + px * 0.6, baseline, self.title, px, ink, bold=self.chosen)


@dataclass(frozen=True, slots=True)
class FooterLook:
    """What the footer says."""

    window: str
    ground: str
    caution: str
    stacked: bool


class _CautionPane(Pane[tuple[str, bool]]):
    def draw(self, painter: QPainter, look: tuple[str, bool], style: Style) -> None:
        px, margin = style.type("strip"), style.px(style.measures.arrangement.margin)
        if not look[1]:
            hair(painter, margin, 1, self.width() - margin, 1, style.palette.hair, 2)
            left, right = self._free
            word(
                painter,
                (left + right) / 2,
                self.height() / 2 + px * 0.37,
                look[0],
                px,
                style.palette.ink2,
                align=MIDDLE,
                room=right - left,
            )

    _free: tuple[float, float] = (0.0, 0.0)

    def set_free(self, left: float, right: float) -> None:
        """Where the keys leave room."""
        self._free = (left, right)


class FooterPane(QWidget):
    """The keys in one row, or in two where a replay's transport bar stands beside them."""

    window_chosen = Signal(str)
    ground_chosen = Signal(str)

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._caution = _CautionPane(self)
        self.windows = {title: TabKey(self, letter, title, block=True) for letter, title in WINDOWS}
        self.replay_windows = {
            title: TabKey(self, letter, title, block=True) for letter, title in REPLAY_WINDOWS
        }
        self.grounds = {
            ground: TabKey(self, letter, title, block=False) for letter, ground, title in GROUND_KEYS
        }
        for title, key in (*self.windows.items(), *self.replay_windows.items()):
            key.went.connect(lambda title=title: self.window_chosen.emit(title))
        for ground, key in self.grounds.items():
            key.went.connect(lambda ground=ground: self.ground_chosen.emit(ground))

    def show_look(self, look: FooterLook, style: Style) -> None:
        """Place the keys and mark those in use."""
        place(self._caution, Box(0, 0, self.width(), self.height()))
        margin = 0 if look.stacked else style.px(style.measures.arrangement.margin)
        row_h = self.height() // 2 if look.stacked else self.height()
        left = self._row(list(self.windows.values()), margin, 0, row_h, style, from_right=False)
        top = row_h if look.stacked else 0
        right = self._row(
            list(self.grounds.values()), self.width() - margin, top, row_h, style, from_right=True
        )
        gap = style.type("strip") * 0.8
        self._caution.set_free(left + gap, right - gap)
        self._caution.show_look((look.caution, look.stacked), style)
        for key in self.replay_windows.values():
            key.setVisible(look.stacked)
        if look.stacked:
            self._row(list(self.replay_windows.values()), margin, row_h, row_h, style, from_right=False)
        for title, key in (*self.windows.items(), *self.replay_windows.items()):
            key.show_chosen(title == look.window, style)
        for ground, key in self.grounds.items():
            key.show_chosen(ground == look.ground, style)

    @staticmethod
    def _row(keys: list[TabKey], start: int, y: int, height: int, style: Style, *, from_right: bool) -> int:
        px = style.type("strip")
        x = start
        for key in reversed(keys) if from_right else keys:
            text = width_of(key.letter, px) + px * 0.6 + width_of(key.title, px, bold=True)
            width = round(text + px * 0.95)
            x -= width if from_right else 0
            place(key, Box(x, y + 2, width, height - 2))
            x += 0 if from_right else width
        return x
