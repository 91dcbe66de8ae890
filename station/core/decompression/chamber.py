"""The chamber's part of surface decompression on oxygen."""

from dataclasses import dataclass

from shared.units import S_PER_MIN

from .answers import Gas
from .parameters import (
    AIR_BREAK_S,
    CHAMBER_AIR_FACTOR,
    CHAMBER_AIR_SHARES,
    CHAMBER_FIRST_FSW,
    CHAMBER_HALF_PERIOD_MIN,
    CHAMBER_LATE_AIR_SHARES,
    CHAMBER_LATE_FSW,
    CHAMBER_PERIODS_BEFORE_LATE,
    CHAMBER_SECOND_FSW,
)
from .travel import travel_s

HALVES_PER_PERIOD = 2
_HALF_S = CHAMBER_HALF_PERIOD_MIN * S_PER_MIN


@dataclass(frozen=True, slots=True)
class ChamberStep:
    """Time at one chamber depth on one gas; travel from the depth before is inside it."""

    depth_fsw: int
    gas: Gas
    duration_s: int


def chamber_steps(periods: float, *, late: bool = False) -> tuple[ChamberStep, ...]:
    """Oxygen and breaks of so many chamber periods, from reaching 50 fsw to leaving the last depth.

    Rule X5. `late`: the surface interval was over 5:00, so half a period more, all of the first at 50 fsw.
    Source: USN Diving Manual Rev 4 Change A, p. 14-7 [P, mixed gas]; half periods and `late` from memory [M].
    """
    halves = round(periods * HALVES_PER_PERIOD) + (1 if late else 0)
    if halves == 0:
        return ()
    steps = list(_first_period(halves, late=late))
    for period in range(2, -(-halves // HALVES_PER_PERIOD) + 1):
        depth_fsw = CHAMBER_SECOND_FSW if period <= CHAMBER_PERIODS_BEFORE_LATE else CHAMBER_LATE_FSW
        left = min(HALVES_PER_PERIOD, halves - (period - 1) * HALVES_PER_PERIOD)
        steps.append(ChamberStep(depth_fsw, Gas.AIR, AIR_BREAK_S))
        steps.append(ChamberStep(depth_fsw, Gas.OXYGEN, left * _HALF_S))
    return tuple(steps)


def _first_period(halves: int, *, late: bool) -> tuple[ChamberStep, ...]:
    if halves == 1:
        return (ChamberStep(CHAMBER_FIRST_FSW, Gas.OXYGEN, _HALF_S),)
    if late:
        return (ChamberStep(CHAMBER_FIRST_FSW, Gas.OXYGEN, HALVES_PER_PERIOD * _HALF_S),)
    return (
        ChamberStep(CHAMBER_FIRST_FSW, Gas.OXYGEN, _HALF_S),
        ChamberStep(CHAMBER_SECOND_FSW, Gas.OXYGEN, _HALF_S),
    )


def chamber_s(periods: float, *, late: bool = False) -> int:
    """Seconds from reaching 50 fsw in the chamber to the surface. Rule X5."""
    steps = chamber_steps(periods, late=late)
    return sum(step.duration_s for step in steps) + (travel_s(steps[-1].depth_fsw, 0) if steps else 0)


def chamber_air_stops(oxygen_left_min: int, depth_fsw: int) -> tuple[tuple[int, int], ...]:
    """Air stops (fsw, minutes) that finish a chamber decompression; oxygen is lost for good at `depth_fsw`.

    Rule X6: from 50 fsw go to 40 first [own]; never deeper again.
    Source: USN Diving Manual Rev 4 Change A, p. 9-25 [P].
    """
    shares = CHAMBER_LATE_AIR_SHARES if depth_fsw <= CHAMBER_LATE_FSW else CHAMBER_AIR_SHARES
    air_min = oxygen_left_min * CHAMBER_AIR_FACTOR
    return tuple((stop_fsw, -(-air_min * per_cent // 100)) for stop_fsw, per_cent in shares)
