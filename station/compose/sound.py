"""The horns of one run: the loudspeaker, the relay where the station file names one, or none."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Final

from drivers.horn_line import open_horn
from station.arriving import Observer
from station.core.settings import HornSettings
from station.pump import Publish
from station.sound.following import SoundListener, SoundObserver
from station.sound.horn import Horn
from station.sound.relay import Relay
from station.sound.speaker import Speaker

OPEN_PATIENCE_S: Final = 2.0
CLOSE_PATIENCE_S: Final = 1.0
"""How long the horns may take to be opened before the watch begins, and to fall silent: own choice."""


@dataclass(frozen=True, slots=True)
class Sound:
    """What the run is wired with: listeners of the pump, observers of the source."""

    listeners: tuple[Publish, ...] = ()
    observers: tuple[Observer, ...] = ()
    horns: tuple[Horn, ...] = field(default=())

    @contextmanager
    def opened(self) -> Iterator[None]:
        """The horns, for as long as the run lasts."""
        for horn in self.horns:
            horn.start()
        for horn in self.horns:
            horn.wait_tried(OPEN_PATIENCE_S)
        try:
            yield
        finally:
            for horn in self.horns:
                horn.close(CLOSE_PATIENCE_S)


def sound_for(*, wanted: bool, relay: HornSettings | None, seconds: Callable[[], float]) -> Sound:
    """The horns that a run needs; a run that nobody listens to has none.

    A relay of the station file sounds without windows too: it is why somebody put it there.
    """
    horns = [Horn(Speaker(seconds), "sound")] if wanted else []
    if relay is not None:
        port, signal = relay.port, relay.signal.value
        horns.append(Horn(Relay(lambda: open_horn(port, signal), port, seconds), "horn relay"))
    if not horns:
        return Sound()
    return Sound((SoundListener(horns),), (SoundObserver(horns),), tuple(horns))
