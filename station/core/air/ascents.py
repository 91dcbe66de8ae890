"""The ascent that air must cover: the legs of the schedule due now, as the need takes them. Rule G5.

Stops on oxygen are counted as air, for the oxygen may fail; what comes after the water is not.
"""

from dataclasses import dataclass, replace
from functools import lru_cache

from shared.units import S_PER_MIN
from station.core.air.need import AscentLeg
from station.core.air.numbers import ASCENT_RATE_FSW_MIN
from station.core.books import Books
from station.core.by_table.bottom import KEPT, schedule_of
from station.core.by_table.coming_up import Ascent, ascent_of
from station.core.decompression.answers import NotCovered
from station.core.decompression.ascent import ascent_plan
from station.core.decompression.durations import minutes_up
from station.core.decompression.legs import Leg, What
from station.core.decompression.schedule import Schedule, TableEntry
from station.core.state import DiverState, State

_IN_WATER = frozenset({What.TRAVEL, What.STOP, What.WAIT, What.DELAY, What.AIR_BREAK})


@dataclass(frozen=True, slots=True)
class AirAscent:
    """The legs from now to the surface; `by_schedule` is false where the tables give none.

    Then it is the way up at 30 fsw/min without a stop: the least, and said to be so.
    """

    legs: tuple[AscentLeg, ...]
    by_schedule: bool

    @property
    def seconds(self) -> float:
        """How long it takes."""
        return sum(leg.seconds for leg in self.legs)


def direct_ascent(depth_fsw: float) -> AirAscent:
    """Straight up at 30 fsw/min. USN Diving Manual Rev 4 Change A, p. 8-3 [P]."""
    leg = AscentLeg(depth_fsw, 0.0, depth_fsw / ASCENT_RATE_FSW_MIN * S_PER_MIN)
    return AirAscent((leg,) if depth_fsw > 0 else (), by_schedule=False)


def air_legs(legs: tuple[Leg, ...], now_s: float = 0.0) -> tuple[AscentLeg, ...]:
    """The water part of an ascent from a second of it on, as the need takes it."""
    return tuple(
        AscentLeg(leg.from_fsw, leg.to_fsw, leg.end_s - max(leg.start_s, now_s))
        for leg in legs
        if leg.what in _IN_WATER and leg.end_s > now_s
    )


def ascent_now(state: State, diver: DiverState, books: Books, depth_fsw: float) -> AirAscent:
    """The ascent of a diver if he is called now, or as it goes; `depth_fsw` is where he is taken to be."""
    ascent = ascent_of(state, diver, books)
    if isinstance(ascent, Ascent):
        if ascent.found.plan is None:
            return direct_ascent(depth_fsw)
        return AirAscent(air_legs(ascent.found.legs, ascent.now_s), by_schedule=True)
    found = None if ascent is not None else schedule_of(state, diver, books)
    if found is None or found.entry is None or not isinstance(found.answer, Schedule):
        return direct_ascent(depth_fsw)
    asked = found.entry.entry
    whole = replace(asked, bottom_s=minutes_up(asked.bottom_s) * S_PER_MIN)
    legs = _planned(books, whole, float(round(depth_fsw)), found.entry.ratio)
    return direct_ascent(depth_fsw) if legs is None else AirAscent(legs, by_schedule=True)


@lru_cache(maxsize=KEPT)
def _planned(books: Books, entry: TableEntry, stage_fsw: float, ratio: float) -> tuple[AscentLeg, ...] | None:
    """The legs from leaving the bottom, by whole minutes and whole feet, so that they can be kept."""
    plan = ascent_plan(books.tables, entry, stage_fsw, ratio)
    return None if isinstance(plan, NotCovered) else air_legs(plan.legs)
