"""Travel times, and when the clock of a stop starts."""

from math import ceil

from shared.units import S_PER_MIN

from .parameters import ASCENT_RATE_FSW_MIN, DELAY_IGNORED_S, GAUGE_DUST_DECIMALS


def travel_s(from_fsw: float, to_fsw: float, rate_fsw_min: float = ASCENT_RATE_FSW_MIN) -> int:
    """Whole seconds, up, to travel between two depths at a rate.

    Source of the ascent rate: USN Diving Manual Rev 4 Change A, p. 14-7 [P].
    """
    exact_s = abs(from_fsw - to_fsw) / rate_fsw_min * S_PER_MIN
    return ceil(round(exact_s, GAUGE_DUST_DECIMALS))


def planned_travel_s(stage_fsw: float, first_stop_fsw: float) -> int:
    """Travel to the first stop from the stage depth; 0 when the stage is at the stop or above it.

    Rules A1 and D3. Source: USN Diving Manual Rev 4 Change A, p. 14-3 [P]; stage above the stop [S].
    """
    return travel_s(max(stage_fsw, first_stop_fsw), first_stop_fsw)


def first_stop_clock_s(arrived_s: int, planned_s: int, on_oxygen_s: int | None = None) -> int:
    """When the clock of the first stop starts: on arrival, and not before the planned travel is over.

    Rule A2. Seconds from leaving the bottom; at an oxygen stop `on_oxygen_s` is when oxygen was confirmed.
    Source: USN Diving Manual Rev 4 Change A, p. 9-11, p. 14-7 [P].
    """
    return max(arrived_s, planned_s, arrived_s if on_oxygen_s is None else on_oxygen_s)


def later_stop_clock_s(left_s: int, arrived_s: int, planned_s: int, *, on_oxygen: bool = False) -> int:
    """When the clock of a later stop starts: on leaving the stop before, or when a long delay ended.

    Rule A2. A travel late by more than 1:00 starts it at the end of the delay, except between oxygen stops.
    Source: USN Diving Manual Rev 4 Change A, p. 14-3 [P]; USN Diving Manual Rev 7, Table 9-9 note [C].
    """
    late_s = arrived_s - left_s - planned_s
    return left_s if on_oxygen or late_s <= DELAY_IGNORED_S else left_s + late_s
