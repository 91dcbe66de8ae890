"""How far a gauge may be believed: by whether, and how lately, it was heard."""

from shared.clock import Instant, seconds_between
from shared.gauges import Gauge
from station.core.parameters import Parameters
from station.core.state import GaugeState, Trust


def stale_after_s(gauge: Gauge, parameters: Parameters) -> float:
    """Seconds without a reading after which the gauge is stale: three periods, one second at least."""
    return max(parameters.stale_periods * gauge.every_s, parameters.stale_least_s)


def lost_after_s(gauge: Gauge, parameters: Parameters) -> float:
    """Seconds without a reading after which the gauge is lost: five seconds, six periods at least."""
    return max(parameters.lost_after_s, parameters.lost_periods * gauge.every_s)


def age_s(heard: GaugeState, now: Instant) -> float | None:
    """Seconds since the gauge was last heard, None when it never was."""
    return None if heard.last is None else seconds_between(heard.last.at, now)


def gauge_trust(
    gauge: Gauge, heard: GaugeState, port_open: bool, now: Instant, parameters: Parameters
) -> Trust:
    """Trust in a gauge at `now`; apart from whether its value is within limits."""
    age = age_s(heard, now)
    if not port_open or age is None or age > lost_after_s(gauge, parameters):
        return Trust.LOST
    if age > stale_after_s(gauge, parameters):
        return Trust.STALE
    return Trust.GOOD


def is_heard(trust: Trust) -> bool:
    """Whether a number of this trust may be shown as a number."""
    return trust not in (Trust.STALE, Trust.LOST)
