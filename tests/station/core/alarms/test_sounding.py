"""What is heard: the gravest that is not seen; silenced for 30 s, dropped while the comms key is held."""

import pytest

from station.core.alarms.numbers import RESOUND_S, VOLUME_FLOOR, VOLUME_FULL
from station.core.alarms.sounding import Pattern, Wish, silence_left_s, sounding
from station.core.alarms.watched import STATION
from station.core.facts import AlarmEscalated, Refused
from station.core.inputs import (
    Acknowledge,
    CommsKey,
    MarkKind,
    SetVolume,
    Silence,
    SoundTest,
    StationFactKind,
)
from station.core.state import VOLUME_AT_START, Priority, SoundOutput, Standing

ONE, TWO = "Diver 1", "Diver 2"


@pytest.fixture(name="watch")
def _watch(new_watch):
    """A calm watch with a horn that can be heard."""
    begun = new_watch(every_s=0.5, step_s=0.5)
    begun.run(2)
    begun.fact(StationFactKind.SOUND_BACK, detail="loudspeaker")
    return begun


def _pattern(watch) -> Pattern:
    return sounding(watch.state).pattern


def _log_fails(watch) -> None:
    watch.fact(StationFactKind.LOG_FAILED, detail="disk full")
    watch.run(0.5)


def _short(watch, diver: str = ONE) -> None:
    watch.mark(MarkKind.LEFT_SURFACE, diver)
    watch.supply(90.0, diver)
    watch.run(4)


def _reason(facts) -> str:
    (fact,) = facts
    assert isinstance(fact, Refused)
    return fact.reason


def test_the_gravest_is_heard_and_each_is_seen_alone(watch) -> None:
    """Warning, then alarm, then emergency; seen one by one from the top, the next is heard."""
    watch.depth(None, TWO)
    watch.run(3)
    assert _pattern(watch) is Pattern.WARNING
    _log_fails(watch)
    assert _pattern(watch) is Pattern.ALARM
    _short(watch)
    assert _pattern(watch) is Pattern.EMERGENCY
    watch.act(Acknowledge("supply-below-minimum", ONE))
    assert _pattern(watch) is Pattern.ALARM
    watch.act(Acknowledge("log-not-durable", STATION))
    assert _pattern(watch) is Pattern.WARNING
    watch.act(Acknowledge("depth-not-heard", TWO))
    assert _pattern(watch) is Pattern.SILENT


def test_a_second_alarm_of_the_same_priority_begins_the_pattern_anew(watch) -> None:
    """Its raise is heard though another sounds already."""
    _log_fails(watch)
    first = sounding(watch.state)
    watch.run(2)
    assert sounding(watch.state) == first
    watch.fact(StationFactKind.PANELS_LOST)
    watch.run(0.5)
    second = sounding(watch.state)
    assert (second.pattern, second.since) == (Pattern.ALARM, watch.now)
    assert second.since > first.since


def test_silence_is_no_acknowledgement_and_ends_after_30_s(watch) -> None:
    """Silent for 30 s and not longer; the alarm stands unacknowledged all the while."""
    _short(watch)
    watch.act(Silence())
    assert RESOUND_S == 30
    for _ in range(59):
        assert _pattern(watch) is Pattern.SILENT
        assert watch.standing("supply-below-minimum") is Standing.UNACKNOWLEDGED
        watch.run(0.5)
    assert silence_left_s(watch.state) == pytest.approx(0.5)
    pressed = watch.state.sound.silenced_at
    watch.run(0.5)
    assert (_pattern(watch), sounding(watch.state).since) == (Pattern.EMERGENCY, pressed)
    assert silence_left_s(watch.state) is None


def test_what_comes_during_a_silence_is_heard(watch) -> None:
    """The silence is for what sounded when it was pressed; even a lesser alarm breaks it."""
    _short(watch)
    watch.act(Silence())
    _log_fails(watch)
    assert _pattern(watch) is Pattern.ALARM
    watch.act(Silence())
    assert _pattern(watch) is Pattern.SILENT


def test_silence_with_nothing_to_silence_is_refused(watch) -> None:
    """It cannot be pressed beforehand, nor lengthened while it is silent."""
    assert "nothing sounds" in _reason(watch.act(Silence()))
    _log_fails(watch)
    watch.act(Silence())
    assert "nothing sounds" in _reason(watch.act(Silence()))


