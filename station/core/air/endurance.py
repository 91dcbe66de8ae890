"""Endurance: how long a supply still lasts, by what is seen and by what is worked out. Rule G6."""

from dataclasses import dataclass
from enum import StrEnum

from station.core.air.bank import duration_min
from station.core.air.numbers import ENDURANCE_MARGIN_SHARE
from station.core.air.rounding import down


class LeftBy(StrEnum):
    """What the minutes left were taken from."""

    MEASURED = "measured"
    COMPUTED = "computed"


@dataclass(frozen=True, slots=True)
class Endurance:
    """Whole minutes that a supply lasts: the shorter with its name, then both; None is not known."""

    left_min: int | None
    left_by: LeftBy | None
    measured_min: int | None
    computed_min: int | None


def measured_left_min(pressure_psig: float, least_psig: float, falls_psi_min: float | None) -> int | None:
    """Whole minutes until a falling bank is at its least pressure; None when it is not falling.

    Rule G6 [own]. `falls_psi_min` is the measured fall, positive.
    """
    if falls_psi_min is None or falls_psi_min <= 0:
        return None
    return down(max(pressure_psig - least_psig, 0.0) / falls_psi_min)


def endurance(
    pressure_psig: float | None,
    least_psig: float,
    falls_psi_min: float | None,
    available_scf: float | None,
    need_scfm: float,
) -> Endurance:
    """How long a supply lasts: by its fall and by the flow that is needed, the shorter named.

    Rule G6 [own]: not falling, the needed flow alone. A pressure that is not known leaves no measured figure.
    """
    measured = None if pressure_psig is None else measured_left_min(pressure_psig, least_psig, falls_psi_min)
    computed = None if available_scf is None else duration_min(available_scf, need_scfm)
    if measured is not None and (computed is None or measured < computed):
        return Endurance(measured, LeftBy.MEASURED, measured, computed)
    return Endurance(computed, None if computed is None else LeftBy.COMPUTED, measured, computed)


def is_short(left_min: float, needed_min: float, margin_share: float = ENDURANCE_MARGIN_SHARE) -> bool:
    """Whether what is left no longer covers ascent and stops with the margin. Rule G6 [own]."""
    return left_min < needed_min * (1 + margin_share)


def lines_cross_min(
    left_min: float, needed_min: float, left_per_min: float = -1.0, needed_per_min: float = 0.0
) -> float | None:
    """Minutes until the minutes left meet the minutes needed; 0 when they have, None when they never do.

    Rule G6 [own]. Both lines are drawn on straight: what is left loses a minute in a minute at the present
    use, what is needed grows by `needed_per_min` as bottom time runs on.
    """
    gap_min = left_min - needed_min
    if gap_min <= 0:
        return 0.0
    closing = needed_per_min - left_per_min
    return gap_min / closing if closing > 0 else None
