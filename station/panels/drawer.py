"""The drawer that asks: why a mark is undone, what it is set to, which stop. Covers keys, never numbers."""

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QShortcut
from PySide6.QtWidgets import QLineEdit, QWidget

from station.panels.brush import begin, fill, hair, word
from station.panels.event_key import PlainKey
from station.panels.layout import Box
from station.panels.pane import Style, place
from station.panels.type import font
from station.present.labels import CANCEL, CANCEL_DETAIL, OWN_WORDS, USE_OWN_WORDS

_MOST_IN_ONE_ROW = 4
"""With fewer answers than this, and nothing to type, Cancel stands in their row."""


@dataclass(frozen=True, slots=True)
class Choice:
    """One thing to choose, under the value that it stands for."""

    value: str
    title: str
    detail: str = ""


@dataclass(frozen=True, slots=True)
class Question:
    """What the drawer asks. With `first`, one of those is chosen before one of `answers` sends it.

    `own_words` lets an answer be typed. `answered` gets the chosen first value (empty without), the answer.
    """

    title: str
    answers: tuple[Choice, ...]
    answered: Callable[[str, str], None]
    first: tuple[Choice, ...] = ()
    own_words: bool = False
    cancel: tuple[str, str] = (CANCEL, CANCEL_DETAIL)


class DrawerPane(QWidget):
    """Large keys for what is likely, a line for own words, and Cancel."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.style_: Style | None = None
        self.question: Question | None = None
        self.first: list[PlainKey] = []
        self.answers: list[PlainKey] = []
        self.words = QLineEdit(self)
        self.words.setAccessibleName(OWN_WORDS)
        self.words.setPlaceholderText(OWN_WORDS)
        self.words.setMaxLength(200)
        self.words.returnPressed.connect(self._use_words)
        self.words.textChanged.connect(self._restyle)
        self.use = PlainKey(self)
        self.use.went.connect(self._use_words)
        self.cancel = PlainKey(self)
        self.cancel.went.connect(self.close_drawer)
        QShortcut("Escape", self).activated.connect(self.close_drawer)
        self._chosen = ""
        self._sheet_for: Style | None = None
        self.hide()

    def ask(self, question: Question, style: Style) -> None:
        """Open with a question."""
        self.question, self.style_ = question, style
        self._chosen = ""
        for key in (*self.first, *self.answers):
            key.deleteLater()
        self.first = [self._key(choice, self._choose) for choice in question.first]
        self.answers = [self._key(choice, self._answer) for choice in question.answers]
        self.words.clear()
        self.setAccessibleName(question.title)
        self.arrange(style)
        self.show()
        self.raise_()
        (self.first or [self.cancel])[0].setFocus()

    def _key(self, choice: Choice, went: Callable[[Choice], None]) -> PlainKey:
        key = PlainKey(self)
        key.went.connect(lambda: went(choice))
        key.show()
        return key

    def arrange(self, style: Style) -> None:
        """Place everything for the present size and style."""
        self.style_ = style
        question = self.question
        if question is None:
            return
        gap = style.px(12)
        top = style.px(12) + style.type("name") * 27 // 20
        if not question.own_words and not question.first and len(question.answers) < _MOST_IN_ONE_ROW:
            keys = [*self.answers, self.cancel]
            self._place_row(keys, top, min(self.height() - top, style.px(140)), gap)
            self._show_parts(question)
            return
        rows = 2 + bool(question.first)
        height = (self.height() - top - gap * (rows - 1)) // rows
        y = top
        if question.first:
            self._place_row(self.first, y, height, gap)
            y += height + gap
        self._place_row(self.answers, y, height, gap)
        y += height + gap
        cancel_w = self.width() * 2 // 10
        use_w = self.width() * 2 // 10
        place(self.cancel, Box(self.width() - cancel_w, y, cancel_w, height))
        place(self.use, Box(self.width() - cancel_w - gap - use_w, y, use_w, height))
        words_w = self.width() - cancel_w - use_w - 2 * gap
        words_h = min(height, style.px(64))
        place(self.words, Box(0, y + (height - words_h) // 2, words_w, words_h))
        self._show_parts(question)

    def _show_parts(self, question: Question) -> None:
        self.words.setVisible(question.own_words)
        self.use.setVisible(question.own_words)
        self._restyle()
        self.update()

    def _place_row(self, keys: list[PlainKey], y: int, height: int, gap: int) -> None:
        width = (self.width() - gap * (len(keys) - 1)) // max(1, len(keys))
        for column, key in enumerate(keys):
            place(key, Box(column * (width + gap), y, width, height))

    def _restyle(self) -> None:
        style, question = self.style_, self.question
        if style is None or question is None:
            return
        for key, choice in zip(self.first, question.first, strict=True):
            key.show_words(choice.title, choice.detail, style, chosen=choice.value == self._chosen)
        ready = not question.first or bool(self._chosen)
        for key, choice in zip(self.answers, question.answers, strict=True):
            key.show_words(choice.title, choice.detail, style, enabled=ready)
        self.use.show_words(USE_OWN_WORDS, "", style, enabled=ready and bool(self.words.text().strip()))
        self.cancel.show_words(*question.cancel, style)
        palette = style.palette
        self.words.setFont(font(style.type("key")))
        if style == self._sheet_for:
            return
        self._sheet_for = style
        self.words.setStyleSheet(
            f"QLineEdit {{ background: {palette.key}; color: {palette.ink}; border: 2px solid {palette.ink};"
            f" padding-left: {style.px(10)}px; selection-background-color: {palette.ink};"
            f" selection-color: {palette.ground}; placeholder-text-color: {palette.ink2}; }}"
        )

    def _choose(self, choice: Choice) -> None:
        self._chosen = choice.value
        self._restyle()

    def _answer(self, choice: Choice) -> None:
        self._send(choice.value)

    def _use_words(self) -> None:
        text = " ".join(self.words.text().split())
        if text and self.use.isEnabled():
            self._send(text)

    def _send(self, answer: str) -> None:
        question, chosen = self.question, self._chosen
        if question is None or (question.first and not chosen):
            return
        self.close_drawer()
        question.answered(chosen, answer)

    def close_drawer(self) -> None:
        """Close; nothing changes."""
        self.question = None
        self.hide()

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw the ground, a rule, and the question."""
        del event
        if self.style_ is None or self.question is None:
            return
        style = self.style_
        painter = QPainter(self)
        begin(painter)
        fill(painter, QRectF(0, 0, self.width(), self.height()), style.palette.ground)
        hair(painter, 0, style.px(2), self.width(), style.px(2), style.palette.ink, style.px(3))
        px = style.type("name")
        word(
            painter,
            0,
            style.px(8) + px,
            self.question.title,
            px,
            style.palette.ink,
            bold=True,
            room=self.width(),
        )
        painter.end()
