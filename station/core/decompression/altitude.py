"""Diving at altitude, and going to altitude after diving."""

from dataclasses import dataclass

from station.core.tables.lookup import altitude_wait_min, arrival_group
from station.core.tables.table_set import TableSet

from .answers import MANUAL, NotCovered
from .parameters import (
    AIRLINER_FT,
    ALTITUDE_DEEP_FSW,
    ALTITUDE_DEEP_ONLY_FT,
    ALTITUDE_FREE_FT,
    ALTITUDE_HIGHEST_FT,
    ALTITUDE_STEP_FT,
    ATMOSPHERE_EXPONENT,
    ATMOSPHERE_LAPSE_PER_FT,
    EXCEPTIONAL_WAIT_MIN,
    GAUGE_ALTITUDE_FSW_PER_STEP,
)
from .rules import RULES


@dataclass(frozen=True, slots=True)
class Wait:
    """Minutes to wait before an increase in altitude, and the group that decides (None: none was given)."""

    minutes: int
    group: str | None
    increase_ft: int


def altitude_step_ft(altitude_ft: float) -> int:
    """Altitude up to the next 1,000 ft. Rule N4. Source: USN Diving Manual Rev 4 Change A, p. 9-44 [P]."""
    return -int(-altitude_ft // ALTITUDE_STEP_FT) * ALTITUDE_STEP_FT


def unzeroed_gauge_fsw(gauge_fsw: float, altitude_ft: float) -> float:
    """Reading of a gauge that cannot be zeroed at altitude, made good: 1 fsw per 1,000 ft.

    Rule D8, before the pneumofathometer correction. Source: USN Diving Manual Rev 4 Change A, p. 9-44 [P].
    """
    return gauge_fsw + altitude_step_ft(altitude_ft) / ALTITUDE_STEP_FT * GAUGE_ALTITUDE_FSW_PER_STEP


def pressure_ratio(altitude_ft: float) -> float | NotCovered:
    """Local over sea-level pressure at an altitude, taken up to the next 1,000 ft.

    Rule N4. Source: standard atmosphere, ISO 2533:1975, troposphere; 843 mb at 5,000 ft agrees with
    USN Diving Manual Rev 4 Change A, p. 9-38 [P].
    """
    step_ft = altitude_step_ft(altitude_ft)
    if step_ft > ALTITUDE_HIGHEST_FT:
        return NotCovered(
            RULES["N4"], f"{altitude_ft:g} ft is above the tables, which end at 10,000 ft.", MANUAL
        )
    return float((1 - ATMOSPHERE_LAPSE_PER_FT * step_ft) ** ATMOSPHERE_EXPONENT)


def altitude_counts(altitude_ft: float, depth_fsw: float) -> bool:
    """Whether a dive to a depth is corrected at an altitude.

    Rule N4: never to 300 ft, to 1,000 ft only at 145 fsw and deeper, above always.
    Source: USN Diving Manual Rev 4 Change A, p. 9-38 [P]; "about 145" read as 145 or deeper [own].
    """
    if altitude_ft <= ALTITUDE_FREE_FT:
        return False
    return altitude_ft > ALTITUDE_DEEP_ONLY_FT or depth_fsw >= ALTITUDE_DEEP_FSW


def equivalent_depth_fsw(depth_fsw: float, ratio: float) -> float:
    """Depth at sea level that a depth at altitude counts as.

    Rule N4. `ratio` is local over sea-level pressure. Source: USN Diving Manual Rev 4 Change A, p. 9-38 [P].
    """
    return depth_fsw / ratio


def stop_depth_at_altitude_fsw(stop_fsw: float, ratio: float) -> float:
    """Depth at altitude of a stop in the table. Rule N4. Source: Rev 4 Change A, p. 9-38 [P]."""
    return stop_fsw * ratio


def whole_stop_fsw(stop_fsw: int, ratio: float) -> int:
    """A stop at altitude to the nearest fsw: 22.3 is 22. Rule N4. Source: Rev 4 Change A, p. 9-44 [P]."""
    return round(stop_depth_at_altitude_fsw(stop_fsw, ratio))


def group_on_arrival(tables: TableSet, increase_ft: float) -> str | NotCovered | None:
    """Group on arriving at an altitude from sea level, or higher by so much; None where nothing counts.

    Rule N5; it decays with time like any group. Source: USN Diving Manual Rev 7, Table 9-5 [P].
    """
    if increase_ft <= ALTITUDE_FREE_FT:
        return None
    group = arrival_group(tables, altitude_step_ft(increase_ft))
    if group is None:
        return NotCovered(RULES["N5"], f"Table 9-5 has no group for {increase_ft:g} ft.", MANUAL)
    return group


def wait_before_altitude(
    tables: TableSet, groups: tuple[str | None, ...], increase_ft: float, *, exceptional: bool = False
) -> Wait | NotCovered:
    """Wait after the last surfacing before going higher by so much, from the groups of the last 24 hours.

    Rule N5: the highest group decides; 48 hours after exceptional exposure, and where a dive gave none [own].
    Source: USN Diving Manual Rev 7, Table 9-6 [P]. Raises ValueError without any group.
    """
    if not groups:
        raise ValueError("no dive in the last 24 hours: nothing to wait for")
    step_ft = altitude_step_ft(increase_ft)
    given = [group for group in groups if group is not None]
    if exceptional or len(given) < len(groups):
        return Wait(EXCEPTIONAL_WAIT_MIN, None, step_ft)
    highest = max(given, key=tables.groups.index)
    if step_ft <= 0:
        return Wait(0, highest, step_ft)
    minutes = altitude_wait_min(tables, highest, step_ft)
    if minutes is None:
        return NotCovered(RULES["N5"], f"Table 9-6 has no increase of {increase_ft:g} ft.", MANUAL)
    return Wait(minutes, highest, step_ft)


def wait_before_flying(
    tables: TableSet, groups: tuple[str | None, ...], *, exceptional: bool = False
) -> Wait | NotCovered:
    """Wait before an airliner from sea level, which counts as 8,000 ft.

    Rule N5. Source: USN Diving Manual Rev 7, Table 9-6 notes [P].
    """
    return wait_before_altitude(tables, groups, AIRLINER_FT, exceptional=exceptional)
