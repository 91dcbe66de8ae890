"""Two gauges on one diver. Rule D7."""

from station.core.air.numbers import DUST_DECIMALS
from station.core.hose.numbers import PAIR_SHARE_OF_SCALE, PAIR_STEADY_FSW_MIN


def pair_limit_fsw(full_scale_fsw: float) -> float:
    """Largest difference of two gauges of similar range in fsw: 2 % of full scale.

    Rule D7. Source: 29 CFR 1910.430(g)(2); 46 CFR 197.458 [P].
    """
    return full_scale_fsw * PAIR_SHARE_OF_SCALE


def gauges_differ(
    one_fsw: float, other_fsw: float, full_scale_fsw: float, rate_fsw_min: float | None
) -> bool:
    """Whether two gauges on one diver differ by more than 2 % of full scale while steady: test required.

    Rule D7. Steady is slower than 5 fsw/min [own]; a rate that is not known is not steady.
    Source: 29 CFR 1910.430(g)(2); 46 CFR 197.458 [P].
    """
    if rate_fsw_min is None or abs(rate_fsw_min) >= PAIR_STEADY_FSW_MIN:
        return False
    apart_fsw = round(abs(one_fsw - other_fsw), DUST_DECIMALS)
    return apart_fsw > round(pair_limit_fsw(full_scale_fsw), DUST_DECIMALS)
