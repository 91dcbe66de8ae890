"""The horn's thread: the newest wish, no waiting for the device, trouble told and tried again."""

from threading import Event

import pytest

from shared.clock import EPOCH, Instant
from station.core.alarms.sounding import Pattern, Wish
from station.core.inputs import StationFactKind
from station.sound import horn as horn_module
from station.sound.annunciator import NoSound
from station.sound.following import SoundObserver
from station.sound.horn import Horn
from station.sound.recorder import Recorder

PATIENCE_S = 20.0


@pytest.fixture(name="recorder")
def _recorder():
    """A pretended device that can be heard."""
    return Recorder()


@pytest.fixture(name="horn")
def _horn(recorder, monkeypatch):
    """A horn that follows and ends with the test."""
    monkeypatch.setattr(horn_module, "TRY_AGAIN_S", 0.01)
    monkeypatch.setattr(horn_module, "LOOK_EVERY_S", 0.01)
    horn = Horn(recorder, "horn under test")
    horn.start()
    assert horn.wait_tried(PATIENCE_S)
    yield horn
    horn.close(PATIENCE_S)


def _wish(pattern: Pattern, since: int = 1, volume: int = 8, *, dropped: bool = False) -> Wish:
    return Wish(pattern, Instant(since), volume, dropped)


def test_wishes_are_played_and_the_same_wish_is_not_begun_again(horn, recorder) -> None:
    """Silence first; alarm; a later alarm begins anew; the comms key drops it; let go it is back."""
    assert recorder.wait_played(1, PATIENCE_S)
    for count, wish in enumerate(
        [
            _wish(Pattern.ALARM),
            _wish(Pattern.ALARM, 2),
            _wish(Pattern.ALARM, 2, dropped=True),
            _wish(Pattern.ALARM, 2),
            _wish(Pattern.EMERGENCY, 3, 10),
        ],
        2,
    ):
        horn.wish(wish)
        horn.wish(wish)
        assert recorder.wait_played(count, PATIENCE_S)
    assert recorder.played == [
        (Pattern.SILENT, 0),
        (Pattern.ALARM, 8),
        (Pattern.ALARM, 8),
        (Pattern.SILENT, 8),
        (Pattern.ALARM, 8),
        (Pattern.EMERGENCY, 10),
    ]
    assert (horn.trouble, horn.device) == ("", "recorder")


def test_a_device_that_goes_is_told_and_comes_back(horn, recorder) -> None:
    """Unplugged, the trouble is named; plugged in again, the standing alarm sounds from its beginning."""
    horn.wish(_wish(Pattern.EMERGENCY))
    assert recorder.wait_played(2, PATIENCE_S)
    observer = SoundObserver([horn])
    assert [fact.kind for fact in observer(EPOCH)] == [StationFactKind.SOUND_BACK]
    assert list(observer(EPOCH)) == []
    recorder.fault = "unplugged"
    assert recorder.wait_closed(2, PATIENCE_S)
    (lost,) = observer(EPOCH)
    assert (lost.kind, lost.detail) == (StationFactKind.SOUND_LOST, "unplugged")
    before = len(recorder.played)
    recorder.fault = ""
    assert recorder.wait_played(before + 1, PATIENCE_S)
    assert recorder.played[-1] == (Pattern.EMERGENCY, 8)
    (back,) = observer(EPOCH)
    assert (back.kind, back.detail) == (StationFactKind.SOUND_BACK, "recorder")


class Stuck(Recorder):
    """A device that does not come back from playing until it is let go."""

    def __init__(self) -> None:
        super().__init__()
        self.entered = Event()
        self.let_go = Event()

    def play(self, pattern: Pattern, volume: int) -> None:
        """Hang on the first alarm."""
        super().play(pattern, volume)
        if pattern is Pattern.WARNING:
            self.entered.set()
            assert self.let_go.wait(PATIENCE_S)


def test_a_device_that_hangs_holds_up_nobody_and_then_plays_the_newest(monkeypatch) -> None:
    """A thousand wishes go by while it hangs; of them only the last is played."""
    monkeypatch.setattr(horn_module, "LOOK_EVERY_S", 0.01)
    stuck = Stuck()
    horn = Horn(stuck, "stuck horn")
    horn.start()
    horn.wish(_wish(Pattern.WARNING))
    assert stuck.entered.wait(PATIENCE_S)
    before = len(stuck.played)
    for since in range(1000):
        horn.wish(_wish(Pattern.ALARM, since))
    horn.wish(_wish(Pattern.EMERGENCY, 1001))
    stuck.let_go.set()
    assert stuck.wait_played(before + 1, PATIENCE_S)
    assert stuck.played[before] == (Pattern.EMERGENCY, 8)
    horn.close(PATIENCE_S)


class Broken(Recorder):
    """An annunciator with a mistake in it."""

    def play(self, pattern: Pattern, volume: int) -> None:
        """A mistake of the program, not trouble of a device."""
        raise ZeroDivisionError


@pytest.mark.filterwarnings("ignore::pytest.PytestUnhandledThreadExceptionWarning")
def test_a_mistake_of_the_program_is_no_silence_that_looks_healthy() -> None:
    """The thread ends loudly, and the horn says so."""
    broken = Broken()
    horn = Horn(broken, "broken horn")
    horn.start()
    assert broken.wait_closed(1, PATIENCE_S)
    horn._thread.join(PATIENCE_S)
    assert "mistake of the program" in horn.trouble
    (lost,) = SoundObserver([horn])(EPOCH)
    assert lost.kind is StationFactKind.SOUND_LOST


def test_one_of_two_horns_is_enough_and_the_other_is_named(horn, recorder, monkeypatch) -> None:
    """Loudspeaker gone, relay heard: sound is back, with both told."""
    silent = Recorder()
    silent.fault = "no device"
    other = Horn(silent, "other horn")
    other.start()
    assert other.wait_tried(PATIENCE_S)
    (fact,) = SoundObserver([other, horn])(EPOCH)
    assert (fact.kind, fact.detail) == (StationFactKind.SOUND_BACK, "no device; recorder")
    other.close(PATIENCE_S)


def test_no_sound_bears_its_reason() -> None:
    """The message is what the crew reads."""
    recorder = Recorder()
    recorder.fault = "unplugged"
    with pytest.raises(NoSound, match="unplugged"):
        recorder.open()
