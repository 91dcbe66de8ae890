"""Dives after dives: surface interval, residual nitrogen time, the choice of a series."""

from dataclasses import dataclass
from enum import StrEnum

from station.core.tables.lookup import group_after_interval, residual_cell
from station.core.tables.table_set import ResidualMark, TableSet

from .answers import MANUAL, NotCovered
from .durations import minutes_down
from .parameters import ONE_DIVE_INTERVAL_MIN
from .rules import RULES

RESIDUAL_REFERRED_FSW = 30
"""Depth whose residual times and rows hold where Table 9-8 refers to it. USN Diving Manual Rev 7 [P]."""


class Standing(StrEnum):
    """What an interval makes of the next dive."""

    ONE_DIVE = "one dive with the last"
    REPETITIVE = "repetitive"
    NOT_REPETITIVE = "not repetitive"


@dataclass(frozen=True, slots=True)
class AfterInterval:
    """How a diver stands after a surface interval; `group` only where the next dive is repetitive."""

    standing: Standing
    interval_min: int
    group: str | None


@dataclass(frozen=True, slots=True)
class Residual:
    """Residual nitrogen time, and the depth whose rows it goes with."""

    minutes: int
    depth_fsw: int


def after_interval(tables: TableSet, group: str | None, interval_s: int) -> AfterInterval | NotCovered:
    """How a diver who surfaced in `group` stands when he leaves the surface again.

    Rules N1 and N2. Source: USN Diving Manual Rev 7, Table 9-8 [P]; under 10 minutes study notes [S].
    """
    interval_min = minutes_down(interval_s)
    if interval_min < ONE_DIVE_INTERVAL_MIN:
        return AfterInterval(Standing.ONE_DIVE, interval_min, None)
    if group is None:
        return NotCovered(
            RULES["S4"],
            "The last dive ended in no repetitive group: the tables give no residual time for another dive.",
            MANUAL,
        )
    reached, covered = group_after_interval(tables, group, interval_min)
    if not covered:
        return NotCovered(
            RULES["N2"], f"Table 9-8 has no interval of {interval_min} min for group {group}.", MANUAL
        )
    standing = Standing.NOT_REPETITIVE if reached is None else Standing.REPETITIVE
    return AfterInterval(standing, interval_min, reached)


def residual_time(
    tables: TableSet, group: str | None, depth_fsw: int, *, shallow: bool = False
) -> Residual | NotCovered:
    """Residual nitrogen time at a table depth; none for a diver who is not repetitive.

    Rules N2 and S9: where the table refers to 30 fsw its time and its rows hold; where it is undefined
    there is no figure. Source: USN Diving Manual Rev 7, Tables 9-8 and 2A-2 [P].
    """
    if group is None:
        return Residual(0, depth_fsw)
    match residual_cell(tables, group, depth_fsw, shallow=shallow):
        case ResidualMark.USE_30_FSW:
            return residual_time(tables, group, RESIDUAL_REFERRED_FSW)
        case int(minutes):
            return Residual(minutes, depth_fsw)
        case _:
            return NotCovered(
                RULES["S9"],
                f"No residual nitrogen time is given for group {group} at {depth_fsw} fsw.",
                MANUAL,
            )
