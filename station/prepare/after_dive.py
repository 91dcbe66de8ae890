"""The watch on the surfaced diver: when he is asked, what he answered, how long he stays by the chamber."""

from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Final

from shared.clock import Instant, after, seconds_between
from shared.units import S_PER_MIN
from station.prepare.numbers import CHECK_GRACE_MIN, FIRST_CHECK_MIN, LAST_CHECK_MIN, SECOND_CHECK_MIN
from station.prepare.profile import Asked, Exposure, Profile, asks
from station.prepare.refusal import Refusal
from station.prepare.sources import COMMON_PRACTICE


class Check(StrEnum):
    """The times at which a surfaced diver is asked."""

    FIRST = "first"
    TEN_MINUTES = "ten_minutes"
    HOUR = "hour"
    AGAIN = "again"  # whenever somebody asks once more


DUE_MIN: Final[dict[Check, int]] = {
    Check.FIRST: FIRST_CHECK_MIN,
    Check.TEN_MINUTES: SECOND_CHECK_MIN,
    Check.HOUR: LAST_CHECK_MIN,
}
"""Minutes after reaching the surface."""


@dataclass(frozen=True, slots=True)
class Question:
    """One question of the check; `sign` names what a yes may mean to the one who must be called."""

    key: str
    asks: str
    sign: str
    source: str = COMMON_PRACTICE


QUESTIONS: Final = (
    Question(
        "well", "Does he say that he is not well, or does he not look it?", "anything out of the ordinary"
    ),
    Question("pain", "Any pain in a joint, muscle or the back that was not there before?", "pain"),
    Question("skin", "Itching, rash, or marbled skin?", "skin"),
    Question("numb", "Numbness, tingling, or weakness of an arm or leg?", "nerves"),
    Question("balance", "Dizziness, ringing ears, unsteady walk, poor sight or speech?", "ears, nerves"),
    Question("breath", "Short breath, cough, or pain in the chest?", "lungs"),
    Question("tired", "Far more tired than the work explains, confused, or not himself?", "nerves"),
    Question("hurt", "Hurt, cold, or struck by anything below?", "injury"),
)
"""Asked at every check. A yes is told to the diving medical officer, who decides; no list decides instead."""

ADVICE: Final = (
    "Tell at once of anything unusual, tonight as well.",
    "Know where the nearest chamber is and whom to call.",
    "Not to fly or go to altitude before the time shown.",
)
"""What the diver is told. 29 CFR 1910.423(b)(1)."""


@dataclass(frozen=True, slots=True)
class Answered:
    """One check: `yes` are the keys of the questions answered with yes, `words` what was seen and said."""

    check: Check
    at: Instant
    by: str
    yes: tuple[str, ...]
    words: str


@dataclass(frozen=True, slots=True)
class AfterDive:
    """The watch on one diver after one dive. `near_chamber` is the rule that keeps him by the chamber."""

    diver: str
    dive: int
    surfaced_at: Instant
    chamber_rule: str = ""
    chamber_min: float = 0.0
    answers: tuple[Answered, ...] = ()


@dataclass(frozen=True, slots=True)
class AnswerCheck:
    """The surfaced diver was asked; `words` are needed when anything was answered with yes."""

    diver: str
    check: Check
    yes: tuple[str, ...]
    words: str = ""


@dataclass(frozen=True, slots=True)
class CheckDue:
    """A check with its instant, and whether it was missed by `now`."""

    check: Check
    at: Instant
    missed: bool


def begin_after_dive(
    diver: str, dive: int, surfaced_at: Instant, exposure: Exposure, profile: Profile | None
) -> AfterDive:
    """The watch as it begins at the surface; the rule by the chamber comes from the profile in force.

    Without a profile the hour is kept: the careful side, own choice.
    """
    if profile is None:
        return AfterDive(diver, dive, surfaced_at, "no profile of rules is chosen", LAST_CHECK_MIN)
    rule = asks(profile, Asked.NEAR_CHAMBER, exposure)
    if rule is None:
        return AfterDive(diver, dive, surfaced_at)
    return AfterDive(
        diver, dive, surfaced_at, f"{rule.says} ({rule.source})", rule.wait_min or LAST_CHECK_MIN
    )


def answer_check(watch: AfterDive, act: AnswerCheck, by: str, at: Instant) -> AfterDive | Refusal:
    """The watch after a check, or why it is not taken."""
    known = {question.key for question in QUESTIONS}
    strange = [key for key in act.yes if key not in known]
    if strange:
        return Refusal(f"there is no question {', '.join(strange)}")
    if act.yes and not act.words.strip():
        return Refusal("write what he feels, where, and since when")
    return replace(watch, answers=(*watch.answers, Answered(act.check, at, by, act.yes, act.words)))


def checks_due(watch: AfterDive, now: Instant) -> tuple[CheckDue, ...]:
    """The checks that have not been answered, in order, each with its instant."""
    answered = {each.check for each in watch.answers}
    return tuple(
        CheckDue(check, at, seconds_between(at, now) > CHECK_GRACE_MIN * S_PER_MIN)
        for check, minutes in DUE_MIN.items()
        if check not in answered
        for at in (after(watch.surfaced_at, minutes * S_PER_MIN),)
    )


def by_chamber_left_s(watch: AfterDive, now: Instant) -> float:
    """Seconds that he still stays awake near the chamber; 0 when no rule asks or the time is over."""
    return max(0.0, watch.chamber_min * S_PER_MIN - seconds_between(watch.surfaced_at, now))


def symptoms(watch: AfterDive) -> tuple[Answered, ...]:
    """Every check with a yes: who must be called about them is on the card of symptoms."""
    return tuple(each for each in watch.answers if each.yes)
