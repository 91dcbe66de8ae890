"""An annunciator that makes no noise and remembers what it was asked to play: for tests and benches."""

from threading import Condition

from station.core.alarms.sounding import Pattern
from station.sound.annunciator import NoSound


class Recorder:
    """Remembers every pattern with its volume. `fault` is why it cannot be heard, "" when it can."""

    def __init__(self) -> None:
        self.fault = ""
        self.played: list[tuple[Pattern, int]] = []
        self.opened = 0
        self.closed = 0
        self._changed = Condition()

    def open(self) -> str:
        """Take the pretended device. Raises NoSound with the fault."""
        self._check()
        with self._changed:
            self.opened += 1
            self._changed.notify_all()
        return "recorder"

    def play(self, pattern: Pattern, volume: int) -> None:
        """Remember a pattern."""
        with self._changed:
            self.played.append((pattern, volume))
            self._changed.notify_all()

    def step(self) -> None:
        """Fail when it is told to."""
        self._check()

    def close(self) -> None:
        """Give the pretended device back."""
        with self._changed:
            self.closed += 1
            self._changed.notify_all()

    def wait_played(self, count: int, patience_s: float) -> bool:
        """Wait until so many patterns were played."""
        with self._changed:
            return self._changed.wait_for(lambda: len(self.played) >= count, patience_s)

    def wait_closed(self, count: int, patience_s: float) -> bool:
        """Wait until the device was given back so often."""
        with self._changed:
            return self._changed.wait_for(lambda: self.closed >= count, patience_s)

    def _check(self) -> None:
        if self.fault:
            raise NoSound(self.fault)
