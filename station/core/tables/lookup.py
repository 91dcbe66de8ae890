"""Entering a table: the equal or next deeper depth, the equal or next longer time, never between."""

from bisect import bisect_left
from dataclasses import dataclass
from math import isnan

from .parse_groups import NO_STOP_FILE, SHALLOW_NO_STOP_FILE
from .parse_schedules import FILE as SCHEDULES_FILE
from .table_set import (
    DepthBlock,
    NoStopRow,
    Note,
    ResidualMark,
    ScheduleRow,
    TableSet,
)

NO_STOP = NO_STOP_FILE.removesuffix(".csv")
SHALLOW_NO_STOP = SHALLOW_NO_STOP_FILE.removesuffix(".csv")
SCHEDULES = SCHEDULES_FILE.removesuffix(".csv")
EVERY = "*"


@dataclass(frozen=True, slots=True)
class Entry:
    """One place where a dive can be entered at a depth. `row` is None in the no-stop tables.

    `time_min` is the longest time it holds for, None where it holds whatever the time.
    """

    sheet: str
    depth_fsw: int
    time_min: int | None
    group: str | None
    row: ScheduleRow | None

    @property
    def has_stops(self) -> bool:
        """Whether this entry asks for a stop."""
        return self.row is not None and bool(self.row.air.stops)

    def holds(self, time_min: int) -> bool:
        """Whether the entry is long enough for a time."""
        return self.time_min is None or time_min <= self.time_min


def table_depth_fsw(max_fsw: float, depths: tuple[int, ...]) -> int | None:
    """Tabulated depth equal to or next deeper than `max_fsw`; None when the table ends above it.

    Rule D4. `depths` ascend. Raises ValueError for what is no number: it would come out as the shallowest.
    Source: USN Diving Manual Rev 4 Change A, para 9-9.1, p. 9-12 [P].
    """
    if isnan(max_fsw):
        raise ValueError("a depth that is no number cannot enter a table")
    place = bisect_left(depths, max_fsw)
    return depths[place] if place < len(depths) else None


def no_stop_row(tables: TableSet, depth_fsw: int, *, shallow: bool = False) -> NoStopRow | None:
    """The no-stop line of exactly this depth; `shallow` reads the table by single feet."""
    rows = tables.shallow_no_stop if shallow else tables.no_stop
    return next((row for row in rows if row.depth_fsw == depth_fsw), None)


def depth_block(tables: TableSet, depth_fsw: int) -> DepthBlock | None:
    """The schedules of exactly this depth."""
    return next((block for block in tables.blocks if block.depth_fsw == depth_fsw), None)


def schedule_row(tables: TableSet, depth_fsw: int, time_min: int) -> ScheduleRow | None:
    """The schedule of a tabulated depth with the equal or next longer time; None past its last row."""
    block = depth_block(tables, depth_fsw)
    rows = block.rows if block else ()
    return next((row for row in rows if time_min <= row.time_min), None)


def entries(tables: TableSet, depth_fsw: int, *, shallow: bool = False) -> tuple[Entry, ...]:
    """Everything a dive can be entered at, at this depth, shortest first.

    Rule S2: the no-stop times by group up to the limit, then the schedules that are longer than it.
    """
    no_stop = no_stop_row(tables, depth_fsw, shallow=shallow)
    sheet = SHALLOW_NO_STOP if shallow else NO_STOP
    free = (
        tuple(Entry(sheet, depth_fsw, time.longest_min, time.group, None) for time in no_stop.groups)
        if no_stop
        else ()
    )
    block = None if shallow else depth_block(tables, depth_fsw)
    rows = tuple(
        Entry(SCHEDULES, depth_fsw, row.time_min, row.group, row)
        for row in (block.rows if block else ())
        if not (no_stop and (no_stop.limit_min is None or row.time_min <= no_stop.limit_min))
    )
    return free + rows


def group_after_interval(tables: TableSet, group: str, interval_min: int) -> tuple[str | None, bool]:
    """Group after a surface interval in whole minutes, and whether the table covers the interval.

    Rule N2. (None, True) is no longer repetitive; (None, False) an interval shorter than the table begins.
    Source: USN Diving Manual Rev 7, Table 9-8 [P].
    """
    for span in tables.credit:
        if (
            span.from_group == group
            and span.first_min <= interval_min
            and (span.last_min is None or interval_min <= span.last_min)
        ):
            return span.to_group, True
    return None, False


def residual_cell(
    tables: TableSet, group: str, depth_fsw: int, *, shallow: bool = False
) -> int | ResidualMark | None:
    """Residual nitrogen time as printed; None where the table has no such depth."""
    rows = tables.shallow_residual if shallow else tables.residual
    place = tables.groups.index(group)
    return next((row.cells[place] for row in rows if row.depth_fsw == depth_fsw), None)


def arrival_group(tables: TableSet, altitude_ft: int) -> str | None:
    """Group on arriving at a tabulated altitude; None where the table has none."""
    return next((row.group for row in tables.altitude_groups if row.altitude_ft == altitude_ft), None)


def altitude_wait_min(tables: TableSet, group: str, increase_ft: int) -> int | None:
    """Minutes to wait before a tabulated increase in altitude; None where the table has none."""
    if increase_ft not in tables.wait_increases_ft:
        return None
    place = tables.wait_increases_ft.index(increase_ft)
    return next((row.minutes[place] for row in tables.altitude_waits if row.group == group), None)


def notes_on(tables: TableSet, sheet: str, *rows: str) -> tuple[Note, ...]:
    """The doubts about rows of a sheet, to be shown wherever such a row is shown."""
    return tuple(note for note in tables.notes if note.file == sheet and note.row in (EVERY, *rows))
