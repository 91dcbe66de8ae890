"""What a gauge is known to say: its samples, what is shown of them, how they trend."""

from dataclasses import replace

from shared.clock import Instant
from shared.gauges import Channel, Gauge
from shared.readings import LinkFault, Reading
from shared.units import NS_PER_S
from station.core.frozen import stirred
from station.core.parameters import Parameters
from station.core.robust import binned, kept, median_of, slope_per_min, spans
from station.core.state import GaugeState, Sample
from station.core.trust import gauge_trust, is_heard


def steady_window_s(gauge: Gauge, p: Parameters) -> float:
    """Seconds of the window for what is deepest; a slow gauge needs longer for a few samples."""
    return max(p.steady_window_s, p.window_periods * gauge.every_s)


def rate_window_s(gauge: Gauge, p: Parameters) -> float:
    """Seconds of the window for a rate; a slow gauge needs longer for a few samples."""
    return max(p.rate_window_s, p.window_periods * gauge.every_s)


def filled(window: tuple[Sample, ...], window_s: float, gauge: Gauge, now: Instant, p: Parameters) -> bool:
    """Whether the samples reach back over enough of a window; they stand one period apart."""
    return spans(window, now, (window_s - gauge.every_s) * p.least_window_share)


def steady_of(gauge: Gauge, heard: GaugeState, now: Instant, p: Parameters) -> float | None:
    """The median of the steady window, None while the gauge is silent or the window is not yet filled."""
    if not is_heard(heard.trust):
        return None
    window_s = steady_window_s(gauge, p)
    recent = kept(heard.window, now, window_s)
    return median_of(recent) if filled(recent, window_s, gauge, now, p) else None


def hear(gauge: Gauge, heard: GaugeState, reading: Reading, p: Parameters) -> GaugeState:
    """The gauge after one more reading; its samples stay in order of time."""
    last = heard.last
    at = reading.at if last is None else max(reading.at, last.at)
    sample = Sample(at, reading.value)
    window = kept(heard.window, at, max(steady_window_s(gauge, p), rate_window_s(gauge, p)))
    return replace(heard, last=sample, window=(*window, sample), stir=stirred(heard.stir, sample, p))


def blame(heard: GaugeState, fault: LinkFault) -> GaugeState:
    """The gauge after something was wrong with what it sent."""
    return replace(heard, faults=heard.faults + 1, last_fault=f"{fault.kind.value}: {fault.detail}")


def settle(gauge: Gauge, heard: GaugeState, port_open: bool, now: Instant, p: Parameters) -> GaugeState:
    """The gauge at a tick: its trust, its shown value, its trend."""
    trust = gauge_trust(gauge, heard, port_open, now, p)
    if not is_heard(trust):
        if heard.trust is trust and heard.shown is None:
            return heard
        return replace(heard, trust=trust, shown=None, trend_per_min=None)
    shown = _shown(gauge, heard, now, p)
    if heard.trust is not trust or heard.shown != shown:
        heard = replace(heard, trust=trust, shown=shown)
    return heard if gauge.channel is Channel.DEPTH or shown is None else _trended(heard, shown, now, p)


def _shown(gauge: Gauge, heard: GaugeState, now: Instant, p: Parameters) -> float | None:
    """The median of a moment; when that is empty and the gauge not yet stale, its last sample."""
    recent = kept(heard.window, now, max(p.shown_window_s, 2 * gauge.every_s))
    return median_of(recent or heard.window[-1:])


def _trended(heard: GaugeState, shown: float, now: Instant, p: Parameters) -> GaugeState:
    """Once a second, one more slow sample and the slope of them."""
    if heard.slow and now // NS_PER_S == heard.slow[-1].at // NS_PER_S:
        return heard
    slow = (*kept(heard.slow, now, p.trend_window_s), Sample(now, shown))
    enough = spans(slow, now, p.trend_window_s * p.least_window_share)
    return replace(
        heard, slow=slow, trend_per_min=slope_per_min(binned(slow, p.trend_bin_s)) if enough else None
    )
