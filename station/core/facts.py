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


@dataclass(frozen=True, slots=True)
class AlarmEscalated:
    """An alarm that nobody has seen counts as graver than its catalogue entry from now on."""

    at: Instant
    id: str
    subject: str
    priority: Priority


@dataclass(frozen=True, slots=True)
class PlanBrief:
    """A plan of an ascent in short: its row ("60/100"), its stops as (fsw, seconds) still due, its end.

    `ends_at` is when the diver is at the surface for good. `not_covered` says why there is no plan.
    """

    row: str
    stops: tuple[tuple[int, int], ...]
    ends_at: Instant | None
    not_covered: str = ""


@dataclass(frozen=True, slots=True)
class PlanChanged:
    """A rule has changed the plan of an ascent; or a correction has made such a change void."""

    at: Instant
    diver: str
    rule: str
    sentence: str
    delay_min: int
    old: PlanBrief
    new: PlanBrief


@dataclass(frozen=True, slots=True)
class BlowSeen:
    """The trace shows that a diver's hose was blown and the valve closed at `at`; nobody has confirmed it."""

    diver: str
    at: Instant


Fact = (
    MarkTaken
    | MarkAmended
    | Refused
    | MarkProposed
    | PhaseChanged
    | TrustChanged
    | AlarmChanged
    | AlarmEscalated
    | PlanChanged
    | BlowSeen
)
