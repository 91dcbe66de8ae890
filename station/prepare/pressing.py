"""What a press does to a list: the one way in which a step passes, and every way in which it falls.

A step passes by `Done` of all the persons it needs, with its proof within limits, and at a hold point by the
supervisor's `Sign` after that. Nothing else passes a step. A step that falls (undone, doubted, failed) takes
every step that rests on it back with it: what was done behind a hold point rests on the hold point.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from math import isfinite
from typing import assert_never

from shared.clock import Instant, seconds_between
from station.prepare.checklist import Checklist, Measured, Seen, SerialRead, Step
from station.prepare.refusal import Refusal
from station.prepare.run import (
    WITH_SUPERVISOR,
    Begin,
    Done,
    Doubt,
    Fail,
    Note,
    Photo,
    Press,
    Rule,
    Ruling,
    Run,
    Sign,
    StepState,
    StepStatus,
    Unanswered,
    Undo,
)
from station.prepare.team import Crew, Post, same_person


@dataclass(frozen=True, slots=True)
class Hand:
    """Who presses, when, and who is in which post at that moment."""

    by: str
    at: Instant
    crew: Crew


@dataclass(frozen=True, slots=True)
class _Place:
    """One step of a run under somebody's finger."""

    checklist: Checklist
    run: Run
    number: int

    @property
    def step(self) -> Step:
        return self.checklist.steps[self.number]

    @property
    def state(self) -> StepState:
        return self.run.steps[self.number]

    def put(self, state: StepState) -> Run:
        steps = self.run.steps
        return replace(self.run, steps=(*steps[: self.number], state, *steps[self.number + 1 :]))


def press_step(checklist: Checklist, run: Run, key: str, press: Press, hand: Hand) -> Run | Refusal:
    """The run after a press on the step of this key, or why it is not taken."""
    number = checklist.place(key)
    if number is None:
        return Refusal(f"{checklist.title} has no step {key!r}")
    if not hand.by.strip():
        return Refusal("a press needs a name")
    place = _Place(checklist, run, number)
    if run.stopped and not isinstance(press, Note | Photo):
        return Refusal(f"the supervisor stopped this list: {run.stopped}")
    return _said(place, press, hand) if isinstance(press, _SAID) else _worked(place, press, hand)


_SAID = (Note, Photo, Doubt, Unanswered, Fail, Undo)
"""What anybody may say of a step, in the crew or not."""


def _said(place: _Place, press: Note | Photo | Doubt | Unanswered | Fail | Undo, hand: Hand) -> Run | Refusal:
    match press:
        case Note(text):
            return _kept(text, lambda: place.put(_noted(place.state, hand, text)))
        case Photo(reference):
            photos = (*place.state.photos, reference)
            return _kept(reference, lambda: place.put(replace(place.state, photos=photos)))
        case Doubt(reason):
            return _kept(reason, lambda: _fallen(place, StepStatus.DOUBT, hand, reason))
        case Unanswered():
            return _fallen(place, StepStatus.DOUBT, hand, "asked, no answer")
        case Fail(reason):
            return _kept(reason, lambda: _fallen(place, StepStatus.FAILED, hand, reason))
        case Undo(reason):
            return _kept(reason, lambda: _undone(place, hand, reason))
        case _:
            assert_never(press)


def _worked(place: _Place, press: Begin | Done | Sign | Rule, hand: Hand) -> Run | Refusal:
    match press:
        case Begin():
            return _begun(place, hand)
        case Done():
            return _done(place, hand, press)
        case Sign():
            return _signed(place, hand)
        case Rule():
            return _ruled(place, hand, press)
        case _:
            assert_never(press)


def _kept(words: str, then: Callable[[], Run | Refusal]) -> Run | Refusal:
    return then() if words.strip() else Refusal("words are needed: what, or why")


def _noted(state: StepState, hand: Hand, text: str) -> StepState:
    return replace(state, notes=(*state.notes, f"{hand.by}: {text}"))


