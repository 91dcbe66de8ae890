"""The numbers of the gas model. None of them was adjusted to the tables but those that say so.

NEDU: U.S. Navy Experimental Diving Unit. The reports' own tables were not read; the values come from a public
secondary source that quotes them. fsw and minutes throughout.
"""

from typing import Final

SURFACE_FSW: Final = 33.0
"""Sea-level pressure. Convention of the tables."""

HALF_TIMES_MIN: Final = (5.0, 10.0, 20.0, 40.0, 80.0, 120.0, 160.0, 200.0, 240.0)
"""Half-times of the nine compartments. NEDU TR 12-01, Table 3, second hand [S]."""

SURFACING_LIMITS_FSW: Final = (99.3, 87.7, 78.0, 56.0, 48.5, 45.5, 44.5, 44.0, 43.5)
"""VVal-79: greatest nitrogen tension on leaving for the surface. NEDU TR 12-01, Table 3, second hand [S]."""

LIMIT_SLOPE: Final = 1.0
"""Growth of a limit with depth, fsw per fsw. NEDU TR 12-01, appendix B, second hand [S]."""

BUBBLE_OVERPRESSURE_FSW: Final = 10.0
SURFACE_BUBBLE_OVERPRESSURE_FSW: Final = 0.0
"""Excess over the venous reference at which wash-out turns linear, in the water and at the surface. [S]"""

ARTERIAL_CO2_FSW: Final = 1.5
VENOUS_CO2_FSW: Final = 2.3
VENOUS_O2_FSW: Final = 2.0
"""Blood gases. NEDU report on table generation, second hand [S]."""

WASH_OUT_AIR: Final = 1.0
WASH_OUT_OXYGEN: Final = 0.70
WASH_OUT_SWITCH: Final = 0.80
"""Wash-out against uptake on air, on oxygen, and the oxygen share from which it is the latter. [S]"""

OXYGEN_IN_AIR: Final = 0.21
"""Oxygen share of air. Convention; 0.2095 agrees clearly worse with the table [C]."""

OXYGEN_IN_OXYGEN: Final = 0.80
"""Oxygen share of what is breathed as oxygen: the one number FITTED to the table; no source found [C]."""

DESCENT_FSW_MIN: Final = 75.0
ASCENT_FSW_MIN: Final = 30.0
"""Rates of travel. USN Diving Manual Rev 7, heading of Table 9-9 [P]."""

STOP_GRID_FSW: Final = 10
LAST_STOP_FSW: Final = 20
FIRST_OXYGEN_STOP_FSW: Final = 30
"""Grid of the stops. USN Diving Manual Rev 7, Table 9-9 [P]."""

GROUP_COMPARTMENT: Final = 5
"""Which compartment the repetitive groups follow: the one of 120 minutes [C]."""

GROUP_FLOOR_FSW: Final = 1.0
GROUP_STEP_FSW: Final = 1.245625
"""Excess at which group A ends, and the step from group to group: 16 steps reach the limit itself. Found from
USN Diving Manual Rev 7, Table 9-7 [C]."""

ALTITUDE_HALF_TIME_MIN: Final = 640.0
"""Half-time of the waits before altitude. Found from USN Diving Manual Rev 7, Table 9-6 [C]."""

TIE_FSW: Final = 0.001
"""Slack under which model and table count as tied, a minute either way. Arithmetic of the travel legs [C]."""

SATURATION_MIN: Final = 20_000
"""Bottom time that stands for any time: 80 half-times of the slowest compartment."""
