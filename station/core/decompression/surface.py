"""Surface decompression: how many chamber periods, and what the surface interval allows."""

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from math import ceil

from station.core.tables.table_set import ScheduleRow

from .oxygen import oxygen_left_min
from .parameters import (
    CHAMBER_FIRST_FSW,
    CHAMBER_HALF_PERIOD_MIN,
    CHAMBER_OXYGEN_FACTOR_TENTHS,
    COMPRESSION_RATE_FSW_MIN,
    SURFACE_INTERVAL_FROM_FSW,
    SURFACE_INTERVAL_LONGEST_S,
    SURFACE_INTERVAL_S,
    SURFACING_RATE_FSW_MIN,
    TREATMENT_5_PERIODS,
    UNDRESSING_S,
)
from .travel import travel_s


class IntervalVerdict(StrEnum):
    """What a surface interval allows. All but the first two are for the diving medical officer."""

    AS_PLANNED = "as planned"
    HALF_PERIOD_MORE = "30 instead of 15 min on oxygen at 50 fsw: half a period more"
    TREATMENT_5 = "Treatment Table 5 is suggested"
    TREATMENT_6 = "Treatment Table 6 is suggested"


@dataclass(frozen=True, slots=True)
class WaterLeft:
    """Minutes still due at one stop, and whether they were to be breathed on air."""

    stop_fsw: int
    minutes: float
    on_air: bool


def chamber_periods(oxygen_left_min: float) -> float:
    """Chamber oxygen periods for oxygen minutes left in the water, up to the half period.

    Rule X3: 1.1 times over 30. Source: study notes [S]; 381 of 382 rows of Rev 7 Table 9-9 [C].
    """
    tenths = Fraction(oxygen_left_min).limit_denominator(10**6) * CHAMBER_OXYGEN_FACTOR_TENTHS
    return ceil(tenths / (10 * CHAMBER_HALF_PERIOD_MIN)) / 2


def periods_left(row: ScheduleRow, left: tuple[WaterLeft, ...]) -> float:
    """Chamber periods for a diver taken from his 30 and 20-fsw stops: at least half a period.

    Rule X3: air minutes count stop by stop as the oxygen of that row. Sources as above; air from memory [M].
    """
    oxygen = sum(
        oxygen_left_min(row, stop.stop_fsw, stop.minutes) if stop.on_air else stop.minutes for stop in left
    )
    return max(chamber_periods(oxygen), 0.5)


def planned_interval_s(from_fsw: float) -> int:
    """Planned surface interval from leaving `from_fsw` in the water to 50 fsw in the chamber.

    Rule X4: surfacing, undressing at its longest, compression; from 40 fsw that is 5:00.
    """
    surfacing_s = travel_s(min(from_fsw, SURFACE_INTERVAL_FROM_FSW), 0, SURFACING_RATE_FSW_MIN)
    return surfacing_s + UNDRESSING_S + travel_s(0, CHAMBER_FIRST_FSW, COMPRESSION_RATE_FSW_MIN)


def interval_verdict(interval_s: int, periods_due: float) -> IntervalVerdict:
    """What a surface interval of this length allows, without symptoms; with symptoms: treat.

    Rule X4. Source: USN Diving Manual Rev 4 Change A, p. 14-7 [P] (5:00); study notes on Rev 6 and 7 [S].
    """
    if interval_s <= SURFACE_INTERVAL_S:
        return IntervalVerdict.AS_PLANNED
    if interval_s <= SURFACE_INTERVAL_LONGEST_S:
        return IntervalVerdict.HALF_PERIOD_MORE
    return IntervalVerdict.TREATMENT_5 if periods_due <= TREATMENT_5_PERIODS else IntervalVerdict.TREATMENT_6
