"""The loudspeaker by miniaudio, which may not be installed: the only file that knows it.

Its own thread asks for samples; a device that asks for none any more is gone, whatever it says. The system's
"null" output takes samples and makes no noise: it counts as no sound.
"""

import ctypes
import sys
from collections.abc import Callable, Generator
from functools import lru_cache
from importlib import import_module
from typing import Any, Final

import numpy as np

from station.core.alarms.sounding import Pattern
from station.sound.annunciator import NoSound
from station.sound.tones import SAMPLE_RATE_HZ, Pcm, gain_of, pcm

BUFFER_MS: Final = 60
"""Sound waits no longer than this in the device: own choice."""

DEAF_AFTER_S: Final = 3.0
"""A device that asks for no samples for so long is gone: own choice."""

NOT_INSTALLED: Final = "miniaudio is not installed (pip install overbottom[sound])"


class Reel:
    """Samples of the present pattern, handed out piece by piece, round and round."""

    def __init__(self) -> None:
        self._playing: tuple[Pcm, list[int]] = (pcm(Pattern.SILENT), [0])
        self.taken = 0

    def thread(self, pattern: Pattern, volume: int) -> None:
        """Begin a pattern; one assignment, so that the device's thread never sees half of it."""
        loud = pcm(pattern) * gain_of(volume)
        self._playing = (np.round(loud).astype(np.int16), [0])

    def take(self, count: int) -> bytes:
        """The next samples."""
        samples, place = self._playing
        self.taken += count
        if not len(samples):
            return bytes(2 * count)
        begin = place[0]
        place[0] = (begin + count) % len(samples)
        return samples.take(np.arange(begin, begin + count), mode="wrap").tobytes()

    def feed(self) -> Generator[bytes, int, None]:
        """What miniaudio asks: it sends a count and is given so many samples."""
        count = yield b""
        while True:
            count = yield self.take(count)


class Speaker:
    """The system's sound output."""

    def __init__(self, seconds: Callable[[], float]) -> None:
        self._seconds = seconds
        self._reel = Reel()
        self._device: Any = None
        self._taken = -1
        self._taken_at_s = 0.0

    def open(self) -> str:
        """Take the output. Raises NoSound when there is none, or only one that nobody hears."""
        try:
            miniaudio = import_module("miniaudio")
        except (ImportError, OSError) as error:
            raise NoSound(f"{NOT_INSTALLED}: {error}") from error
        quiet_alsa()
        for pattern in Pattern:
            pcm(pattern)  # made now, so that an alarm waits for no arithmetic
        try:
            self._device = miniaudio.PlaybackDevice(
                output_format=miniaudio.SampleFormat.SIGNED16,
                nchannels=1,
                sample_rate=SAMPLE_RATE_HZ,
                buffersize_msec=BUFFER_MS,
                app_name="Overbottom",
            )
            backend = str(self._device.backend)
            if backend.lower() == "null":
                raise NoSound("the system has no sound device")
            feed = self._reel.feed()
            next(feed)
            self._device.start(feed)
        except miniaudio.MiniaudioError as error:
            raise NoSound(f"the sound device cannot be had: {_words(error)}") from error
        self._taken, self._taken_at_s = -1, self._seconds()
        return backend

    def play(self, pattern: Pattern, volume: int) -> None:
        """Begin a pattern."""
        self._reel.thread(pattern, volume)

    def step(self) -> None:
        """Look whether the device still asks for samples. Raises NoSound when it does not."""
        now_s = self._seconds()
        if self._reel.taken != self._taken:
            self._taken, self._taken_at_s = self._reel.taken, now_s
        elif now_s - self._taken_at_s > DEAF_AFTER_S:
            raise NoSound("the sound device takes no samples any more")

    def close(self) -> None:
        """Give the output back."""
        if self._device is not None:
            self._device.close()
            self._device = None


_AlsaHandler: Final = ctypes.CFUNCTYPE(
    None, ctypes.c_char_p, ctypes.c_int, ctypes.c_char_p, ctypes.c_int, ctypes.c_char_p
)


_say_nothing: Final = _AlsaHandler(lambda *_: None)


@lru_cache(maxsize=1)
def quiet_alsa() -> None:
    """Keep ALSA from printing twenty lines on standard error at each try of a device that is not there."""
    if sys.platform != "linux":
        return
    try:
        alsa = ctypes.CDLL("libasound.so.2")
    except OSError:  # no ALSA, nothing to keep quiet
        return
    alsa.snd_lib_error_set_handler(_say_nothing)


def _words(error: Exception) -> str:
    return " ".join(str(part) for part in error.args)
