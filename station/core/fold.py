"""The fold: one input at a time, the state after it and the facts found on the way. Pure; no other way in.

A kind of input that the fold does not know is an error, never passed through.
"""

from dataclasses import replace
from typing import assert_never

from shared.arrivals import PortFault, PortFaultKind
from shared.clock import Instant
from shared.gauges import Channel, ports_of
from station.core.alarms.board import watch_all
from station.core.depth import follow
from station.core.facts import Fact, PhaseChanged, TrustChanged
from station.core.finding import gauge_of, gauge_state, port_is_open
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
from station.core.proposals import propose
from station.core.selfwatch import take_station_fact
from station.core.settings import Settings
from station.core.state import DiverState, GaugeState, PortState, State
from station.core.timekeeping import phase_of

Outcome = tuple[State, tuple[Fact, ...]]


def initial_state(settings: Settings, utc_epoch_ns: int) -> State:
    """The state before the first arrival: nothing heard, nobody left the surface."""
    return State(
        settings,
        utc_epoch_ns,
        ports=tuple(PortState(name) for name in ports_of(settings.gauges)),
        gauges=tuple(GaugeState(gauge.name) for gauge in settings.gauges),
        divers=tuple(
            DiverState(
                diver.name,
                planned_depth_fsw=diver.planned_depth_fsw,
                planned_bottom_min=diver.planned_bottom_min,
            )
            for diver in settings.divers
        ),
    )


def fold(state: State, arrived: Input, seq: int) -> Outcome:
    """The state after the input numbered `seq`, and the facts that it brought.

    State time never runs back: an input with an older instant is taken at the present one.
    Raises ValueError when `seq` does not follow; a mistake of ours, not trouble on a line.
    """
    if seq != state.seq + 1:
        raise ValueError(f"arrival {seq} does not follow {state.seq}")
    before = state
    state = replace(state, seq=seq, now=Instant(max(state.now, arrived.at)))
    match arrived:
        case Tick():
            state, facts = _tick(state)
        case Heard():
            state, facts = _heard(state, arrived), ()
        case PortFault():
            state, facts = _port_fault(state, arrived), ()
        case OperatorEvent():
            state, facts = take_event(state, arrived)
        case StationFact():
            state, facts = take_station_fact(state, arrived)
        case ConfigurationChanged():
            state, facts = _configured(state, arrived), ()
        case _:
            assert_never(arrived)
    return state, (*facts, *_phases(before, state))


def _tick(state: State) -> Outcome:
    state, trusted = _settled(state)
    state, proposed = _followed(state)
    state, alarmed = watch_all(state)
    return state, (*trusted, *proposed, *alarmed)


def _settled(state: State) -> Outcome:
    parameters, before = state.settings.parameters, state.gauges
    gauges = tuple(
        settle(gauge, heard, port_is_open(state, gauge.port), state.now, parameters)
        for gauge, heard in zip(state.settings.gauges, before, strict=True)
    )
    facts = tuple(
        TrustChanged(state.now, after.name, after.trust)
        for was, after in zip(before, gauges, strict=True)
        if was.trust is not after.trust
    )
    return replace(state, gauges=gauges), facts


def _followed(state: State) -> Outcome:
    divers: list[DiverState] = []
    facts: list[Fact] = []
    for diver in state.divers:
        gauge = gauge_of(state, Channel.DEPTH, diver.name)
        if gauge is not None:
            heard = gauge_state(state, gauge.name)
            diver = follow(diver, gauge, heard, state.now, state.settings.parameters)  # noqa: PLW2901
        proposed, found = propose(diver, state.now, state.settings.parameters)
        divers.append(proposed)
        facts.extend(found)
    return replace(state, divers=tuple(divers)), tuple(facts)


def _heard(state: State, heard: Heard) -> State:
    gauges = {gauge.name: gauge for gauge in state.gauges}
    for reading in heard.readings:
        gauges[reading.gauge] = hear(gauges[reading.gauge], reading, state.settings.parameters)
    for fault in heard.faults:
        blamed = [fault.gauge] if fault.gauge else _gauges_on(state, heard.port)
        for name in blamed:
            gauges[name] = blame(gauges[name], fault)
    ports = tuple(
        replace(port, pending=heard.pending) if port.name == heard.port else port for port in state.ports
    )
    return replace(state, gauges=tuple(gauges[gauge.name] for gauge in state.gauges), ports=ports)


def _gauges_on(state: State, port: str) -> list[str]:
    return [gauge.name for gauge in state.settings.gauges if gauge.port == port]


def _port_fault(state: State, fault: PortFault) -> State:
    """An opened port begins with an empty frame: what was pending belongs to the line before."""
    is_open = fault.kind is PortFaultKind.OPENED
    changed = PortState(
        fault.port, is_open, state.now, fault=None if is_open else fault.kind, detail=fault.detail
    )
    return replace(state, ports=tuple(changed if port.name == fault.port else port for port in state.ports))


def _configured(state: State, changed: ConfigurationChanged) -> State:
    settings = state.settings
    match changed.section:
        case LimitsChanged(parameters):
            return replace(state, settings=replace(settings, parameters=parameters))
        case GaugesChanged(gauges):
            if [(g.name, g.port) for g in gauges] != [(g.name, g.port) for g in settings.gauges]:
                raise ValueError("a change of gauges keeps their names, lines and order")
            return replace(state, settings=replace(settings, gauges=gauges))
        case _:
            assert_never(changed.section)


def _phases(before: State, after: State) -> tuple[Fact, ...]:
    if before.divers is after.divers:
        return ()
    return tuple(
        PhaseChanged(after.now, now.name, phase_of(now))
        for was, now in zip(before.divers, after.divers, strict=True)
        if was is not now and phase_of(was) is not phase_of(now)
    )
