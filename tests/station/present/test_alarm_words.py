"""The strip and the status: order of the alarms, what is put aside, how the sound stands."""

from dataclasses import replace

import pytest

from shared.clock import Instant, after
from station.core.fold import initial_state
from station.core.settings import DiverSettings, Role, Settings, SupplySettings, Units
from station.core.state import AlarmState, Aside, OutGauge, SoundOutput, SoundState, Standing, State
from station.present.looks import Flash
from station.present.sentences import standing_alarms
from station.present.sound_words import sound_status, sound_words
from station.present.strips import alarm_strip

ONE, TWO = "Diver 1", "Diver 2"
NOW = Instant(3_600 * 10**9)
UNSEEN, SHELVED, OUT = Standing.UNACKNOWLEDGED, Standing.SHELVED, Standing.OUT_OF_SERVICE


def _station(*alarms: AlarmState, **more) -> State:
    divers = tuple(
        DiverSettings(name, "A. Reed", Role.DIVER, "demand-helmet", "primary") for name in (ONE, TWO)
    )
    settings = Settings("Lock", "", "M. Ost", Units.US, divers, (SupplySettings("primary", "A"),), ())
    return replace(initial_state(settings, 0), now=NOW, alarms=alarms, **more)


def _alarm(name: str, age_s: float, subject: str = ONE, standing: Standing = UNSEEN, **more) -> AlarmState:
    return AlarmState(name, subject, standing, after(NOW, -age_s), occurrence=1, **more)


def _order(state: State) -> list[tuple[str, str]]:
    return [(row.id, row.subject) for row in standing_alarms(state)]


ALARMS = (
    _alarm("depth-not-heard", 50, TWO),
    _alarm("supply-not-heard", 40, first_out=True),
    _alarm("depth-not-heard", 60),
    _alarm("deeper-than-planned", 20),
    _alarm("deeper-than-planned", 30, TWO),
    _alarm("supply-below-minimum", 10),
)


def test_without_a_flood_the_gravest_and_then_the_oldest() -> None:
    """By priority, then by age, whoever it is."""
    assert _order(_station(*ALARMS)) == [
        ("supply-below-minimum", ONE),
        ("deeper-than-planned", TWO),
        ("deeper-than-planned", ONE),
        ("depth-not-heard", ONE),
        ("depth-not-heard", TWO),
        ("supply-not-heard", ONE),
    ]


def test_in_a_flood_a_diver_stands_together_with_what_came_first_at_the_head() -> None:
    """The emergency stays above everything; the others of the diver follow at the place of their gravest."""
    assert _order(_station(*ALARMS, flooded=(ONE,))) == [
        ("supply-below-minimum", ONE),
        ("deeper-than-planned", TWO),
        ("supply-not-heard", ONE),
        ("deeper-than-planned", ONE),
        ("depth-not-heard", ONE),
        ("depth-not-heard", TWO),
    ]


def test_what_is_put_aside_stands_last_and_says_until_when_and_why() -> None:
    """Shelved with its time left, out of service to be read by hand; nothing there flashes or is pressed."""
    shelf = Aside(UNSEEN, "cable is being mended", "M. Ost", NOW, after(NOW, 300))
    out = Aside(UNSEEN, "cable cut", "M. Ost", NOW, None)
    state = _station(
        _alarm("deeper-than-planned", 5, standing=SHELVED, aside=shelf),
        _alarm("supply-not-heard", 5, standing=OUT, aside=out),
        _alarm("ascent-fast", 1),
        out_of_service=(OutGauge("supply-1", "cable cut", "M. Ost", NOW),),
    )
    strip = alarm_strip(state, "", "")
    assert [line.id for line in strip.lines] == ["ascent-fast", "deeper-than-planned", "supply-not-heard"]
    assert strip.lines[1].action == "Back in 5:00 min. Shelved by M. Ost: cable is being mended"
    assert strip.lines[2].action == "Read by hand. Out of service by M. Ost: cable cut"
    assert [line.to_acknowledge for line in strip.lines] == [True, False, False]
    assert [line.sign.flash for line in strip.lines] == [Flash.FAST, Flash.STEADY, Flash.STEADY]
    assert strip.aside == ("supply-1 out of service since 01:00, read by hand (M. Ost: cable cut)",)


def test_an_escalated_warning_counts_as_an_alarm_and_a_caution_does_not_flash() -> None:
    """The sign of what nobody saw is the graver one; a caution stands steady and is not pressed."""
    strip = alarm_strip(_station(_alarm("ascent-fast", 301, escalated_at=NOW), _alarm("row-soon", 9)), "", "")
    assert [line.word for line in strip.lines] == ["ALARM", "CAUTION"]
    assert [line.occurrence for line in strip.lines] == [1, 1]
    assert (strip.lines[1].sign.flash, strip.lines[1].to_acknowledge) == (Flash.STEADY, False)


GOOD = SoundState(SoundOutput.GOOD, "loudspeaker")
SHORT = _alarm("supply-below-minimum", 10)


@pytest.mark.parametrize(
    ("sound", "alarms", "words"),
    [
        (SoundState(), (), "This run has no horn"),
        (SoundState(SoundOutput.LOST, "unplugged"), (SHORT,), "No sound output: unplugged"),
        (GOOD, (), "Sound not tested, volume 8 of 10"),
        (replace(GOOD, tested_at=after(NOW, -5)), (), "Sound under test, volume 8 of 10"),
        (
            replace(GOOD, tested_at=after(NOW, -1800), volume=7),
            (),
            "Sound tested 00:30, volume 7 of 10",
        ),
        (replace(GOOD, silenced_at=after(NOW, -10)), (SHORT,), "Silenced, sounds again in 20 s"),
        (replace(GOOD, silenced_at=after(NOW, -10)), (), "Sound not tested, volume 8 of 10"),
        (replace(GOOD, key_since=after(NOW, -1)), (SHORT,), "Horn dropped: comms key held"),
    ],
)
def test_the_strip_says_how_the_sound_stands(sound, alarms, words) -> None:
    """What keeps it from being heard comes before when it was tested."""
    assert sound_words(_station(*alarms, sound=sound)) == words


def test_the_status_tells_output_and_silence() -> None:
    """Other programs see what sounds and what was done to it."""
    silenced = _station(SHORT, sound=replace(GOOD, silenced_at=after(NOW, -10)))
    assert sound_status(silenced) == {
        "output": "good",
        "detail": "loudspeaker",
        "sounding": "silent",
        "silenced": True,
        "dropped": False,
        "volume": 8,
    }
    assert sound_status(_station(SHORT))["sounding"] == "emergency"
