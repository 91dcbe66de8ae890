"""All alarms of the station at one tick: every entry looks at every subject that it is about."""

from collections.abc import Iterator
from dataclasses import replace

from station.core.air.supplies import Air
from station.core.air.supply import supply_of
from station.core.alarms.announcing import announced
from station.core.alarms.aside import looked
from station.core.alarms.catalogue import BY_ID, ENTRIES, About, Entry
from station.core.alarms.standing import acknowledge, at_rest, changed, is_met
from station.core.alarms.watched import CALM, STATION, Sight
from station.core.books import Books
from station.core.by_table.bottom import IfHeLeft, schedule_of
from station.core.by_table.coming_up import Ascent, ascent_of
from station.core.facts import Fact, Refused
from station.core.inputs import Acknowledge, OperatorEvent
from station.core.phase import IN_WATER, Phase
from station.core.state import AlarmState, DiverState, State
from station.core.timekeeping import Holding, phase_after

_OF_DIVERS = tuple(entry for entry in ENTRIES if entry.about is About.DIVER)
_OF_SUPPLIES = tuple(entry for entry in ENTRIES if entry.about is About.SUPPLY)
_OF_GAUGES = tuple(entry for entry in ENTRIES if entry.about is About.GAUGE)
_OF_STATION = tuple(entry for entry in ENTRIES if entry.about is About.STATION)


def watch_all(
    state: State, holdings: tuple[Holding, ...], air: Air, books: Books
) -> tuple[State, tuple[Fact, ...]]:
    """The state with every alarm looked at once more; a changed standing is a fact.

    `holdings` are the marks that hold for each diver, `air` the air of the station.
    """
    before = {(alarm.id, alarm.subject): alarm for alarm in state.alarms}
    alarms: list[AlarmState] = []
    facts: list[Fact] = []
    for entry, sight, applies in _pairs(state, holdings, air, books):
        alarm = before.get((entry.id, sight.subject))
        watched = entry.watch(sight) if applies else CALM
        if alarm is None and not is_met(watched):
            continue
        after = looked(state, entry, alarm or AlarmState(entry.id, sight.subject), watched)
        if alarm is None or after.standing is not alarm.standing or after.occurrence != alarm.occurrence:
            facts.extend(_told(state, after))
        if not at_rest(after):
            alarms.append(after)
    state, more = announced(state, before, tuple(alarms))
    return state, (*facts, *more)


def _told(state: State, alarm: AlarmState) -> tuple[Fact, ...]:
    """The fact of a standing that changed; an alarm that was never raised is none."""
    return (changed(state, alarm),) if alarm.occurrence else ()


def _pairs(
    state: State, holdings: tuple[Holding, ...], air: Air, books: Books
) -> Iterator[tuple[Entry, Sight, bool]]:
    """Every entry with a sight of every subject of it, and whether it applies in the subject's phase."""
    for diver, marks in zip(state.divers, holdings, strict=True):
        phase = phase_after(marks)
        supply = supply_of(state, diver.name) if phase in IN_WATER else None
        sight = Sight(state, diver.name, marks, supply, *_by_tables(state, diver, phase, books))
        for entry in _OF_DIVERS:
            yield entry, sight, phase in entry.phases
    for each in state.settings.supplies:
        of_supply = Sight(state, each.name, air=air)
        for entry in _OF_SUPPLIES:
            yield entry, of_supply, True
    for gauge in state.settings.gauges:
        of_gauge = Sight(state, gauge.name)
        for entry in _OF_GAUGES:
            yield entry, of_gauge, True
    of_station = Sight(state, STATION)
    for entry in _OF_STATION:
        yield entry, of_station, True


def _by_tables(
    state: State, diver: DiverState, phase: Phase, books: Books
) -> tuple[IfHeLeft | None, Ascent | None]:
    """What the tables say of a diver: the schedule on the bottom, the ascent afterwards."""
    if phase is Phase.DRESSED:
        return None, None
    ascent = ascent_of(state, diver, books)
    if isinstance(ascent, Ascent):
        return None, ascent
    return schedule_of(state, diver, books), None


def see(state: State, event: OperatorEvent, act: Acknowledge) -> tuple[State, tuple[Fact, ...]]:
    """Acknowledge one alarm; no other is touched. What the window had not seen is not acknowledged."""
    for place, alarm in enumerate(state.alarms):
        if (alarm.id, alarm.subject) == (act.alarm, act.subject):
            after = acknowledge(BY_ID[alarm.id], alarm)
            if after is None:
                break
            if not _has_seen(event, act, alarm):
                return state, (
                    Refused(event.at, "Acknowledge", f"{act.alarm} of {act.subject} has come again since"),
                )
            alarms = (*state.alarms[:place], after, *state.alarms[place + 1 :])
            return replace(state, alarms=alarms), (changed(state, after),)
    return state, (
        Refused(event.at, "Acknowledge", f"no alarm {act.alarm} of {act.subject} waits to be seen"),
    )


def _has_seen(event: OperatorEvent, act: Acknowledge, alarm: AlarmState) -> bool:
    """Whether the press is for the occurrence that stands."""
    if act.occurrence is not None:
        return act.occurrence == alarm.occurrence
    return event.seen_seq >= alarm.raised_seq
