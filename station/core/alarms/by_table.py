"""What the alarms of the tables watch: time on the bottom, stops, oxygen, the surface interval."""

from shared.units import S_PER_MIN
from station.core.alarms.watched import CALM, Sight, Watched
from station.core.by_table.asked import Place
from station.core.by_table.coming_up import Followed
from station.core.decompression.answers import NotCovered
from station.core.decompression.durations import minutes_up
from station.core.decompression.parameters import (
    DELAY_IGNORED_S,
    SURFACE_INTERVAL_LONGEST_S,
    SURFACE_INTERVAL_S,
)
from station.core.finding import diver_named
from station.core.state import DiverState
from station.core.timekeeping import times_of, whole_seconds

INTERVAL_WARNED_S = 4 * 60
"""A minute before the surface interval is over its 5:00: own choice."""


def _diver(sight: Sight) -> DiverState:
    return diver_named(sight.state, sight.subject)


def _found(sight: Sight) -> Followed | None:
    return None if sight.ascent is None else sight.ascent.found


def _seconds(over_s: float, measured_s: float, limit_s: float) -> Watched:
    return Watched(over_s, measured_s, limit_s)


def over_plan(sight: Sight) -> Watched:
    """Seconds of bottom time past the plan, a begun one counted; measured and limit in minutes."""
    diver = _diver(sight)
    planned_min = diver.planned_bottom_min
    bottom_s = times_of(diver, sight.state.now).bottom_s
    if planned_min is None or bottom_s is None:
        return CALM
    over_s = bottom_s - planned_min * S_PER_MIN
    return Watched(float(over_s), float(minutes_up(bottom_s)), float(planned_min))


def row_soon(sight: Sight) -> Watched:
    """Seconds by which the next row is nearer than the warning wants; not while the plan goes past it."""
    row = None if sight.schedule is None else sight.schedule.next_row
    if row is None or _planned_left_s(sight) > row.in_s:
        return CALM
    limit_s = sight.state.settings.parameters.row_warning_s
    return _seconds(limit_s - row.in_s + 1, row.in_s, limit_s)


def _planned_left_s(sight: Sight) -> int:
    """Seconds of bottom time that the plan has left; none without a plan."""
    diver = _diver(sight)
    bottom_s = times_of(diver, sight.state.now).bottom_s
    if diver.planned_bottom_min is None or bottom_s is None:
        return 0
    return max(0, diver.planned_bottom_min * S_PER_MIN - bottom_s)


def beyond_table(sight: Sight) -> Watched:
    """Whether the tables have no schedule for this depth, time and history."""
    answer = None if sight.schedule is None else sight.schedule.answer
    known = sight.schedule is not None and sight.schedule.entry is not None
    refused = None if sight.ascent is None else sight.ascent.found.refused
    return Watched(1.0) if (known and isinstance(answer, NotCovered)) or refused is not None else CALM


def history_missing(sight: Sight) -> Watched:
    """Whether nobody has told what the diver brings along."""
    return CALM if _diver(sight).history_known else Watched(1.0)


def left_early(sight: Sight) -> Watched:
    """Seconds of a stop that was left before they were served."""
    found = _found(sight)
    if found is None or found.early is None or found.place is not Place.WAY:
        return CALM
    short_s = found.early.stop.due_s - found.early.served_s
    return _seconds(short_s, short_s, 0.0)


def above_stop(sight: Sight) -> Watched | None:
    """Fsw by which the diver is above the stop that is due, past its band."""
    found, shown = _found(sight), _diver(sight).shown_fsw
    if found is None or found.place not in (Place.STOP, Place.WAY, Place.HELD):
        return CALM
    stop = found.stop or found.next_stop
    if stop is None:
        return CALM
    if shown is None:
        return None
    band_fsw = sight.state.settings.parameters.stop_above_fsw
    return Watched(stop.level_fsw - band_fsw - shown, shown, stop.level_fsw)


def overstayed(sight: Sight) -> Watched:
    """Seconds of an overstay past the minute that is ignored."""
    found = _found(sight)
    if found is None or found.place is not Place.STOP:
        return CALM
    return _seconds(found.over_s - DELAY_IGNORED_S, found.over_s, DELAY_IGNORED_S)


def late_on_the_way(sight: Sight) -> Watched:
    """Seconds of a delay on the way past the minute that is ignored."""
    found = _found(sight)
    if found is None or found.place not in (Place.WAY, Place.HELD):
        return CALM
    return _seconds(found.late_s - DELAY_IGNORED_S, found.late_s, DELAY_IGNORED_S)


def deep_on_oxygen(sight: Sight) -> Watched | None:
    """Fsw by which a diver on oxygen is deeper than the oxygen stop and its band."""
    found, shown = _found(sight), _diver(sight).shown_fsw
    if found is None or not found.on_oxygen or found.place not in (Place.STOP, Place.WAY, Place.HELD):
        return CALM
    limit_fsw = sight.state.settings.parameters.oxygen_deepest_fsw
    return None if shown is None else Watched(shown - limit_fsw, shown, limit_fsw)


def missed_stop(sight: Sight) -> Watched:
    """Seconds since a stop was left or passed for good."""
    found, ascent = _found(sight), sight.ascent
    if found is None or ascent is None or found.missed is None:
        return CALM
    since_s = whole_seconds(ascent.at(found.missed.clock_s), sight.state.now)
    return _seconds(1.0, since_s, 0.0)


def _interval(sight: Sight, limit_s: float) -> Watched:
    found = _found(sight)
    if found is None or found.interval_s is None or not found.interval_runs:
        return CALM
    return _seconds(found.interval_s - limit_s, found.interval_s, limit_s)


def interval_near(sight: Sight) -> Watched:
    """Seconds of the surface interval past 4:00."""
    return _interval(sight, INTERVAL_WARNED_S - 1)


def interval_over(sight: Sight) -> Watched:
    """Seconds of the surface interval past 5:00."""
    return _interval(sight, SURFACE_INTERVAL_S)


def interval_lost(sight: Sight) -> Watched:
    """Seconds of the surface interval past 7:00."""
    return _interval(sight, SURFACE_INTERVAL_LONGEST_S)
