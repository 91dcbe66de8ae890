"""A diver's hose at a tick: what his gauge's window shows of it, and what it can have hidden. Rule D6.

Decision (own): a hose that was last full at the surface, never blown in this dive or only on deck, bounds
nothing: Boyle's law lets 57 fsw stand for some 550. Such a bound is not shown. Until he is blown below, the
tables take the deeper of the reading and the planned depth, and the station asks for the blow.
A bound from a blow in the water enters the tables until he is blown again; where the blow finds him higher
than he was when it arose, nobody can prove that excursion any more and its bound stays for the dive.
"""

from dataclasses import replace

from shared.clock import Instant, seconds_between
from shared.gauges import Gauge
from station.core.hose.numbers import FLOW_LOOK_S, SETTLE_LEAST_S, UNPROVEN_RISE_FSW
from station.core.hose.trace import FlowEdge, flow_edge, is_settled
from station.core.hose.trust import HoseSeen, HoseState, HoseTrust, hose_depth, step
from station.core.listening import steady_window_s
from station.core.parameters import Parameters
from station.core.robust import kept
from station.core.state import DiverState, GaugeState, Hidden, Sample


def followed_hose(
    diver: DiverState,
    hose: HoseState,
    gauge: Gauge,
    heard: GaugeState,
    reading_fsw: float | None,
    *,
    now: Instant,
    p: Parameters,
) -> HoseState:
    """The hose after one tick; `reading_fsw` is the steady reading, None while the gauge is silent.

    Own choice: a reading that falls steadily has settled as well, for it is a diver who rises, and he spills
    air from his hose. So a blow just before leaving the bottom proves it.
    """
    edge = None if heard.shown is None else newest_edge(heard.window)
    is_settling = hose.blown_at is not None and hose.blown_fsw is None
    asks_settled = edge is not None or hose.flow is not None or is_settling
    settled = asks_settled and _has_settled(diver, gauge, heard, now, p)
    return step(hose, HoseSeen(now, reading_fsw, settled, edge=edge, differ=diver.gauges_differ))


def _has_settled(diver: DiverState, gauge: Gauge, heard: GaugeState, now: Instant, p: Parameters) -> bool:
    """Whether the window has settled: no edge of a blow stands in it, and it rests, or falls as he rises."""
    recent = kept(heard.window, now, steady_window_s(gauge, p))
    if any(newest_edge(recent[:end]) is not None for end in range(2, len(recent) + 1)):
        return False
    rises = diver.rate_fsw_min is not None and diver.rate_fsw_min < -p.steady_rate_fsw_min
    return rises or is_settled([sample.value for sample in recent])


def newest_edge(window: tuple[Sample, ...]) -> FlowEdge | None:
    """The edge of a blow that the newest reading makes with one shortly before it, None without one."""
    for older in reversed(window[:-1]):
        span_s = seconds_between(older.at, window[-1].at)
        if span_s > FLOW_LOOK_S:
            return None
        edge = None if span_s <= 0 else flow_edge(window[-1].value - older.value, span_s)
        if edge is not None:
            return edge
    return None


def counts(diver: DiverState) -> bool:
    """Whether what his gauge shows now is a depth: always without a hose, else not while air flows."""
    return diver.hose is None or diver.hose.counts


def rate_counts(hose: HoseState | None, now: Instant) -> bool:
    """Whether the gauge's rate is the diver's. While air flows it is not.

    Own choice: what still moves ten seconds after the valve was closed is the diver, or a valve that is not
    shut; a diver who shoots up just after a blow must not go unseen.
    """
    if hose is None or hose.counts:
        return True
    return (
        hose.flow is None
        and hose.blown_at is not None
        and (seconds_between(hose.blown_at, now) >= SETTLE_LEAST_S)
    )


def is_unbounded(diver: DiverState) -> bool:
    """Whether his hose is not proven and never was in the water in this dive: nothing bounds his depth."""
    hose = diver.hose
    return hose is not None and hose.trust is not HoseTrust.BLOWN and not diver.proven_below


def bound_of(diver: DiverState, reading_fsw: float | None, hose_ft: float) -> float | None:
    """What an unproven hose cannot hide more than now, None where it is proven or nothing bounds it."""
    hose = diver.hose
    if hose is None or reading_fsw is None or hose.trust is not HoseTrust.UNPROVEN or is_unbounded(diver):
        return None
    return hose_depth(hose, reading_fsw, hose_ft).bound_fsw


def with_hose(
    diver: DiverState,
    hose: HoseState,
    reading_fsw: float | None,
    *,
    hose_ft: float,
    in_water: bool,
    now: Instant,
    p: Parameters,
) -> DiverState:
    """The diver with his hose after a tick, and with what it can have hidden in the water. Rule D6."""
    before, hidden = diver.hose, diver.hidden
    proven_fsw = hose.blown_fsw if hose.trust is HoseTrust.BLOWN else None
    proven_below = in_water and proven_fsw is not None and proven_fsw > p.in_water_fsw
    diver = replace(diver, hose=hose, proven_below=diver.proven_below or proven_below)
    bound = bound_of(diver, reading_fsw, hose_ft) if in_water and hose.counts else None
    if bound is not None and reading_fsw is not None and (hidden is None or bound > hidden.bound_fsw):
        hidden = Hidden(reading_fsw, bound)
    closed = hose.flow is not None and hose.flow.closed
    was_closed = before is not None and before.flow is not None and before.flow.closed
    if closed and not was_closed:
        diver = replace(diver, blow_seen=now)
    diver = replace(diver, hidden=hidden)
    return _proven(diver, hose) if hidden is not None and hose.trust is HoseTrust.BLOWN else diver


def _proven(diver: DiverState, hose: HoseState) -> DiverState:
    """The diver when his hose is proven again: at the depth in question, or higher and too late."""
    hidden, proven_fsw = diver.hidden, hose.blown_fsw
    if hidden is None or proven_fsw is None:
        return diver
    deepest = diver.deepest_read_fsw
    if proven_fsw < hidden.reading_fsw - UNPROVEN_RISE_FSW:
        deepest = hidden.bound_fsw if deepest is None else max(deepest, hidden.bound_fsw)
    return replace(diver, hidden=None, deepest_read_fsw=deepest)
