"""The drawer that asks: why a mark is undone, what it is set to, which stop. Covers keys, never numbers."""

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QShortcut
from PySide6.QtWidgets import QLineEdit, QWidget

from station.panels.brush import RIGHT, begin, fill, hair, word
from station.panels.event_key import PlainKey
from station.panels.layout import Box
from station.panels.pane import Style, place
from station.panels.type import font, width_of
from station.present.labels import BACK, BY_KEY, CANCEL, CANCEL_DETAIL, ENTER, OWN_WORDS, USE_OWN_WORDS

_MOST_IN_A_ROW = 10
"""With more answers than this, or longer ones, they stand in two rows, or three."""

_LEAST_TYPE = 0.8
"""Titles are set no smaller than this share of their size before another row is begun."""

_ROW_HIGHEST = 140
"""A row is no higher than this, in drawn pixels."""

_KEYS = "1234567890"
"""Alt and one of these chooses the answer that stands so far from the first."""


@dataclass(frozen=True, slots=True)
class Choice:
    """One thing to choose, under the value that it stands for."""

    value: str
    title: str
    detail: str = ""


@dataclass(frozen=True, slots=True)
class Question:
    """What the drawer asks. With `first`, one of those is chosen before one of `answers` sends it.

    `own_words` lets an answer be typed, `pad` are keys for its characters, `hint` says what it is; `check`
    says what is wrong with it, nothing when it may go. `chosen` is the first that is chosen when it opens.
    `answered` gets the chosen first value (empty without), the answer.
    """

    title: str
    answers: tuple[Choice, ...]
    answered: Callable[[str, str], None]
    first: tuple[Choice, ...] = ()
    own_words: bool = False
    cancel: tuple[str, str] = (CANCEL, CANCEL_DETAIL)
    pad: str = ""
    hint: str = OWN_WORDS
    check: Callable[[str], str] = lambda _: ""
    chosen: str = ""


