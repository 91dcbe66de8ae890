"""After surfacing: the group and when it drops, when a dive is not repetitive, when to fly. Rules N1-N5."""

from dataclasses import dataclass

from shared.clock import Instant, after, seconds_between
from shared.units import S_PER_MIN
from station.core.books import Books
from station.core.by_table.choices import past_dive
from station.core.by_table.history import clean_at, group_now, interval_s, next_drop
from station.core.decompression.altitude import Wait, wait_before_altitude
from station.core.decompression.answers import NotCovered
from station.core.decompression.parameters import AIRLINER_FT
from station.core.decompression.repetitive import AfterInterval
from station.core.state import DiverState, PastDive, State

COUNTED_S = 24 * 3600
"""Dives of the last 24 hours decide the wait. USN Diving Manual Rev 7, Table 9-6 notes, rule N5."""


@dataclass(frozen=True, slots=True)
class Afterwards:
    """How a diver stands who is not in the water.

    `group` is the one that he surfaced in, `now` what the interval has made of it. `drops_at` and `drops_to`
    tell of the next drop, `clean_at` from when the next dive is not repetitive, `fly_at` from when he may
    take an airliner; None where the tables do not tell.
    """

    last: PastDive
    interval_s: int
    now: AfterInterval | NotCovered
    drops_at: Instant | None
    drops_to: str | None
    clean_at: Instant | None
    fly: Wait | NotCovered
    fly_at: Instant | None


def afterwards_of(state: State, diver: DiverState, books: Books) -> Afterwards | None:
    """How a diver stands at the surface; None where no dive is known, and in the water."""
    over = past_dive(state, diver, books)
    past = (*diver.past, over) if over is not None else diver.past
    if not past or past[-1].surfaced_at is None:
        return None
    last = past[-1]
    drop = next_drop(books, last, state.now)
    fly = _fly(state, past, books)
    wait_s = fly.minutes * S_PER_MIN if isinstance(fly, Wait) else None
    since = last.surfaced_at
    return Afterwards(
        last,
        interval_s(last, state.now),
        group_now(books, _with(diver, past), state.now),
        None if drop is None else drop[0],
        None if drop is None else drop[1],
        clean_at(books, last),
        fly,
        None if wait_s is None or since is None else after(since, wait_s),
    )


def _with(diver: DiverState, past: tuple[PastDive, ...]) -> DiverState:
    return DiverState(diver.name, past=past)


def _fly(state: State, past: tuple[PastDive, ...], books: Books) -> Wait | NotCovered:
    """The highest group of the dives of the last 24 hours before the last surfacing decides."""
    counted = [
        dive
        for dive in past
        if dive.surfaced_at is None or seconds_between(dive.surfaced_at, state.now) <= COUNTED_S
    ] or [past[-1]]
    increase_ft = max(0.0, AIRLINER_FT - state.settings.altitude_ft)
    return wait_before_altitude(
        books.tables,
        tuple(dive.group for dive in counted),
        increase_ft,
        exceptional=any(dive.exceptional for dive in counted),
    )
