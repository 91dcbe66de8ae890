"""What makes the noise: a loudspeaker, a relay, or a pretended one that only remembers."""

from typing import Protocol

from station.core.alarms.sounding import Pattern


class NoSound(Exception):  # noqa: N818 - a device that cannot be had, told to the crew
    """Nothing can be heard by this annunciator; the message says why."""


class Annunciator(Protocol):
    """One way to be heard. Only the thread of its horn calls it; it may block that thread and no other."""

    def open(self) -> str:
        """Take the device; what it is called. Raises NoSound."""
        ...

    def play(self, pattern: Pattern, volume: int) -> None:
        """Begin a pattern from its beginning, round and round, or be silent. Raises NoSound."""
        ...

    def step(self) -> float | None:
        """Go on with what is played; seconds until the next step, None when none is needed.

        Raises NoSound when the device is gone.
        """
        ...

    def close(self) -> None:
        """Be silent and give the device back; harmless when it is not open."""
        ...
