"""What goes with a raise: which came first, which is escalated, whether alarms come in a flood."""

from collections.abc import Mapping
from dataclasses import replace

from shared.clock import seconds_between
from station.core.alarms.catalogue import BY_ID
from station.core.alarms.numbers import (
    ESCALATE_S,
    FLOOD_BEGINS_ABOVE,
    FLOOD_ENDS_BELOW,
    FLOOD_WINDOW_S,
    NEVER_SEEN,
)
from station.core.facts import AlarmEscalated, Fact
from station.core.state import AlarmState, Priority, Raise, Standing, State

Known = Mapping[tuple[str, str], AlarmState]

TO_SEE = frozenset({Standing.UNACKNOWLEDGED, Standing.RETURNED})
"""Standings that wait for an acknowledgement."""


def announced(state: State, before: Known, alarms: tuple[AlarmState, ...]) -> tuple[State, tuple[Fact, ...]]:
    """The state with these alarms, the new ones among them announced."""
    facts: list[Fact] = []
    waiting = {(alarm.subject, alarm.id) for alarm in before.values() if is_to_see(alarm)}
    raises: list[Raise] = []
    told: list[AlarmState] = []
    for alarm in alarms:
        after = alarm
        if _is_new(before, alarm):
            is_first = is_to_see(alarm) and not _others(waiting, alarm)
            after = replace(alarm, raised_seq=state.seq, first_out=is_first, escalated_at=None)
            if is_to_see(alarm):
                raises.append(Raise(state.now, alarm.subject))
                waiting.add((alarm.subject, alarm.id))
        elif _is_overdue(state, alarm):
            after = replace(alarm, escalated_at=state.now)
            facts.append(AlarmEscalated(state.now, alarm.id, alarm.subject, Priority.ALARM))
        told.append(after)
    kept = tuple(told)
    if kept != state.alarms:
        state = replace(state, alarms=kept)
    return _counted(state, tuple(raises)), tuple(facts)


def _others(waiting: set[tuple[str, str]], alarm: AlarmState) -> bool:
    """Whether another alarm of the same subject waits to be seen."""
    return any(subject == alarm.subject and name != alarm.id for subject, name in waiting)


def is_to_see(alarm: AlarmState) -> bool:
    """Whether an alarm waits to be acknowledged; a caution never does."""
    return alarm.standing in TO_SEE and BY_ID[alarm.id].priority not in NEVER_SEEN


def _is_new(before: Known, alarm: AlarmState) -> bool:
    was = before.get((alarm.id, alarm.subject))
    return alarm.occurrence > (0 if was is None else was.occurrence)


def _is_overdue(state: State, alarm: AlarmState) -> bool:
    return (
        alarm.standing is Standing.UNACKNOWLEDGED
        and alarm.escalated_at is None
        and alarm.since is not None
        and BY_ID[alarm.id].priority is Priority.WARNING
        and seconds_between(alarm.since, state.now) >= ESCALATE_S
    )


def _counted(state: State, raises: tuple[Raise, ...]) -> State:
    """The raises of the last minutes, and who has too many of them."""
    if not raises and not state.raises:
        return state
    recent = tuple(
        each for each in (*state.raises, *raises) if seconds_between(each.at, state.now) < FLOOD_WINDOW_S
    )
    if recent == state.raises:
        return state
    subjects = dict.fromkeys(each.subject for each in (*state.raises, *raises))
    flooded = tuple(subject for subject in subjects if _is_flooded(state, subject, recent))
    return replace(state, raises=recent, flooded=flooded)


def _is_flooded(state: State, subject: str, recent: tuple[Raise, ...]) -> bool:
    count = sum(each.subject == subject for each in recent)
    return count > FLOOD_BEGINS_ABOVE or (subject in state.flooded and count >= FLOOD_ENDS_BELOW)