def standing_before(checklist: Checklist, run: Run, number: int) -> tuple[int, ...]:
    """The places that keep the step at `number` shut: those it rests on that are not passed."""
    return tuple(
        place for place in checklist.rests_on(number) if run.steps[place].status is not StepStatus.PASSED
    )


def _way(place: _Place) -> Refusal | None:
    """Why the step cannot be worked on now; None when it can."""
    before = standing_before(place.checklist, place.run, place.number)
    if before:
        return Refusal(f"step {before[0] + 1} comes first: {place.checklist.steps[before[0]].text}")
    if place.state.status in WITH_SUPERVISOR:
        return Refusal(f"it is with the supervisor: {place.state.reason}")
    if place.state.status is StepStatus.PASSED:
        return Refusal("it is passed already")
    return None


def _begun(place: _Place, hand: Hand) -> Run | Refusal:
    if not place.step.timed:
        return Refusal("this step runs on no clock")
    if place.state.status is not StepStatus.OPEN:
        return _way(place) or Refusal("it is done already; undo it first")
    return _way(place) or place.put(replace(place.state, begun_at=hand.at))


def _done(place: _Place, hand: Hand, press: Done) -> Run | Refusal:
    refusal = _way(place) or _signer(place, hand) or _too_early(place, hand)
    if refusal is not None:
        return refusal
    if _too_late(place, hand):
        return _fallen(place, StepStatus.DOUBT, hand, f"took longer than {place.step.most_s:g} s")
    proof = _proved(place, press)
    if isinstance(proof, Refusal):
        return proof
    value, serial, wrong = proof
    entered = replace(place.state, value=value, serial=serial)
    if wrong:
        return _fallen(replace(place, run=place.put(entered)), StepStatus.FAILED, hand, wrong)
    names = (*place.state.names, hand.by)
    status = _after_names(place.step, len(names))
    return place.put(replace(entered, names=names, status=status, at=hand.at))


def _after_names(step: Step, names: int) -> StepStatus:
    if names < step.persons:
        return StepStatus.HALF
    return StepStatus.AWAITS if step.hold else StepStatus.PASSED


def _signer(place: _Place, hand: Hand) -> Refusal | None:
    step, names = place.step, place.state.names
    if place.state.status is StepStatus.AWAITS:
        return Refusal("it is done; the supervisor signs now")
    if any(same_person(name, hand.by) for name in names):
        return Refusal(f"a second person is needed, {hand.by} has signed already")
    posts = step.signs if step.hold else (*step.signs, Post.SUPERVISOR)
    if not hand.crew.holds(hand.by, posts, place.run.subject):
        wanted = " or ".join(post.replace("_", " ") for post in step.signs)
        return Refusal(f"{hand.by} cannot sign this: {wanted} does")
    return None


def _too_early(place: _Place, hand: Hand) -> Refusal | None:
    if not place.step.timed:
        return None
    if place.state.begun_at is None:
        return Refusal("it runs on a clock: begin it first")
    left_s = (place.step.least_s or 0.0) - seconds_between(place.state.begun_at, hand.at)
    return Refusal(f"{left_s:.0f} s are left") if left_s > 0 else None


def _too_late(place: _Place, hand: Hand) -> bool:
    most_s, begun_at = place.step.most_s, place.state.begun_at
    return most_s is not None and begun_at is not None and seconds_between(begun_at, hand.at) > most_s


def _proved(place: _Place, press: Done) -> tuple[float | None, str, str] | Refusal:
    """Value and serial as they now stand, and what is wrong with them; or what was not given."""
    first = not place.state.names
    match place.step.proof:
        case Seen():
            return None, "", ""
        case Measured() as proof:
            if press.value is None:
                given = place.state.value, "", ""
                return Refusal(f"{proof.quantity} in {proof.unit} is needed") if first else given
            return _measured(proof, press.value)
        case SerialRead(kind):
            if not press.serial.strip():
                given = None, place.state.serial, ""
                return Refusal(f"the serial of the {kind.replace('_', ' ')} is needed") if first else given
            return _read(place.run, kind, press.serial.strip())
        case _:
            assert_never(place.step.proof)


