"""What the ascent window draws, as frozen values: words already worded."""

from dataclasses import dataclass
from enum import StrEnum

from station.present.figure_looks import Number


class RowState(StrEnum):
    """How a leg of the ascent stands."""

    DONE = "done"
    HERE = "here"
    DUE = "due"


@dataclass(frozen=True, slots=True)
class AscentRow:
    """One leg: where, what for, on which gas; its planned and its actual or foreseen times of day."""

    depth: str
    what: str
    gas: str
    minutes: str
    planned: str
    actual: str
    state: RowState


@dataclass(frozen=True, slots=True)
class PlanLook:
    """A plan in short, to stand beside another."""

    row: str
    stops: str
    surface: str


@dataclass(frozen=True, slots=True)
class ChangeLook:
    """One change of the plan by a rule, old and new side by side; `running` while the delay goes on."""

    rule: str
    sentence: str
    old: PlanLook
    new: PlanLook
    running: bool


@dataclass(frozen=True, slots=True)
class CardLook:
    """One choice for omitted stops or a late chamber; it advises, it never acts."""

    id: str
    text: str
    medical_officer_first: bool


@dataclass(frozen=True, slots=True)
class CardsLook:
    """The cards with their head, the condition that they hold under, and whom to call."""

    head: str
    holds: str
    call: str
    cards: tuple[CardLook, ...]


@dataclass(frozen=True, slots=True)
class RateLook:
    """How fast a diver comes up, in `unit`; upward is positive.

    `least` to `most` is right, the scale goes to `end`; `at` is None while the rate is not known.
    """

    words: str
    right: str
    unit: str
    at: float | None
    least: float
    most: float
    end: float


@dataclass(frozen=True, slots=True)
class AscentLook:
    """The ascent of one diver. `clock` is the stop clock or the surface interval, `surface` a time of day.

    `stop_done` is the share of the running stop that is served, None where no stop runs; `stop_min` its whole
    length in minutes.
    """

    row: str
    clock: Number
    gas: str
    next_stop: str
    surface: str
    left: str
    rows: tuple[AscentRow, ...]
    changes: tuple[ChangeLook, ...]
    cards: CardsLook | None = None
    refused: str = ""
    stop_done: float | None = None
    stop_min: float = 0.0


@dataclass(frozen=True, slots=True)
class Origin:
    """Where a figure comes from: its rule, what the rule says, source, evidence, what went in, row notes."""

    figure: str
    value: str
    rule: str
    sentence: str
    source: str
    evidence: str
    inputs: str
    notes: tuple[str, ...] = ()
