"""A page before it is drawn: blocks of plain text and figures, the same for paper and for plain text."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import zip_longest
from typing import Final

from station.record.model import Floats

MOST_ROWS: Final = 400
"""Rows of one table that a page shows; how many more the log holds is told. Own choice."""

TEXT_WIDTH: Final = 100
"""Characters of a line of a sheet as plain text. Own choice."""


@dataclass(frozen=True, slots=True)
class Facts:
    """Labels with their values, `across` side by side."""

    title: str
    rows: tuple[tuple[str, str], ...]
    across: int = 3


@dataclass(frozen=True, slots=True)
class Figures:
    """A few figures that are read first, each with its label and what stands under it."""

    rows: tuple[tuple[str, str, str], ...]


@dataclass(frozen=True, slots=True)
class Table:
    """Rows under a head; `shares` are the widths of the columns against each other.

    `otherwise` stands where there are no rows.
    """

    title: str
    head: tuple[str, ...]
    shares: tuple[float, ...]
    rows: tuple[tuple[str, ...], ...]
    otherwise: str = "none"


@dataclass(frozen=True, slots=True)
class Lines:
    """Sentences, one under the other."""

    title: str
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Pair:
    """Blocks side by side, each side from the top down; `share` of the width is the left side's."""

    left: "tuple[Facts | Table | Lines, ...]"
    right: "tuple[Facts | Table | Lines, ...]"
    share: float = 0.5


@dataclass(frozen=True, slots=True)
class Blanks:
    """Places to write on by hand, each with its label."""

    title: str
    labels: tuple[str, ...]
    across: int = 2


@dataclass(frozen=True, slots=True)
class Moment:
    """An instant on a chart with its label; `at_s` is station time in seconds."""

    at_s: float
    label: str


@dataclass(frozen=True, slots=True)
class Span:
    """A time on a chart at a depth, or over its whole height (None)."""

    from_s: float
    to_s: float
    label: str
    depth: float | None = None


@dataclass(frozen=True, slots=True, eq=False)
class Chart:
    """A curve over time with what happened on it; values in the unit that is shown, NaN breaks the curve.

    `limit` is a second curve of what is needed, `plan` a level that was planned. `down` puts the zero on top.
    `utc_at_zero_s` is the time of day, in seconds, of station time 0.
    """

    title: str
    unit: str
    at_s: Floats
    values: Floats
    down: bool
    utc_at_zero_s: float
    height_mm: float
    limit: Floats | None = None
    plan: float | None = None
    marks: tuple[Moment, ...] = ()
    alarms: tuple[Moment, ...] = ()
    spans: tuple[Span, ...] = ()


Block = Facts | Figures | Table | Lines | Pair | Blanks | Chart


@dataclass(frozen=True, slots=True)
class Sheet:
    """One page, or more where it does not fit. `banner` says what it is not; `foot` stands on every page.

    `enlarged` is how much larger than a dive record everything is drawn.
    """

    title: str
    subtitle: str
    right: str
    banner: str
    blocks: tuple[Block, ...]
    foot: tuple[str, ...]
    enlarged: float = 1.0


def bounded(rows: tuple[tuple[str, ...], ...]) -> tuple[tuple[str, ...], ...]:
    """Rows of a table, the last one telling how many are left out."""
    if len(rows) <= MOST_ROWS:
        return rows
    more = f"{len(rows) - MOST_ROWS} more in the log"
    return (*rows[:MOST_ROWS], (*[""] * (len(rows[0]) - 1), more))


def wrapped(text: str, width: float, width_of: Callable[[str], float]) -> list[str]:
    """The lines that a text takes within a width; a word that is too long is broken. One line at least."""
    lines, line = [], ""
    for word in text.split(" "):
        longer = f"{line} {word}" if line else word
        if width_of(longer) <= width:
            line = longer
            continue
        if line:
            lines.append(line)
        *whole, line = _broken(word, width, width_of)
        lines += whole
    return [*lines, line]


def _broken(word: str, width: float, width_of: Callable[[str], float]) -> list[str]:
    pieces = []
    while len(word) > 1 and width_of(word) > width:
        fits = _fitting(word, width, width_of)
        pieces.append(word[:fits])
        word = word[fits:]
    return [*pieces, word]


def _fitting(word: str, width: float, width_of: Callable[[str], float]) -> int:
    """How many letters of a word fit, one at least; by halving, because a word may be a whole remark."""
    low, high = 1, len(word)
    while low < high:
        middle = (low + high + 1) // 2
        low, high = (middle, high) if width_of(word[:middle]) <= width else (low, middle - 1)
    return low


def sheet_text(sheet: Sheet) -> str:
    """The sheet as plain text; charts are left out."""
    lines = [sheet.banner] if sheet.banner else []
    lines += [sheet.title, " ".join(part for part in (sheet.subtitle, sheet.right) if part), ""]
    for block in sheet.blocks:
        lines += [*_block_text(block, TEXT_WIDTH), ""]
    return "\n".join(line.rstrip() for line in (*lines, *sheet.foot, ""))


def _block_text(block: Block, width: int) -> Iterator[str]:
    match block:
        case Facts(title, rows):
            yield from _titled(title)
            for label, value in rows:
                yield from _hanging(f"  {label}: ", value, width)
        case Figures(rows):
            for label, value, under in rows:
                yield f"  {label}: {value}{f' ({under})' if under else ''}"
        case Table(title, head, shares, rows, otherwise):
            yield from _titled(title)
            yield from _table_text(head, shares, rows, width) if rows else [f"  {otherwise}"]
        case Lines(title, lines):
            yield from _titled(title)
            for line in lines:
                yield from _hanging("  ", line, width)
        case Pair(left, right):
            for place, one in enumerate((*left, *right)):
                yield from [""] if place else []
                yield from _block_text(one, width)
        case Blanks(title, labels):
            yield from _titled(title)
            yield from (f"  {label}: {'_' * 40}" for label in labels)
        case Chart():
            return


def _titled(title: str) -> list[str]:
    return [title] if title else []


def _hanging(head: str, text: str, width: int) -> Iterator[str]:
    first, *rest = wrapped(text, width - len(head), len)
    yield f"{head}{first}"
    yield from (f"{' ' * len(head)}{line}" for line in rest)


def _table_text(
    head: tuple[str, ...], shares: tuple[float, ...], rows: tuple[tuple[str, ...], ...], width: int
) -> Iterator[str]:
    widths = [max(3, int(share / sum(shares) * (width - 2)) - 1) for share in shares]
    for row in (head, *rows):
        cells = [wrapped(text, wide, len) for text, wide in zip(row, widths, strict=True)]
        for line in zip_longest(*cells, fillvalue=""):
            yield "  " + " ".join(f"{text:{wide}}" for text, wide in zip(line, widths, strict=True))
