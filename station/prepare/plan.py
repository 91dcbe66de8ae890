"""The plan of a dive as people write it down, and what is missing from it."""

from dataclasses import dataclass
from enum import StrEnum

from station.prepare.duties import Blocker
from station.prepare.people import posts_held_for
from station.prepare.profile import Asked, Exposure, Profile, Threshold, asked_for
from station.prepare.team import Crew, Post


class Hazard(StrEnum):
    """What at a place can kill a diver and can be locked."""

    GATE = "gate"  # sluices, lock gates, paddles
    PROPELLER = "propeller"  # propellers, thrusters, rudders
    INTAKE = "intake"  # intakes and any difference of pressure
    CRANE = "crane"
    VESSEL = "vessel"  # other vessels under way
    ELECTRIC = "electric"  # impressed current, sonar, cables
    DISCHARGE = "discharge"


@dataclass(frozen=True, slots=True)
class Emergency:
    """Whom to call and where to go."""

    numbers: tuple[str, ...]
    medical_officer: str
    chamber: str
    evacuation: str


@dataclass(frozen=True, slots=True)
class DivePlan:
    """What was planned for one dive of one diver. `contingencies` are the next deeper and longer schedules.

    `provided` are the things of the profile that are there (chamber, stage...). `no_hazards` is the
    supervisor's word that nothing here needs a lock, when `hazards` is empty.
    """

    diver: str
    dive: int
    site: str
    purpose: str
    water: str
    weather: str
    mode: str
    schedule: str
    contingencies: tuple[str, ...]
    air_plan: str
    exposure: Exposure
    emergency: Emergency
    hazards: tuple[Hazard, ...] = ()
    no_hazards: bool = False
    provided: tuple[Asked, ...] = ()
    briefed: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class SetPlan:
    """The plan of a diver's dive, whole; the last one counts, the earlier ones stay in the log."""

    plan: DivePlan


_WRITTEN = {
    "site": "the place",
    "purpose": "the work",
    "water": "state of the water",
    "weather": "weather",
    "mode": "way of decompressing",
    "schedule": "schedule",
    "air_plan": "air plan",
}
"""What must be written down. 29 CFR 1910.421(d), planning; the items from memory, unverified."""


def plan_blockers(plan: DivePlan, profile: Profile, crew: Crew) -> tuple[Blocker, ...]:
    """Everything that is missing from a plan under a profile with this crew."""
    return (
        *_unwritten(plan),
        *_emergency(plan),
        *_beyond(plan, profile),
        *_not_provided(plan, profile, crew),
        *_unbriefed(plan, crew),
    )


def _unwritten(plan: DivePlan) -> tuple[Blocker, ...]:
    blank = [words for key, words in _WRITTEN.items() if not getattr(plan, key).strip()]
    missing = [Blocker(f"plan:{words}", f"plan: {words} not written") for words in blank]
    if not plan.contingencies:
        missing.append(Blocker("plan:contingencies", "plan: next deeper and next longer schedule missing"))
    if not plan.hazards and not plan.no_hazards:
        missing.append(Blocker("plan:hazards", "plan: name what must be locked, or say that nothing must"))
    return tuple(missing)


def _emergency(plan: DivePlan) -> tuple[Blocker, ...]:
    """A list of whom to call is kept at the dive location. 29 CFR 1910.421(b), from memory, unverified."""
    source = "29 CFR 1910.421(b); paragraph from memory, unverified"
    given = {
        "numbers to call": any(number.strip() for number in plan.emergency.numbers),
        "diving medical officer": bool(plan.emergency.medical_officer.strip()),
        "nearest chamber": bool(plan.emergency.chamber.strip()),
        "way of evacuation": bool(plan.emergency.evacuation.strip()),
    }
    return tuple(
        Blocker(f"plan:emergency:{what}", f"plan: {what} missing", source)
        for what, is_there in given.items()
        if not is_there
    )


def _beyond(plan: DivePlan, profile: Profile) -> tuple[Blocker, ...]:
    return tuple(
        Blocker(f"rule:{rule.asked}", f"{profile.title}: {rule.says}", rule.source)
        for rule in asked_for(profile, plan.exposure)
        if rule.asked is Asked.DEPTH_LIMIT
    )


_BY_POST = {Asked.STANDBY: Post.STANDBY, Asked.TENDER_EACH: Post.TENDER}
"""What is provided by a person in a post."""

_AFTERWARDS = frozenset({Asked.DEPTH_LIMIT, Asked.NEAR_CHAMBER})
"""What is not a thing that must be there before the dive."""


def _not_provided(plan: DivePlan, profile: Profile, crew: Crew) -> tuple[Blocker, ...]:
    held = posts_held_for(crew, plan.diver)
    standby_there = bool(crew.person(Post.STANDBY))
    missing: list[Threshold] = []
    for rule in asked_for(profile, plan.exposure):
        post = _BY_POST.get(rule.asked)
        there = post in held if post is not None else rule.asked in plan.provided
        # The standby of one diver stands by for all.
        if not there and not (post is Post.STANDBY and standby_there) and rule.asked not in _AFTERWARDS:
            missing.append(rule)
    return tuple(
        Blocker(f"rule:{rule.asked}", f"{profile.title}: {rule.says}", rule.source) for rule in missing
    )


_BRIEFING = "29 CFR 1910.421(f); paragraph from memory, unverified"


def _unbriefed(plan: DivePlan, crew: Crew) -> tuple[Blocker, ...]:
    """Every member of the team is briefed. 29 CFR 1910.421(f), from memory, unverified."""
    briefed = {" ".join(name.split()).casefold() for name in plan.briefed}
    return tuple(
        Blocker(f"briefing:{seat.person}", f"{seat.person} is not briefed", _BRIEFING)
        for seat in crew.seats
        if " ".join(seat.person.split()).casefold() not in briefed
    )
