"""The sheets of groups: no-stop limits, surface interval credit, residual time, altitude."""

from collections.abc import Iterable, Iterator
from itertools import pairwise

from .sheets import FaultList, SheetRow, header_of, sheet_rows
from .table_set import (
    AltitudeGroup,
    AltitudeWait,
    CreditSpan,
    EquivalentAirDepth,
    GroupTime,
    NoStopRow,
    ResidualMark,
    ResidualRow,
)

NO_STOP_FILE = "no_stop_limits_and_groups.csv"
SHALLOW_NO_STOP_FILE = "shallow_no_stop_limits_and_groups.csv"
CREDIT_FILE = "surface_interval_credit.csv"
RESIDUAL_FILE = "residual_nitrogen_time.csv"
SHALLOW_RESIDUAL_FILE = "shallow_residual_nitrogen_time.csv"
ALTITUDE_GROUPS_FILE = "altitude_groups.csv"
WAIT_FILE = "surface_interval_before_altitude.csv"
AIR_DEPTH_FILE = "equivalent_air_depth.csv"

EXCEPTIONAL = "exceptional_exposure"
_ALL_DAY = "*"
_UNLIMITED = "unlimited"
_NO_GROUP = "none"
_WAIT_COLUMN = ("alt_", "_ft_min")


def parse_group_names(text: str, faults: FaultList) -> tuple[str, ...]:
    """The groups of the set, ascending: the header of the no-stop sheet after depth and limit."""
    groups = header_of(NO_STOP_FILE, text, faults)[2:]
    if not groups or len(set(groups)) != len(groups):
        faults.add(NO_STOP_FILE, 1, "has no groups, or one twice")
    return groups


def parse_no_stop(file: str, text: str, groups: tuple[str, ...], faults: FaultList) -> tuple[NoStopRow, ...]:
    """No-stop limits with the times of the groups; the last time of a row is its limit."""
    columns = ("depth_fsw", "no_stop_limit_min", *groups)
    rows = [found for row in sheet_rows(file, text, columns, faults) if (found := _no_stop(row, groups))]
    _ascending(file, [row.depth_fsw for row in rows], faults)
    return tuple(rows)


def _no_stop(row: SheetRow, groups: tuple[str, ...]) -> NoStopRow | None:
    depth_fsw = row.whole("depth_fsw")
    unlimited = row.cells["no_stop_limit_min"] == _UNLIMITED
    limit_min = None if unlimited else row.whole("no_stop_limit_min")
    times = tuple(
        GroupTime(group, None if row.cells[group] == _ALL_DAY else row.whole(group))
        for group in groups
        if row.cells[group]
    )
    known = [time.longest_min for time in times if time.longest_min is not None]
    if any(before >= after for before, after in pairwise(known)):
        row.fault("the times of the groups do not grow")
    if not times or times[-1].longest_min != limit_min:
        row.fault("the time of the last group is not the no-stop limit")
    return None if depth_fsw is None else NoStopRow(depth_fsw, limit_min, times)


def parse_credit(text: str, groups: tuple[str, ...], faults: FaultList) -> tuple[CreditSpan, ...]:
    """Surface interval credit; the spans of a group follow on each other and end open."""
    columns = ("from_group", "to_group", "min_min", "max_min")
    spans = tuple(_spans(sheet_rows(CREDIT_FILE, text, columns, faults)))
    for group in groups:
        own = [span for span in spans if span.from_group == group]
        joined = all(
            before.last_min == after.first_min - 1
            for before, after in pairwise(own)
            if before.last_min is not None
        )
        if not own or not joined or own[-1].last_min is not None or own[-1].to_group is not None:
            faults.add(CREDIT_FILE, 0, f"the spans of group {group} do not join, or do not end with none")
    if {name for span in spans for name in (span.from_group, span.to_group) if name} - set(groups):
        faults.add(CREDIT_FILE, 0, "names a group that the no-stop sheet does not have")
    return spans


