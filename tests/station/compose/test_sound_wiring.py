"""From an alarm of the core to what is played: listener, horn and observer wired as a run wires them."""

from dataclasses import replace

from shared.clock import EPOCH, Instant
from station.compose.sound import Sound, sound_for
from station.core.alarms.sounding import Pattern
from station.core.fold import initial_state
from station.core.inputs import StationFactKind, Tick
from station.core.settings import HornSettings, Settings, Units
from station.core.state import AlarmState, Standing
from station.sound.following import SoundListener, SoundObserver
from station.sound.horn import Horn
from station.sound.recorder import Recorder

PATIENCE_S = 20.0


def test_a_run_that_nobody_listens_to_has_no_horn() -> None:
    """Headless without being asked: no thread, no fact, no alarm."""
    assert sound_for(wanted=False, relay=None, seconds=lambda: 0.0) == Sound()


def test_a_relay_sounds_without_windows_too_and_its_trouble_is_told() -> None:
    """The station file names a line that is not there: no horn can be heard, and that is a fact."""
    line = HornSettings("serial:///dev/no-such-line")
    sound = sound_for(wanted=False, relay=line, seconds=lambda: 0.0)
    with sound.opened():
        (observer,) = sound.observers
        (fact,) = observer(EPOCH)
    assert fact.kind is StationFactKind.SOUND_LOST
    assert "serial:///dev/no-such-line" in fact.detail


def test_an_alarm_of_the_core_is_played_and_its_acknowledgement_ends_it() -> None:
    """The pump's listener hands the wish over at each tick; nothing is decided on the way."""
    recorder = Recorder()
    horn = Horn(recorder, "horn")
    sound = Sound((SoundListener([horn]),), (SoundObserver([horn]),), (horn,))
    calm = initial_state(Settings("Lock", "", "", Units.US, (), (), ()), 0)
    raised = AlarmState("log-not-durable", "Station", Standing.UNACKNOWLEDGED, Instant(5), occurrence=1)
    seen = replace(raised, standing=Standing.ACKNOWLEDGED)
    with sound.opened():
        (listener,) = sound.listeners
        for count, alarms in enumerate([(), (raised,), (seen,)], 1):
            listener(replace(calm, alarms=alarms), Tick(Instant(6)), ())
            assert recorder.wait_played(count, PATIENCE_S)
    assert [pattern for pattern, _ in recorder.played] == [Pattern.SILENT, Pattern.ALARM, Pattern.SILENT]
    assert recorder.closed == 1
