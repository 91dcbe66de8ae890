"""Robust figures of a window of samples: medians and slopes that one wave or one bad sample cannot set."""

from collections.abc import Sequence
from statistics import median

from shared.clock import Instant, after, seconds_between
from shared.units import NS_PER_S, S_PER_MIN
from station.core.state import Sample


def kept(window: tuple[Sample, ...], now: Instant, window_s: float) -> tuple[Sample, ...]:
    """The samples of the last `window_s` seconds; `window` is in order of time."""
    oldest = after(now, -window_s)
    first = 0
    while first < len(window) and window[first].at <= oldest:
        first += 1
    return window[first:]


def median_of(window: Sequence[Sample]) -> float | None:
    """Median value of the samples, None of none."""
    return median(sample.value for sample in window) if window else None


def spans(window: Sequence[Sample], now: Instant, least_s: float) -> bool:
    """Whether the samples reach back at least `least_s` seconds from `now`."""
    return bool(window) and seconds_between(window[0].at, now) >= least_s


def binned(window: Sequence[Sample], bin_s: float) -> tuple[Sample, ...]:
    """Medians of the samples bin by bin of station time, each at the mean instant of its samples."""
    bins: dict[int, list[Sample]] = {}
    width_ns = round(bin_s * NS_PER_S)
    for sample in window:
        bins.setdefault(sample.at // width_ns, []).append(sample)
    return tuple(
        Sample(Instant(sum(s.at for s in group) // len(group)), median(s.value for s in group))
        for group in bins.values()
    )


def slope_per_min(points: Sequence[Sample]) -> float | None:
    """Median of the slopes of all pairs (Theil 1950, Sen 1968), per minute; None of fewer than two points."""
    slopes = [
        (later.value - earlier.value) / seconds_between(earlier.at, later.at) * S_PER_MIN
        for place, earlier in enumerate(points)
        for later in points[place + 1 :]
        if later.at > earlier.at
    ]
    return median(slopes) if slopes else None
