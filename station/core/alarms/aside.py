"""Alarms that are put aside: shelved for a few minutes, or out of service with a gauge that is given up.

ISA-18.2-2016 / IEC 62682, states "shelved" and "out of service". An alarm that is put aside is watched on
beneath, so that it comes back as it then stands: still raised, it is to be seen anew. No EMERGENCY is ever
shelved. One that a dead gauge holds goes out of service with the gauge and comes back as soon as it can be
known again, by the gauge or by what is typed.
"""

from dataclasses import replace
from typing import Final, assert_never

from shared.clock import Instant, after
from shared.gauges import Channel, Gauge
from station.core.alarms.catalogue import BY_ID, About, Entry
from station.core.alarms.numbers import NEVER_SHELVED, SHELF_LONGEST_MIN
from station.core.alarms.standing import RAISED, changed, look
from station.core.alarms.watched import Watched
from station.core.facts import Fact, Refused
from station.core.finding import gauge_of, gauge_state
from station.core.inputs import AsideAct, BackInService, OperatorEvent, OutOfService, Shelve, Unshelve
from station.core.state import AlarmState, Aside, OutGauge, Standing, State
from station.core.trust import is_heard

_S_PER_MIN = 60

_DEPTH: Final = (Channel.DEPTH,)
_SUPPLY: Final = (Channel.SUPPLY,)
_BANK: Final = (Channel.BANK,)

OF_A_GAUGE: Final = {"depth-not-heard": _DEPTH, "supply-not-heard": _SUPPLY}
"""Alarms of a subject that tell of his gauge and of nothing else."""

RESTS_ON: Final = {
    "supply-below-minimum": _SUPPLY,
    "supply-falling": _SUPPLY,
    "ascent-dangerous": _DEPTH,
    "ascent-fast": _DEPTH,
    "descent-fast": _DEPTH,
    "deeper-than-planned": _DEPTH,
    "deep-after-surfacing": _DEPTH,
    "gauges-differ": _DEPTH,
    "air-too-short": _BANK,
    "air-nearly-short": _BANK,
    "air-not-enough": _BANK,
    "bank-low": _BANK,
}
"""Alarms that a dead gauge holds as they last stood, with what the gauge measures."""


def put_aside(state: State, event: OperatorEvent, act: AsideAct) -> tuple[State, tuple[Fact, ...]]:
    """The state after something was put aside or taken back; what comes back does so at the next tick."""
    match act:
        case Shelve():
            why, after_it = _shelved(state, event, act)
        case Unshelve():
            why, after_it = _unshelved(state, act)
        case OutOfService():
            why, after_it = _given_up(state, event, act)
        case BackInService():
            why, after_it = _taken_back(state, act)
        case _:
            assert_never(act)
    if why:
        return state, (Refused(event.at, type(act).__name__, why),)
    told = tuple(
        changed(state, after)
        for before, after in zip(state.alarms, after_it.alarms, strict=True)
        if before.standing is not after.standing
    )
    return after_it, told


def _shelved(state: State, event: OperatorEvent, act: Shelve) -> tuple[str, State]:
    alarm = _alarm(state, act.alarm, act.subject)
    if alarm is None or not alarm.occurrence:
        return f"no alarm {act.alarm} of {act.subject} has come that could be shelved", state
    if BY_ID[act.alarm].priority in NEVER_SHELVED:
        return f"{act.alarm} is an emergency: it is never shelved", state
    if alarm.aside is not None:
        return f"{act.alarm} of {act.subject} is put aside already: {alarm.aside.reason}", state
    if not 0 < act.minutes <= SHELF_LONGEST_MIN:
        return f"shelved for 1 to {SHELF_LONGEST_MIN} minutes, not {act.minutes}", state
    if not act.reason.strip():
        return "shelving needs a reason", state
    until = after(state.now, act.minutes * _S_PER_MIN)
    aside = Aside(alarm.standing, act.reason, event.by, state.now, until)
    return "", _with(state, replace(alarm, standing=Standing.SHELVED, aside=aside))


