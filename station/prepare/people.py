"""The people of the register: what they are qualified for, and until when they are fit to dive."""

from dataclasses import dataclass, replace
from enum import StrEnum
from typing import assert_never

from station.prepare.days import days_between, is_day
from station.prepare.duties import Blocker
from station.prepare.numbers import DUE_SOON_DAYS
from station.prepare.refusal import Refusal
from station.prepare.team import WITH_DIVER, Crew, Post, Seat, same_person


class Skill(StrEnum):
    """What a person can be qualified for."""

    SUPERVISOR = "supervisor"
    DIVER = "diver"
    TENDER = "tender"
    CHAMBER = "chamber"
    FIRST_AID = "first_aid"


SKILL_OF: dict[Post, tuple[Skill, ...]] = {
    Post.SUPERVISOR: (Skill.SUPERVISOR,),
    Post.DIVER: (Skill.DIVER,),
    Post.STANDBY: (Skill.DIVER,),
    Post.TENDER: (Skill.TENDER,),
    Post.STANDBY_TENDER: (Skill.TENDER,),
    Post.INSIDE_TENDER: (Skill.TENDER, Skill.CHAMBER),
    Post.LOG_KEEPER: (),
    Post.CHAMBER_OPERATOR: (Skill.CHAMBER,),
}
"""What a post asks for. The standby is fully qualified as a diver: USN Diving Manual Rev 5, para 6-9.8;
training in each post: 29 CFR 1910.410(a), from memory, unverified.
Which certificate proves it is for the local rules."""

FIT_TO_DIVE = frozenset({Post.DIVER, Post.STANDBY, Post.INSIDE_TENDER})
"""Posts under pressure: the medical fitness date must hold. 29 CFR 1910.411 as issued (since remanded), and
local rules; from memory, unverified."""


@dataclass(frozen=True, slots=True)
class Qualification:
    """A person may do this until the day; empty for ever."""

    skill: Skill
    until: str = ""
    certificate: str = ""


@dataclass(frozen=True, slots=True)
class Person:
    """One person of the crew; `fit_until` empty: no fitness entered."""

    name: str
    qualifications: tuple[Qualification, ...] = ()
    fit_until: str = ""
    gone: str = ""

    def can(self, skill: Skill, day: str) -> bool:
        """Whether he is qualified for it on a day."""
        return any(
            each.skill is skill and (not each.until or day <= each.until) for each in self.qualifications
        )


@dataclass(frozen=True, slots=True)
class People:
    """All people of the register."""

    persons: tuple[Person, ...] = ()

    def find(self, name: str) -> Person | None:
        """The person of this name, None when the register has none."""
        return next((each for each in self.persons if same_person(each.name, name)), None)


@dataclass(frozen=True, slots=True)
class AddPerson:
    """A person comes into the register."""

    name: str


@dataclass(frozen=True, slots=True)
class Qualify:
    """A person may do something until a day; a later entry for the same skill takes its place."""

    name: str
    qualification: Qualification


@dataclass(frozen=True, slots=True)
class Fit:
    """A doctor found a person fit to dive until a day; `doctor` says who."""

    name: str
    until: str
    doctor: str


@dataclass(frozen=True, slots=True)
class Gone:
    """A person is no longer of the crew."""

    name: str
    reason: str


PersonAct = AddPerson | Qualify | Fit | Gone

PERSON_ACTS: dict[str, type] = {"add_person": AddPerson, "qualify": Qualify, "fit": Fit, "gone": Gone}
"""The acts by their stored names."""


@dataclass(frozen=True, slots=True)
class PersonEntry:
    """An act in the register of people, as `GearEntry` is in that of gear."""

    uid: str
    utc: str
    by: str
    act: PersonAct


@dataclass(frozen=True, slots=True)
class BringPeople:
    """The register as it stands is laid on the desk."""

    people: People


def take_person(people: People, entry: PersonEntry) -> People | Refusal:
    """The register after one entry, or why it is not taken."""
    if not entry.by.strip():
        return Refusal("an entry in the register needs a name")
    act = entry.act
    found = people.find(act.name)
    if isinstance(act, AddPerson):
        if found or not act.name.strip():
            return Refusal(f"{act.name!r} is in the register already, or blank")
        return replace(people, persons=(*people.persons, Person(act.name)))
    if found is None:
        return Refusal(f"the register has no person {act.name!r}")
    after = _changed(found, act)
    if isinstance(after, Refusal):
        return after
    return replace(people, persons=tuple(after if each is found else each for each in people.persons))


def _changed(person: Person, act: Qualify | Fit | Gone) -> Person | Refusal:
    match act:
        case Qualify(qualification=given):
            if given.until and not is_day(given.until):
                return Refusal(f"{person.name}: {given.until!r} is no day such as 2031-03-02")
            kept = tuple(each for each in person.qualifications if each.skill is not given.skill)
            return replace(person, qualifications=(*kept, given))
        case Fit(until=until, doctor=doctor):
            if not is_day(until) or not doctor.strip():
                return Refusal(f"{person.name}: the last day of fitness and the doctor are needed")
            return replace(person, fit_until=until)
        case Gone(reason=reason):
            return replace(person, gone=reason or "left the crew")
        case _:
            assert_never(act)


def crew_blockers(crew: Crew, people: People, day: str) -> tuple[Blocker, ...]:
    """Every person in a post who may not hold it today."""
    return tuple(each for seat in crew.seats for each in seat_blockers(seat, people, day))


def seat_blockers(seat: Seat, people: People, day: str) -> tuple[Blocker, ...]:
    """Why a person may not hold his post today; empty when he may."""
    person = people.find(seat.person)
    key = f"person:{seat.person}"
    if person is None or person.gone:
        return (Blocker(f"{key}:unknown", f"{seat.person} is not in the register of people"),)
    skills = tuple(
        Blocker(f"{key}:{skill}", f"{seat.person} is not qualified as {skill.replace('_', ' ')} today")
        for skill in SKILL_OF[seat.post]
        if not person.can(skill, day)
    )
    if seat.post not in FIT_TO_DIVE or (person.fit_until and day <= person.fit_until):
        return skills
    until = f"ended on {person.fit_until}" if person.fit_until else "is not entered"
    return (*skills, Blocker(f"{key}:fitness", f"{seat.person}: fitness to dive {until}"))


def people_due(people: People, day: str) -> tuple[str, ...]:
    """What ends soon for whom, in words, for the list of the next day."""
    ends = [
        (until, f"{person.name}: {what} ends on {until}")
        for person in people.persons
        if not person.gone
        for what, until in (
            ("fitness to dive", person.fit_until),
            *(
                (f"qualified as {each.skill.replace('_', ' ')},", each.until)
                for each in person.qualifications
            ),
        )
        if until and days_between(day, until) <= DUE_SOON_DAYS
    ]
    return tuple(sentence for _, sentence in sorted(ends))


def posts_held_for(crew: Crew, diver: str) -> frozenset[Post]:
    """The posts that are filled for a diver, those of the whole station among them."""
    return frozenset(seat.post for seat in crew.seats if seat.post not in WITH_DIVER or seat.diver == diver)
