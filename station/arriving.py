"""Where arrivals come from while a station watches: one queue that every thread only puts into.

The order in which the pump takes them is the truth. Ticks are ten a second of station time; after a stall
one tick carries the jump.
"""

from collections.abc import Callable, Iterable, Iterator
from queue import Empty, SimpleQueue
from typing import Final

from shared.clock import Clock, Instant
from shared.units import NS_PER_S
from station.core.inputs import Act, Arrival, OperatorEvent, StationFact, StationFactKind, Tick

TICK_NS: Final = NS_PER_S // 10
"""Station time between two ticks."""

Observer = Callable[[Instant], Iterable[StationFact]]
"""Looks at the station itself at a tick: its log, its clock, its windows."""


class Finish:
    """Asks the source to end in good order."""


class LiveArrivals:
    """What lines, people and the clock of a real station bring, in the order of coming."""

    def __init__(self, clock: Clock, observers: tuple[Observer, ...] = ()) -> None:
        self._clock = clock
        self._observers = observers
        self._queue: SimpleQueue[Arrival | BaseException | Finish] = SimpleQueue()

    def offer(self, arrival: Arrival) -> None:
        """Something arrived; from any thread."""
        self._queue.put(arrival)

    def press(self, by: str, seen_seq: int, act: Act) -> None:
        """Somebody pressed something; stamped now, from any thread."""
        self._queue.put(OperatorEvent(self._clock.now(), by, seen_seq, act))

    def crash(self, error: BaseException) -> None:
        """A thread failed by a mistake of ours: raised where the arrivals are taken."""
        self._queue.put(error)

    def finish(self) -> None:
        """End in good order after what has arrived so far; from any thread."""
        self._queue.put(Finish())

    def __iter__(self) -> Iterator[Arrival]:
        """Arrivals until `finish`; between them ticks. Raises what `crash` was given."""
        due = _next_tick(self._clock.now())
        while True:
            taken = self._take(due)
            match taken:
                case None:
                    now = self._clock.now()
                    yield from self._observed(now)
                    yield Tick(now)
                    due = _next_tick(now)
                case Finish():
                    yield StationFact(self._clock.now(), StationFactKind.FINISHED)
                    return
                case BaseException():
                    raise taken
                case _:
                    yield taken

    def _take(self, due: Instant) -> Arrival | BaseException | Finish | None:
        """The next of the queue, None when the tick is due first."""
        wait_s = (due - self._clock.now()) / NS_PER_S
        try:
            return self._queue.get(timeout=wait_s) if wait_s > 0 else None
        except Empty:
            return None

    def _observed(self, now: Instant) -> Iterator[StationFact]:
        for observer in self._observers:
            yield from observer(now)


def _next_tick(now: Instant) -> Instant:
    return Instant((now // TICK_NS + 1) * TICK_NS)
