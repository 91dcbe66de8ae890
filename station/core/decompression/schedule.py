"""Which row of the tables a dive is on, and what the next row and the next depth would cost."""

from dataclasses import dataclass, replace

from shared.units import S_PER_MIN
from station.core.tables.lookup import SHALLOW_NO_STOP, Entry, entries, notes_on, table_depth_fsw
from station.core.tables.table_set import Category, Note, ScheduleRow, Stop, TableSet

from .answers import MANUAL, Mode, NotCovered
from .category import is_exceptional
from .chamber import chamber_s
from .durations import minutes_up
from .parameters import SURFACE_INTERVAL_FROM_FSW
from .repetitive import residual_time
from .rules import RULES
from .surface import planned_interval_s
from .travel import travel_s


@dataclass(frozen=True, slots=True)
class TableEntry:
    """What the tables are entered with.

    `max_fsw` is the maximum depth (rule D3), at altitude its equivalent. `group` is the repetitive group at
    the start of the dive, None for a diver who is not repetitive. `added_min` are delays (rules A4, A5).
    `longer` is rule S7, `shallow` chooses the no-stop table by single feet. A negative time is a ValueError.
    """

    max_fsw: float
    bottom_s: int
    mode: Mode = Mode.AIR
    group: str | None = None
    added_min: int = 0
    longer: bool = False
    shallow: bool = False

    def __post_init__(self) -> None:
        if self.bottom_s < 0 or self.added_min < 0:
            raise ValueError(
                f"a bottom time of {self.bottom_s} s and {self.added_min} min cannot enter a table"
            )


@dataclass(frozen=True, slots=True)
class Schedule:
    """The row a dive is on.

    `time_min` is the time of the row, for a no-stop dive its limit, None where there is no limit.
    `stops` are those in the water. `first_stop_s` is the printed travel, to the surface on a no-stop dive,
    None where surface decompression has no stop in the water. `total_ascent_s` is as printed; with a
    chamber it ends at the surface after the chamber, the surface interval taken in full.
    """

    table: str
    sheet: str
    mode: Mode
    depth_fsw: int
    time_min: int | None
    bottom_min: int
    residual_min: int
    equivalent_min: int
    stops: tuple[Stop, ...]
    first_stop_s: int | None
    total_ascent_s: int
    chamber_periods: float
    group: str | None
    category: Category
    exceptional: bool
    row: ScheduleRow | None
    notes: tuple[Note, ...]

    @property
    def no_stop(self) -> bool:
        """Whether the diver may come straight up."""
        return not self.stops and self.chamber_periods == 0


@dataclass(frozen=True, slots=True)
class NextRow:
    """What passing the present row costs, and in how many seconds of bottom time."""

    in_s: int
    cost: Schedule | NotCovered


@dataclass(frozen=True, slots=True)
class NextDepth:
    """What passing the present table depth costs, and in how many fsw."""

    in_fsw: float
    cost: Schedule | NotCovered


def enter(tables: TableSet, entry: TableEntry) -> Schedule | NotCovered:
    """The schedule for a table entry, with the residual time of its group at its own table depth.

    Rules S1, S2, S9. By single feet only for a no-stop dive within that table; else by the ordinary one.
    """
    if entry.shallow and tables.shallow_depths[0] <= entry.max_fsw <= tables.shallow_depths[-1]:
        by_feet = _enter(tables, entry, tables.shallow_depths, shallow=True)
        if isinstance(by_feet, Schedule):
            return by_feet
    return _enter(tables, entry, tables.depths, shallow=False)


def _enter(
    tables: TableSet, entry: TableEntry, depths: tuple[int, ...], *, shallow: bool
) -> Schedule | NotCovered:
    depth_fsw = table_depth_fsw(entry.max_fsw, depths)
    if depth_fsw is None:
        return _too_deep(entry.max_fsw, depths)
    residual = residual_time(tables, entry.group, depth_fsw, shallow=shallow)
    if isinstance(residual, NotCovered):
        return residual
    return schedule(
        tables,
        residual.depth_fsw,
        entry.bottom_s,
        residual.minutes,
        entry.mode,
        added_min=entry.added_min,
        longer=entry.longer,
        shallow=shallow,
    )


def schedule(
    tables: TableSet,
    depth_fsw: float,
    bottom_s: int,
    residual_min: int,
    mode: Mode,
    *,
    added_min: int = 0,
    longer: bool = False,
    shallow: bool = False,
) -> Schedule | NotCovered:
    """The row for a maximum depth, a bottom time and a residual time: equal or next, never between.

    Rules S1, S2, S4, S5, S7, S8. `shallow` reads the no-stop table by single feet only.
    Source: USN Diving Manual Rev 7, Tables 9-7, 9-9, 2A-1 [P].
    """
    depths = tables.shallow_depths if shallow else tables.depths
    table_fsw = table_depth_fsw(depth_fsw, depths)
    if table_fsw is None:
        return _too_deep(depth_fsw, depths)
    bottom_min = minutes_up(bottom_s) + added_min
    found = entries(tables, table_fsw, shallow=shallow)
    place = _place(found, bottom_min + residual_min, longer=longer)
    if place is None:
        return _too_long(found, bottom_min + residual_min, longer=longer)
    return _schedule(tables, found, place, (bottom_min, residual_min), mode)


def _place(found: tuple[Entry, ...], time_min: int, *, longer: bool) -> int | None:
    """Where a time stands among the entries of a depth; one further for a cold or strenuous dive (S7)."""
    place = next((at for at, entry in enumerate(found) if entry.holds(time_min)), None)
    if place is None or not longer or found[place].time_min is None:
        return place
    return place + 1 if place + 1 < len(found) else None


