"""The fold: one input at a time, the state after it and the facts found on the way. Pure; no other way in.

A kind of input that the fold does not know is an error, never passed through.
"""

from dataclasses import replace
from typing import assert_never

from shared.arrivals import PortFault, PortFaultKind
from shared.clock import Instant
from shared.gauges import Channel, Gauge, ports_of
from station.core.air.supplies import Air, air_of
from station.core.alarms.board import watch_all
from station.core.books import Books
from station.core.by_table.coming_up import Ascent, ascent_of
from station.core.by_table.history import instant_of_utc, with_history
from station.core.by_table.levels import with_levels
from station.core.by_table.plan_facts import plan_facts
from station.core.depth import follow
from station.core.facts import BlowSeen, Fact, PhaseChanged, TrustChanged
from station.core.finding import diver_settings, gauge_of, place_of
from station.core.frozen import with_frozen
from station.core.hose.trust import HoseState
from station.core.inputs import (
    ConfigurationChanged,
    GaugesChanged,
    Heard,
    Input,
    LimitsChanged,
    OperatorEvent,
    StationFact,
    Tick,
)
from station.core.listening import blame, hear, settle
from station.core.operator import take_event
from station.core.pairing import pair_of, paired
from station.core.phase import IN_WATER, Phase
from station.core.proposals import propose
from station.core.selfwatch import take_station_fact
from station.core.settings import DiverSettings, Settings
from station.core.state import DiverState, GaugeState, PortState, State
from station.core.timekeeping import Holding, holding_of, phase_after, phase_of

Outcome = tuple[State, tuple[Fact, ...]]


def initial_state(settings: Settings, utc_epoch_ns: int) -> State:
    """The state before the first arrival: nothing heard, nobody left the surface."""
    return State(
        settings,
        utc_epoch_ns,
        ports=tuple(PortState(name) for name in ports_of(settings.gauges)),
        gauges=tuple(GaugeState(gauge.name) for gauge in settings.gauges),
        divers=tuple(_dressed(diver, utc_epoch_ns) for diver in settings.divers),
    )


def _dressed(settings: DiverSettings, utc_epoch_ns: int) -> DiverState:
    diver = DiverState(
        settings.name,
        planned_depth_fsw=settings.planned_depth_fsw,
        planned_bottom_min=settings.planned_bottom_min,
        hose=None if settings.hose_ft is None else HoseState(),
    )
    told = settings.history
    if told is None:
        return diver
    at = None if told.surfaced_utc is None else instant_of_utc(told.surfaced_utc, utc_epoch_ns)
    return with_history(diver, told.group, at)


def fold(state: State, arrived: Input, seq: int, books: Books) -> Outcome:
    """The state after the input numbered `seq`, and the facts that it brought.

    `books` hold the tables in force; they are handed in and never stand in the state. State time never runs
    back: an input with an older instant is taken at the present one.
    Raises ValueError when `seq` does not follow; a mistake of ours, not trouble on a line.
    """
    if seq != state.seq + 1:
        raise ValueError(f"arrival {seq} does not follow {state.seq}")
    now = Instant(max(state.now, arrived.at))
    match arrived:
        case Heard():
            return _heard(state, arrived, seq, now), ()
        case Tick():
            return _tick(state, seq, now, books)
        case _:
            return _seldom(state, arrived, seq, now, books)


def _seldom(
    state: State,
    arrived: PortFault | OperatorEvent | StationFact | ConfigurationChanged,
    seq: int,
    now: Instant,
    books: Books,
) -> Outcome:
    before, state = state, replace(state, seq=seq, now=now)
    match arrived:
        case PortFault():
            return _port_fault(state, arrived), ()
        case OperatorEvent():
            state, facts = take_event(state, arrived, books)
            facts = (*facts, *plan_facts(before, state, books))
        case StationFact():
            state, facts = take_station_fact(state, arrived)
        case ConfigurationChanged():
            return _configured(state, arrived), ()
        case _:
            assert_never(arrived)
    return state, (*facts, *_phases(before, state))


def _tick(state: State, seq: int, now: Instant, books: Books) -> Outcome:
    """Gauges first, then the divers by them, then their plans, then the alarms by all of it."""
    before = state
    gauges, trusted = _settled(state, now)
    divers, holdings, proposed = _followed(state, gauges, now, books)
    state = replace(state, seq=seq, now=now, ticked=now, gauges=gauges, divers=divers)
    planned = plan_facts(before, state, books)
    air = air_of(state, books)
    state = _with_frozen(state, holdings, air)
    state, alarmed = watch_all(state, holdings, air, books)
    return state, (*trusted, *proposed, *planned, *alarmed)


def _with_frozen(state: State, holdings: tuple[Holding, ...], air: Air) -> State:
    """The gauges that keep sending one value are told apart."""
    marks = {diver.name: held for diver, held in zip(state.divers, holdings, strict=True)}
    drawn = {supply.settings.name: supply.flow_scfm for supply in air.supplies if supply.breathing}
    gauges = with_frozen(state, state.gauges, marks, drawn)
    return state if gauges is state.gauges else replace(state, gauges=gauges)


def _settled(state: State, now: Instant) -> tuple[tuple[GaugeState, ...], tuple[Fact, ...]]:
    parameters = state.settings.parameters
    is_open = {port.name: port.open for port in state.ports}
    gauges = tuple(
        settle(gauge, heard, is_open[gauge.port], now, parameters)
        for gauge, heard in zip(state.settings.gauges, state.gauges, strict=True)
    )
    facts = tuple(
        TrustChanged(now, after.name, after.trust)
        for was, after in zip(state.gauges, gauges, strict=True)
        if was.trust is not after.trust
    )
    return gauges, facts