class DrawerPane(QWidget):
    """Large keys for what is likely, a line for own words, and Cancel."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.style_: Style | None = None
        self.question: Question | None = None
        self.first: list[PlainKey] = []
        self.answers: list[PlainKey] = []
        self.pad: list[PlainKey] = []
        self.words = QLineEdit(self)
        self.words.setMaxLength(200)
        self.words.returnPressed.connect(self._use_words)
        self.words.textChanged.connect(self._typed)
        self.use = PlainKey(self)
        self.use.went.connect(self._use_words)
        self.cancel = PlainKey(self)
        self.cancel.went.connect(self.close_drawer)
        QShortcut("Escape", self).activated.connect(self.close_drawer)
        self.trouble = ""
        self._chosen = ""
        self._sheet_for: Style | None = None
        self.hide()

    def ask(self, question: Question, style: Style) -> None:
        """Open with a question."""
        self.question, self.style_ = question, style
        self._chosen, self.trouble = question.chosen, ""
        for key in (*self.first, *self.answers, *self.pad):
            key.hide()
            key.deleteLater()
        letters = iter(f"Alt+{letter}" for letter in _KEYS)
        self.first = [self._key(choice, self._choose, next(letters, "")) for choice in question.first]
        self.answers = [self._key(choice, self._answer, next(letters, "")) for choice in question.answers]
        self.pad = [self._key(Choice(sign, sign), self._type, "") for sign in question.pad]
        if question.pad:
            self.pad.append(self._key(Choice("", BACK), lambda _: self.words.backspace(), ""))
        self.words.clear()
        self.words.setAccessibleName(question.hint)
        self.words.setPlaceholderText(question.hint)
        self.setAccessibleName(question.title)
        self.arrange(style)
        self.show()
        self.raise_()
        (self.words if question.pad else (self.first or [self.cancel])[0]).setFocus()

    def _key(self, choice: Choice, went: Callable[[Choice], None], letter: str) -> PlainKey:
        key = PlainKey(self, letter)
        key.went.connect(lambda: went(choice))
        key.show()
        return key

    def arrange(self, style: Style) -> None:
        """Place everything for the present size and style."""
        self.style_ = style
        question = self.question
        if question is None:
            return
        gap = style.px(10)
        top = style.px(12) + style.type("name") * 27 // 20
        rows = self._rows(question)
        height = (self.height() - top - gap * (len(rows) - 1)) // max(1, len(rows))
        height = min(height, style.px(_ROW_HIGHEST))
        y = top
        for row in rows:
            if row is None:
                self._place_words(y, height, gap)
            else:
                self._place_row(row, y, height, gap)
            y += height + gap
        self._show_parts(question)

    def _rows(self, question: Question) -> list[list[PlainKey] | None]:
        """The rows of keys from the top; None is the row with the line to type in."""
        rows: list[list[PlainKey] | None] = [self.first] if self.first else []
        answers = self.answers if question.own_words else [*self.answers, self.cancel]
        count = self._row_count(question, len(answers))
        for at in range(count):
            rows.append(answers[at * len(answers) // count : (at + 1) * len(answers) // count])
        if self.pad:
            rows.append(self.pad)
        if question.own_words:
            rows.append(None)
        return rows

    def _row_count(self, question: Question, answers: int) -> int:
        """As few rows as let every title stand whole."""
        style = self.style_
        if not answers or style is None:
            return 0
        px = style.type("key")
        widest = max((width_of(each.title, px, bold=True) for each in question.answers), default=0.0)
        needed = widest * _LEAST_TYPE + style.px(26) + px
        columns = max(1, min(_MOST_IN_A_ROW, int(self.width() / (needed + style.px(10)))))
        return -(-answers // columns)

    def _place_words(self, y: int, height: int, gap: int) -> None:
        cancel_w = use_w = self.width() * 2 // 10
        place(self.cancel, Box(self.width() - cancel_w, y, cancel_w, height))
        place(self.use, Box(self.width() - cancel_w - gap - use_w, y, use_w, height))
        words_w = self.width() - cancel_w - use_w - 2 * gap
        words_h = min(height, 64 if self.style_ is None else self.style_.px(64))
        place(self.words, Box(0, y + (height - words_h) // 2, words_w, words_h))

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
        for key, title in zip(self.pad, (*question.pad, BACK), strict=False):
            key.show_words(title, "", style)
        use = ENTER if question.pad else USE_OWN_WORDS
        self.use.show_words(use, "", style, enabled=ready and bool(self.words.text().strip()))
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

    def _type(self, choice: Choice) -> None:
        self.words.insert(choice.value)

    def _typed(self) -> None:
        self.trouble = ""
        self._restyle()
        self.update()

    def _use_words(self) -> None:
        question, text = self.question, " ".join(self.words.text().split())
        if question is None or not text or not self.use.isEnabled():
            return
        self.trouble = question.check(text)
        if self.trouble:
            self.update()
        else:
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
        """Draw the ground, a rule, the question, and what was wrong with the answer."""
        del event
        if self.style_ is None or self.question is None:
            return
        style = self.style_
        painter = QPainter(self)
        begin(painter)
        fill(painter, QRectF(0, 0, self.width(), self.height()), style.palette.ground)
        hair(painter, 0, style.px(2), self.width(), style.px(2), style.palette.ink, style.px(3))
        px, ink = style.type("name"), style.palette.ink
        took = word(painter, 0, style.px(8) + px, self.question.title, px, ink, bold=True, room=self.width())
        if self.trouble:
            room = self.width() - took - px
            small = style.type("text")
            word(painter, self.width(), style.px(8) + px, self.trouble, small, ink, align=RIGHT, room=room)
        elif took + px + width_of(BY_KEY, style.type("caption")) <= self.width():
            small, ink2 = style.type("caption"), style.palette.ink2
            word(painter, self.width(), style.px(8) + px, BY_KEY, small, ink2, align=RIGHT)
        painter.end()
