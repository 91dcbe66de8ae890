"""Every number of the hose rules that decides something: one home, a unit, a source.

Tags: [P] page read, [C] computed, [own] our choice.
"""

from typing import Final

UNPROVEN_RISE_FSW: Final = 0.5
"""A settled reading this much over the least since the blow: the hose is unproven. Rule D6 [own]."""

PROVEN_FOR_S: Final = 300.0
"""A blow proves the hose for so long. Rule D6 [own]."""

SETTLE_LEAST_S: Final = 10.0
"""No reading is taken for settled sooner after the valve was closed: the median's window must hold nothing
from before. Rule D6 [own]."""

SETTLE_LONGEST_S: Final = 60.0
"""Not settled by then: the valve is not shut, or the gauge is at fault. Rule D6 [own]."""

SETTLED_DRIFT_FSW: Final = 0.2
"""Halves of a window whose medians are within this are settled. Rule D6 [own]."""

SETTLED_LEAST_VALUES: Final = 4
"""Fewer values than this in a window settle nothing. Rule D6 [own]."""

FLOW_RATE_FSW_S: Final = 2.0
FLOW_LEAST_STEP_FSW: Final = 1.5
"""A reading that moves faster than the first, by as much as the second, shows air let in or shut off: at 75
fsw/min a full hose rises by 1.25 fsw/s, an unblown one by a fraction of it. Rule D6 [own]."""

FLOW_LOOK_S: Final = 3.0
"""Pairs of readings no further apart than this are looked at for such a step. Rule D6 [own]."""

FLOW_BACK_FSW: Final = 0.5
"""A reading that settles within this of where it stood before shows that no air flows now. Rule D6 [own]."""

FLOW_LONGEST_S: Final = 60.0
"""Air that flows for longer: the valve was left open, the gauge reads deep. Rule D6 [own]."""

PAIR_SHARE_OF_SCALE: Final = 0.02
"""Two gauges may differ by so much of full scale. 29 CFR 1910.430(g)(2), 46 CFR 197.458 [P]."""

PAIR_STEADY_FSW_MIN: Final = 5.0
"""They are compared while the depth changes more slowly than this. Rule D7 [own]."""

PASCAL_PER_DECIBAR: Final = 10_000.0
"""Decibar, exact. NIST Special Publication 811 (2008), table 9."""

DEPTH_COEFFICIENTS: Final = (9.72659, -2.2512e-5, 2.279e-10, -1.82e-15)
"""Depth x gravity in m²/s² from pressure in decibar, first to fourth power, for a standard ocean (35, 0 C).
Fofonoff and Millard, UNESCO technical papers in marine science 44 (1983), p. 25 to 28 [P by its check value].
"""

GRAVITY_EQUATOR_M_S2: Final = 9.780318
GRAVITY_LATITUDE: Final = (5.2788e-3, 2.36e-5)
GRAVITY_PER_DECIBAR: Final = 1.092e-6
"""Gravity by sin² of the latitude and, half-way down, by pressure. Same source."""
