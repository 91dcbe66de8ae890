"""4-20 mA: what a current says, and what it says of a gauge that is broken.

Limits after NAMUR NE 43, from memory, unverified: a gauge that works stays within 3.8 to 20.5 mA, a broken
gauge or wire drives the current to 3.6 mA or below, or to 21 mA or above. What lies between the two is
neither: no value and no failure. A broken loop is never "0 fsw".
"""

from typing import Final

from shared.gauges import Loop
from shared.readings import LinkFaultKind

ZERO_MA: Final = 4.0
FULL_MA: Final = 20.0
"""The current at the two ends of the span."""

VALID_LOW_MA: Final = 3.8
VALID_HIGH_MA: Final = 20.5
FAILED_LOW_MA: Final = 3.6
FAILED_HIGH_MA: Final = 21.0
"""NAMUR NE 43, from memory, unverified."""

UNIT: Final = "mA"


def loop_value(loop: Loop, current_ma: float) -> float | LinkFaultKind:
    """The value behind a current: low + (I - 4) / 16 * (high - low), or why it is none."""
    if current_ma <= FAILED_LOW_MA or current_ma >= FAILED_HIGH_MA:
        return LinkFaultKind.GAUGE_FAULT
    if not VALID_LOW_MA <= current_ma <= VALID_HIGH_MA:
        return LinkFaultKind.OUT_OF_RANGE
    share = (current_ma - ZERO_MA) / (FULL_MA - ZERO_MA)
    return loop.at_4_ma + share * (loop.at_20_ma - loop.at_4_ma)


def loop_current_ma(loop: Loop, value: float) -> float:
    """The current that stands for a value; the other way round."""
    return ZERO_MA + (value - loop.at_4_ma) / (loop.at_20_ma - loop.at_4_ma) * (FULL_MA - ZERO_MA)
