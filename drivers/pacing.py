"""Holds station time back to a multiple of real time; it never pushes."""

from collections.abc import Callable
from threading import Event

from shared.clock import Clock, Instant, seconds_between


class Pacer:
    """Waits until as much real time has gone by as station time at `rate` needs. None is no ceiling."""

    def __init__(
        self, clock: Clock, rate: float | None, wait: Callable[[float], object] | None = None
    ) -> None:
        self._clock = clock
        self._rate = rate
        self._wait = Event().wait if wait is None else wait
        self._began: tuple[Instant, Instant] | None = None

    def __call__(self, at: Instant) -> None:
        """Return when station time may be `at`; the first call starts the count."""
        if self._rate is None:
            return
        if self._began is None:
            self._began = (self._clock.now(), at)
        real, station = self._began
        ahead_s = seconds_between(station, at) / self._rate - seconds_between(real, self._clock.now())
        if ahead_s > 0:
            self._wait(ahead_s)

    def set_rate(self, rate: float | None) -> None:
        """Another multiple from the next call on."""
        self._rate = rate
        self._began = None
