"""Live arrivals: one queue, ten ticks a second of station time, a clock under the test's hand."""

import pytest

from shared.arrivals import Received
from shared.clock import Instant
from shared.units import NS_PER_S
from station.arriving import TICK_NS, LiveArrivals
from station.core.inputs import OperatorEvent, StationFact, StationFactKind, Tick, VoiceAnswered


class HandClock:
    """Gives the instants that it was handed, the last one for ever."""

    def __init__(self, *instants_s):
        self._instants = [Instant(round(at * NS_PER_S)) for at in instants_s]

    def now(self):
        """The next instant."""
        return self._instants.pop(0) if len(self._instants) > 1 else self._instants[0]


def taken(arrivals, count):
    """So many arrivals."""
    each = iter(arrivals)
    return [next(each) for _ in range(count)]


def test_arrivals_keep_the_order_of_coming():
    """What was offered first comes first; the end comes after all of it, as a fact."""
    arrivals = LiveArrivals(HandClock(0))
    heard = [Received(Instant(n), "p", b"x") for n in range(3)]
    for each in heard:
        arrivals.offer(each)
    arrivals.finish()
    assert list(arrivals) == [*heard, StationFact(Instant(0), StationFactKind.FINISHED)]


def test_tick_comes_when_its_time_has_come():
    """A tick stands at the instant at which it was found due."""
    first = taken(LiveArrivals(HandClock(0.0, 0.1, 0.1)), 1)[0]
    assert first == Tick(Instant(TICK_NS))


def test_one_tick_carries_a_stall():
    """After a stall of five seconds there is one tick, not fifty, and the next is due a tenth later."""
    arrivals = LiveArrivals(HandClock(0.0, 5.0, 5.0, 5.1, 5.1))
    assert taken(arrivals, 2) == [Tick(Instant(5 * NS_PER_S)), Tick(Instant(5 * NS_PER_S + TICK_NS))]


def test_press_is_stamped_when_it_is_made():
    """A press carries the present instant and what its window had seen."""
    arrivals = LiveArrivals(HandClock(0.0, 0.05))
    arrivals.press("tender", 7, VoiceAnswered("Diver 1"))
    event = taken(arrivals, 1)[0]
    assert isinstance(event, OperatorEvent)
    assert (event.by, event.seen_seq, event.act) == ("tender", 7, VoiceAnswered("Diver 1"))


def test_observers_speak_before_the_tick():
    """What the station finds out about itself comes just before the tick of that look."""

    def observer(now):
        yield StationFact(now, StationFactKind.PANELS_LOST)

    arrivals = LiveArrivals(HandClock(0.0, 0.1, 0.1), (observer,))
    fact, tick = taken(arrivals, 2)
    assert fact.kind is StationFactKind.PANELS_LOST
    assert isinstance(tick, Tick)


def test_crash_of_a_thread_is_raised_where_arrivals_are_taken():
    """A mistake of ours in a reader's thread stops the pump loudly."""
    arrivals = LiveArrivals(HandClock(0.0))
    arrivals.crash(RuntimeError("reader"))
    with pytest.raises(RuntimeError, match="reader"):
        next(iter(arrivals))
