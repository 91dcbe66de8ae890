"""Oxygen in the water: periods and air breaks, and what air stands for oxygen that is lost."""

from math import ceil

from station.core.tables.table_set import ScheduleRow

from .parameters import FIRST_OXYGEN_STOP_FSW, OXYGEN_LAST_PERIOD_S, OXYGEN_PERIOD_S


def oxygen_period_s(due_s: int) -> int:
    """Length of the oxygen period that starts with `due_s` of oxygen still due.

    Rule X1: 35 minutes or less are breathed unbroken, else 30 before the next break.
    Source: USN Diving Manual Rev 4 Change A, p. 14-6 [P]; every printed total of Table 9-9 [C].
    """
    return due_s if due_s <= OXYGEN_LAST_PERIOD_S else OXYGEN_PERIOD_S


def air_breaks(due_s: int) -> int:
    """Air breaks in `due_s` of oxygen.

    Rule X1. Source: USN Diving Manual Rev 4 Change A, p. 14-6 [P]; every printed total of Table 9-9 [C].
    """
    breaks = 0
    while (period_s := oxygen_period_s(due_s)) < due_s:
        due_s -= period_s
        breaks += 1
    return breaks


def oxygen_min(row: ScheduleRow) -> int:
    """Minutes of oxygen in the water that a schedule asks for, at 30 and 20 fsw together. Rule X1."""
    return sum(stop.minutes for stop in row.oxygen.stops if stop.depth_fsw <= FIRST_OXYGEN_STOP_FSW)


def air_left_min(row: ScheduleRow, stop_fsw: int, oxygen_left_min: float) -> int:
    """Air minutes that finish a stop whose oxygen is lost for good, up.

    Rule X2: oxygen left times air stop over oxygen stop of that row. Source: from memory, unverified [M].
    Raises ValueError when the row has no such oxygen stop.
    """
    oxygen = row.oxygen.minutes_at(stop_fsw)
    if oxygen == 0:
        raise ValueError(f"{row.depth_fsw}/{row.time_min} has no oxygen stop at {stop_fsw} fsw")
    return ceil(oxygen_left_min * row.air.minutes_at(stop_fsw) / oxygen)


def oxygen_left_min(row: ScheduleRow, stop_fsw: int, air_left_min: float) -> float:
    """Oxygen minutes that air still due at a stop stands for.

    Rule X3: air left times oxygen stop over air stop of that row. Source: from memory, unverified [M].
    Raises ValueError when the row has no such air stop.
    """
    air = row.air.minutes_at(stop_fsw)
    if air == 0:
        raise ValueError(f"{row.depth_fsw}/{row.time_min} has no air stop at {stop_fsw} fsw")
    return air_left_min * row.oxygen.minutes_at(stop_fsw) / air