def test_a_warning_that_nobody_sees_is_an_alarm_after_five_minutes(watch) -> None:
    """Told once, heard as an alarm, and so until it is seen; the log has the fact."""
    watch.depth(None, TWO)
    watch.run(3)
    raised = watch.alarm("depth-not-heard", TWO).since
    watch.run((300 * 10**9 - (watch.now - raised)) / 1e9 - 0.5)
    assert _pattern(watch) is Pattern.WARNING
    facts = watch.run(0.5)
    assert AlarmEscalated(watch.now, "depth-not-heard", TWO, Priority.ALARM) in facts
    assert (sounding(watch.state).pattern, sounding(watch.state).since) == (Pattern.ALARM, watch.now)
    assert not [fact for fact in watch.run(10) if isinstance(fact, AlarmEscalated) and fact.subject == TWO]
    watch.act(Acknowledge("depth-not-heard", TWO))
    assert watch.standing("depth-not-heard", TWO) is Standing.ACKNOWLEDGED


def test_a_seen_warning_is_not_escalated(watch) -> None:
    """Acknowledged, it stays a warning however long it stands."""
    watch.depth(None, TWO)
    watch.run(3)
    watch.act(Acknowledge("depth-not-heard", TWO))
    watch.run(310, step_s=1.0)
    assert watch.alarm("depth-not-heard", TWO).escalated_at is None


def test_the_horn_drops_while_the_comms_key_is_held(watch) -> None:
    """Held, nothing is heard; let go, the same pattern goes on. A repeating key is one press."""
    _short(watch)
    watch.act(CommsKey(down=True))
    assert sounding(watch.state).dropped
    since = watch.state.sound.key_since
    watch.run(2)
    watch.act(CommsKey(down=True))
    assert watch.state.sound.key_since == since
    watch.act(CommsKey(down=False))
    assert not sounding(watch.state).dropped
    assert _pattern(watch) is Pattern.EMERGENCY


def test_a_stuck_key_does_not_keep_the_horn_down(watch) -> None:
    """After a minute it is taken for stuck; with lost windows nobody holds it."""
    watch.act(CommsKey(down=True))
    watch.run(59.5)
    assert sounding(watch.state).dropped
    watch.run(0.5)
    assert not sounding(watch.state).dropped
    watch.act(CommsKey(down=False))
    watch.act(CommsKey(down=True))
    watch.fact(StationFactKind.PANELS_LOST)
    assert not sounding(watch.state).dropped


@pytest.mark.parametrize("step", [VOLUME_FLOOR - 1, 0, -1, VOLUME_FULL + 1])
def test_the_volume_has_a_floor_and_a_top(watch, step) -> None:
    """No step makes the horn silent."""
    assert "the volume goes from 4 to 10" in _reason(watch.act(SetVolume(step)))
    assert sounding(watch.state) == Wish(volume=VOLUME_AT_START)
    watch.act(SetVolume(VOLUME_FLOOR))
    assert sounding(watch.state).volume == VOLUME_FLOOR


def test_the_sound_is_tested_and_an_alarm_comes_first(watch) -> None:
    """Ten seconds of test; an alarm that comes meanwhile is heard instead."""
    watch.act(SoundTest())
    assert _pattern(watch) is Pattern.TEST
    _log_fails(watch)
    assert _pattern(watch) is Pattern.ALARM
    watch.act(Acknowledge("log-not-durable", STATION))
    watch.run(9)
    assert _pattern(watch) is Pattern.TEST
    watch.run(0.5)
    assert _pattern(watch) is Pattern.SILENT


def test_a_horn_that_is_not_there_is_not_tested(watch) -> None:
    """No test passes without an output; the reason says what is wrong."""
    watch.fact(StationFactKind.SOUND_LOST, detail="unplugged")
    assert "no sound output: unplugged" in _reason(watch.act(SoundTest()))
    watch.run(0.5)
    assert watch.standing("no-sound", STATION) is Standing.UNACKNOWLEDGED
    watch.fact(StationFactKind.RESUMED, 3.0)
    assert watch.state.sound.output is SoundOutput.OFF
    assert "no horn" in _reason(watch.act(SoundTest()))
