"""From the pneumofathometer's reading to the depth that enters a table."""

from math import ceil

from .parameters import CORRECTION_BANDS_FSW, GAUGE_DUST_DECIMALS, GAUGE_ROUNDING_FSW

DEEPEST_CORRECTED_GAUGE_FSW = CORRECTION_BANDS_FSW[-1][0]


class BeyondCorrectionError(ValueError):
    """A gauge reading deeper than the printed corrections go: there is no number to add."""

    def __init__(self, gauge_fsw: float) -> None:
        super().__init__(
            f"no pneumofathometer correction is printed for a reading of {gauge_fsw:g} fsw: "
            f"the bands end at {DEEPEST_CORRECTED_GAUGE_FSW} fsw"
        )


def whole_gauge_fsw(gauge_fsw: float, rounding_fsw: float = GAUGE_ROUNDING_FSW) -> int:
    """Gauge reading in whole fsw, up when it is more than `rounding_fsw` over one; not below 0.

    Rule D2. The rounding is our choice [own]: the bands are printed in whole fsw.
    """
    return max(0, ceil(round(gauge_fsw - rounding_fsw, GAUGE_DUST_DECIMALS)))


def depth_correction_fsw(gauge_fsw: float, rounding_fsw: float = GAUGE_ROUNDING_FSW) -> float:
    """Correction to add to a pneumofathometer reading, by its band in whole fsw.

    Rule D2. Raises BeyondCorrectionError deeper than the printed bands (400 fsw).
    Source: USN Diving Manual Rev 4 Change A, Table 14-1, p. 14-3 [P]; all bands [S].
    """
    whole_fsw = whole_gauge_fsw(gauge_fsw, rounding_fsw)
    for deepest_fsw, correction_fsw in CORRECTION_BANDS_FSW:
        if whole_fsw <= deepest_fsw:
            return float(correction_fsw)
    raise BeyondCorrectionError(gauge_fsw)


def maximum_depth_fsw(deepest_gauge_fsw: float, rounding_fsw: float = GAUGE_ROUNDING_FSW) -> float:
    """Maximum depth: the deepest reading in whole fsw plus its correction; it alone enters a table.

    Rule D3. Raises BeyondCorrectionError as the correction does.
    Source: USN Diving Manual Rev 6 and 7, ch. 9, study notes [S].
    """
    return whole_gauge_fsw(deepest_gauge_fsw, rounding_fsw) + depth_correction_fsw(
        deepest_gauge_fsw, rounding_fsw
    )