def _followed(
    state: State, gauges: tuple[GaugeState, ...], now: Instant, books: Books
) -> tuple[tuple[DiverState, ...], tuple[Holding, ...], tuple[Fact, ...]]:
    """The divers at a tick, the marks that hold for each, and what the trace showed."""
    divers: list[DiverState] = []
    holdings: list[Holding] = []
    facts: list[Fact] = []
    parameters = state.settings.parameters
    for before in state.divers:
        diver, marks = before, holding_of(before)
        phase = phase_after(marks)
        gauge = gauge_of(state, Channel.DEPTH, diver.name)
        if gauge is not None:
            heard = gauges[place_of(state, gauge.name)]
            pair = pair_of(state, gauges, diver, now)
            diver = paired(diver, pair, phase)
            hose_ft = diver_settings(state, diver.name).hose_ft
            diver = follow(diver, phase, gauge, heard, now=now, p=parameters, hose_ft=hose_ft)
            if diver.blow_seen is not None and diver.blow_seen != before.blow_seen:
                facts.append(BlowSeen(diver.name, diver.blow_seen))
        if phase in IN_WATER or diver.risen_at is not None:
            diver = with_levels(diver, _level_fsw(state, before, phase, books), now, parameters)
        diver, found = propose(diver, phase, now, parameters)
        if diver.proposals is not before.proposals:
            marks = holding_of(diver)
        divers.append(diver)
        holdings.append(marks)
        facts.extend(found)
        if phase_after(marks) is not phase:
            facts.append(PhaseChanged(now, diver.name, phase_after(marks)))
    return tuple(divers), tuple(holdings), tuple(facts)


def _level_fsw(state: State, diver: DiverState, phase: Phase, books: Books) -> float | None:
    """The level of the stop that a diver is at."""
    if phase is not Phase.AT_STOP:
        return None
    ascent = ascent_of(state, diver, books)
    if isinstance(ascent, Ascent) and ascent.found.stop is not None:
        return ascent.found.stop.level_fsw
    return None


def _heard(state: State, heard: Heard, seq: int, now: Instant) -> State:
    gauges = list(state.gauges)
    for reading in heard.readings:
        place = place_of(state, reading.gauge)
        gauge = state.settings.gauges[place]
        gauges[place] = hear(gauge, gauges[place], reading, state.settings.parameters)
    for fault in heard.faults:
        for name in [fault.gauge] if fault.gauge else _gauges_on(state, heard.port):
            place = place_of(state, name)
            gauges[place] = blame(gauges[place], fault)
    return replace(
        state, seq=seq, now=now, gauges=tuple(gauges), ports=_pending(state, heard.port, heard.pending)
    )


def _pending(state: State, name: str, pending: bytes) -> tuple[PortState, ...]:
    if all(port.name != name or port.pending == pending for port in state.ports):
        return state.ports
    return tuple(replace(port, pending=pending) if port.name == name else port for port in state.ports)


def _gauges_on(state: State, port: str) -> list[str]:
    return [gauge.name for gauge in state.settings.gauges if gauge.port == port]


def _port_fault(state: State, fault: PortFault) -> State:
    """An opened port begins with an empty frame: what was pending belongs to the line before.

    A fault told again, at every try to open the line, stands since it was first told.
    """
    return replace(
        state,
        ports=tuple(
            _with_fault(port, fault, state.now) if port.name == fault.port else port for port in state.ports
        ),
    )


def _with_fault(port: PortState, fault: PortFault, now: Instant) -> PortState:
    if fault.kind is PortFaultKind.OPENED:
        return PortState(port.name, True, now, detail=fault.detail)
    since = port.since if port.fault is fault.kind else now
    return PortState(port.name, False, since, fault=fault.kind, detail=fault.detail)


def _configured(state: State, changed: ConfigurationChanged) -> State:
    settings = state.settings
    match changed.section:
        case LimitsChanged(parameters):
            return replace(state, settings=replace(settings, parameters=parameters))
        case GaugesChanged(gauges):
            return _with_gauges(state, gauges)
        case _:
            assert_never(changed.section)


def _with_gauges(state: State, gauges: tuple[Gauge, ...]) -> State:
    """Gauges with another calibration begin anew: a window mixes no two."""
    before = state.settings.gauges
    if [_identity(gauge) for gauge in gauges] != [_identity(gauge) for gauge in before]:
        raise ValueError("a change of gauges keeps their names, what they measure, their lines and order")
    heard = tuple(
        replace(known, window=(), slow=(), trend_per_min=None) if is_now != was else known
        for known, was, is_now in zip(state.gauges, before, gauges, strict=True)
    )
    return replace(state, settings=replace(state.settings, gauges=gauges), gauges=heard)


def _identity(gauge: Gauge) -> tuple[str, Channel, str, str]:
    return gauge.name, gauge.channel, gauge.subject, gauge.port


def _phases(before: State, after: State) -> tuple[Fact, ...]:
    if before.divers is after.divers:
        return ()
    return tuple(
        PhaseChanged(after.now, now.name, phase_of(now))
        for was, now in zip(before.divers, after.divers, strict=True)
        if was is not now and phase_of(was) is not phase_of(now)
    )
