"""On which line each key of a TOML text stands; `tomllib` checks the text but does not tell.

`key_lines` trusts that `tomllib` has accepted the text. Keys are paths: ("gauge", 0, "every_s") is the key
`every_s` of the first `[[gauge]]`. Tables, dotted keys, inline tables and arrays over several lines count.
"""

import re
import tomllib
from typing import Final

KeyPath = tuple[str | int, ...]
"""Keys and positions (from 0) from the top of the file down to a value."""

_TOKEN: Final = re.compile(
    r"""(?P<skip>[ \t]+|\#[^\n]*)
      |(?P<newline>\n)
      |(?P<text>\"\"\"(?:\\.|[^\\])*?\"{3,5}|'''.*?'{3,5}|"(?:\\.|[^"\\\n])*"|'[^'\n]*')
      |(?P<mark>[][{}=,])
      |(?P<atom>[^\s][^\s\][{}=,\#"']*)""",
    re.VERBOSE | re.DOTALL,
)


def key_lines(text: str) -> dict[KeyPath, int]:
    """The line (from 1) of each key and table of a valid TOML text, by its path."""
    return _Scan(text.replace("\r\n", "\n")).lines


class _Scan:
    """One pass over the tokens of a valid text."""

    def __init__(self, text: str) -> None:
        self.lines: dict[KeyPath, int] = {}
        self._tokens = [*_tokens(text), ("newline", "\n", text.count("\n") + 1)]
        self._next = 0
        self._counts: dict[KeyPath, int] = {}
        self._table: KeyPath = ()
        while self._next < len(self._tokens):
            self._statement()

    def _peek(self) -> str:
        return self._tokens[self._next][1]

    def _take(self) -> str:
        self._next += 1
        return self._tokens[self._next - 1][1]

    def _statement(self) -> None:
        if self._peek() == "\n":
            self._take()
        elif self._peek() == "[":
            self._header()
        else:
            self._pair(self._table)

    def _header(self) -> None:
        line = self._tokens[self._next][2]
        self._take()
        many = self._peek() == "["
        if many:
            self._take()
        *outer, last = self._key("]")
        for _ in range(1 + many):
            self._take()
        path = (*self._within((), outer), last)
        self.lines.setdefault(path, line)
        if many:
            self._counts[path] = self._counts.get(path, 0) + 1
            path = self._within((), [*outer, last])
        self.lines.setdefault(path, line)
        self._table = path

    def _within(self, path: KeyPath, keys: list[str]) -> KeyPath:
        """`path` led on through `keys`; an array of tables stands for its last one."""
        for key in keys:
            path = (*path, key)
            if path in self._counts:
                path = (*path, self._counts[path] - 1)
        return path

    def _key(self, end: str) -> list[str]:
        parts: list[str] = []
        while self._peek() != end:
            kind, token, _ = self._tokens[self._next]
            self._take()
            if kind == "text":
                parts.append(tomllib.loads(f"key = {token}")["key"])
            else:
                parts += [part for part in token.split(".") if part]
        return parts

    def _pair(self, table: KeyPath) -> None:
        line = self._tokens[self._next][2]
        path = table
        for part in self._key("="):
            path = (*path, part)
            self.lines.setdefault(path, line)
        self._take()
        self._value(path)

    def _value(self, path: KeyPath) -> None:
        token = self._take()
        if token == "[":
            self._array(path)
        elif token == "{":
            self._inline(path)
        else:
            while self._peek() not in {"\n", ",", "]", "}"}:
                self._take()

    def _array(self, path: KeyPath) -> None:
        position = 0
        while True:
            line = self._tokens[self._next][2]
            match self._peek():
                case "]":
                    self._take()
                    return
                case "\n" | ",":
                    self._take()
                case _:
                    self.lines[*path, position] = line
                    self._value((*path, position))
                    position += 1

    def _inline(self, path: KeyPath) -> None:
        while self._peek() != "}":
            if self._peek() in {",", "\n"}:
                self._take()
            else:
                self._pair(path)
        self._take()


def _tokens(text: str) -> list[tuple[str, str, int]]:
    """Kind, text and line of each token that matters."""
    found: list[tuple[str, str, int]] = []
    line = 1
    for match in _TOKEN.finditer(text):
        kind = match.lastgroup or ""
        if kind != "skip":
            found.append((kind, match.group(), line))
        line += match.group().count("\n")
    return found
