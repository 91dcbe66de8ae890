"""A list that is being worked off: how each step stands, and what may be pressed."""

from dataclasses import dataclass
from enum import StrEnum

from shared.clock import Instant
from station.prepare.checklist import Checklist
from station.prepare.gear import GearKind


class StepStatus(StrEnum):
    """How a step stands."""

    OPEN = "open"
    HALF = "half"  # one of two names
    AWAITS = "awaits"  # a hold point, done: the supervisor signs
    PASSED = "passed"
    DOUBT = "doubt"  # with the supervisor
    FAILED = "failed"  # with the supervisor


WITH_SUPERVISOR = frozenset({StepStatus.DOUBT, StepStatus.FAILED})
"""Only the supervisor's ruling opens such a step again."""


@dataclass(frozen=True, slots=True)
class StepState:
    """One step of a run. `names` are those who did it, in order; `signed_by` is the supervisor's."""

    key: str
    status: StepStatus = StepStatus.OPEN
    names: tuple[str, ...] = ()
    signed_by: str = ""
    at: Instant | None = None
    begun_at: Instant | None = None
    value: float | None = None
    serial: str = ""
    reason: str = ""
    notes: tuple[str, ...] = ()
    photos: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Run:
    """One working-off of a list for a diver's dive, or for the station (`subject` and `dive` empty).

    `serials` are the parts that belong here. `stopped` holds the supervisor's reason when he stopped it.
    """

    list_key: str
    subject: str
    dive: int
    begun_at: Instant
    begun_by: str
    steps: tuple[StepState, ...]
    serials: tuple[tuple[GearKind, str], ...] = ()
    stopped: str = ""

    @property
    def complete(self) -> bool:
        """Whether every step is passed and the supervisor has not stopped the list."""
        return not self.stopped and all(step.status is StepStatus.PASSED for step in self.steps)

    @property
    def passed(self) -> int:
        """How many steps are passed."""
        return sum(step.status is StepStatus.PASSED for step in self.steps)


def begin_run(
    checklist: Checklist,
    subject: str,
    dive: int,
    at: Instant,
    by: str,
    *,
    serials: tuple[tuple[GearKind, str], ...] = (),
) -> Run:
    """A list with every step open."""
    steps = tuple(StepState(step.key) for step in checklist.steps)
    return Run(checklist.key, subject, dive, at, by, steps, serials)


@dataclass(frozen=True, slots=True)
class Begin:
    """A timed step begins, or begins again."""


@dataclass(frozen=True, slots=True)
class Done:
    """The step is done, with its value or serial where it asks for one."""

    value: float | None = None
    serial: str = ""


@dataclass(frozen=True, slots=True)
class Sign:
    """The supervisor signs a hold point."""


@dataclass(frozen=True, slots=True)
class Doubt:
    """Somebody is not sure: the step goes to the supervisor."""

    reason: str


@dataclass(frozen=True, slots=True)
class Unanswered:
    """Somebody was asked and did not answer: the step goes to the supervisor."""


@dataclass(frozen=True, slots=True)
class Fail:
    """The step was tried and is not right: it goes to the supervisor."""

    reason: str


@dataclass(frozen=True, slots=True)
class Note:
    """Words beside a step."""

    text: str


@dataclass(frozen=True, slots=True)
class Photo:
    """A picture belongs to a step; the reference is the file's name or number."""

    reference: str


@dataclass(frozen=True, slots=True)
class Undo:
    """The step no longer holds; the first entry stays readable."""

    reason: str


class Ruling(StrEnum):
    """What the supervisor can decide about a doubt or failure. None of it passes the step."""

    DO_AGAIN = "do_again"
    STOP = "stop"


@dataclass(frozen=True, slots=True)
class Rule:
    """The supervisor decides about a doubt or failure."""

    ruling: Ruling
    reason: str


Press = Begin | Done | Sign | Doubt | Unanswered | Fail | Note | Photo | Undo | Rule

PRESSES: dict[str, type] = {
    "begin": Begin,
    "done": Done,
    "sign": Sign,
    "doubt": Doubt,
    "unanswered": Unanswered,
    "fail": Fail,
    "note": Note,
    "photo": Photo,
    "undo": Undo,
    "rule": Rule,
}
"""What can be pressed on a step, by its stored name."""
