"""Depth: from a gauge's samples to what is shown, is deepest, and enters a table. Rules D2 to D5."""

from dataclasses import dataclass, replace

from shared.clock import Instant
from shared.gauges import Channel, Gauge
from shared.units import NS_PER_S
from station.core.decompression.correction import (
    BeyondCorrectionError,
    depth_correction_fsw,
    maximum_depth_fsw,
)
from station.core.finding import diver_named, diver_settings, gauge_of, gauge_state
from station.core.hose.following import (
    bound_of,
    followed_hose,
    is_unbounded,
    rate_counts,
    with_hose,
)
from station.core.hose.numbers import UNPROVEN_RISE_FSW
from station.core.hose.trust import HoseTrust
from station.core.known_depth import DeepestBy, deepest_known, with_deepest
from station.core.listening import filled, rate_window_s, steady_of
from station.core.parameters import Parameters
from station.core.phase import IN_WATER, Phase
from station.core.robust import binned, kept, since, sliding_medians, slope_per_min
from station.core.state import DiverState, GaugeState, Sample, State, Trust
from station.core.tables.lookup import table_depth_fsw
from station.core.timekeeping import effective_marks, phase_of
from station.core.trust import age_s, is_heard

TABLED_DEPTHS_FSW = (
    *range(10, 60, 5),
    *range(60, 200, 10),
    200, 210, 220, 250, 300,
)  # fmt: skip
"""Depths that the air tables print. USN Diving Manual Rev 7, Tables 9-7 and 9-9."""


@dataclass(frozen=True, slots=True)
class Depth:
    """Everything that is said of one diver's depth, in fsw; None is not known.

    `gauge_fsw` as filtered, `corrected_fsw` with the pneumofathometer correction, `max_fsw` the deepest
    with its correction, `table_fsw` the tabulated depth of that; `rate_fsw_min` positive downward.
    `last_fsw` and `age_s` tell of the last reading however old. `bound_fsw` is the gauge depth that an
    unproven hose cannot hide more than, None where it is proven or where nothing bounds it (`unbounded`);
    `max_by` is what the maximum rests on.
    """

    gauge_fsw: float | None
    corrected_fsw: float | None
    max_fsw: float | None
    table_fsw: int | None
    rate_fsw_min: float | None
    trust: Trust
    age_s: float | None
    last_fsw: float | None
    bound_fsw: float | None = None
    unbounded: bool = False
    max_by: DeepestBy = DeepestBy.GAUGE


def depth_of(state: State, diver_name: str) -> Depth:
    """The depth of a diver at the state's instant. Raises KeyError for a diver that is not there."""
    diver = diver_named(state, diver_name)
    gauge = gauge_of(state, Channel.DEPTH, diver_name)
    heard = GaugeState("") if gauge is None else gauge_state(state, gauge.name)
    p = state.settings.parameters
    tolerance_fsw = p.gauge_rounding_fsw
    trust = _trust(diver, heard, p.in_water_fsw)
    hose_ft = diver_settings(state, diver_name).hose_ft or 0.0
    max_fsw = None if diver.deepest_fsw is None else table_fsw_of(diver.deepest_fsw, tolerance_fsw)
    return Depth(
        diver.shown_fsw,
        corrected_fsw(diver.shown_fsw, tolerance_fsw),
        max_fsw,
        None if max_fsw is None else table_depth_fsw(max_fsw, TABLED_DEPTHS_FSW),
        diver.rate_fsw_min,
        trust,
        age_s(heard, state.now),
        None if heard.last is None else heard.last.value,
        bound_of(diver, diver.steady_fsw, hose_ft) if trust is Trust.AT_LEAST else None,
        trust is Trust.AT_LEAST and is_unbounded(diver),
        deepest_known(diver)[1],
    )


def _trust(diver: DiverState, heard: GaugeState, in_water_fsw: float) -> Trust:
    """Trust in a diver's depth: of his gauge's line, then of itself and its pair, then of its hose. D6, D7.

    On deck a hose that was never blown is full and reads 0; it is not believed as soon as it reads more. What
    was proven on deck proves nothing in the water.
    """
    of_link, hose = heard.trust, diver.hose
    if not is_heard(of_link):
        return of_link
    if diver.gauges_differ or heard.frozen:
        return Trust.SUSPECT
    if hose is None:
        return of_link
    if hose.trust is HoseTrust.BLOWN:
        proven_on_deck = hose.blown_fsw is not None and hose.blown_fsw <= in_water_fsw
        return Trust.AT_LEAST if proven_on_deck and phase_of(diver) in IN_WATER else of_link
    if hose.trust is not HoseTrust.UNPROVEN:
        return Trust.SUSPECT
    reads_more = diver.shown_fsw is not None and diver.shown_fsw >= UNPROVEN_RISE_FSW
    return Trust.AT_LEAST if reads_more or phase_of(diver) in IN_WATER else of_link