def _spans(rows: Iterable[SheetRow]) -> Iterator[CreditSpan]:
    for row in rows:
        first_min, last_min = row.whole("min_min"), row.optional("max_min")
        to_group = row.text("to_group")
        if first_min is not None:
            yield CreditSpan(
                row.text("from_group"), None if to_group == _NO_GROUP else to_group, first_min, last_min
            )


def parse_residual(
    file: str, text: str, groups: tuple[str, ...], depths: tuple[int, ...], faults: FaultList
) -> tuple[ResidualRow, ...]:
    """Residual nitrogen time, for exactly the depths of the no-stop sheet; cells in the order of `groups`."""
    printed = ("depth_fsw", *reversed(groups))
    rows = []
    for row in sheet_rows(file, text, printed, faults):
        depth_fsw = row.whole("depth_fsw")
        cells = [row.read(group, _residual, "minutes, undefined or use_30fsw") for group in groups]
        whole = tuple(cell for cell in cells if cell is not None)
        if depth_fsw is not None and len(whole) == len(groups):
            rows.append(ResidualRow(depth_fsw, whole))
    if tuple(row.depth_fsw for row in rows) != depths:
        faults.add(file, 0, "its depths are not those of the no-stop sheet")
    return tuple(rows)


def _residual(cell: str) -> int | ResidualMark:
    return int(cell) if cell.isascii() and cell.isdigit() else ResidualMark(cell)


def parse_altitude_groups(text: str, groups: tuple[str, ...], faults: FaultList) -> tuple[AltitudeGroup, ...]:
    """Group on arrival by altitude, ascending."""
    found = []
    for row in sheet_rows(ALTITUDE_GROUPS_FILE, text, ("altitude_ft", "repet_group"), faults):
        altitude_ft, group = row.whole("altitude_ft"), row.text("repet_group")
        if group not in groups:
            row.fault(f"repet_group is {group!r}, not a group")
        if altitude_ft is not None:
            found.append(AltitudeGroup(altitude_ft, group))
    _ascending(ALTITUDE_GROUPS_FILE, [row.altitude_ft for row in found], faults)
    return tuple(found)


def parse_waits(
    text: str, groups: tuple[str, ...], faults: FaultList
) -> tuple[tuple[int, ...], tuple[AltitudeWait, ...]]:
    """Increases in altitude (ft), and the minutes that each group and an exceptional exposure wait."""
    before, after = _WAIT_COLUMN
    columns = header_of(WAIT_FILE, text, faults)[1:]
    names = [column.removeprefix(before).removesuffix(after) for column in columns]
    if not names or not all(name.isdecimal() for name in names):
        faults.add(WAIT_FILE, 1, "has no columns alt_<increase>_ft_min")
        return (), ()
    waits = []
    for row in sheet_rows(WAIT_FILE, text, ("repet_group", *columns), faults):
        cells = [row.whole(column) for column in columns]
        minutes = tuple(cell for cell in cells if cell is not None)
        if len(minutes) == len(columns):
            waits.append(AltitudeWait(row.text("repet_group"), minutes))
    if tuple(wait.group for wait in waits) != (*groups, EXCEPTIONAL):
        faults.add(WAIT_FILE, 0, f"its rows are not the groups and {EXCEPTIONAL}")
    return tuple(int(name) for name in names), tuple(waits)


def parse_air_depths(text: str, faults: FaultList) -> tuple[EquivalentAirDepth, ...]:
    """Equivalent air depths; the note column of the sheet is told again in the notes file."""
    columns = ("depth_fsw", "o2_percent", "ead_fsw", "max_exposure_min", "status", "note")
    found = []
    for row in sheet_rows(AIR_DEPTH_FILE, text, columns, faults):
        depth_fsw, percent = row.whole("depth_fsw"), row.whole("o2_percent")
        ead_fsw, exposure_min = row.optional("ead_fsw"), row.optional("max_exposure_min")
        if depth_fsw is not None and percent is not None:
            found.append(EquivalentAirDepth(depth_fsw, percent, ead_fsw, exposure_min, row.text("status")))
    return tuple(found)


def _ascending(file: str, values: list[int], faults: FaultList) -> None:
    if any(before >= after for before, after in pairwise(values)):
        faults.add(file, 0, "its rows do not ascend")
