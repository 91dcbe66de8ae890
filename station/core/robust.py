"""Robust figures of a window of samples: medians and slopes that one wave or one bad sample cannot set."""

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Sequence
from operator import attrgetter

from shared.clock import Instant, after, seconds_between
from shared.units import NS_PER_S, S_PER_MIN
from station.core.state import Sample

Point = tuple[float, float]
"""Seconds and value: what slopes are taken of."""

_AT = attrgetter("at")


def kept(window: tuple[Sample, ...], now: Instant, window_s: float) -> tuple[Sample, ...]:
    """The samples of the last `window_s` seconds; `window` is in order of time."""
    return window[bisect_right(window, after(now, -window_s), key=_AT) :]


def since(window: tuple[Sample, ...], at: Instant) -> tuple[Sample, ...]:
    """The samples from `at` on; `window` is in order of time."""
    return window[bisect_left(window, at, key=_AT) :]


def last_until(window: tuple[Sample, ...], at: Instant) -> Sample | None:
    """The last sample not after `at`, None where there is none; `window` is in order of time."""
    place = bisect_right(window, at, key=_AT)
    return window[place - 1] if place else None


def middle(values: Iterable[float]) -> float:
    """Median of at least one value; of an even number the mean of the middle two."""
    ordered = sorted(values)
    half = len(ordered) // 2
    return ordered[half] if len(ordered) % 2 else (ordered[half - 1] + ordered[half]) / 2


def median_of(window: Sequence[Sample]) -> float | None:
    """Median value of the samples, None of none."""
    return middle([sample.value for sample in window]) if window else None


def sliding_medians(window: Sequence[Sample], width: int) -> list[float]:
    """Median of every `width` samples in a row; none where there are fewer."""
    values = [sample.value for sample in window]
    return [middle(values[i : i + width]) for i in range(len(values) - width + 1)]


def spans(window: Sequence[Sample], now: Instant, least_s: float) -> bool:
    """Whether the samples reach back at least `least_s` seconds from `now`."""
    return bool(window) and seconds_between(window[0].at, now) >= least_s


def binned(window: Sequence[Sample], bin_s: float) -> list[Point]:
    """Medians of the samples bin by bin, each at the mean instant of its samples in s after the first one.

    `window` is in order of time.
    """
    points: list[Point] = []
    ats, values, width_ns = [s.at for s in window], [s.value for s in window], round(bin_s * NS_PER_S)
    begin = 0
    while begin < len(ats):
        edge_ns = ats[0] + ((ats[begin] - ats[0]) // width_ns + 1) * width_ns
        end = bisect_left(ats, edge_ns, begin)
        count = end - begin
        since_ns = sum(ats[begin:end]) - count * ats[0]
        points.append((since_ns / count / NS_PER_S, middle(values[begin:end])))
        begin = end
    return points


def slope_per_min(points: Sequence[Point]) -> float | None:
    """Median of the slopes of all pairs (Theil 1950, Sen 1968), per minute; None of fewer than two points."""
    slopes = [
        (value - value_before) / (at_s - before_s)
        for place, (at_s, value) in enumerate(points)
        for before_s, value_before in points[:place]
        if at_s > before_s
    ]
    return middle(slopes) * S_PER_MIN if slopes else None
