"""What the tables are entered with for a diver, or for divers bound together. Rules D3, D8, N1, N4."""

from dataclasses import dataclass, replace

from shared.clock import Instant
from shared.units import S_PER_MIN
from station.core.books import Books
from station.core.by_table.history import group_now
from station.core.decompression.altitude import (
    altitude_counts,
    equivalent_depth_fsw,
    pressure_ratio,
    unzeroed_gauge_fsw,
)
from station.core.decompression.answers import MANUAL, NotCovered
from station.core.decompression.durations import minutes_up
from station.core.decompression.repetitive import Standing
from station.core.decompression.rules import RULES
from station.core.decompression.schedule import TableEntry
from station.core.depth import depth_of, table_fsw_of
from station.core.finding import diver_named
from station.core.inputs import RowChoice
from station.core.state import DiverState, State
from station.core.tables.lookup import table_depth_fsw
from station.core.timekeeping import Times, times_of, whole_seconds


@dataclass(frozen=True, slots=True)
class DiveEntry:
    """An entry to the tables and what stands behind it.

    `max_fsw` is the maximum depth before altitude, `ratio` local over sea-level pressure. `divers` are those
    whom it holds for, `untold` those of them of whom no history was entered.
    """

    entry: TableEntry
    max_fsw: float
    ratio: float
    divers: tuple[str, ...]
    untold: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Share:
    """What one diver brings to an entry."""

    max_fsw: float
    bottom_s: int
    group: str | None


def companions(state: State, diver: DiverState) -> tuple[DiverState, ...]:
    """The divers who come up by one schedule with this one, himself among them."""
    if diver.name not in state.bound:
        return (diver,)
    return tuple(diver_named(state, name) for name in state.bound)


def entry_of(state: State, diver: DiverState, books: Books) -> DiveEntry | NotCovered | None:
    """The entry for a diver at the state's instant; None while he has not left the surface.

    Divers bound to one schedule share the deepest depth, the longest time and the largest residual time.
    """
    times = times_of(diver, state.now)
    if times.left_surface is None:
        return None
    shares: list[_Share] = []
    divers = companions(state, diver)
    for each in divers:
        share = _share(state, each, books, times)
        if isinstance(share, NotCovered):
            return share
        if share is not None:
            shares.append(share)
    untold = tuple(each.name for each in divers if not each.history_known)
    return _entered(state, diver, books, shares, (tuple(each.name for each in divers), untold))


def _entered(
    state: State,
    diver: DiverState,
    books: Books,
    shares: list[_Share],
    names: tuple[tuple[str, ...], tuple[str, ...]],
) -> DiveEntry | NotCovered:
    max_fsw = max(share.max_fsw for share in shares)
    order = (None, *books.tables.groups)
    group = max((share.group for share in shares), key=order.index)
    ratio = 1.0
    entered_fsw = max_fsw
    if altitude_counts(state.settings.altitude_ft, max_fsw):
        found = pressure_ratio(state.settings.altitude_ft)
        if isinstance(found, NotCovered):
            return found
        ratio, entered_fsw = found, equivalent_depth_fsw(max_fsw, found)
    if diver.row is RowChoice.NEXT_DEEPER:
        entered_fsw = _one_deeper_fsw(entered_fsw, books.tables.depths)
    entry = TableEntry(
        entered_fsw,
        max(share.bottom_s for share in shares),
        diver.mode,
        group,
        longer=diver.cold or diver.row is RowChoice.NEXT_LONGER,
    )
    return DiveEntry(entry, max_fsw, ratio, *names)


def _one_deeper_fsw(max_fsw: float, depths: tuple[int, ...]) -> float:
    """The table depth after the one that a depth enters; past the last the depth itself, which says so."""
    table_fsw = table_depth_fsw(max_fsw, depths)
    deeper = [depth for depth in depths if table_fsw is not None and depth > table_fsw]
    return float(deeper[0]) if deeper else float(depths[-1] + 1)


def _share(state: State, diver: DiverState, books: Books, asking: Times) -> _Share | NotCovered | None:
    """A bound diver who has not left the bottom yet counts until the one who asks has left it."""
    times = times_of(diver, state.now)
    if times.left_surface is None or times.bottom_s is None:
        return None
    max_fsw = maximum_fsw(state, diver)
    if isinstance(max_fsw, NotCovered):
        return max_fsw
    bottom_s = times.bottom_s
    if times.left_bottom is None and asking.left_bottom is not None:
        bottom_s = max(0, whole_seconds(times.left_surface, asking.left_bottom))
    return _after_the_last(books, diver, _Share(max_fsw, bottom_s, None), times.left_surface)


def maximum_fsw(state: State, diver: DiverState) -> float | NotCovered:
    """The maximum depth of the dive, at its own altitude. Rules D3, D8."""
    depth, settings = depth_of(state, diver.name), state.settings
    max_fsw = depth.max_fsw
    if diver.deepest_fsw is not None and not settings.gauges_zeroed and settings.altitude_ft > 0:
        gauge_fsw = unzeroed_gauge_fsw(diver.deepest_fsw, settings.altitude_ft)
        max_fsw = table_fsw_of(gauge_fsw, settings.parameters.gauge_rounding_fsw)
    if max_fsw is not None:
        return max_fsw
    if diver.deepest_fsw is None:
        return NotCovered(RULES["D3"], f"The depth of {diver.name} is not known.", MANUAL)
    return NotCovered(
        RULES["D2"], f"No correction is printed for a reading of {diver.deepest_fsw:g} fsw.", MANUAL
    )


def _after_the_last(books: Books, diver: DiverState, share: _Share, left_at: Instant) -> _Share | NotCovered:
    """A share with what the dive before makes of it: a group, or one dive with it. Rules N1, N2."""
    standing = group_now(books, diver, left_at)
    if isinstance(standing, NotCovered):
        return standing
    if standing.standing is not Standing.ONE_DIVE:
        return replace(share, group=standing.group)
    last = diver.past[-1]
    if last.max_fsw is None or last.bottom_s is None:
        return NotCovered(
            RULES["N1"],
            "Under 10 minutes at the surface this is one dive with the last, which was made elsewhere: "
            "its depth and bottom time are not known here.",
            MANUAL,
        )
    whole_s = (minutes_up(share.bottom_s) + minutes_up(last.bottom_s)) * S_PER_MIN
    return _Share(max(share.max_fsw, last.max_fsw), whole_s, last.group_before)
