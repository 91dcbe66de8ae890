"""What people do to the horn: silence it, try it, set it, hold the comms key; nothing is seen by it."""

from dataclasses import replace
from typing import assert_never

from station.core.alarms.numbers import RESOUND_S, VOLUME_FLOOR, VOLUME_FULL
from station.core.alarms.sounding import Pattern, sounding
from station.core.facts import Fact, Refused
from station.core.inputs import CommsKey, OperatorEvent, SetVolume, Silence, SoundAct, SoundTest
from station.core.state import SoundOutput, State


def take_sound(state: State, event: OperatorEvent, act: SoundAct) -> tuple[State, tuple[Fact, ...]]:
    """The state after an act on the horn; one that cannot be taken is a fact with its reason."""
    why = _why_not(state, act)
    if why:
        return state, (Refused(event.at, type(act).__name__, why),)
    sound = state.sound
    match act:
        case Silence():
            sound = replace(sound, silenced_at=state.now)
        case SoundTest():
            sound = replace(sound, tested_at=state.now)
        case SetVolume(step):
            sound = replace(sound, volume=step)
        case CommsKey(down):
            # A key that repeats while it is held is held since its first press.
            held = state.now if sound.key_since is None else sound.key_since
            sound = replace(sound, key_since=held if down else None)
        case _:
            assert_never(act)
    return replace(state, sound=sound), ()


def _why_not(state: State, act: SoundAct) -> str:
    match act:
        case Silence():
            nothing = sounding(state).pattern in (Pattern.SILENT, Pattern.TEST)
            return f"nothing sounds that could be silenced for {RESOUND_S:g} s" if nothing else ""
        case SoundTest():
            return "" if state.sound.output is SoundOutput.GOOD else _no_output(state)
        case SetVolume(step):
            kept = VOLUME_FLOOR <= step <= VOLUME_FULL
            return "" if kept else f"the volume goes from {VOLUME_FLOOR} to {VOLUME_FULL}, not to {step}"
        case CommsKey():
            return ""
        case _:
            assert_never(act)


def _no_output(state: State) -> str:
    if state.sound.output is SoundOutput.OFF:
        return "this run has no horn"
    return f"there is no sound output: {state.sound.detail}"
