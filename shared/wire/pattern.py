r"""Patterns that pick a line of text apart, and that cannot run away.

A pattern is a small part of the usual regular expressions and always covers the whole line:

    07:(?P<value>[+-]?\d+\.\d+);(?P<status>OK|OL)

Characters stand for themselves, `.` for any printable one, `\d` `\s` `\w` and `[...]` for one of some;
`*` `+` `?` `{2}` `{2,5}` repeat the character before them; `(?P<value>...)`, `(?P<unit>...)`,
`(?P<status>...)` take what the station reads, `(?:...)` holds things together and may be followed by `?`;
`|` parts choices. Nothing else is taken: no look-around, no back-reference, no repeated group.

Why it cannot run away: every repetition is made possessive and every group atomic (they take all that fits
and give nothing back), no group is repeated, and a line has at most 256 bytes. So there is nothing to
backtrack into, and a match costs at most the length of the line times that of the pattern. The price is
that `\d*\d` never matches. A pattern is only ever matched: nothing in a station file is run.
"""

import re
from functools import lru_cache
from typing import Final

MOST_PATTERN: Final = 200
"""Longest pattern in characters: own choice."""

MOST_REPEATS: Final = 64
"""Largest number inside braces: own choice."""

NAMES: Final = ("value", "unit", "status")
"""The groups that a pattern may name."""

_OPENING: Final = re.compile(r"\(\?(?:P<(?P<name>[a-z]+)>|:)")
_BRACES: Final = re.compile(r"\{(?P<least>\d{1,2})(?:,(?P<most>\d{1,2}))?\}")
_CLASS: Final = re.compile(r"\[\^?(?:\\[dsw]|\\[^A-Za-z0-9]|[ -Z^-~])+\]")
_TWINS: Final = re.compile(r"--|&&|~~|\|\|")
_ESCAPE: Final = re.compile(r"\\[dsw]|\\[^A-Za-z0-9\s]")
_ANY: Final = "[ -~]"


class PatternFault(ValueError):  # noqa: N818 - a fault in a pattern, told to the person who wrote it
    """A pattern cannot be used; the message says what and at which character, counted from 1."""


@lru_cache(maxsize=64)
def compile_pattern(text: str) -> re.Pattern[bytes]:
    """The pattern, ready to match a whole line of bytes. Raises PatternFault."""
    if len(text) > MOST_PATTERN:
        raise PatternFault(f"longer than {MOST_PATTERN} characters")
    walk = _Walk(text)
    while walk.at < len(text):
        walk.step()
    return walk.finished()


class _Walk:
    """Goes over a pattern once, from left to right, and writes the bounded one."""

    def __init__(self, text: str) -> None:
        self.at = 0
        self._text = text
        self._written: list[str] = []
        self._open: list[str] = []
        self._names: list[str] = []
        self._last = ""  # what a repetition would repeat: "", "character" or "group"

    def step(self) -> None:
        """Take one element."""
        here = self._text[self.at]
        match here:
            case "(":
                self._open_group()
            case ")":
                self._close_group()
            case "|":
                self._write("|", 1, "")
            case "*" | "+" | "?" | "{":
                self._repeat(here)
            case "[":
                self._take(_CLASS, "no class of printable characters, such as [0-9]")
            case "\\":
                self._take(_ESCAPE, r"only \d, \s, \w and escaped signs are known")
            case ".":
                self._write(_ANY, 1, "character")
            case "^" | "$" | "]" | "}":
                raise self._fault(f"{here!r} must be escaped: a pattern always covers the whole line")
            case _ if " " <= here <= "~":
                self._write(re.escape(here), 1, "character")
            case _:
                raise self._fault(f"{here!r} is no printable ASCII character")

    def finished(self) -> re.Pattern[bytes]:
        """The whole pattern."""
        if self._open:
            raise self._fault("a group is not closed")
        if "value" not in self._names:
            raise PatternFault("no group (?P<value>...): nothing to read")
        return re.compile(f"(?>{''.join(self._written)})".encode("ascii"))

    def _open_group(self) -> None:
        found = _OPENING.match(self._text, self.at)
        if found is None:
            raise self._fault(f"a group begins with (?: or (?P<name>, the names are {', '.join(NAMES)}")
        name = found["name"]
        if name is not None and (name not in NAMES or name in self._names):
            raise self._fault(f"group {name!r} is none of {', '.join(NAMES)}, or is named twice")
        self._names += [] if name is None else [name]
        self._open.append(")" if name is None else "))")
        self._write("(?>" if name is None else f"(?P<{name}>(?>", len(found[0]), "")

    def _close_group(self) -> None:
        if not self._open:
            raise self._fault("closes no group")
        self._write(self._open.pop(), 1, "group")

    def _repeat(self, here: str) -> None:
        if not self._last or (self._last == "group" and here != "?"):
            what = "a group may be followed by ? only" if self._last else "repeats nothing"
            raise self._fault(f"{here!r}: {what}")
        written = here if here != "{" else self._braces()
        self._write(f"{written}+", len(written), "")

    def _braces(self) -> str:
        found = _BRACES.match(self._text, self.at)
        if found is None or not int(found["least"]) <= int(found["most"] or found["least"]) <= MOST_REPEATS:
            raise self._fault(f"braces hold a number or two, such as {{2}} or {{2,5}}, up to {MOST_REPEATS}")
        return found[0]

    def _take(self, known: re.Pattern[str], otherwise: str) -> None:
        found = known.match(self._text, self.at)
        if found is None or _TWINS.search(found[0]):
            raise self._fault(otherwise)
        try:
            re.compile(found[0])
        except re.error as error:
            raise self._fault(f"{found[0]}: {error.msg}") from error
        self._write(found[0], len(found[0]), "character")

    def _write(self, written: str, width: int, last: str) -> None:
        self._written.append(written)
        self.at += width
        self._last = last

    def _fault(self, what: str) -> PatternFault:
        return PatternFault(f"at character {self.at + 1}: {what}")
