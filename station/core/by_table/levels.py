"""What the trace keeps for an ascent: when he came shallower than 50 and 40 fsw, when he left his level.

A4 splits a delay at 50 fsw, X4 begins the interval at 40; A7 is for a diver above the stop that he is at.
"""

from dataclasses import replace

from shared.clock import Instant, seconds_between
from station.core.decompression.parameters import DEEP_DELAY_FSW, SURFACE_INTERVAL_FROM_FSW
from station.core.hose.following import counts
from station.core.parameters import Parameters
from station.core.state import DiverState, Span


def with_levels(diver: DiverState, level_fsw: float | None, now: Instant, p: Parameters) -> DiverState:
    """The diver after one more look at his depth; `level_fsw` is the stop that he is at, None for none.

    While his gauge is silent he counts as where he was shown last. While air flows in his hose the gauge
    reads deep and tells nothing of his level: everything stands as it did (rule D5).
    """
    if not counts(diver):
        return diver
    shown = diver.shown_fsw
    if shown is None:
        shown = diver.history[-1].value if diver.history else None
    if shown is not None:
        if shown > DEEP_DELAY_FSW:
            diver = replace(diver, deeper_50_at=now)
        if shown > SURFACE_INTERVAL_FROM_FSW:
            diver = replace(diver, deeper_40_at=now)
    above = (
        level_fsw is not None
        and diver.shown_fsw is not None
        and diver.shown_fsw < level_fsw - p.stop_above_fsw
    )
    return _above(diver, now, p) if above else _back(diver, now)


def _above(diver: DiverState, now: Instant, p: Parameters) -> DiverState:
    since = now if diver.risen_at is None else diver.risen_at
    diver = diver if diver.risen_at is not None else replace(diver, risen_at=now)
    told = bool(diver.away) and diver.away[-1].end is None
    if told or seconds_between(since, now) < p.stop_away_s:
        return diver
    return replace(diver, away=(*diver.away, Span(since)))


def _back(diver: DiverState, now: Instant) -> DiverState:
    if diver.away and diver.away[-1].end is None:
        diver = replace(diver, away=(*diver.away[:-1], Span(diver.away[-1].start, now)))
    return diver if diver.risen_at is None else replace(diver, risen_at=None)
