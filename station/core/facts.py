"""What the fold found out on its way: derived facts, logged so that a replay can be checked against them."""

from dataclasses import dataclass

from shared.clock import Instant
from station.core.inputs import MarkKind
from station.core.phase import Phase
from station.core.state import Amendment, Mark, Priority, Standing, Trust


@dataclass(frozen=True, slots=True)
class MarkTaken:
    """A mark was taken."""

    diver: str
    mark: Mark


@dataclass(frozen=True, slots=True)
class MarkAmended:
    """A mark was set to another time or undone."""

    diver: str
    amendment: Amendment


@dataclass(frozen=True, slots=True)
class Refused:
    """An operator's act was not taken, and why."""

    at: Instant
    act: str
    reason: str


@dataclass(frozen=True, slots=True)
class MarkProposed:
    """The trace shows a moment that nobody has marked."""

    diver: str
    kind: MarkKind
    at: Instant


@dataclass(frozen=True, slots=True)
class PhaseChanged:
    """A diver is in another phase of his dive."""

    at: Instant
    diver: str
    phase: Phase


@dataclass(frozen=True, slots=True)
class TrustChanged:
    """A gauge is believed more or less than before."""

    at: Instant
    gauge: str
    trust: Trust


@dataclass(frozen=True, slots=True)
class AlarmChanged:
    """An alarm stands differently than before."""

    at: Instant
    id: str
    subject: str
    priority: Priority
    standing: Standing
    measured: float | None
    limit: float | None


Fact = MarkTaken | MarkAmended | Refused | MarkProposed | PhaseChanged | TrustChanged | AlarmChanged
