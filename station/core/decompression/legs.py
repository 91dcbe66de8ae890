"""The pieces an ascent is told in."""

from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise

from .answers import Gas


class What(StrEnum):
    """What a leg is for."""

    TRAVEL = "travel"
    STOP = "stop"
    WAIT = "wait"
    DELAY = "delay"
    AIR_BREAK = "air break"
    UNDRESSING = "undressing"
    COMPRESSION = "compression"
    CHAMBER = "chamber"
    CHAMBER_BREAK = "chamber break"
    CHAMBER_TRAVEL = "chamber travel"


@dataclass(frozen=True, slots=True)
class Leg:
    """One piece of an ascent; seconds from leaving the bottom, depth of diver or chamber."""

    from_fsw: float
    to_fsw: float
    start_s: int
    end_s: int
    gas: Gas
    what: What
    reason: str


@dataclass(frozen=True, slots=True)
class DueStop:
    """A stop still due: its depth in the table, the level it is taken at, and its time in seconds.

    `counts_travel`: its clock starts on leaving the stop before (rule A2), else on arrival.
    """

    depth_fsw: int
    level_fsw: float
    due_s: int
    gas: Gas
    counts_travel: bool


@dataclass(frozen=True, slots=True)
class Position:
    """Where the rest of an ascent starts.

    `clock_s` is when the clock of the next stop started, None when it starts on arrival, and then not before
    `not_before_s` (planned travel). `gas` is what he breathes, `run_s` the oxygen he has breathed unbroken.
    """

    at_s: int
    depth_fsw: float
    clock_s: int | None = None
    not_before_s: int = 0
    gas: Gas = Gas.AIR
    run_s: int = 0


def legs_join(legs: tuple[Leg, ...]) -> bool:
    """Whether legs follow on each other in time and depth, without a gap. Rule A8."""
    return all(
        before.end_s == after.start_s and before.to_fsw == after.from_fsw for before, after in pairwise(legs)
    )
