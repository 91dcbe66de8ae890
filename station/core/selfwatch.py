"""What the station finds out about itself: its log, its clock, its windows, the time it was off watch."""

from dataclasses import replace
from typing import assert_never

from shared.clock import after
from station.core.facts import Fact
from station.core.inputs import StationFact, StationFactKind
from station.core.state import Gap, LogHealth, PortState, Sample, SoundOutput, State


def take_station_fact(state: State, fact: StationFact) -> tuple[State, tuple[Fact, ...]]:
    """The state after something that the station found out about itself."""
    match fact.kind:
        case StationFactKind.STARTED | StationFactKind.FINISHED:
            return state, ()
        case StationFactKind.RESUMED:
            return _resumed(state, fact), ()
        case StationFactKind.LOG_BEHIND:
            since = after(state.now, -(fact.value or 0.0))
            return replace(state, log=LogHealth(since, state.log.failed)), ()
        case StationFactKind.LOG_FAILED:
            began = state.log.behind_since
            since = after(state.now, -(fact.value or 0.0)) if began is None else began
            return replace(state, log=LogHealth(since, fact.detail or "failed")), ()
        case StationFactKind.LOG_DURABLE:
            return replace(state, log=LogHealth()), ()
        case StationFactKind.CLOCK_STEPPED:
            return replace(state, clock_stepped=Sample(state.now, fact.value or 0.0)), ()
        case StationFactKind.PANELS_LOST:
            # A key that was held at a window that is gone is held no more.
            return replace(state, panels_lost=True, sound=replace(state.sound, key_since=None)), ()
        case StationFactKind.PANELS_BACK:
            return replace(state, panels_lost=False), ()
        case StationFactKind.SOUND_LOST:
            sound = replace(state.sound, output=SoundOutput.LOST, detail=fact.detail)
            return replace(state, sound=sound), ()
        case StationFactKind.SOUND_BACK:
            sound = replace(state.sound, output=SoundOutput.GOOD, detail=fact.detail)
            return replace(state, sound=sound), ()
        case StationFactKind.COPY_LOST | StationFactKind.COPY_KEPT:
            lost = fact.kind is StationFactKind.COPY_LOST
            since = after(state.now, -(fact.value or 0.0))
            return replace(state, copy_lost_since=since if lost else None), ()
        case _:
            assert_never(fact.kind)


def _resumed(state: State, fact: StationFact) -> State:
    """On watch again after `value` seconds; None is a gap that the wall clock cannot tell.

    Lines are shut until they are opened again. The arrival's own instant stands after the gap.
    """
    gap_s = fact.value
    gap = Gap(after(state.now, -(gap_s or 0.0)), state.now, gap_s is not None)
    ports = tuple(PortState(port.name, since=state.now) for port in state.ports)
    sound = replace(state.sound, output=SoundOutput.OFF, detail="", key_since=None)
    return replace(
        state,
        gaps=(*state.gaps, gap),
        ports=ports,
        log=LogHealth(),
        panels_lost=False,
        sound=sound,
        copy_lost_since=None,
    )
