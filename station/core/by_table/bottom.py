"""The schedule on the bottom: if he left now, what the next row and the next depth would cost. Rule S3."""

from dataclasses import dataclass, replace
from functools import lru_cache

from shared.units import S_PER_MIN
from station.core.books import Books
from station.core.by_table.entry import DiveEntry, entry_of
from station.core.decompression.answers import NotCovered
from station.core.decompression.durations import minutes_up
from station.core.decompression.schedule import (
    NextDepth,
    NextRow,
    Schedule,
    TableEntry,
    enter,
    next_deeper,
    next_longer,
)
from station.core.state import DiverState, State

KEPT = 256
"""So many answers are kept at hand: a few divers, a few minutes each. Own choice."""


@dataclass(frozen=True, slots=True)
class IfHeLeft:
    """The schedule of a diver if he left the bottom now.

    `next_row` counts from now, `no_stop_left_s` as well. Without an entry `answer` says why there is none.
    """

    entry: DiveEntry | None
    answer: Schedule | NotCovered
    next_row: NextRow | None = None
    next_depth: NextDepth | None = None

    @property
    def no_stop_left_s(self) -> int | None:
        """Seconds left without a stop; None with stops due, without a limit, or past the table."""
        if not isinstance(self.answer, Schedule) or not self.answer.no_stop or self.next_row is None:
            return None
        return self.next_row.in_s


def schedule_of(state: State, diver: DiverState, books: Books) -> IfHeLeft | None:
    """The schedule of a diver at the state's instant; None while he has not left the surface.

    Rules S1 to S9. A pure function of state and tables.
    """
    entered = entry_of(state, diver, books)
    if entered is None:
        return None
    if isinstance(entered, NotCovered):
        return IfHeLeft(None, entered)
    asked = entered.entry
    whole_s = minutes_up(asked.bottom_s) * S_PER_MIN
    answer, row, depth = _in_whole_minutes(books, replace(asked, bottom_s=whole_s))
    if row is not None:
        row = replace(row, in_s=row.in_s + whole_s - asked.bottom_s)
    return IfHeLeft(entered, answer, row, depth)


@lru_cache(maxsize=KEPT)
def _in_whole_minutes(
    books: Books, entry: TableEntry
) -> tuple[Schedule | NotCovered, NextRow | None, NextDepth | None]:
    """The tables are entered by whole minutes: within one nothing but the count to the next row changes."""
    tables = books.tables
    return enter(tables, entry), next_longer(tables, entry), next_deeper(tables, entry)
