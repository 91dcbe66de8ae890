"""Reads a TOML file and reports everything that is wrong with it at once, each with file, line and key.

How to use it::

    top = read_toml(Path("lock.toml"))            # or parse_toml("lock.toml", text)
    station = top.table("station")                # a Section; [station] must be there
    name = station.text("name")                   # must be there, not blank
    units = station.choice("units", Units, Units.US)
    for gauge in top.tables("gauge", least=1):    # [[gauge]]
        every_s = gauge.number("every_s", 0.05, 60.0, default=1.0)
        due = gauge.day("due") if gauge.has("due") else None
        if unheard_of(name):
            gauge.complain("diver", f"no diver is named {name!r}")
    top.finish()                                  # raises FileFault with every problem of the file

A reader method that finds its key missing or wrong notes the problem and gives a placeholder, so that
reading goes on to the next problem; nothing read may be used before `finish` has returned. Without a
`default` a key must be there; ask `has` first for one that may be left out. Keys that nobody asked for are
problems too, with the nearest key that was asked for as a hint: so ask for every key on every path.

A problem reads `lock.toml:12: gauge[1].every_s: 0 is below 0.05 s`: positions count from 1, as people do,
and the unit is the ending of the key. `FileFault.problems` holds them as values.
"""

import datetime
import difflib
import math
import re
import tomllib
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path
from typing import Any, Final, NoReturn, TypeVar

from shared.toml_lines import KeyPath, key_lines

Word = TypeVar("Word", bound=StrEnum)

