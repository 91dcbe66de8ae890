"""What the strip says of the horn, and what the status tells of it."""

from typing import Any

from shared.clock import Instant, seconds_between
from station.core.alarms.numbers import SOUND_TEST_S, VOLUME_FULL
from station.core.alarms.sounding import key_is_held, silence_left_s, sounding
from station.core.state import SoundOutput, State
from station.present.figures import span_text
from station.present.sentences import clock_text


def sound_words(state: State) -> str:
    """How the sound stands, in one line; what keeps it from being heard comes first."""
    sound = state.sound
    if sound.output is SoundOutput.OFF:
        return "This run has no horn"
    if sound.output is SoundOutput.LOST:
        return f"No sound output: {sound.detail}"
    if key_is_held(state):
        return "Horn dropped: comms key held"
    left_s = silence_left_s(state)
    if left_s is not None:
        return f"Silenced, sounds again in {span_text(left_s)}"
    tested = "Sound not tested" if sound.tested_at is None else _tested(state, sound.tested_at)
    return f"{tested}, volume {sound.volume} of {VOLUME_FULL}"


def _tested(state: State, at: Instant) -> str:
    if seconds_between(at, state.now) < SOUND_TEST_S:
        return "Sound under test"
    return f"Sound tested {clock_text(state, at)[:5]}"


def sound_status(state: State) -> dict[str, Any]:
    """The `sound` key of the status: output, what sounds, whether it is silenced or dropped."""
    left_s = silence_left_s(state)
    return {
        "output": state.sound.output.value,
        "detail": state.sound.detail,
        "sounding": sounding(state).pattern.value,
        "silenced": left_s is not None,
        "dropped": key_is_held(state),
        "volume": state.sound.volume,
    }
