"""Station time: whole nanoseconds since the epoch of the log, and who tells it."""

from typing import NewType, Protocol

from shared.units import NS_PER_S

Instant = NewType("Instant", int)
"""A moment of station time in nanoseconds since the epoch of the log. UTC only labels it."""

EPOCH = Instant(0)


class Clock(Protocol):
    """Tells station time; never runs back."""

    def now(self) -> Instant:
        """The present instant."""
        ...


def after(at: Instant, span_s: float) -> Instant:
    """The instant `span_s` seconds after `at` (before it when negative)."""
    return Instant(at + round(span_s * NS_PER_S))


def seconds_between(earlier: Instant, later: Instant) -> float:
    """Seconds from `earlier` to `later`; negative when they stand the other way round."""
    return (later - earlier) / NS_PER_S
