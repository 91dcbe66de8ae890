"""From the pump to the horns and back: each state's wish, and whether anything can be heard."""

from collections.abc import Iterable, Iterator

from shared.clock import Instant
from station.core.alarms.sounding import sounding
from station.core.facts import Fact
from station.core.inputs import Arrival, OperatorEvent, StationFact, StationFactKind, Tick
from station.core.state import State
from station.sound.horn import Horn


class SoundListener:
    """Tells every horn the wish of each new state; on the pump's thread, and never waits."""

    def __init__(self, horns: Iterable[Horn]) -> None:
        self._horns = tuple(horns)

    def __call__(self, state: State, arrival: Arrival, _: tuple[Fact, ...]) -> None:
        """Leave the newest wish."""
        if isinstance(arrival, Tick | OperatorEvent):
            wish = sounding(state)
            for horn in self._horns:
                horn.wish(wish)


class SoundObserver:
    """Tells when no horn can be heard, and when one can again; each change once.

    With a horn on a relay as well as a loudspeaker either of them will do; which of them is gone is told in
    the detail.
    """

    def __init__(self, horns: Iterable[Horn]) -> None:
        self._horns = tuple(horns)
        self._told: tuple[StationFactKind, str] | None = None

    def __call__(self, now: Instant) -> Iterator[StationFact]:
        """What has changed with the horns since the last look."""
        found = self._found()
        if found != self._told:
            self._told = found
            kind, detail = found
            yield StationFact(now, kind, None, detail)

    def _found(self) -> tuple[StationFactKind, str]:
        troubles = [horn.trouble for horn in self._horns]
        if all(troubles):
            return StationFactKind.SOUND_LOST, "; ".join(troubles)
        words = (trouble or horn.device for horn, trouble in zip(self._horns, troubles, strict=True))
        return StationFactKind.SOUND_BACK, "; ".join(words)
