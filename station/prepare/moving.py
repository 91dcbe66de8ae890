"""What the marks of a dive do to the desk: leaving the surface, taking that back, reaching the surface."""

from dataclasses import replace

from shared.clock import Instant
from station.prepare.after_dive import AfterDive, begin_after_dive
from station.prepare.desk import Departure, Desk
from station.prepare.locks import enters_water
from station.prepare.profile import Exposure
from station.prepare.ready import Board


def left_surface(desk: Desk, board: Board, at: Instant, *, rescue: bool = False) -> Desk:
    """The desk when a diver leaves the surface; what his board said then stands for good.

    A standby who is sent in is a rescue: nothing is asked of him.
    """
    missing = tuple(each.what for each in board.missing if not each.overridden_by)
    waived = tuple(each.what for each in board.missing if each.overridden_by)
    departure = Departure(board.diver, board.dive, at, missing, waived, rescue)
    return replace(
        desk,
        departures=(*_without(desk, board.diver, board.dive), departure),
        locks=enters_water(desk.locks, board.diver),
    )


def took_back_leaving(desk: Desk, diver: str, dive: int) -> Desk:
    """The desk when the mark was undone: he had not left."""
    return replace(desk, departures=_without(desk, diver, dive))


def left_unready(desk: Desk, diver: str, dive: int) -> Departure | None:
    """The alarm's condition: this dive began without ready and without the supervisor's override."""
    return next(
        (
            each
            for each in desk.departures
            if (each.diver, each.dive) == (diver, dive) and each.missing and not each.rescue
        ),
        None,
    )


def reached_surface(desk: Desk, diver: str, dive: int, at: Instant, exposure: Exposure) -> Desk:
    """The desk when a diver reaches the surface for good: the watch on him begins."""
    watch = begin_after_dive(diver, dive, at, exposure, desk.profile)
    return replace(desk, after=(*_unwatched(desk, diver, dive), watch))


def took_back_surfacing(desk: Desk, diver: str, dive: int) -> Desk:
    """The desk when that mark was undone: he is in the water still."""
    return replace(desk, after=_unwatched(desk, diver, dive))


def _without(desk: Desk, diver: str, dive: int) -> tuple[Departure, ...]:
    return tuple(each for each in desk.departures if (each.diver, each.dive) != (diver, dive))


def _unwatched(desk: Desk, diver: str, dive: int) -> tuple[AfterDive, ...]:
    return tuple(each for each in desk.after if (each.diver, each.dive) != (diver, dive))
