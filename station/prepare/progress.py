"""A list as a window needs it: how far it is, which step is next, and what keeps it shut."""

from dataclasses import dataclass

from shared.clock import Instant, seconds_between
from station.prepare.checklist import Checklist, Step
from station.prepare.pressing import standing_before
from station.prepare.run import WITH_SUPERVISOR, Run, StepState, StepStatus


@dataclass(frozen=True, slots=True)
class Progress:
    """How far a list is. `next_place` is the step to show, None when all are passed; from 0."""

    passed: int
    of: int
    next_place: int | None
    with_supervisor: tuple[int, ...]
    complete: bool
    stopped: str


@dataclass(frozen=True, slots=True)
class StepView:
    """One step with all that its page shows. `shut_by` are the places that come first.

    `held_s` is how long a timed step has run, None when it has not begun; `left_s` until Done opens.
    """

    place: int
    step: Step
    state: StepState
    shut_by: tuple[int, ...]
    held_s: float | None
    left_s: float
    needs_names: int
    needs_supervisor: bool


def progress_of(checklist: Checklist, run: Run | None) -> Progress:
    """How far a list is; None is one that nobody has begun."""
    if run is None:
        return Progress(0, len(checklist.steps), 0, (), complete=False, stopped="")
    waiting = tuple(place for place, state in enumerate(run.steps) if state.status in WITH_SUPERVISOR)
    open_ones = [place for place, state in enumerate(run.steps) if state.status is not StepStatus.PASSED]
    return Progress(
        run.passed, len(run.steps), next(iter(open_ones), None), waiting, run.complete, run.stopped
    )


def step_view(checklist: Checklist, run: Run, place: int, now: Instant) -> StepView:
    """One step as its page shows it at `now`."""
    step, state = checklist.steps[place], run.steps[place]
    held_s = None if state.begun_at is None else seconds_between(state.begun_at, now)
    return StepView(
        place,
        step,
        state,
        standing_before(checklist, run, place),
        held_s,
        max(0.0, (step.least_s or 0.0) - (held_s or 0.0)),
        max(0, step.persons - len(state.names)),
        needs_supervisor=state.status in WITH_SUPERVISOR or state.status is StepStatus.AWAITS,
    )