def _measured(proof: Measured, value: float) -> tuple[float | None, str, str] | Refusal:
    if not isfinite(value):
        return Refusal(f"{value} is no {proof.quantity}")
    if proof.low <= value <= proof.high:
        return value, "", ""
    limits = f"{proof.low:g} to {proof.high:g} {proof.unit}"
    return value, "", f"{proof.quantity} is {value:g} {proof.unit}, must be {limits}"


def _read(run: Run, kind: str, serial: str) -> tuple[float | None, str, str]:
    wanted = [number for its_kind, number in run.serials if its_kind == kind]
    if serial in wanted:
        return None, serial, ""
    spoken = " or ".join(wanted) or "none in the register"
    return None, serial, f"serial {serial} does not belong here, {spoken} does"


def _signed(place: _Place, hand: Hand) -> Run | Refusal:
    if not place.step.hold:
        return Refusal("this step is no hold point")
    if place.state.status is not StepStatus.AWAITS:
        return _way(place) or Refusal("it is not done yet: the supervisor signs last")
    if not hand.crew.holds(hand.by, (Post.SUPERVISOR,)):
        return Refusal(f"only the supervisor signs a hold point, {hand.by} does not hold the post")
    if any(same_person(name, hand.by) for name in place.state.names):
        return Refusal(f"{hand.by} did it himself: another supervisor must sign")
    # What it rests on may have fallen since it was done.
    before = standing_before(place.checklist, place.run, place.number)
    if before:
        return Refusal(f"step {before[0] + 1} comes first")
    return place.put(replace(place.state, status=StepStatus.PASSED, signed_by=hand.by, at=hand.at))


def _undone(place: _Place, hand: Hand, reason: str) -> Run | Refusal:
    if place.state.status in WITH_SUPERVISOR:
        return Refusal("it is with the supervisor: only his ruling opens it")
    if place.state.status is StepStatus.OPEN and place.state.begun_at is None:
        return Refusal("there is nothing to undo")
    return _fallen(place, StepStatus.OPEN, hand, reason)


def _ruled(place: _Place, hand: Hand, press: Rule) -> Run | Refusal:
    if place.state.status not in WITH_SUPERVISOR:
        return Refusal("there is no doubt and no failure to rule on")
    if not hand.crew.holds(hand.by, (Post.SUPERVISOR,)):
        return Refusal(f"the supervisor rules, {hand.by} does not hold the post")
    if not press.reason.strip():
        return Refusal("a ruling needs its reason")
    after = place.put(_noted(_emptied(place.state), hand, f"{press.ruling}: {press.reason}"))
    return replace(after, stopped=press.reason) if press.ruling is Ruling.STOP else after


def _emptied(state: StepState) -> StepState:
    """The step open again; what was said and pictured stays."""
    return StepState(state.key, notes=state.notes, photos=state.photos)


def _fallen(place: _Place, to: StepStatus, hand: Hand, reason: str) -> Run:
    """The step set back to a status, and all that rests on it opened again."""
    entered = place.state
    fallen = replace(
        _emptied(_noted(entered, hand, reason)),
        status=to,
        at=hand.at,
        reason=reason,
        value=entered.value,
        serial=entered.serial,
    )
    return _reopened(place.checklist, place.put(fallen))


def _reopened(checklist: Checklist, run: Run) -> Run:
    steps = list(run.steps)
    for number, state in enumerate(steps):
        loose = any(steps[place].status is not StepStatus.PASSED for place in checklist.rests_on(number))
        if loose and state.status not in WITH_SUPERVISOR and state != _emptied(state):
            steps[number] = replace(_emptied(state), reason="opened again: what it rests on fell")
    return replace(run, steps=tuple(steps))
