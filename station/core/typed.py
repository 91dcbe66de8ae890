"""What people read and type, and when the next round is due. Rule D9.

A station with analogue gauges only, or one whose gauge has failed, is worked from typed readings: they are
marked M with their age, asked for in rounds, and enter tables and air like any other.
"""

from dataclasses import dataclass, replace
from math import isfinite

from shared.clock import seconds_between
from shared.gauges import Channel
from shared.units import NS_PER_S
from station.core.facts import Fact
from station.core.finding import gauge_of, gauge_state
from station.core.inputs import ManualDepth, ManualPressure, OperatorEvent
from station.core.known_depth import typed_gauge_fsw, with_deepest
from station.core.marking import refused
from station.core.phase import IN_WATER
from station.core.robust import kept, slope_per_min
from station.core.state import DiverState, Sample, State, Trust, TypedDepth, TypedPressures
from station.core.timekeeping import phase_of
from station.core.trust import age_s, is_heard

MOST_DEPTH_FSW = 400.0
"""Deeper than the printed corrections go no depth is taken: a slip of the pen."""

MOST_PRESSURE_PSIG = 10_000.0
"""More than any bank holds: a slip of the pen. Own choice."""


def type_depth(
    state: State, diver: DiverState, event: OperatorEvent, act: ManualDepth
) -> tuple[DiverState, tuple[Fact, ...]]:
    """The diver after somebody typed his depth; in the water it is a depth of the dive."""
    if not (isfinite(act.depth_fsw) and 0 <= act.depth_fsw <= MOST_DEPTH_FSW):
        return diver, refused(event, f"a depth lies between 0 and {MOST_DEPTH_FSW:g} fsw")
    p = state.settings.parameters
    typed = TypedDepth(state.now, act.depth_fsw, act.read_by, event.by)
    diver = replace(diver, typed=typed)
    phase = phase_of(diver)
    if phase not in IN_WATER:
        return diver, ()
    gauge_fsw, before = typed_gauge_fsw(typed), diver.deepest_read_fsw
    diver = replace(diver, deepest_read_fsw=gauge_fsw if before is None else max(before, gauge_fsw))
    if diver.shown_fsw is None:
        history = (*kept(diver.history, state.now, p.history_s), Sample(state.now, gauge_fsw))
        diver = replace(diver, history=history)
    return with_deepest(diver, phase), ()


def type_pressure(state: State, event: OperatorEvent, act: ManualPressure) -> tuple[State, tuple[Fact, ...]]:
    """The station after somebody typed the pressure of a manifold or a bank; the last hour is kept."""
    reason = _why_not(state, act)
    if reason:
        return state, refused(event, reason)
    sample, place = Sample(state.now, act.pressure_psig), (act.channel, act.subject)
    before = next((each for each in state.typed if (each.channel, each.subject) == place), None)
    readings = () if before is None else before.readings
    recent = (*kept(readings, state.now, state.settings.parameters.typed_kept_s), sample)
    others = tuple(each for each in state.typed if each is not before)
    return replace(state, typed=(*others, TypedPressures(*place, recent, event.by))), ()


def _why_not(state: State, act: ManualPressure) -> str:
    if act.channel is Channel.DEPTH:
        return "a depth is typed as a depth"
    known = state.settings.supplies if act.channel is Channel.BANK else state.settings.divers
    if all(each.name != act.subject for each in known):
        return f"there is no {'supply' if act.channel is Channel.BANK else 'diver'} {act.subject!r} here"
    if not (isfinite(act.pressure_psig) and 0 <= act.pressure_psig <= MOST_PRESSURE_PSIG):
        return f"a pressure lies between 0 and {MOST_PRESSURE_PSIG:g} psig"
    return ""


@dataclass(frozen=True, slots=True)
class Pressure:
    """A pressure in psig by its gauge, or as it was typed (`typed`); None is not known.

    `trust` and `age_s` are of the gauge, of a typed one its own; `last_psig` is the gauge's last however old,
    `trend_psi_min` positive when it rises.
    """

    psig: float | None
    trust: Trust
    age_s: float | None
    last_psig: float | None
    trend_psi_min: float | None
    typed: bool = False


def pressure_of(state: State, channel: Channel, subject: str) -> Pressure:
    """The pressure of a diver's manifold or a supply's bank: the gauge's while it is heard, else as typed.

    A typed one is held for a round and as long again; then it is stale.
    """
    gauge = gauge_of(state, channel, subject)
    heard = None if gauge is None else gauge_state(state, gauge.name)
    typed = next((each for each in state.typed if (each.channel, each.subject) == (channel, subject)), None)
    if typed is None or (heard is not None and is_heard(heard.trust)):
        if heard is None:
            return Pressure(None, Trust.LOST, None, None, None)
        last = None if heard.last is None else heard.last.value
        trust = Trust.SUSPECT if heard.frozen and is_heard(heard.trust) else heard.trust
        return Pressure(heard.shown, trust, age_s(heard, state.now), last, heard.trend_per_min)
    last_typed = typed.readings[-1]
    age = seconds_between(last_typed.at, state.now)
    fresh = age <= 2 * state.settings.parameters.typed_round_s
    return Pressure(
        last_typed.value if fresh else None,
        Trust.GOOD if fresh else Trust.STALE,
        age,
        last_typed.value,
        _trend(typed.readings) if fresh else None,
        typed=True,
    )


def _trend(readings: tuple[Sample, ...]) -> float | None:
    return slope_per_min([((sample.at - readings[0].at) / NS_PER_S, sample.value) for sample in readings])


def depth_is_typed(state: State, diver: DiverState) -> bool:
    """Whether a diver's depth must be read by hand: he has no gauge, or it is silent or not to be trusted."""
    gauge = gauge_of(state, Channel.DEPTH, diver.name)
    if gauge is None or diver.gauges_differ:
        return True
    heard = gauge_state(state, gauge.name)
    return heard.frozen or not is_heard(heard.trust)


def typed_age_s(state: State, diver: DiverState) -> float | None:
    """Seconds since a diver's depth was last typed, None when it never was in this dive."""
    return None if diver.typed is None else seconds_between(diver.typed.at, state.now)
