"""What a line yields: readings, and what was wrong with it."""

from dataclasses import dataclass
from enum import StrEnum

from shared.clock import Instant


@dataclass(frozen=True, slots=True)
class Reading:
    """One value of one gauge.

    `value` is calibrated and in the channel's unit, `raw` as on the wire and in the wire's unit. Both are
    finite. `at` is the instant of the first byte that could be told.
    """

    gauge: str
    at: Instant
    value: float
    raw: float


class LinkFaultKind(StrEnum):
    """What can be wrong with what a line carried."""

    GARBLED = "garbled"  # bytes that are no frame
    CHECKSUM = "checksum"  # a frame whose checksum is wrong or missing
    TOO_LONG = "too_long"  # no end of frame within the limit
    NOT_FINITE = "not_finite"  # a number that is none
    NO_VALUE = "no_value"  # the gauge says that it has no value
    WRONG_UNIT = "wrong_unit"  # not the unit that the station file names
    OUT_OF_RANGE = "out_of_range"  # outside what the instrument can show
    NO_REPLY = "no_reply"  # asked, and nothing came
    REFUSED = "refused"  # the gauge answers that it will not say
    GAUGE_FAULT = "gauge_fault"  # the gauge, or its current, says that it is broken


@dataclass(frozen=True, slots=True)
class LinkFault:
    """One thing wrong on a line, with the bytes that showed it. `gauge` is empty when it cannot be told."""

    port: str
    gauge: str
    at: Instant
    kind: LinkFaultKind
    detail: str
    data: bytes = b""
