"""Squeeze: what a rise of the reading of an unblown hose stands for. Rule D6.

The hose holds the air it was full of at one depth. Deeper, water enters and the air shrinks (Boyle's law);
the water in the hose stands between the diver and the gauge, so all but a fraction of a descent is hidden.
USN Diving Manual Rev 4 Change A, p. 8-35: blow again after any descent. The formula is our own derivation.
"""

from shared.units import FSW_PER_ATMOSPHERE
from station.core.air.quantity import Quantity


def true_rise_fsw(shown_rise_fsw: Quantity, full_at_fsw: float, hose_ft: float) -> Quantity:
    """Descent in fsw that a rise of the reading stands for: r + L r / (33 + b + r).

    `full_at_fsw` is the depth b at which the hose was last full, `hose_ft` its length L, taken to hang
    straight. With 300 ft blown at 57, a rise of 3 is 12.7. Holds for a rise of 0 or more. Rule D6 [own].
    """
    return shown_rise_fsw + hose_ft * shown_rise_fsw / (FSW_PER_ATMOSPHERE + full_at_fsw + shown_rise_fsw)


def bound_fsw(reading_fsw: float, full_at_fsw: float, hose_ft: float) -> float:
    """Depth in fsw that an unproven hose cannot hide more than: b + r (1 + L / (33 + b)).

    Never less than the true rise gives, nor than the reading; the reading itself where it does not stand
    over the depth at which the hose was full. Rule D6 [own].
    """
    rise_fsw = max(reading_fsw - full_at_fsw, 0.0)
    return reading_fsw + rise_fsw * hose_ft / (FSW_PER_ATMOSPHERE + full_at_fsw)
