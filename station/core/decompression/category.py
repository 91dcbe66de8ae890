"""Which schedules are exceptional, and how the printed categories follow from the rows."""

from station.core.tables.table_set import Category, ScheduleRow

from .answers import Mode
from .parameters import (
    EXCEPTIONAL_ASCENT_S,
    EXCEPTIONAL_DEPTH_FSW,
    EXCEPTIONAL_PERIODS,
    NORMAL_AIR_STOPS_MIN,
)


def is_exceptional(row: ScheduleRow, mode: Mode) -> bool:
    """Whether a schedule dived in this mode is exceptional exposure.

    Rule S6. Source: derived from every row of USN Diving Manual Rev 7, Table 9-9 [C].
    """
    if row.depth_fsw >= EXCEPTIONAL_DEPTH_FSW or row.chamber_periods > EXCEPTIONAL_PERIODS:
        return True
    match mode:
        case Mode.AIR:
            return row.air.total_ascent_s > EXCEPTIONAL_ASCENT_S
        case Mode.AIR_OXYGEN:
            return row.oxygen.total_ascent_s > EXCEPTIONAL_ASCENT_S
        case Mode.CHAMBER:
            return False


def derived_category(row: ScheduleRow) -> Category:
    """Category of a row from its figures alone: the relation that the printed ones obey.

    Rule S6. Holds for all 382 schedules of USN Diving Manual Rev 7, Table 9-9 [C].
    """
    if row.depth_fsw >= EXCEPTIONAL_DEPTH_FSW:
        return Category.EXCEPTIONAL_200
    if row.chamber_periods > EXCEPTIONAL_PERIODS:
        return Category.EXCEPTIONAL_ANY_MODE
    if is_exceptional(row, Mode.AIR_OXYGEN):
        return Category.EXCEPTIONAL_IN_WATER
    if is_exceptional(row, Mode.AIR):
        return Category.EXCEPTIONAL_ON_AIR
    if sum(stop.minutes for stop in row.air.stops) > NORMAL_AIR_STOPS_MIN:
        return Category.OXYGEN_OR_CHAMBER
    return Category.NORMAL
