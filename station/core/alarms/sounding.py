"""What sounds now: a pure function of the state; the horn plays the newest wish and decides nothing."""

from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from shared.clock import EPOCH, Instant, seconds_between
from station.core.alarms.catalogue import BY_ID
from station.core.alarms.numbers import COMMS_KEY_LONGEST_S, RESOUND_S, SOUND_TEST_S
from station.core.alarms.standing import priority_of
from station.core.state import AlarmState, Priority, Standing, State


class Pattern(StrEnum):
    """What the horn plays, over and over."""

    SILENT = "silent"
    WARNING = "warning"
    ALARM = "alarm"
    EMERGENCY = "emergency"
    TEST = "test"


@dataclass(frozen=True, slots=True)
class Wish:
    """What should be heard: a pattern that began at `since`, at a step of the volume.

    A later `since` begins the pattern anew. `dropped`: the comms key is held, and nothing is heard.
    """

    pattern: Pattern = Pattern.SILENT
    since: Instant = EPOCH
    volume: int = 0
    dropped: bool = False


PATTERN_OF: Final = {
    Priority.EMERGENCY: Pattern.EMERGENCY,
    Priority.ALARM: Pattern.ALARM,
    Priority.WARNING: Pattern.WARNING,
    Priority.CAUTION: Pattern.SILENT,
}


def sounding(state: State) -> Wish:
    """The wish of a state: the gravest alarm that is not seen and not silenced, from its latest raise."""
    volume, dropped = state.sound.volume, key_is_held(state)
    heard = [(priority, since) for priority, since in _sounding(state) if not _is_silenced(state, since)]
    order = tuple(Priority)
    if heard:
        gravest = min((priority for priority, _ in heard), key=order.index)
        since = max(since for priority, since in heard if priority is gravest)
        return Wish(PATTERN_OF[gravest], _resounded(state, since), volume, dropped)
    tested = state.sound.tested_at
    if tested is not None and seconds_between(tested, state.now) < SOUND_TEST_S:
        return Wish(Pattern.TEST, tested, volume, dropped)
    return Wish(volume=volume, dropped=dropped)


def key_is_held(state: State) -> bool:
    """Whether the comms key is held; one that is held too long is taken for stuck."""
    since = state.sound.key_since
    return since is not None and seconds_between(since, state.now) < COMMS_KEY_LONGEST_S


def silence_left_s(state: State) -> float | None:
    """Seconds for which the horn stays silenced, None when it is not."""
    at = state.sound.silenced_at
    if at is None:
        return None
    left_s = RESOUND_S - seconds_between(at, state.now)
    return left_s if left_s > 0 and any(since <= at for _, since in _sounding(state)) else None


def _is_silenced(state: State, since: Instant) -> bool:
    """Silenced is what sounded when silence was pressed, not what has come since."""
    at = state.sound.silenced_at
    return at is not None and since <= at and seconds_between(at, state.now) < RESOUND_S


def _resounded(state: State, since: Instant) -> Instant:
    """After a silence the pattern begins anew."""
    at = state.sound.silenced_at
    return at if at is not None and at >= since else since


def _sounding(state: State) -> list[tuple[Priority, Instant]]:
    """Every alarm that is to be heard, with its priority and since when: its raise, or its escalation."""
    found = []
    for alarm in state.alarms:
        priority = priority_of(BY_ID[alarm.id].priority, alarm)
        if alarm.since is not None and _is_heard(alarm, priority):
            found.append((priority, alarm.since if alarm.escalated_at is None else alarm.escalated_at))
    return found


def _is_heard(alarm: AlarmState, priority: Priority) -> bool:
    """Not seen; what ended by itself sounds on only where it endangered life."""
    if priority is Priority.CAUTION:
        return False
    if alarm.standing is Standing.UNACKNOWLEDGED:
        return True
    return alarm.standing is Standing.RETURNED and priority is Priority.EMERGENCY
