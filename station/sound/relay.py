"""A horn or beacon on a relay: a plain signal of a serial line, shut and opened in time with the pattern."""

from collections.abc import Callable
from typing import Final, Protocol

from shared.ports import PortTrouble
from station.core.alarms.sounding import Pattern
from station.sound.annunciator import NoSound
from station.sound.patterns import RELAY_S

LEAST_WAIT_S: Final = 0.01


class Line(Protocol):
    """A signal that is set and taken back. Raises PortTrouble when the line cannot do it."""

    def set(self, on: bool) -> None:
        """Shut or open the relay."""
        ...

    def close(self) -> None:
        """Give the line back, the relay open."""
        ...


class Relay:
    """A relay as an annunciator; it has no volume."""

    def __init__(self, open_line: Callable[[], Line], name: str, seconds: Callable[[], float]) -> None:
        self._open_line = open_line
        self._name = name
        self._seconds = seconds
        self._line: Line | None = None
        self._pattern = Pattern.SILENT
        self._begun_s = 0.0
        self._on = False

    def open(self) -> str:
        """Take the line and try the signal. Raises NoSound: a line without it cannot carry a horn."""
        try:
            self._line = self._open_line()
            self._line.set(False)
        except PortTrouble as trouble:
            raise NoSound(f"horn on {self._name}: {trouble.detail}") from trouble
        self._on = False
        return f"relay on {self._name}"

    def play(self, pattern: Pattern, volume: int) -> None:
        """Begin a pattern."""
        self._pattern, self._begun_s = pattern, self._seconds()

    def step(self) -> float | None:
        """Set the signal as the pattern wants it now. Raises NoSound when the line is gone."""
        spans = RELAY_S.get(self._pattern)
        if spans is None:
            self._set(on=False)
            return None
        on_s, off_s = spans
        place_s = (self._seconds() - self._begun_s) % (on_s + off_s)
        self._set(on=place_s < on_s)
        return max(LEAST_WAIT_S, (on_s if place_s < on_s else on_s + off_s) - place_s)

    def _set(self, *, on: bool) -> None:
        if self._line is None or on is self._on:
            return
        try:
            self._line.set(on)
        except PortTrouble as trouble:
            raise NoSound(f"horn on {self._name}: {trouble.detail}") from trouble
        self._on = on

    def close(self) -> None:
        """Open the relay and give the line back."""
        if self._line is not None:
            self._line.close()
            self._line = None