def _unshelved(state: State, act: Unshelve) -> tuple[str, State]:
    alarm = _alarm(state, act.alarm, act.subject)
    if alarm is None or alarm.aside is None or alarm.aside.until is None:
        return f"no alarm {act.alarm} of {act.subject} is shelved", state
    return "", _with(state, replace(alarm, aside=replace(alarm.aside, until=state.now)))


def _given_up(state: State, event: OperatorEvent, act: OutOfService) -> tuple[str, State]:
    if all(gauge.name != act.gauge for gauge in state.settings.gauges):
        return f"there is no gauge {act.gauge!r} at this station", state
    if any(out.gauge == act.gauge for out in state.out_of_service):
        return f"{act.gauge} is out of service already", state
    if not act.reason.strip():
        return "taking a gauge out of service needs a reason", state
    out = OutGauge(act.gauge, act.reason, event.by, state.now)
    return "", replace(state, out_of_service=(*state.out_of_service, out))


def _taken_back(state: State, act: BackInService) -> tuple[str, State]:
    kept = tuple(out for out in state.out_of_service if out.gauge != act.gauge)
    if kept == state.out_of_service:
        return f"{act.gauge} is not out of service", state
    return "", replace(state, out_of_service=kept)


def _alarm(state: State, entry: str, subject: str) -> AlarmState | None:
    return next((alarm for alarm in state.alarms if (alarm.id, alarm.subject) == (entry, subject)), None)


def _with(state: State, changed: AlarmState) -> State:
    named = (changed.id, changed.subject)
    alarms = tuple(changed if (each.id, each.subject) == named else each for each in state.alarms)
    return replace(state, alarms=alarms)


def looked(state: State, entry: Entry, alarm: AlarmState, watched: Watched | None) -> AlarmState:
    """The alarm after one more look, wherever it stands: in sight, on the shelf, or out of service."""
    aside = alarm.aside
    beneath = alarm if aside is None else replace(alarm, standing=aside.beneath, aside=None)
    seen = look(entry, beneath, watched, state.now)
    out = _given_up_with(state, entry, seen, watched)
    if out is not None:
        return _put(seen, Aside(seen.standing, out.reason, out.by, out.at, None))
    if aside is None:
        return seen
    if aside.until is not None and state.now < aside.until:
        return _put(seen, aside)
    return _back(seen, aside, state.now)


def _put(seen: AlarmState, aside: Aside) -> AlarmState:
    stands = Standing.OUT_OF_SERVICE if aside.until is None else Standing.SHELVED
    return replace(seen, standing=stands, aside=replace(aside, beneath=seen.standing))


def _given_up_with(state: State, entry: Entry, alarm: AlarmState, watched: Watched | None) -> OutGauge | None:
    """The gauge out of service that takes this alarm along; only one that is raised."""
    if not state.out_of_service or alarm.standing not in RAISED:
        return None
    behind = _gauges_behind(state, entry, alarm.subject, watched)
    return next((out for out in state.out_of_service if out.gauge in behind), None)


def _gauges_behind(state: State, entry: Entry, subject: str, watched: Watched | None) -> list[str]:
    """The gauges of which the alarm tells, or that are not heard and hold it."""
    if entry.about is About.GAUGE:
        return [subject]
    if entry.id in OF_A_GAUGE:
        return [gauge.name for gauge in _gauges(state, OF_A_GAUGE[entry.id], subject)]
    if watched is not None:
        return []
    return [
        gauge.name
        for gauge in _gauges(state, RESTS_ON.get(entry.id, ()), subject)
        if not is_heard(gauge_state(state, gauge.name).trust)
    ]


def _gauges(state: State, channels: tuple[Channel, ...], subject: str) -> list[Gauge]:
    found = (gauge_of(state, channel, subject) for channel in channels)
    return [gauge for gauge in found if gauge is not None]


def _back(seen: AlarmState, aside: Aside, now: Instant) -> AlarmState:
    """No longer put aside. What still holds is raised anew; what is about to clear waits for that."""
    if seen.standing not in RAISED:
        return replace(seen, standing=Standing.NORMAL)
    if seen.clear_since is not None:
        return _put(seen, aside)
    return replace(
        seen, standing=Standing.UNACKNOWLEDGED, since=now, occurrence=seen.occurrence + 1, escalated_at=None
    )
