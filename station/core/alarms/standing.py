"""How an alarm stands: the states of ISA-18.2-2016 / IEC 62682, moved by a look and by an acknowledgement."""

from dataclasses import replace

from shared.clock import Instant, seconds_between
from station.core.alarms.catalogue import BY_ID, Entry
from station.core.alarms.numbers import NEVER_SEEN
from station.core.alarms.watched import Watched
from station.core.facts import AlarmChanged
from station.core.state import AlarmState, Priority, Standing, State

RAISED = frozenset({Standing.UNACKNOWLEDGED, Standing.ACKNOWLEDGED})
"""The condition holds."""


def is_met(watched: Watched | None) -> bool:
    """Whether the quantity is known to stand beyond its limit."""
    return watched is not None and watched.excess > 0


def look(entry: Entry, alarm: AlarmState, watched: Watched | None, now: Instant) -> AlarmState:
    """The alarm after one more look at what it watches; None (cannot be known) holds it as it stands."""
    if alarm.standing in RAISED:
        return _while_raised(entry, alarm, watched, now)
    return _while_calm(entry, alarm, watched, now)


def _while_calm(entry: Entry, alarm: AlarmState, watched: Watched | None, now: Instant) -> AlarmState:
    if watched is None or not is_met(watched):
        return alarm if alarm.met_since is None else replace(alarm, met_since=None)
    met_since = now if alarm.met_since is None else alarm.met_since
    if seconds_between(met_since, now) < entry.dwell_s:
        return replace(alarm, met_since=met_since)
    return replace(
        alarm,
        standing=Standing.UNACKNOWLEDGED,
        since=now,
        met_since=None,
        clear_since=None,
        measured=watched.measured,
        limit=watched.limit,
        occurrence=alarm.occurrence + 1,
    )


def _while_raised(entry: Entry, alarm: AlarmState, watched: Watched | None, now: Instant) -> AlarmState:
    if watched is None:
        return alarm if alarm.clear_since is None else replace(alarm, clear_since=None)
    alarm = _with_figures(alarm, watched)
    if watched.excess > -entry.dead_band:
        return replace(alarm, clear_since=None)
    clear_since = now if alarm.clear_since is None else alarm.clear_since
    if seconds_between(clear_since, now) < entry.release_s:
        return replace(alarm, clear_since=clear_since)
    seen = alarm.standing is Standing.ACKNOWLEDGED or entry.priority in NEVER_SEEN
    return replace(alarm, standing=Standing.NORMAL if seen else Standing.RETURNED, clear_since=None)


def _with_figures(alarm: AlarmState, watched: Watched) -> AlarmState:
    if watched.measured is None:
        return alarm
    return replace(alarm, measured=watched.measured, limit=watched.limit)


def changed(state: State, alarm: AlarmState) -> AlarmChanged:
    """The fact of a standing that changed."""
    return AlarmChanged(
        state.now,
        alarm.id,
        alarm.subject,
        BY_ID[alarm.id].priority,
        alarm.standing,
        alarm.measured,
        alarm.limit,
    )


def priority_of(own: Priority, alarm: AlarmState) -> Priority:
    """How grave an alarm counts: its entry's own priority, or ALARM after nobody saw its warning."""
    return own if alarm.escalated_at is None else Priority.ALARM


def acknowledge(entry: Entry, alarm: AlarmState) -> AlarmState | None:
    """The alarm after it was seen; None where there is nothing to acknowledge."""
    if entry.priority in NEVER_SEEN:
        return None
    match alarm.standing:
        case Standing.UNACKNOWLEDGED:
            return replace(alarm, standing=Standing.ACKNOWLEDGED)
        case Standing.RETURNED:
            return replace(alarm, standing=Standing.NORMAL)
        case _:
            return None


def at_rest(alarm: AlarmState) -> bool:
    """Whether nothing of the alarm need be kept: it never was raised and is not about to be."""
    return alarm.occurrence == 0 and alarm.met_since is None and alarm.aside is None
