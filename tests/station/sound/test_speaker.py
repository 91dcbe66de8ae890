"""The loudspeaker: samples round and round, and every way of having none told as no sound."""

import sys
from types import SimpleNamespace

import numpy as np
import pytest

from station.core.alarms.sounding import Pattern
from station.sound.annunciator import NoSound
from station.sound.speaker import Reel, Speaker
from station.sound.tones import gain_of, pcm


class MiniaudioError(Exception):
    """What the library raises."""


class Device:
    """A device of the pretended library."""

    def __init__(self, backend: str, fails: str = "") -> None:
        self.backend, self._fails, self.closed, self.feed = backend, fails, False, None

    def start(self, feed) -> None:
        """Begin to ask for samples."""
        if self._fails:
            raise MiniaudioError(self._fails, -401)
        self.feed = feed

    def close(self) -> None:
        """Given back."""
        self.closed = True


def _library(monkeypatch, device) -> None:
    """Put a pretended library in the place of the real one."""

    def make(**_):
        if isinstance(device, Exception):
            raise device
        return device

    library = SimpleNamespace(
        PlaybackDevice=make, SampleFormat=SimpleNamespace(SIGNED16=2), MiniaudioError=MiniaudioError
    )
    monkeypatch.setitem(sys.modules, "miniaudio", library)


def test_a_library_that_is_not_there_is_no_sound(monkeypatch) -> None:
    """Told with what to install."""
    monkeypatch.setitem(sys.modules, "miniaudio", None)
    with pytest.raises(NoSound, match="not installed"):
        Speaker(lambda: 0.0).open()


@pytest.mark.parametrize(
    ("device", "why"),
    [
        (Device("Null"), "no sound device"),
        (MiniaudioError("failed to init device", -401), "failed to init device -401"),
        (Device("ALSA", "failed to start audio device"), "failed to start"),
    ],
)
def test_no_device_and_the_null_device_are_no_sound(monkeypatch, device, why) -> None:
    """What takes samples and makes no noise counts as nothing; it is closed again."""
    _library(monkeypatch, device)
    speaker = Speaker(lambda: 0.0)
    with pytest.raises(NoSound, match=why):
        speaker.open()
    speaker.close()
    assert not isinstance(device, Device) or device.closed


def test_a_device_that_asks_for_nothing_any_more_is_gone(monkeypatch) -> None:
    """As long as it takes samples it is well; three seconds without, it is not."""
    device, now = Device("ALSA"), [0.0]
    _library(monkeypatch, device)
    speaker = Speaker(lambda: now[0])
    assert speaker.open() == "ALSA"
    speaker.play(Pattern.ALARM, 10)
    for now[0] in (1.0, 2.0, 9.0):
        assert np.frombuffer(device.feed.send(480), np.int16).any()
        speaker.step()
    now[0] = 12.0
    speaker.step()
    now[0] = 12.1
    with pytest.raises(NoSound, match="takes no samples"):
        speaker.step()


def test_samples_go_round_from_the_beginning_at_their_volume() -> None:
    """Piece by piece, over the end and on; another pattern begins at its beginning."""
    reel = Reel()
    assert not any(reel.take(100))
    reel.thread(Pattern.EMERGENCY, 4)
    whole = pcm(Pattern.EMERGENCY)
    pieces, total = [], 0
    while total < 2 * len(whole):
        pieces.append(np.frombuffer(reel.take(3001), np.int16))
        total += 3001
    heard = np.concatenate(pieces)
    expected = np.round(np.resize(whole, len(heard)) * gain_of(4)).astype(np.int16)
    assert np.array_equal(heard, expected)
    reel.thread(Pattern.ALARM, 10)
    assert np.array_equal(np.frombuffer(reel.take(5000), np.int16), pcm(Pattern.ALARM)[:5000])