_UNITS: Final = {
    "_fsw_min": "fsw/min",
    "_psi_min": "psi/min",
    "_scf": "scf",
    "_acf": "acf",
    "_acfm": "acfm",
    "_cuft": "cu ft",
    "_fsw": "fsw",
    "_psig": "psig",
    "_psi": "psi",
    "_bar": "bar",
    "_min": "min",
    "_ms": "ms",
    "_ft": "ft",
    "_s": "s",
}
"""What a key's ending says of its unit; the first that fits."""


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing wrong with a file; `line` is 0 and `key` empty where none can be named."""

    line: int
    key: str
    what: str

    def sentence(self, path: str) -> str:
        """The problem with file, line and key in front."""
        place = f"{path}:{self.line}" if self.line else path
        return ": ".join(part for part in (place, self.key, self.what) if part)


class FileFault(Exception):  # noqa: N818 - a fault in a file, told to the person who wrote it
    """A file cannot be used; the message lists every problem, a line each."""

    def __init__(self, path: str, problems: tuple[Problem, ...]) -> None:
        super().__init__("\n".join(problem.sentence(path) for problem in problems))
        self.path = path
        self.problems = problems


def read_toml(path: Path) -> "Section":
    """The top of the TOML file at `path`. Raises FileFault when it cannot be read or is no TOML."""
    return parse_toml(str(path), read_text(path))


def read_text(path: Path) -> str:
    """The text of a file in UTF-8, with or without a byte order mark. Raises FileFault."""
    try:
        return path.read_bytes().decode("utf-8-sig")
    except OSError as error:
        raise FileFault(str(path), (Problem(0, "", error.strerror or str(error)),)) from error
    except UnicodeDecodeError as error:
        line = error.object[: error.start].count(b"\n") + 1
        what = f"byte 0x{error.object[error.start]:02x} is not UTF-8"
        raise FileFault(str(path), (Problem(line, "", what),)) from error


def parse_toml(path: str, text: str) -> "Section":
    """The top of a TOML text; `path` names it in messages. Raises FileFault when it is no TOML."""
    try:
        values = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        _refuse(path, text, str(error))
    return Section(_Reading(path, key_lines(text)), (), values)


def _refuse(path: str, text: str, message: str) -> NoReturn:
    place = re.search(r" \(at line (\d+), column \d+\)| \(at end of document\)", message)
    line = int(place[1] or text.count("\n") + 1) if place else 0
    what = message[: place.start()] if place else message
    raise FileFault(path, (Problem(line, "", f"not TOML: {what}"),)) from None


class _Reading:
    """What the sections of one file share: where its keys stand, and what was found wrong."""

    def __init__(self, path: str, lines: dict[KeyPath, int]) -> None:
        self.path = path
        self.problems: list[Problem] = []
        self.sections: dict[KeyPath, Section] = {}
        self._lines = lines

    def complain(self, where: KeyPath, what: str) -> None:
        """Note a problem of the key at `where`."""
        problem = Problem(self.line(where), _spelled(where), what)
        if problem not in self.problems:
            self.problems.append(problem)

    def complained(self, where: KeyPath) -> bool:
        """Whether a problem of the key at `where` was noted."""
        return any(problem.key == _spelled(where) for problem in self.problems)

    def complained_within(self, where: KeyPath) -> bool:
        """Whether a problem was noted of the key at `where` or of anything inside it."""
        inside = f"{_spelled(where)}."
        return any(f"{problem.key}.".startswith(inside) for problem in self.problems)

    def line(self, where: KeyPath) -> int:
        """The line of `where`, or of the nearest table around it; 0 for the file itself."""
        while where and where not in self._lines:
            where = where[:-1]
        return self._lines.get(where, 0)


def _spelled(where: KeyPath) -> str:
    parts = [f"[{part + 1}]" if isinstance(part, int) else f".{part}" for part in where]
    return "".join(parts).removeprefix(".")


class Section:
    """One table of a TOML file, read key by key; see the top of this module."""

    def __init__(
        self, reading: _Reading, where: KeyPath, values: dict[str, Any], *, quiet: bool = False
    ) -> None:
        self._reading = reading
        self._where = where
        self._values = values
        self._quiet = quiet
        self._asked: dict[str, None] = {}
        reading.sections[where] = self

    def has(self, key: str) -> bool:
        """Whether the key is here; it counts as asked for either way."""
        self._asked[key] = None
        return key in self._values

    def present(self) -> tuple[str, ...]:
        """The keys that are here, in the order of the file; the caller answers for them."""
        return tuple(self._values)

    def fill(self, defaults: Mapping[str, Any]) -> None:
        """Let these values stand for keys that are not here; a complaint of one names this table's line."""
        self._values = {**defaults, **self._values}

    def pass_over(self) -> None:
        """Take every key for asked for: what hangs on a key that is wrong is not complained of either."""
        self._asked.update(dict.fromkeys(self._values))

    def sound(self, key: str) -> bool:
        """Whether nothing was found wrong with the value of a key that was read, or missing of it."""
        return not self._reading.complained((*self._where, key))

    def sound_within(self, key: str) -> bool:
        """Whether nothing was found wrong with a table that was read, nor with anything inside it."""
        return not self._reading.complained_within((*self._where, key))

    def line(self, key: str) -> int:
        """The line on which the key stands, or its table when the key is not there."""
        return self._reading.line((*self._where, key))

    def complain(self, key: str, what: str) -> None:
        """Note a problem that the caller has found in the value of a key."""
        if not self._quiet:
            self._reading.complain((*self._where, key), what)

    def text(self, key: str, default: str | None = None) -> str:
        """A text; it may be blank only where the default is."""
        value = self._get(key, str, "a text", default)
        if not isinstance(value, str):
            return default or ""
        if not value.strip() and default != "":
            self.complain(key, "must not be blank")
        return value

    def number(self, key: str, low: float, high: float, default: float | None = None) -> float:
        """A finite number from `low` to `high`."""
        value = self._get(key, (int, float), "a number", default)
        if value is None or not self._within(key, value, low, high):
            return low
        return float(value)

    def integer(self, key: str, low: int, high: int, default: int | None = None) -> int:
        """A whole number from `low` to `high`."""
        value = self._get(key, int, "a whole number", default)
        if value is None or not self._within(key, value, low, high):
            return low
        return int(value)

    def flag(self, key: str, default: bool | None = None) -> bool:
        """True or false."""
        return bool(self._get(key, bool, "true or false", default))

    def choice(self, key: str, kind: type[Word], default: Word | None = None) -> Word:
        """One of the words of an enum."""
        word = self.one_of(key, [str(member.value) for member in kind], default)
        return kind(word) if word in [member.value for member in kind] else next(iter(kind))

    def one_of(self, key: str, words: Collection[str], default: str | None = None) -> str:
        """One of some words."""
        value = self._get(key, str, "a text", default)
        if isinstance(value, str) and value not in words:
            self.complain(key, f"{value!r} is none of {', '.join(sorted(words))}{_hint(value, words)}")
        return str(value) if value is not None else ""

    def day(self, key: str) -> str:
        """A date, as ISO text ("2031-03-02")."""
        value = self._get(key, datetime.date, "a date such as 2031-03-02", None)
        if isinstance(value, datetime.datetime):
            self.complain(key, f"{value.isoformat()} must be a date without a time")
        return value.isoformat() if isinstance(value, datetime.date) else ""

    def moment(self, key: str) -> datetime.datetime:
        """A date with time and offset, such as 2031-05-02T08:14:07Z."""
        value = self._get(key, datetime.datetime, "a moment such as 2031-05-02T08:14:07Z", None)
        if isinstance(value, datetime.datetime) and value.tzinfo is not None:
            return value
        if value is not None:
            self.complain(key, f"{value.isoformat()} must carry its offset, such as Z")
        return datetime.datetime(1970, 1, 1, tzinfo=datetime.UTC)

    def texts(self, key: str, default: tuple[str, ...] | None = None) -> tuple[str, ...]:
        """An array of texts."""
        return tuple(str(value) for _, value in self._array(key, default, str, "a text"))

    def numbers(
        self, key: str, low: float, high: float, default: tuple[float, ...] | None = None
    ) -> tuple[float, ...]:
        """An array of finite numbers from `low` to `high`."""
        found = self._array(key, default, (int, float), "a number")
        return tuple(float(value) for _, value in found if self._within(key, value, low, high))

    def table(self, key: str, *, required: bool = True) -> "Section":
        """The table under a key; an empty one when it may be left out and is."""
        value = self._get(key, dict, "a table", None if required else {})
        return self._within_me((key,), value or {}, quiet=value is None)

    def tables(self, key: str, least: int = 0) -> tuple["Section", ...]:
        """The array of tables under a key, at least so many."""
        found = self._array(key, (), dict, "a table")
        if len(found) < least and self.sound(key):
            self.complain(key, f"at least {least} [[{key}]] must be given")
        return tuple(self._within_me((key, position), value) for position, value in found)

    def plain(self, key: str) -> dict[str, Any]:
        """The table under a key as it stands, unchecked: the caller answers for its keys."""
        value = self._get(key, dict, "a table", None)
        return dict(value) if value is not None else {}

    def finish(self) -> None:
        """Raises FileFault with every problem of the file, in the order of its lines, when there is one.

        Keys that no section was asked for are problems.
        """
        for section in self._reading.sections.values():
            section._complain_of_strangers()
        problems = sorted(self._reading.problems, key=lambda problem: problem.line)
        if problems:
            raise FileFault(self._reading.path, tuple(problems))

    def _within_me(self, keys: KeyPath, values: dict[str, Any], *, quiet: bool = False) -> "Section":
        """The section under `keys`: the same one however often it is asked for."""
        where = (*self._where, *keys)
        known = self._reading.sections.get(where)
        return known or Section(self._reading, where, values, quiet=quiet or self._quiet)

    def _complain_of_strangers(self) -> None:
        for key in self._values:
            if key not in self._asked:
                self.complain(key, f"unknown key{_hint(key, self._asked)}")

    def _get(self, key: str, kinds: type | tuple[type, ...], wanted: str, default: Any) -> Any:  # noqa: ANN401 - a TOML value
        """The value of a key, its default, or None after a problem has been noted."""
        if not self.has(key):
            if default is None:
                self.complain(key, f"missing: {wanted} is needed")
            return default
        value = self._values[key]
        if isinstance(value, kinds) and (kinds is bool or not isinstance(value, bool)):
            return value
        self.complain(key, f"{_shown(value)} is not {wanted}")
        return None

    def _array(
        self,
        key: str,
        default: tuple[Any, ...] | None,
        kinds: type | tuple[type, ...],
        wanted: str,
    ) -> list[tuple[int, Any]]:
        """Position and value of the members that are of the right kind; a problem is noted for the others."""
        values = self._get(key, (list, tuple), f"an array, {wanted} each", default) or ()
        good = []
        for position, value in enumerate(values):
            if isinstance(value, kinds) and not isinstance(value, bool):
                good.append((position, value))
            elif not self._quiet:
                where = (*self._where, key, position)
                self._reading.complain(where, f"{_shown(value)} is not {wanted}")
        return good

    def _within(self, key: str, value: float, low: float, high: float) -> bool:
        unit = next((f" {unit}" for ending, unit in _UNITS.items() if key.endswith(ending)), "")
        if not math.isfinite(value):
            self.complain(key, f"{value} is not a finite number")
        elif value < low:
            self.complain(key, f"{value} is below {low:g}{unit}")
        elif value > high:
            self.complain(key, f"{value} is above {high:g}{unit}")
        return math.isfinite(value) and low <= value <= high


def _shown(value: object) -> str:
    """A value as the writer of the file would know it again."""
    match value:
        case bool():
            return str(value).lower()
        case dict():
            return "a table"
        case list():
            return "an array"
        case datetime.date() | datetime.time():
            return value.isoformat()
        case _:
            return repr(value)


def _hint(word: str, known: Collection[str]) -> str:
    near = difflib.get_close_matches(word, known, n=1)
    return f"; did you mean {near[0]}?" if near else ""
