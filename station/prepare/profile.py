"""A profile of rules: what a jurisdiction asks at which depth, as data with its version and sources.

The rules disagree (100 fsw here, 130 there), so nothing of them is a constant: a dive carries the profile
that it was made under.
"""

from dataclasses import dataclass
from enum import StrEnum

from station.prepare.duties import Duty


class Asked(StrEnum):
    """What a profile can ask for."""

    DEPTH_LIMIT = "depth_limit"  # not deeper
    CHAMBER = "chamber"  # a decompression chamber ready at the place
    BELL = "bell"
    STAGE = "stage"
    STANDBY = "standby"
    TENDER_EACH = "tender_each"  # a separate tender for each diver
    RESERVE = "reserve"  # a second supply at the place
    CARRIED_RESERVE = "carried_reserve"  # on the diver
    SPARE_HOSE = "spare_hose"  # in heavy gear: for the standby to bring
    NEAR_CHAMBER = "near_chamber"  # after the dive, awake, by the chamber


class Bound(StrEnum):
    """Whether the figure itself is still within."""

    OVER = "over"  # asked when the value is over the figure
    FROM = "from"  # asked when the value is the figure or over


class Gauge(StrEnum):
    """What the figure of a threshold is about."""

    DEPTH_FSW = "depth_fsw"
    STOPS_MIN = "stops_min"  # decompression in the water


@dataclass(frozen=True, slots=True)
class Threshold:
    """One rule: `asked` when `gauge` is `bound` `figure`, or the dive leaves the no-stop limits.

    `short_dive_min` lets dives with a bottom time up to it go on to `short_dive_figure`. `not_heavy` excepts
    heavy gear, `only_heavy` is about nothing else. `wait_min` is how long something lasts.
    """

    asked: Asked
    gauge: Gauge
    bound: Bound
    figure: float
    says: str
    source: str
    outside_no_stop: bool = False
    short_dive_min: float | None = None
    short_dive_figure: float | None = None
    not_heavy: bool = False
    only_heavy: bool = False
    wait_min: float | None = None


@dataclass(frozen=True, slots=True)
class Profile:
    """The rules in force for a dive. `version` counts our readings, `dated` is the text that was read."""

    key: str
    title: str
    version: int
    dated: str
    stands_above: str
    thresholds: tuple[Threshold, ...]
    duties: tuple[Duty, ...]


@dataclass(frozen=True, slots=True)
class Exposure:
    """What of a dive, planned or done, decides what is asked for."""

    depth_fsw: float
    bottom_min: float
    outside_no_stop: bool
    stops_min: float
    heavy_gear: bool


@dataclass(frozen=True, slots=True)
class ChooseProfile:
    """The supervisor puts a profile of rules in force."""

    profile: Profile


def is_asked(rule: Threshold, dive: Exposure) -> bool:
    """Whether a rule asks for its thing on such a dive."""
    if (rule.not_heavy and dive.heavy_gear) or (rule.only_heavy and not dive.heavy_gear):
        return False
    if rule.outside_no_stop and dive.outside_no_stop:
        return True
    value = dive.depth_fsw if rule.gauge is Gauge.DEPTH_FSW else dive.stops_min
    return _beyond(value, _figure(rule, dive), rule.bound if not _short(rule, dive) else Bound.OVER)


def _short(rule: Threshold, dive: Exposure) -> bool:
    return rule.short_dive_min is not None and dive.bottom_min <= rule.short_dive_min


def _figure(rule: Threshold, dive: Exposure) -> float:
    if rule.short_dive_figure is not None and _short(rule, dive):
        return rule.short_dive_figure
    return rule.figure


def _beyond(value: float, figure: float, bound: Bound) -> bool:
    return value >= figure if bound is Bound.FROM else value > figure


def asked_for(profile: Profile, dive: Exposure) -> tuple[Threshold, ...]:
    """Every rule of the profile that asks for something on such a dive, in the profile's order."""
    return tuple(rule for rule in profile.thresholds if is_asked(rule, dive))


def asks(profile: Profile, asked: Asked, dive: Exposure) -> Threshold | None:
    """The rule that asks for a thing on such a dive, None when none does."""
    return next((rule for rule in asked_for(profile, dive) if rule.asked is asked), None)
