"""The relations that the rows of the tables obey among themselves, each derived again from the data.

Source of all of them: found in USN Diving Manual Rev 7, Tables 9-7 to 9-9, 2A-1, 2A-2 [C].
"""

from collections.abc import Iterator
from itertools import pairwise

from shared.units import S_PER_MIN
from station.core.tables.checks import Cell, Check, check
from station.core.tables.table_set import Category, NoStopRow, Profile, ResidualRow, ScheduleRow, TableSet

from .category import derived_category
from .durations import clock_words
from .oxygen import air_breaks, oxygen_min
from .parameters import (
    AIR_BREAK_S,
    ASCENT_RATE_FSW_MIN,
    FIRST_OXYGEN_STOP_FSW,
    LAST_WATER_STOP_FSW,
    STOP_GRID_FSW,
)
from .surface import chamber_periods
from .travel import travel_s

LEAST_RESIDUAL_EXCESS_MIN = 0
MOST_RESIDUAL_EXCESS_MIN = 3
"""Residual times lie so far above the time of their group in the no-stop table, in every cell [C]."""

DEEPER_STOP_FALL_MIN = 1
"""A single deeper stop may fall by this much as a dive gets longer or deeper, and does in 54 places [C]."""


def relations(tables: TableSet) -> tuple[Check, ...]:
    """Every relation, with the rows that break it."""
    rows = tuple(row for block in tables.blocks for row in block.rows)
    stopped = tuple(row for row in rows if row.air.stops)
    return (
        check("first-stop", "depth of the first stop from the travel to it", _first_stops(rows)),
        check("contiguous", "a stop every 10 fsw down to 20", _contiguous(rows)),
        check("total-no-stop", "total ascent without stops", _no_stop_totals(rows)),
        check("total-air", "total ascent on air", _air_totals(stopped)),
        check("total-oxygen", "total ascent on air and oxygen", _oxygen_totals(stopped)),
        check("deep-stops", "stops at 40 fsw and deeper alike on both lines", _deep_stops(rows)),
        check("chamber-periods", "chamber periods from the oxygen minutes", _periods(rows)),
        check("category", "category from stops, totals and periods", _categories(rows)),
        check("never-cheaper", "nothing falls as time or depth grows", _growth(tables, rows)),
        check("limits", "no-stop limits are the first rows of the schedules", _limits(tables)),
        check("by-feet", "the tables by single feet agree with the others", _by_feet(tables)),
        check("residual", "residual times 0 to 3 min above the group's time", _residuals(tables)),
    )


def falling_stops(tables: TableSet) -> int:
    """Places, on either line, where a single stop falls by a minute as the bottom time grows."""
    return sum(
        before.minutes_at(stop.depth_fsw) > after.minutes_at(stop.depth_fsw)
        for block in tables.blocks
        for shorter, longer in pairwise(block.rows)
        for before, after in _lines(shorter, longer)
        for stop in before.stops
    )


def row_name(row: ScheduleRow) -> str:
    """Depth and time of a schedule: `120/60`."""
    return f"{row.depth_fsw}/{row.time_min}"


def _first_stops(rows: tuple[ScheduleRow, ...]) -> Iterator[Cell]:
    for row in rows:
        first_fsw = row.depth_fsw - row.first_stop_s * ASCENT_RATE_FSW_MIN / S_PER_MIN
        for profile in (row.air, row.oxygen):
            printed = profile.stops[0].depth_fsw if profile.stops else 0
            yield Cell(row_name(row), f"{printed}", f"{first_fsw:g}")


def _contiguous(rows: tuple[ScheduleRow, ...]) -> Iterator[Cell]:
    for row in rows:
        for profile in (row.air, row.oxygen):
            depths = [stop.depth_fsw for stop in profile.stops]
            first_fsw = depths[0] if depths else 0
            grid = list(range(first_fsw, LAST_WATER_STOP_FSW - 1, -STOP_GRID_FSW))
            yield Cell(row_name(row), f"{depths}", f"{grid}")


def _no_stop_totals(rows: tuple[ScheduleRow, ...]) -> Iterator[Cell]:
    for row in rows:
        for profile in (row.air, row.oxygen):
            if not profile.stops:
                yield _clock_cell(row, profile, travel_s(row.depth_fsw, 0))


def _air_totals(rows: tuple[ScheduleRow, ...]) -> Iterator[Cell]:
    for row in rows:
        yield _clock_cell(row, row.air, row.first_stop_s + _stops_s(row.air) + _surfacing_s())


def _oxygen_totals(rows: tuple[ScheduleRow, ...]) -> Iterator[Cell]:
    for row in rows:
        total_s = row.first_stop_s + _stops_s(row.oxygen) + _surfacing_s()
        if row.oxygen.stops[0].depth_fsw > FIRST_OXYGEN_STOP_FSW:
            total_s += travel_s(STOP_GRID_FSW, 0)
        total_s += air_breaks(oxygen_min(row) * S_PER_MIN) * AIR_BREAK_S
        yield _clock_cell(row, row.oxygen, total_s)


def _stops_s(profile: Profile) -> int:
    return sum(stop.minutes for stop in profile.stops) * S_PER_MIN


def _surfacing_s() -> int:
    return travel_s(LAST_WATER_STOP_FSW, 0)


