"""What the trace of a hose shows by itself: settled, flowing. It proposes; the operator confirms. Rule D6."""

from collections.abc import Sequence
from enum import StrEnum
from statistics import median

from station.core.air.numbers import DUST_DECIMALS
from station.core.hose.numbers import (
    FLOW_LEAST_STEP_FSW,
    FLOW_RATE_FSW_S,
    SETTLED_DRIFT_FSW,
    SETTLED_LEAST_VALUES,
)


class FlowEdge(StrEnum):
    """A jump of the reading that no diver makes: the blow valve was opened or closed."""

    OPENED = "opened"
    CLOSED = "closed"


def is_settled(window_fsw: Sequence[float]) -> bool:
    """Whether a window of readings has settled.

    Settled when the medians of the earlier and the later half are within 0.2 fsw: a wave passes, a gauge
    that still falls after a blow, or a diver on his way, does not. Rule D6 [own].
    """
    if len(window_fsw) < SETTLED_LEAST_VALUES:
        return False
    half = len(window_fsw) // 2
    drift_fsw = median(window_fsw[-half:]) - median(window_fsw[:half])
    return round(abs(drift_fsw), DUST_DECIMALS) <= SETTLED_DRIFT_FSW


def flow_edge(rise_fsw: float, span_s: float) -> FlowEdge | None:
    """The edge of a blow in a reading that rose by so much (fell, when negative) in so many seconds.

    Rule D6 [own]: no dive makes it move so fast. Raises ValueError for a span that is not positive.
    """
    if span_s <= 0:
        raise ValueError(f"a rise over {span_s:g} s has no rate")
    if abs(rise_fsw) < FLOW_LEAST_STEP_FSW or abs(rise_fsw) / span_s <= FLOW_RATE_FSW_S:
        return None
    return FlowEdge.OPENED if rise_fsw > 0 else FlowEdge.CLOSED