def _schedule(
    tables: TableSet, found: tuple[Entry, ...], place: int, minutes: tuple[int, int], mode: Mode
) -> Schedule:
    bottom_min, residual_min = minutes
    at = found[place]
    row = at.row
    stops = _stops(row, mode)
    limit_min = next((entry.time_min for entry in reversed(found) if not entry.has_stops), None)
    key = f"{at.depth_fsw}" if row is None else f"{at.depth_fsw}/{row.time_min}"
    return Schedule(
        table=tables.name_of(at.sheet),
        sheet=at.sheet,
        mode=mode,
        depth_fsw=at.depth_fsw,
        time_min=at.time_min if at.has_stops else limit_min,
        bottom_min=bottom_min,
        residual_min=residual_min,
        equivalent_min=bottom_min + residual_min,
        stops=stops,
        first_stop_s=_first_stop_s(at, stops, mode),
        total_ascent_s=_total_ascent_s(at, stops, mode),
        chamber_periods=row.chamber_periods if row else 0.0,
        group=at.group,
        category=row.category if row else Category.NORMAL,
        exceptional=row is not None and is_exceptional(row, mode),
        row=row,
        notes=notes_on(tables, at.sheet, key, f"{key} {'AIR/O2' if mode is Mode.AIR_OXYGEN else 'AIR'}"),
    )


def _stops(row: ScheduleRow | None, mode: Mode) -> tuple[Stop, ...]:
    if row is None:
        return ()
    match mode:
        case Mode.AIR:
            return row.air.stops
        case Mode.AIR_OXYGEN:
            return row.oxygen.stops
        case Mode.CHAMBER:
            return tuple(stop for stop in row.air.stops if stop.depth_fsw >= SURFACE_INTERVAL_FROM_FSW)


def _first_stop_s(at: Entry, stops: tuple[Stop, ...], mode: Mode) -> int | None:
    if at.row is None:
        return travel_s(at.depth_fsw, 0)
    return None if mode is Mode.CHAMBER and at.has_stops and not stops else at.row.first_stop_s


def _total_ascent_s(at: Entry, stops: tuple[Stop, ...], mode: Mode) -> int:
    row = at.row
    if row is None or not at.has_stops:
        return travel_s(at.depth_fsw, 0)
    match mode:
        case Mode.AIR:
            return row.air.total_ascent_s
        case Mode.AIR_OXYGEN:
            return row.oxygen.total_ascent_s
        case Mode.CHAMBER:
            first_fsw = stops[0].depth_fsw if stops else min(at.depth_fsw, SURFACE_INTERVAL_FROM_FSW)
            in_water_s = travel_s(at.depth_fsw, first_fsw) + sum(stop.minutes for stop in stops) * S_PER_MIN
            return in_water_s + planned_interval_s(first_fsw) + chamber_s(row.chamber_periods)


def next_longer(tables: TableSet, entry: TableEntry) -> NextRow | None:
    """The next row that costs more, and the seconds of bottom time until it is due; None without a limit.

    Rule S3. On a no-stop dive that is the first row past the limit, otherwise the next row of the depth.
    """
    now = enter(tables, entry)
    if isinstance(now, NotCovered):
        return None
    found = entries(tables, now.depth_fsw, shallow=_by_feet(now))
    place = _place(found, now.equivalent_min, longer=entry.longer)
    if place is None:
        raise ValueError(f"{now.depth_fsw} fsw for {now.equivalent_min} min has lost its row")
    following = next((at for at in range(place + 1, len(found)) if found[at].has_stops), len(found))
    last_min = found[following - (2 if entry.longer else 1)].time_min
    if last_min is None or (following == len(found) and found[-1].time_min is None):
        return None
    lasts_s = (last_min - now.residual_min - entry.added_min) * S_PER_MIN
    return NextRow(lasts_s - entry.bottom_s, enter(tables, replace(entry, bottom_s=lasts_s + 1)))


def no_stop_left_s(tables: TableSet, entry: TableEntry) -> int | None:
    """Seconds of bottom time left without a stop; None with stops due, without limit, or past the table.

    Rule S3. Source: USN Diving Manual Rev 7, Table 9-7 [P].
    """
    now = enter(tables, entry)
    following = next_longer(tables, entry)
    if isinstance(now, NotCovered) or not now.no_stop or following is None:
        return None
    return following.in_s


def next_deeper(tables: TableSet, entry: TableEntry) -> NextDepth | None:
    """The schedule one table depth deeper, and the fsw left until it is due; None when there is no row now.

    Rules S3 and D4.
    """
    now = enter(tables, entry)
    if isinstance(now, NotCovered):
        return None
    depths = tables.shallow_depths if _by_feet(now) else tables.depths
    deeper = next((depth for depth in (*depths, *tables.depths) if depth > now.depth_fsw), None)
    cost = (
        _too_deep(entry.max_fsw, depths)
        if deeper is None
        else enter(tables, replace(entry, max_fsw=float(deeper)))
    )
    return NextDepth(now.depth_fsw - entry.max_fsw, cost)


def _by_feet(now: Schedule) -> bool:
    return now.sheet == SHALLOW_NO_STOP


def _too_deep(max_fsw: float, depths: tuple[int, ...]) -> NotCovered:
    return NotCovered(
        RULES["S5"], f"{max_fsw:g} fsw is deeper than the table, which ends at {depths[-1]} fsw.", MANUAL
    )


def _too_long(found: tuple[Entry, ...], time_min: int, *, longer: bool) -> NotCovered:
    last = found[-1]
    asked = f"{time_min} min, next longer time," if longer else f"{time_min} min"
    return NotCovered(
        RULES["S5"],
        f"{asked} at {last.depth_fsw} fsw is longer than the table, which ends at {last.time_min} min.",
        MANUAL,
        last.row,
    )
