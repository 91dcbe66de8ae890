"""Every table beside the gas model: what `tables --check` counts."""

from collections.abc import Iterator
from math import inf

import numpy as np

from station.core.tables.checks import Cell, Check, check
from station.core.tables.table_set import NoStopRow, ResidualRow, ScheduleRow, TableSet

from .constants import GROUP_COMPARTMENT, SATURATION_MIN
from .groups import (
    altitude_level_fsw,
    group_numbers,
    group_times_min,
    interval_ends_min,
    no_stop_limits_min,
    residual_min,
)
from .schedules import ModelStops, group_excess_fsw, model_stops

NEVER = "never"
ANY_TIME = "any time"
NO_GROUP = "none"


def model_checks(tables: TableSet) -> tuple[Check, ...]:
    """Every recomputation by the model, with the cells that differ."""
    rows = tuple(row for block in tables.blocks for row in block.rows)
    stopped = tuple(row for row in rows if row.air.stops)
    on_air = _batch(rows, oxygen=False)
    return (
        check("model-limits", "no-stop limits, Table 9-7", _limits(tables.no_stop)),
        check("model-limits-by-feet", "no-stop limits, Table 2A-1", _limits(tables.shallow_no_stop)),
        check("model-limits-deep", "first rows deeper than Table 9-7", _deep_limits(tables)),
        check("model-air", "stops on air", _stops(stopped, oxygen=False)),
        check("model-oxygen", "stops on air and oxygen", _stops(stopped, oxygen=True)),
        check("model-groups", "times of the groups, Table 9-7", _groups(tables, tables.no_stop)),
        check(
            "model-groups-by-feet", "times of the groups, Table 2A-1", _groups(tables, tables.shallow_no_stop)
        ),
        check("model-printed-groups", "groups of the schedules", _printed_groups(tables, rows, on_air)),
        check("model-blank-groups", "schedules without a group", _blank_groups(rows, on_air)),
        check("model-intervals", "surface interval credit", _intervals(tables)),
        check("model-residual", "residual times, Table 9-8", _residual(tables.residual, marked=False)),
        check("model-residual-marks", "no residual time, Table 9-8", _residual(tables.residual, marked=True)),
        check(
            "model-residual-by-feet",
            "residual times, Table 2A-2",
            _residual(tables.shallow_residual, marked=False),
        ),
        check("model-waits", "waits before altitude by one level each", _waits(tables)),
    )


def stops_words(stops: tuple[tuple[int, int], ...]) -> str:
    """Stops in a line: `40:4 30:28 20:146`."""
    return " ".join(f"{depth_fsw}:{minutes}" for depth_fsw, minutes in stops) or NO_GROUP


def _batch(rows: tuple[ScheduleRow, ...], *, oxygen: bool) -> ModelStops:
    depths = np.array([row.depth_fsw for row in rows])
    times = np.array([row.time_min for row in rows], dtype=np.float64)
    return model_stops(depths, times, oxygen=oxygen)


def _time_words(minutes: int | None) -> str:
    return ANY_TIME if minutes is None or minutes >= SATURATION_MIN else f"{minutes}"


def _limits(rows: tuple[NoStopRow, ...]) -> Iterator[Cell]:
    derived = no_stop_limits_min(np.array([row.depth_fsw for row in rows]))
    for row, limit_min in zip(rows, derived, strict=True):
        yield Cell(f"{row.depth_fsw}", _time_words(row.limit_min), _time_words(int(limit_min)))


def _deep_limits(tables: TableSet) -> Iterator[Cell]:
    deepest_fsw = tables.no_stop[-1].depth_fsw
    rows = [block.rows[0] for block in tables.blocks if block.depth_fsw > deepest_fsw]
    free = [row for row in rows if not row.air.stops]
    derived = no_stop_limits_min(np.array([row.depth_fsw for row in free]))
    for row, limit_min in zip(free, derived, strict=True):
        yield Cell(f"{row.depth_fsw}", f"{row.time_min}", f"{limit_min}")


