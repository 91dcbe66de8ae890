"""All alarms of the station at one tick: every entry looks at every subject that it is about."""

from collections.abc import Iterator
from dataclasses import replace

from station.core.alarms.catalogue import BY_ID, ENTRIES, About, Entry
from station.core.alarms.standing import acknowledge, at_rest, look
from station.core.alarms.watched import CALM, STATION
from station.core.facts import AlarmChanged, Fact, Refused
from station.core.inputs import Acknowledge, OperatorEvent
from station.core.state import AlarmState, State
from station.core.timekeeping import phase_of

_OF_DIVERS = tuple(entry for entry in ENTRIES if entry.about is About.DIVER)
_OF_STATION = tuple(entry for entry in ENTRIES if entry.about is About.STATION)


def watch_all(state: State) -> tuple[State, tuple[Fact, ...]]:
    """The state with every alarm looked at once more; a changed standing is a fact."""
    before = {(alarm.id, alarm.subject): alarm for alarm in state.alarms}
    alarms, facts = [], []
    for entry, subject, applies in _pairs(state):
        alarm = before.get((entry.id, subject)) or AlarmState(entry.id, subject)
        after = look(entry, alarm, entry.watch(state, subject) if applies else CALM, state.now)
        if after.standing is not alarm.standing or after.occurrence != alarm.occurrence:
            facts.append(_fact(state, entry, after))
        if not at_rest(after):
            alarms.append(after)
    kept = tuple(alarms)
    return (state if kept == state.alarms else replace(state, alarms=kept)), tuple(facts)


def _pairs(state: State) -> Iterator[tuple[Entry, str, bool]]:
    """Every entry with every subject of it, and whether it applies in the subject's phase."""
    for diver in state.divers:
        phase = phase_of(diver)
        for entry in _OF_DIVERS:
            yield entry, diver.name, phase in entry.phases
    for entry in _OF_STATION:
        yield entry, STATION, True


def _fact(state: State, entry: Entry, alarm: AlarmState) -> AlarmChanged:
    return AlarmChanged(
        state.now, alarm.id, alarm.subject, entry.priority, alarm.standing, alarm.measured, alarm.limit
    )


def see(state: State, event: OperatorEvent, act: Acknowledge) -> tuple[State, tuple[Fact, ...]]:
    """Acknowledge one alarm; no other is touched."""
    for place, alarm in enumerate(state.alarms):
        if (alarm.id, alarm.subject) == (act.alarm, act.subject):
            after = acknowledge(alarm)
            if after is None:
                break
            alarms = (*state.alarms[:place], after, *state.alarms[place + 1 :])
            return replace(state, alarms=alarms), (_fact(state, BY_ID[alarm.id], after),)
    return state, (
        Refused(event.at, "Acknowledge", f"no alarm {act.alarm} of {act.subject} waits to be seen"),
    )
