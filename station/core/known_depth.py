"""The deepest that is known of a diver, and who says so: gauge, its hose's bound, the plan, a typed reading.

Rules D3, D6, D9: the tables take the deepest of all that is known. The figures are gauge depths in fsw, to
which the correction is still added.
"""

from dataclasses import replace
from enum import StrEnum

from station.core.decompression.correction import BeyondCorrectionError, maximum_depth_fsw
from station.core.decompression.parameters import CORRECTION_BANDS_FSW
from station.core.hose.following import bound_of, counts, is_unbounded
from station.core.inputs import ReadBy
from station.core.phase import IN_WATER, Phase
from station.core.state import DiverState, TypedDepth


class DeepestBy(StrEnum):
    """What the deepest depth rests on."""

    GAUGE = "gauge"
    BOUND = "bound"  # what an unproven hose can have hidden
    PLAN = "plan"  # the hose was never blown below the surface


def gauge_fsw_of(true_fsw: float) -> float:
    """The least gauge depth whose depth with correction is at least this: 60 is 59, 103 is 101. Rule D2.

    Deeper than the printed corrections the depth itself.
    """
    less = [true_fsw - correction_fsw for _, correction_fsw in CORRECTION_BANDS_FSW]
    found = [gauge_fsw for gauge_fsw in less if gauge_fsw >= 0 and _reaches(gauge_fsw, true_fsw)]
    return min(found, default=true_fsw if less[0] > 0 else 0.0)


def _reaches(gauge_fsw: float, true_fsw: float) -> bool:
    try:
        return maximum_depth_fsw(gauge_fsw, 0.0) >= true_fsw
    except BeyondCorrectionError:
        return False


def typed_gauge_fsw(typed: TypedDepth) -> float:
    """A typed depth as a gauge depth: a hand gauge's as it is, a sounding less the correction of a gauge."""
    return typed.depth_fsw if typed.read_by is ReadBy.HAND_GAUGE else gauge_fsw_of(typed.depth_fsw)


def deepest_known(diver: DiverState) -> tuple[float | None, DeepestBy]:
    """The deepest gauge depth of a diver in the water, and what it rests on; None where nothing is known."""
    known = [(diver.deepest_read_fsw, DeepestBy.GAUGE)]
    if diver.hidden is not None:
        known.append((diver.hidden.bound_fsw, DeepestBy.BOUND))
    if is_unbounded(diver) and diver.planned_depth_fsw is not None:
        known.append((gauge_fsw_of(diver.planned_depth_fsw), DeepestBy.PLAN))
    best: tuple[float | None, DeepestBy] = (None, DeepestBy.GAUGE)
    for depth_fsw, by in known:
        if depth_fsw is not None and (best[0] is None or depth_fsw > best[0]):
            best = (depth_fsw, by)
    return best


def with_deepest(diver: DiverState, phase: Phase) -> DiverState:
    """The diver with the deepest depth that the tables take; before the dive none, after it the last one."""
    if phase is Phase.DRESSED:
        deepest = None
    elif phase in IN_WATER:
        deepest = deepest_known(diver)[0]
    else:
        return diver
    return diver if deepest == diver.deepest_fsw else replace(diver, deepest_fsw=deepest)


def present_known(diver: DiverState, hose_ft: float | None) -> float | None:
    """The present gauge depth that air is worked for, the deeper where it is not proven. Rules D6, D9, G2.

    The steady depth, for air flowing in the hose must not cost a band; else the last that is known, by the
    trace or typed, whichever is later.
    """
    reading = _reading(diver)
    if is_unbounded(diver):
        deepest = deepest_known(diver)[0]
        return max((fsw for fsw in (reading, deepest) if fsw is not None), default=None)
    bound = bound_of(diver, reading, hose_ft or 0.0)
    return reading if bound is None else bound


def _reading(diver: DiverState) -> float | None:
    if diver.steady_fsw is not None:
        return diver.steady_fsw
    if diver.shown_fsw is not None and counts(diver):
        return diver.shown_fsw
    if diver.shown_fsw is not None and diver.counted_fsw is not None:
        return diver.counted_fsw
    last = diver.history[-1] if diver.history else None
    typed = diver.typed
    if typed is not None and (last is None or typed.at >= last.at):
        return typed_gauge_fsw(typed)
    return None if last is None else last.value
