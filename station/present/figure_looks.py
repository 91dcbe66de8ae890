"""The looks of a single number: its state, its alarm's sign."""

from dataclasses import dataclass
from enum import StrEnum

from station.core.state import Priority


class Flash(StrEnum):
    """How a mark flashes. 2 Hz and 0.6 Hz, after IEC 60073; only the mark, never the digits."""

    STEADY = "steady"
    FAST = "fast"
    SLOW = "slow"


class NumberState(StrEnum):
    """The six states of a number, and the one of a number that nobody has worked out."""

    GOOD = "good"
    AT_LEAST = "at_least"
    MANUAL = "manual"
    SUSPECT = "suspect"
    STALE = "stale"
    LOST = "lost"
    NONE = "none"


@dataclass(frozen=True, slots=True)
class Sign:
    """An alarm's mark: its shape and colour by priority, and how it flashes."""

    priority: Priority
    flash: Flash = Flash.STEADY


@dataclass(frozen=True, slots=True)
class Number:
    """One large number with its caption. `struck` is the last value, struck through after the detail."""

    caption: str
    detail: str
    value: str
    unit: str
    state: NumberState
    sign: Sign | None = None
    struck: str = ""