def table_fsw_of(gauge_fsw: float, tolerance_fsw: float) -> float | None:
    """The depth in fsw at which a gauge depth enters a table; None beyond the printed corrections."""
    try:
        return maximum_depth_fsw(gauge_fsw, tolerance_fsw)
    except BeyondCorrectionError:
        return None


def corrected_fsw(gauge_fsw: float | None, tolerance_fsw: float) -> float | None:
    """A gauge depth with its correction; None when it is not known or beyond the printed corrections."""
    if gauge_fsw is None:
        return None
    try:
        return gauge_fsw + depth_correction_fsw(gauge_fsw, tolerance_fsw)
    except BeyondCorrectionError:
        return None


def follow(
    diver: DiverState,
    phase: Phase,
    gauge: Gauge,
    heard: GaugeState,
    *,
    now: Instant,
    p: Parameters,
    hose_ft: float | None = None,
) -> DiverState:
    """The diver's depth figures at a tick, from the samples of his gauge. Rules D5, D6.

    A silent gauge leaves no depth and no rate; what was deepest stays. What a gauge showed before the surface
    was left, a trial of it, is no depth of the dive. What it shows while air flows through the hose, or the
    hose settles after a blow, is shown and is no depth.
    """
    steady = steady_of(gauge, heard, now, p)
    counts = True
    if diver.hose is not None and hose_ft is not None:
        hose = followed_hose(diver, diver.hose, gauge, heard, steady, now=now, p=p)
        in_water, counts = phase in IN_WATER, hose.counts
        diver = with_hose(diver, hose, steady, hose_ft=hose_ft, in_water=in_water, now=now, p=p)
    if not is_heard(heard.trust):
        silent = replace(diver, shown_fsw=None, steady_fsw=None, rate_fsw_min=None)
        return with_deepest(silent, phase)
    rate = _rate(heard.window, gauge, now, p) if rate_counts(diver.hose, now) else None
    followed = replace(
        diver,
        shown_fsw=heard.shown,
        steady_fsw=steady if counts else None,
        counted_fsw=steady if counts and steady is not None else diver.counted_fsw,
        rate_fsw_min=rate,
        deepest_read_fsw=_deepest(diver.deepest_read_fsw, steady if counts else None, phase),
        history=_history(diver.history, heard.shown, now, p) if counts else diver.history,
    )
    return with_deepest(followed, phase)


def _deepest(before: float | None, steady: float | None, phase: Phase) -> float | None:
    if phase is Phase.DRESSED:
        return None
    if phase not in IN_WATER or steady is None:
        return before
    return steady if before is None else max(before, steady)


def refigured(diver: DiverState, p: Parameters) -> DiverState:
    """The diver's deepest depth after a word on his marks: what the trace of his dive shows, late or not.

    The trace holds one depth a second; as many as a steady window has seconds make one median.
    """
    phase = phase_of(diver)
    if phase is Phase.DRESSED:
        return replace(diver, deepest_read_fsw=None, deepest_fsw=None, hidden=None, proven_below=False)
    start = effective_marks(diver)[0].at
    if phase not in IN_WATER:
        return diver
    medians = sliding_medians(since(diver.history, start), round(p.steady_window_s))
    known = medians if diver.deepest_read_fsw is None else [*medians, diver.deepest_read_fsw]
    return with_deepest(replace(diver, deepest_read_fsw=max(known, default=None)), phase)


def _rate(window: tuple[Sample, ...], gauge: Gauge, now: Instant, p: Parameters) -> float | None:
    window_s = rate_window_s(gauge, p)
    recent = kept(window, now, window_s)
    return slope_per_min(binned(recent, p.rate_bin_s)) if filled(recent, window_s, gauge, now, p) else None


def _history(
    history: tuple[Sample, ...], shown: float | None, now: Instant, p: Parameters
) -> tuple[Sample, ...]:
    if shown is None or (history and now // NS_PER_S == history[-1].at // NS_PER_S):
        return history
    return (*kept(history, now, p.history_s), Sample(now, shown))