def _clock_cell(row: ScheduleRow, profile: Profile, derived_s: int) -> Cell:
    return Cell(row_name(row), clock_words(profile.total_ascent_s), clock_words(derived_s))


def _deep_stops(rows: tuple[ScheduleRow, ...]) -> Iterator[Cell]:
    for row in rows:
        air, oxygen = (
            [stop for stop in profile.stops if stop.depth_fsw > FIRST_OXYGEN_STOP_FSW]
            for profile in (row.air, row.oxygen)
        )
        yield Cell(row_name(row), f"{oxygen}", f"{air}")


def _periods(rows: tuple[ScheduleRow, ...]) -> Iterator[Cell]:
    for row in rows:
        yield Cell(row_name(row), f"{row.chamber_periods:g}", f"{chamber_periods(oxygen_min(row)):g}")


def _categories(rows: tuple[ScheduleRow, ...]) -> Iterator[Cell]:
    for row in rows:
        yield Cell(row_name(row), row.category, derived_category(row))


def _growing(rows: tuple[ScheduleRow, ...]) -> Iterator[tuple[ScheduleRow, ScheduleRow]]:
    """Pairs of rows of which the second is longer at the same depth, or deeper for the same time."""
    by_depth = sorted(rows, key=lambda row: (row.depth_fsw, row.time_min))
    by_time = sorted(rows, key=lambda row: (row.time_min, row.depth_fsw))
    yield from (pair for pair in pairwise(by_depth) if pair[0].depth_fsw == pair[1].depth_fsw)
    yield from (pair for pair in pairwise(by_time) if pair[0].time_min == pair[1].time_min)


def _lines(shorter: ScheduleRow, longer: ScheduleRow) -> tuple[tuple[Profile, Profile], ...]:
    return (shorter.air, longer.air), (shorter.oxygen, longer.oxygen)


def _growth(tables: TableSet, rows: tuple[ScheduleRow, ...]) -> Iterator[Cell]:
    for shorter, longer in _growing(rows):
        fell = [
            what
            for what, before, after in zip(_COSTS, _cost(tables, shorter), _cost(tables, longer), strict=True)
            if before > after
        ]
        fell += [
            f"stop at {stop.depth_fsw} by more than a minute"
            for before, after in _lines(shorter, longer)
            for stop in before.stops
            if stop.minutes - after.minutes_at(stop.depth_fsw) > DEEPER_STOP_FALL_MIN
        ]
        name = f"{row_name(shorter)} to {row_name(longer)}"
        yield Cell(name, ", ".join(fell) or "nothing", "nothing")


_COSTS = ("air total", "oxygen total", "20-fsw stop", "20-fsw oxygen", "periods", "group", "category")


def _cost(tables: TableSet, row: ScheduleRow) -> tuple[float, ...]:
    """What a row costs, in the order of `_COSTS`; no group given stands above every group."""
    return (
        row.air.total_ascent_s,
        row.oxygen.total_ascent_s,
        row.air.minutes_at(LAST_WATER_STOP_FSW),
        row.oxygen.minutes_at(LAST_WATER_STOP_FSW),
        row.chamber_periods,
        len(tables.groups) if row.group is None else tables.groups.index(row.group),
        list(Category).index(row.category),
    )


def _limits(tables: TableSet) -> Iterator[Cell]:
    limits = {row.depth_fsw: row.limit_min for row in tables.no_stop}
    for block in tables.blocks:
        if block.depth_fsw in limits:
            first = block.rows[0]
            derived = first.time_min if not first.air.stops else None
            yield Cell(f"{block.depth_fsw}", f"{limits[block.depth_fsw]}", f"{derived}")


def _by_feet(tables: TableSet) -> Iterator[Cell]:
    groups: dict[int, NoStopRow] = {row.depth_fsw: row for row in tables.no_stop}
    residual: dict[int, ResidualRow] = {row.depth_fsw: row for row in tables.residual}
    for row in tables.shallow_no_stop:
        if row.depth_fsw in groups:
            yield Cell(f"2A-1 {row.depth_fsw}", f"{row}", f"{groups[row.depth_fsw]}")
    for cells in tables.shallow_residual:
        if cells.depth_fsw in residual:
            yield Cell(f"2A-2 {cells.depth_fsw}", f"{cells}", f"{residual[cells.depth_fsw]}")


def _residuals(tables: TableSet) -> Iterator[Cell]:
    for no_stop, residual in (
        *zip(tables.no_stop, tables.residual, strict=True),
        *zip(tables.shallow_no_stop, tables.shallow_residual, strict=True),
    ):
        times = {time.group: time.longest_min for time in no_stop.groups}
        last = no_stop.groups[-1].group
        for group, cell in zip(tables.groups, residual.cells, strict=True):
            time_min = times.get(group)
            # The last group of a row ends at the no-stop limit, not where the group does.
            if time_min is None or not isinstance(cell, int) or group == last:
                continue
            within = LEAST_RESIDUAL_EXCESS_MIN <= cell - time_min <= MOST_RESIDUAL_EXCESS_MIN
            expected = f"{time_min} to {time_min + MOST_RESIDUAL_EXCESS_MIN}"
            yield Cell(f"{no_stop.depth_fsw} {group}", expected if within else f"{cell}", expected)
