"""Every number of the decompression rules that decides something: one home, a unit, a source.

Tags: [P] page read, [S] secondary notes, [M] from memory, unverified, [C] computed from the tables,
[own] our choice.
R4, R7: U.S. Navy Diving Manual, Revision 4 Change A (2001) and Revision 7 (2016).
The sentence under a number, or a group of numbers, is its unit, meaning and source.
"""

CORRECTION_BANDS_FSW = ((100, 1), (200, 2), (300, 4), (400, 7))
"""Pneumofathometer correction: deepest reading of the band, fsw to add. R4 Table 14-1 [P 250; S bands]."""

GAUGE_ROUNDING_FSW = 0.2
"""A gauge reading this little over a whole fsw still counts as that whole fsw [own]."""

GAUGE_DUST_DECIMALS = 6
"""Decimals that a reading is cut to before it is compared, so that 58.2 is not more than 58.2 [own]."""

DESCENT_RATE_FSW_MIN = 75
"""Fastest descent, and the one the tables assume. R4 p. 8-28 [P]; R7 Table 9-9 heading [P]."""

ASCENT_RATE_FSW_MIN = 30
"""Ascent to, between and from stops. R4 p. 14-7 [P]; R7 Table 9-9 heading [P]."""

SLOWEST_ASCENT_FSW_MIN = 20
FASTEST_ASCENT_FSW_MIN = 40
"""Between these an ascent rate is a minor variation. R4 p. 14-7 [P]."""

DELAY_IGNORED_S = 60
"""A delay of at most this is ignored. R4 p. 14-7 [P]."""

DEEP_DELAY_FSW = 50
"""At this depth and deeper a delay at a stop goes to bottom time; on the way to the first stop only deeper
than it. Study notes [S]; at exactly this depth at a stop our choice [own]."""

FIRST_OXYGEN_STOP_FSW = 30
"""Oxygen is breathed at this stop and shallower. Study notes [S]; every AIR/O2 row [C]."""

LAST_WATER_STOP_FSW = 20
"""Last stop of every schedule. R7 Table 9-9 [P]."""

STOP_GRID_FSW = 10
"""Distance between stops. R7 Table 9-9 [P]."""

OXYGEN_PERIOD_S = 30 * 60
OXYGEN_LAST_PERIOD_S = 35 * 60
AIR_BREAK_S = 5 * 60
"""Oxygen period, the longest last one without a break, and the break. R4 p. 14-6 [P]; all totals [C]."""

CHAMBER_OXYGEN_FACTOR_TENTHS = 11
"""Chamber oxygen is 1.1 times the oxygen left in the water. Study notes [S]; 381 of 382 rows [C]."""

CHAMBER_HALF_PERIOD_MIN = 15
CHAMBER_PERIOD_MIN = 30
"""Half and whole chamber oxygen period. R4 p. 14-7 [P]."""

CHAMBER_FIRST_FSW = 50
CHAMBER_SECOND_FSW = 40
CHAMBER_LATE_FSW = 30
CHAMBER_PERIODS_BEFORE_LATE = 4
"""Depths of the chamber periods; after the fourth at the late depth. R4 p. 14-7 [P, mixed gas]."""

SURFACE_INTERVAL_FROM_FSW = 40
"""The surface interval starts on leaving or passing this depth. R4 p. 14-7 [P]."""

SURFACE_INTERVAL_S = 5 * 60
SURFACE_INTERVAL_LONGEST_S = 7 * 60
"""To the first all is as planned, to the second half a period more, past it a treatment table. Study notes
[S]; the first also R4 p. 14-7 [P]."""

SURFACING_RATE_FSW_MIN = 40
"""From 40 fsw to the surface before the chamber. R4 p. 14-6 [P]."""

UNDRESSING_S = 210
"""Longest undressing before the chamber. R4 p. 8-37 [P]."""

COMPRESSION_RATE_FSW_MIN = 100
"""Fastest compression in the chamber. Study notes [S]."""

TREATMENT_5_PERIODS = 2
"""Past the longest interval: treatment table 5 to this many periods due, 6 beyond. Study notes [S]."""

CHAMBER_AIR_FACTOR = 3
CHAMBER_AIR_SHARES = ((40, 10), (30, 20), (20, 70))
CHAMBER_LATE_AIR_SHARES = ((30, 30), (20, 70))
"""Chamber oxygen lost: air minutes for one of oxygen, and per cent at each depth. R4 p. 9-25 [P]."""

NORMAL_AIR_STOPS_MIN = 15
EXCEPTIONAL_ASCENT_S = 90 * 60
EXCEPTIONAL_PERIODS = 4
EXCEPTIONAL_DEPTH_FSW = 200
"""What divides the categories of R7 Table 9-9, found in all 382 rows [C]."""

ONE_DIVE_INTERVAL_MIN = 10
"""Under this surface interval two dives are one. Study notes [S]; R7 Table 9-8 begins here [P]."""

ALTITUDE_STEP_FT = 1000
ALTITUDE_FREE_FT = 300
ALTITUDE_DEEP_ONLY_FT = 1000
ALTITUDE_DEEP_FSW = 145
"""Altitude counts in steps; none to the first, only deep dives to the second. R4 p. 9-38, 9-44 [P];
"about 145" read as 145 or deeper [own]."""

ALTITUDE_HIGHEST_FT = 10_000
"""Highest altitude of R7 Tables 9-5 and 9-6 [P]."""

GAUGE_ALTITUDE_FSW_PER_STEP = 1
"""A gauge not zeroed at altitude: fsw to add per step. R4 p. 9-44 [P]."""

AIRLINER_FT = 8000
"""Cabin altitude an airliner counts as. R7 Table 9-6 notes [P]."""

EXCEPTIONAL_WAIT_MIN = 48 * 60
"""Wait where no group is given, as after exceptional exposure. [own], from R7 Table 9-6 notes [P]."""

OMITTED_AT_ONCE_S = 60
OMITTED_SHALLOW_FSW = 30
OMITTED_DEEP_FSW = 50
OMITTED_STRETCH = 1.5
OMITTED_WATCH_S = 60 * 60
"""Omitted stops: back at once within this; shallow and deep missed stops; stops lengthened; watch at the
surface. Study notes [S]."""

ATMOSPHERE_LAPSE_PER_FT = 0.0065 * 0.3048 / 288.15
ATMOSPHERE_EXPONENT = 9.80665 / (0.0065 * 287.05287)
"""Standard atmosphere below 36,000 ft: share of temperature lost per ft, exponent. ISO 2533:1975; the
defining constants from memory, unverified, but they give the 843 mb of R4 p. 9-38 at 5,000 ft [C]."""
