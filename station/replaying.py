"""A log played again through the same pump, flat out or in time, from its beginning or from a moment."""

from collections.abc import Iterator

from shared.clock import EPOCH, Instant
from station.core.facts import Fact
from station.core.fold import initial_state
from station.core.inputs import Arrival
from station.core.state import State
from station.log.reading import LogReader
from station.log_books import books_for
from station.plain import Plain
from station.pump import Decode, Publish, Pump


class NoLedger:
    """Writes nothing: a replay leaves no record."""

    def append(self, seq: int, arrival: Arrival) -> None:
        """Nothing is written."""

    def derive(self, seq: int, fact: Fact) -> None:
        """Nothing is written."""

    def trace(self, seq: int, at: Instant, values: dict[str, Plain]) -> None:
        """Nothing is written."""

    def digest(self, seq: int, digest: str, keys: tuple[str, ...]) -> None:
        """Nothing is written."""

    def checkpoint(self, seq: int, state: State) -> None:
        """Nothing is written."""


class Playback:
    """One pass over a log. `publish` is told of every state from `start` on."""

    def __init__(self, reader: LogReader, decode: Decode, publish: Publish, start: Instant = EPOCH) -> None:
        self._reader = reader
        self._publish = publish
        kept = reader.last_checkpoint_before(Instant(start - 1)) if start > EPOCH else None
        header = reader.header
        first = initial_state(header.settings, header.utc_epoch_ns) if kept is None else kept.state
        self._start = start
        self._pump = Pump(first, decode, NoLedger(), self._tell, books_for(reader.path, header))
        self._arrivals: Iterator[tuple[int, Arrival]] = reader.arrivals(first.seq + 1)
        self._next = next(self._arrivals, None)
        self.play_until(start)

    @property
    def state(self) -> State:
        """The state as far as the log has been played."""
        return self._pump.state

    @property
    def ended(self) -> bool:
        """Whether the log has been played to its end."""
        return self._next is None

    @property
    def due_at(self) -> Instant | None:
        """The instant of the next arrival, None at the end."""
        return None if self._next is None else self._next[1].at

    def step(self) -> None:
        """Play one arrival. Raises IndexError at the end of the log."""
        if self._next is None:
            raise IndexError("the log is played to its end")
        self._pump.step(self._next[1])
        self._next = next(self._arrivals, None)

    def play_until(self, at: Instant) -> None:
        """Play every arrival that came before `at`."""
        while self._next is not None and self._next[1].at < at:
            self.step()

    def _tell(self, state: State, arrival: Arrival, facts: tuple[Fact, ...]) -> None:
        if state.now >= self._start:
            self._publish(state, arrival, facts)
