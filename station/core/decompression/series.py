"""A series of dives entered in two ways, side by side; the supervisor chooses."""

from dataclasses import dataclass, replace

from shared.units import S_PER_MIN
from station.core.tables.table_set import TableSet

from .answers import NotCovered
from .durations import minutes_up
from .schedule import Schedule, TableEntry, enter


@dataclass(frozen=True, slots=True)
class EarlierDive:
    """Maximum depth and bottom time of an earlier dive of the series."""

    max_fsw: float
    bottom_s: int


@dataclass(frozen=True, slots=True)
class SeriesChoice:
    """The dive with its residual time, and with all bottom times at the deepest depth.

    `sum_is_shorter` compares total ascents; it is a hint for the supervisor and nothing is taken by itself.
    """

    by_residual: Schedule | NotCovered
    by_sum: Schedule | NotCovered
    sum_is_shorter: bool


def series_choice(tables: TableSet, entry: TableEntry, earlier: tuple[EarlierDive, ...]) -> SeriesChoice:
    """Both ways of entering the last dive of a series.

    Rule N3. Source: USN Diving Manual Rev 6, study notes [S]; Rev 5, 9-9.1.2 for the old form.
    """
    summed = as_one_dive(replace(entry, group=None), earlier)
    by_residual, by_sum = enter(tables, entry), enter(tables, summed)
    shorter = (
        isinstance(by_residual, Schedule)
        and isinstance(by_sum, Schedule)
        and by_sum.total_ascent_s < by_residual.total_ascent_s
    )
    return SeriesChoice(by_residual, by_sum, shorter)


def as_one_dive(entry: TableEntry, earlier: tuple[EarlierDive, ...]) -> TableEntry:
    """A dive and those before it as one: whole minutes added, the deepest depth, the group of `entry`.

    Rule N1, for intervals under 10 minutes; `entry.group` is the group before the first of them.
    Source: USN Diving Manual Rev 6 and 7, ch. 9, study notes [S].
    """
    minutes = minutes_up(entry.bottom_s) + sum(minutes_up(dive.bottom_s) for dive in earlier)
    deepest_fsw = max([entry.max_fsw, *(dive.max_fsw for dive in earlier)])
    return replace(entry, max_fsw=deepest_fsw, bottom_s=minutes * S_PER_MIN)