def _stops(rows: tuple[ScheduleRow, ...], *, oxygen: bool) -> Iterator[Cell]:
    found = _batch(rows, oxygen=oxygen)
    for row, minutes in zip(rows, found.minutes, strict=True):
        profile = row.oxygen if oxygen else row.air
        printed = tuple((stop.depth_fsw, stop.minutes) for stop in profile.stops)
        derived = tuple(
            (depth, int(stop)) for depth, stop in zip(found.depths_fsw, minutes, strict=True) if stop
        )
        yield Cell(f"{row.depth_fsw}/{row.time_min}", stops_words(printed), stops_words(derived))


def _groups(tables: TableSet, rows: tuple[NoStopRow, ...]) -> Iterator[Cell]:
    """Printed times of groups; where the model reaches its limit first the limit stands, as in print."""
    depths = np.array([row.depth_fsw for row in rows])
    limits = no_stop_limits_min(depths)
    times = np.minimum(group_times_min(depths, len(tables.groups)), limits[:, np.newaxis])
    for row, derived in zip(rows, times, strict=True):
        by_group = dict(zip(tables.groups, derived, strict=True))
        for time in row.groups:
            minutes = int(by_group[time.group])
            yield Cell(f"{row.depth_fsw} {time.group}", _time_words(time.longest_min), _time_words(minutes))


def _printed_groups(tables: TableSet, rows: tuple[ScheduleRow, ...], found: ModelStops) -> Iterator[Cell]:
    numbers = group_numbers(group_excess_fsw(found.leaving_fsw), len(tables.groups))
    named = (*tables.groups, NO_GROUP)
    for row, number in zip(rows, numbers, strict=True):
        if row.group is not None:
            yield Cell(f"{row.depth_fsw}/{row.time_min}", row.group, named[int(number) - 1])


def _blank_groups(rows: tuple[ScheduleRow, ...], found: ModelStops) -> Iterator[Cell]:
    """No group is given where a compartment slower than that of the groups needed the last stop longest."""
    for row, compartment in zip(rows, found.controlling, strict=True):
        if compartment > GROUP_COMPARTMENT:
            yield Cell(f"{row.depth_fsw}/{row.time_min}", row.group or NO_GROUP, NO_GROUP)


def _intervals(tables: TableSet) -> Iterator[Cell]:
    for span in tables.credit:
        if span.to_group is not None:
            numbers = (tables.groups.index(name) + 1 for name in (span.from_group, span.to_group))
            derived_min = interval_ends_min(*numbers)
            yield Cell(f"{span.from_group} to {span.to_group}", f"{span.last_min}", f"{derived_min}")


def _residual(rows: tuple[ResidualRow, ...], *, marked: bool) -> Iterator[Cell]:
    """Residual times, or with `marked` the cells that stand without one because no time loads so much."""
    for row in rows:
        for number, cell in enumerate(row.cells, start=1):
            derived = residual_min(number, row.depth_fsw)
            words = NEVER if derived == inf else f"{derived:g}"
            if marked and not isinstance(cell, int):
                yield Cell(f"{row.depth_fsw} {cell} {number}", NEVER, words)
            elif not marked and isinstance(cell, int):
                yield Cell(f"{row.depth_fsw} {number}", f"{cell}", words)


def _waits(tables: TableSet) -> Iterator[Cell]:
    """Printed waits of a column; they agree when one level of excess gives them all to the minute."""
    waits = [wait for wait in tables.altitude_waits if wait.group in tables.groups]
    for place, increase_ft in enumerate(tables.wait_increases_ft):
        spans = [
            altitude_level_fsw(tables.groups.index(wait.group) + 1, wait.minutes[place]) for wait in waits
        ]
        # The least high end with the greatest low end: a level in every span exists when they do not cross.
        highest = min(high for _, high in spans)
        for wait, (low, _) in zip(waits, spans, strict=True):
            if wait.minutes[place] or low > highest:
                derived = f"{wait.minutes[place]}" if low <= highest else f"other than {wait.minutes[place]}"
                yield Cell(f"{wait.group} {increase_ft}", f"{wait.minutes[place]}", derived)
