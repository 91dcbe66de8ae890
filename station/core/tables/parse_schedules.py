"""The schedules sheet: two printed lines, on air and on oxygen, make one row."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import groupby, pairwise

from .sheets import FaultList, SheetRow, header_of, sheet_rows
from .table_set import Category, DepthBlock, Profile, ScheduleRow, Stop

FILE = "air_decompression.csv"
_BEFORE = ("depth_fsw", "bottom_time_min", "gas", "time_to_first_stop_s")
_AFTER = ("total_ascent_s", "chamber_o2_periods", "repet_group", "category")
_STOP = "stop_"
_LINES = ("AIR", "AIR/O2")


@dataclass(frozen=True, slots=True)
class _Line:
    """One printed line, read."""

    sheet: SheetRow
    gas: str
    depth_fsw: int
    time_min: int
    common: tuple[int, float, str | None, Category]
    profile: Profile


def parse_blocks(text: str, groups: tuple[str, ...], faults: FaultList) -> tuple[DepthBlock, ...]:
    """Every schedule by depth; what is missing or odd goes to `faults`."""
    header = header_of(FILE, text, faults)
    stops = tuple(column for column in header if column.startswith(_STOP))
    if not stops or not all(column.removeprefix(_STOP).isdecimal() for column in stops):
        faults.add(FILE, 1, "has no columns stop_<depth in fsw>")
        return ()
    sheet = sheet_rows(FILE, text, (*_BEFORE, *stops, *_AFTER), faults)
    lines = [line for row in sheet if (line := _line(row, stops, groups)) is not None]
    rows = tuple(_pairs(lines, faults))
    for before, after in pairwise(rows):
        if (before.depth_fsw, before.time_min) >= (after.depth_fsw, after.time_min):
            faults.add(
                FILE,
                0,
                f"{after.depth_fsw}/{after.time_min} stands after {before.depth_fsw}/{before.time_min}",
            )
    return tuple(
        DepthBlock(depth_fsw, tuple(block)) for depth_fsw, block in groupby(rows, lambda row: row.depth_fsw)
    )


def _line(row: SheetRow, stops: tuple[str, ...], groups: tuple[str, ...]) -> _Line | None:
    gas = row.text("gas")
    depth_fsw, time_min = row.whole("depth_fsw"), row.whole("bottom_time_min")
    first_stop_s, total_s = row.whole("time_to_first_stop_s"), row.whole("total_ascent_s")
    periods = row.read("chamber_o2_periods", _half_periods, "whole or half periods")
    category = row.read("category", Category, "a known category")
    group = row.cells["repet_group"] or None
    printed = [(int(name.removeprefix(_STOP)), row.optional(name)) for name in stops]
    if gas not in _LINES:
        row.fault(f"gas is {gas!r}, not {' or '.join(_LINES)}")
    if group is not None and group not in groups:
        row.fault(f"repet_group is {group!r}, not a group")
    if (
        depth_fsw is None
        or time_min is None
        or first_stop_s is None
        or total_s is None
        or periods is None
        or category is None
    ):
        return None
    due = tuple(Stop(depth, minutes) for depth, minutes in printed if minutes)
    common = (first_stop_s, periods, group, category)
    return _Line(row, gas, depth_fsw, time_min, common, Profile(due, total_s))


def _half_periods(cell: str) -> float:
    doubled = float(cell) * 2
    if not 0 <= doubled == int(doubled):
        raise ValueError(cell)
    return doubled / 2


def _pairs(lines: Iterable[_Line], faults: FaultList) -> Iterator[ScheduleRow]:
    for (depth_fsw, time_min), pair in groupby(lines, lambda line: (line.depth_fsw, line.time_min)):
        found = tuple(pair)
        if tuple(line.gas for line in found) != _LINES:
            faults.add(FILE, found[0].sheet.line, f"{depth_fsw}/{time_min} is not one line AIR, one AIR/O2")
        elif found[0].common != found[1].common:
            found[1].sheet.fault(f"{depth_fsw}/{time_min} differs from its AIR line outside the stops")
        else:
            air, oxygen = found
            yield ScheduleRow(depth_fsw, time_min, *air.common, air.profile, oxygen.profile)
