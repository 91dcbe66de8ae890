"""The rules in force, each with its source and how well it is known: what "where from?" shows.

R4, R5, R7: U.S. Navy Diving Manual, Revisions 4 Change A (2001), 5 (2005) and 7 (2016).
Paths of `computed_by` start at `station.core`.
"""

from types import MappingProxyType
from typing import Final

from .rule import Evidence, Rule

_P, _C, _S, _M, _OWN = (
    Evidence.PAGE,
    Evidence.COMPUTED,
    Evidence.SECONDARY,
    Evidence.MEMORY,
    Evidence.OWN,
)
_R4 = "USN Diving Manual Rev 4 Change A"
_NOTES = "USN Diving Manual Rev 6 and 7, ch. 9, study notes"
_R7 = "USN Diving Manual Rev 7"

_DEPTH_AND_TIME = (
    Rule(
        "D2",
        "The pneumofathometer correction of the reading's band is added: to 100 fsw 1, to 200 2, to 300 4, "
        "to 400 7; a reading up to 0.2 fsw over a whole foot counts as that foot.",
        f"{_R4}, Table 14-1, p. 14-3",
        (_P, _S, _OWN),
        ("decompression.correction.depth_correction_fsw",),
    ),
    Rule(
        "D3",
        "Only the maximum depth, deepest reading plus correction, enters a table; travel to the first stop "
        "is worked from the stage depth.",
        _NOTES,
        (_S,),
        ("decompression.correction.maximum_depth_fsw", "decompression.travel.planned_travel_s"),
    ),
    Rule(
        "D4",
        "The table is entered at the equal or next deeper depth, never between two.",
        f"{_R4}, para 9-9.1, p. 9-12",
        (_P,),
        ("tables.lookup.table_depth_fsw",),
    ),
    Rule(
        "D8",
        "A gauge that cannot be zeroed at altitude reads 1 fsw shallow for every 1,000 ft.",
        f"{_R4}, p. 9-44",
        (_P,),
        ("decompression.altitude.unzeroed_gauge_fsw",),
    ),
    Rule(
        "T2",
        "Bottom time runs from leaving the surface to leaving the bottom, up to the next whole minute.",
        f"{_R4}, ch. 9 definitions, p. 14-3",
        (_P, _S),
        ("decompression.durations.minutes_up",),
    ),
)
_SCHEDULE = (
    Rule(
        "S1",
        "The table is entered with bottom time plus residual nitrogen time.",
        f"{_R4}, para 9-9.1",
        (_P,),
        ("decompression.schedule.schedule",),
    ),
    Rule(
        "S2",
        "Within the no-stop limit of Table 9-7 there are no stops; past it the row of Table 9-9 with the "
        "equal or next longer time holds.",
        f"{_R7}, Tables 9-7 and 9-9",
        (_P,),
        ("tables.lookup.entries", "decompression.schedule.schedule"),
    ),
    Rule(
        "S3",
        "The next row is due when the equivalent time passes the time of the present one by a second.",
        f"{_R7}, Tables 9-7 and 9-9",
        (_P,),
        ("decompression.schedule.next_longer", "decompression.schedule.next_deeper"),
    ),
    Rule(
        "S4",
        "The repetitive group is the one of Table 9-7 for no-stop dives, of Table 9-9 for others; where none "
        "is given the next dive is not allowed without a rule from the manual in force.",
        f"{_R7}, Tables 9-7 and 9-9",
        (_P,),
        ("decompression.schedule.schedule",),
    ),
    Rule(
        "S5",
        "Deeper or longer than the table there is no schedule: nothing is extrapolated.",
        "our own choice; the table has no such row",
        (_OWN,),
        ("decompression.schedule.schedule",),
    ),
    Rule(
        "S6",
        "A schedule is exceptional in water when its ascent in that mode is over 90:00, in any mode with "
        "more than 4 chamber periods or at 200 fsw and deeper.",
        f"derived from every row of {_R7}, Table 9-9",
        (_C,),
        ("decompression.category.is_exceptional",),
    ),
    Rule(
        "S7",
        "For a cold or strenuous dive the next longer time is taken; a choice in the plan, off by itself.",
        "USN Diving Manual Rev 5 notes and a NOAA training deck; not seen in Rev 7",
        (_S, _M),
        ("decompression.schedule.schedule",),
    ),
    Rule(
        "S8",
        "In-water air, in-water air and oxygen, and surface decompression on oxygen share one table "
        "and one group.",
        _NOTES,
        (_S,),
        ("decompression.schedule.schedule",),
    ),
    Rule(
        "S9",
        "To 20 fsw there is no limit but a group; where a residual time refers to 30 fsw the rows of 30 fsw "
        "hold; where it is undefined there is no figure.",
        f"{_R7}, Tables 9-7 and 9-8, 2A-1 and 2A-2",
        (_P,),
        ("decompression.schedule.enter", "decompression.repetitive.residual_time"),
    ),
)
_ASCENT = (
    Rule(
        "A1",
        "Planned travel to the first stop is the stage depth less the first stop, at 30 fsw a minute; a stop "
        "deeper than the stage is taken at the stage.",
        f"{_R4}, p. 14-3, p. 14-7; {_NOTES}",
        (_P, _S),
        ("decompression.travel.planned_travel_s", "decompression.ascent.ascent_plan"),
    ),
    Rule(
        "A2",
        "The clock of the first stop runs from arrival, not before the planned travel is over; of later "
        "stops from leaving the stop before; of the first oxygen stop from oxygen confirmed.",
        f"{_R4}, p. 9-11, p. 14-3, p. 14-7; {_R7}, Table 9-9 note",
        (_P, _C),
        ("decompression.travel.first_stop_clock_s", "decompression.travel.later_stop_clock_s"),
    ),
    Rule(
        "A4",
        "Late at the first stop: up to 1:00 is ignored. Past it the whole delay is rounded up; what was lost "
        "deeper than 50 fsw goes to bottom time and the table is entered again, the rest to the first stop. "
        "With no stop in the water all of it goes to bottom time.",
        f"{_R4}, p. 14-7, 14-8; {_NOTES}",
        (_P, _S, _OWN),
        ("decompression.delays.late_at_first_stop",),
    ),
    Rule(
        "A5",
        "Late leaving a stop or between stops by more than 1:00: at 50 fsw or deeper the delay, rounded up, "
        "goes to bottom time and the table is entered again; shallower on air nothing changes.",
        f"{_R4}, p. 14-8, the mixed-gas twin; Rev 6 and 7 from memory; at exactly 50 fsw our own choice",
        (_P, _M, _OWN),
        ("decompression.delays.late_leaving_stop", "decompression.delays.late_between_stops"),
    ),
    Rule(
        "A6",
        "Oxygen overstayed at the 30-fsw stop comes off the 20-fsw stop, in whole minutes; never more than "
        "30 minutes of oxygen unbroken while delayed; late leaving 20 fsw changes nothing.",
        f"{_R4}, p. 14-8, first half; the rest from memory",
        (_P, _M, _OWN),
        ("decompression.delays.oxygen_overstay",),
    ),
    Rule(
        "A7",
        "Above the due stop by more than its band for ten seconds: that time does not count; back within "
        "1:00 the stop is a minute longer, later the supervisor decides; surfaced it is an omitted stop.",
        f"{_NOTES}; band, ten seconds and the supervisor's part our own choice",
        (_S, _OWN),
        ("by_table.following.above_stop",),
    ),
    Rule(
        "A8",
        "The ascent is a list of legs that join without a gap, each with gas and reason.",
        "our own choice",
        (_OWN,),
        ("decompression.course.course_legs",),
    ),
)
_OXYGEN = (
    Rule(
        "X1",
        "At the start of each oxygen period: 35 minutes or less still due are breathed unbroken; else 30 "
        "minutes, then 5 of air, which is not stop time.",
        f"{_R4}, p. 14-6; holds for every printed total of {_R7}, Table 9-9",
        (_P, _C),
        ("decompression.oxygen.oxygen_period_s", "decompression.oxygen.air_breaks"),
    ),
    Rule(
        "X2",
        "Oxygen lost for good in the water: the present stop goes on by air in the proportion of that row's "
        "air and oxygen stops, up; later stops are the air row's in full.",
        "from memory, unverified",
        (_M,),
        ("decompression.oxygen.air_left_min", "decompression.oxygen_lost.oxygen_lost"),
    ),
    Rule(
        "X3",
        "To the chamber: 1.1 times the oxygen minutes left, over 30, up to the half period; at least a half.",
        f"{_NOTES}; holds for 381 of 382 rows of {_R7}, Table 9-9",
        (_S, _C, _M),
        ("decompression.surface.chamber_periods", "decompression.surface.periods_left"),
    ),
    Rule(
        "X4",
        "The surface interval runs from leaving the last water stop at 40 fsw or shallower, else from "
        "passing 40, to 50 fsw in the chamber: at most 5:00; to 7:00 half a period more; past "
        "7:00 a treatment table.",
        f"{_R4}, p. 14-7; {_NOTES}",
        (_P, _S),
        ("decompression.surface.interval_verdict",),
    ),
    Rule(
        "X5",
        "Chamber periods: the first 15 minutes at 50 fsw and 15 at 40, the next at 40, after the fourth at "
        "30, 5 minutes of air between.",
        f"{_R4}, p. 14-7 (mixed gas); {_NOTES}; half periods from memory",
        (_P, _S, _M),
        ("decompression.chamber.chamber_steps",),
    ),
    Rule(
        "X6",
        "Chamber oxygen lost for good: three times the oxygen left, on air, 10, 20 and 70 % at 40, 30 and 20 "
        "fsw, each up; lost at 30 fsw 30 and 70 % at 30 and 20; from 50 fsw to 40 first.",
        f"{_R4}, p. 9-25; leaving 50 fsw first our own choice",
        (_P, _OWN),
        ("decompression.chamber.chamber_air_stops",),
    ),
)
_BEFORE_AND_AFTER = (
    Rule(
        "N1",
        "The surface interval runs from reaching the surface to the next leaving, cut to whole minutes; "
        "under 10 minutes it is one dive: times added, the deeper depth.",
        f"{_R4}, p. 9-3; {_NOTES}",
        (_P, _S),
        ("decompression.repetitive.after_interval", "decompression.series.as_one_dive"),
    ),
    Rule(
        "N2",
        "The group after the interval is read from the credit table; past its last column the dive is not "
        "repetitive; residual time is read at the next dive's table depth.",
        f"{_R7}, Table 9-8",
        (_P,),
        ("decompression.repetitive.after_interval", "decompression.repetitive.residual_time"),
    ),
    Rule(
        "N3",
        "The series may also be entered with all bottom times at the deepest depth; the supervisor chooses, "
        "it is never taken by itself.",
        "USN Diving Manual Rev 6, study notes; Rev 5, 9-9.1.2",
        (_S,),
        ("decompression.series.series_choice",),
    ),
    Rule(
        "N4",
        "At altitude depth is multiplied by sea-level over local pressure, stops by the inverse; none to 300 "
        "ft, to 1,000 ft only at 145 fsw and deeper; altitude up to the next 1,000 ft; chamber stops "
        "unchanged.",
        f"{_R4}, p. 9-38, 9-44; about 145 read as 145 or deeper",
        (_P, _OWN),
        (
            "decompression.altitude.pressure_ratio",
            "decompression.altitude.equivalent_depth_fsw",
            "decompression.altitude.stop_depth_at_altitude_fsw",
        ),
    ),
    Rule(
        "N5",
        "A diver arrives at altitude in a group; before going higher the highest group of the last 24 hours "
        "waits as printed, an airliner counts as 8,000 ft, exceptional exposure or no group waits 48 hours.",
        f"{_R7}, Tables 9-5 and 9-6; {_R4}, p. 9-45; no group given: our own choice",
        (_P, _OWN),
        ("decompression.altitude.group_on_arrival", "decompression.altitude.wait_before_altitude"),
    ),
    Rule(
        "O1",
        "Omitted stops without symptoms: what may be done depends on the deepest missed stop, the clock "
        "since leaving it, chamber and oxygen; with symptoms none of it holds: treat.",
        _NOTES,
        (_S,),
        ("decompression.omitted.omitted_cards",),
    ),
)

RULES: Final = MappingProxyType(
    {rule.id: rule for rule in _DEPTH_AND_TIME + _SCHEDULE + _ASCENT + _OXYGEN + _BEFORE_AND_AFTER}
)
"""Every rule by its id."""
