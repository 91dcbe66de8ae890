"""Who holds which post. One person, one post: nobody can tend and keep the log, or be his own standby."""

from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Final

from station.prepare.refusal import Refusal


class Post(StrEnum):
    """The posts of a surface-supplied team. USN Diving Manual Rev 5, para 6-9."""

    SUPERVISOR = "supervisor"
    DIVER = "diver"
    STANDBY = "standby"
    TENDER = "tender"
    STANDBY_TENDER = "standby_tender"
    INSIDE_TENDER = "inside_tender"
    LOG_KEEPER = "log_keeper"
    CHAMBER_OPERATOR = "chamber_operator"


WITH_DIVER: Final = frozenset(
    {Post.DIVER, Post.STANDBY, Post.TENDER, Post.STANDBY_TENDER, Post.INSIDE_TENDER}
)
"""Posts that are held for one diver of the station, by his name there ("Diver 1")."""

MANY: Final = frozenset({Post.TENDER, Post.INSIDE_TENDER})
"""Posts that several persons may hold for one diver: two tenders dress a man in deep-sea dress."""


@dataclass(frozen=True, slots=True)
class Seat:
    """A person in a post; `diver` is the station's name of the diver it is held for, empty where none."""

    post: Post
    person: str
    diver: str = ""


@dataclass(frozen=True, slots=True)
class Crew:
    """Everybody in his post, at one moment."""

    seats: tuple[Seat, ...] = ()

    def holds(self, person: str, posts: tuple[Post, ...], diver: str = "") -> bool:
        """Whether the person is in one of these posts; a diver speaks for himself alone, others for all."""
        return any(
            same_person(seat.person, person)
            and seat.post in posts
            and (not diver or seat.post is not Post.DIVER or seat.diver == diver)
            for seat in self.seats
        )

    def person(self, post: Post, diver: str = "") -> str:
        """Who holds a post (for a diver), the first of them; empty when nobody does."""
        return next(
            (seat.person for seat in self.seats if seat.post is post and (not diver or seat.diver == diver)),
            "",
        )

    @property
    def supervisor(self) -> str:
        """The diving supervisor's name; empty when nobody holds the post."""
        return self.person(Post.SUPERVISOR)


def same_person(one: str, other: str) -> bool:
    """Whether two entered names are one person's: case and spaces don't make a second man."""
    return " ".join(one.split()).casefold() == " ".join(other.split()).casefold()


@dataclass(frozen=True, slots=True)
class Assign:
    """A person takes a post."""

    seat: Seat


@dataclass(frozen=True, slots=True)
class Leave:
    """A person leaves his post, which stays empty."""

    person: str


@dataclass(frozen=True, slots=True)
class Relieve:
    """One person hands his post over to another; `handed_over` says what was told."""

    relieved: str
    by_person: str
    handed_over: str


def assign(crew: Crew, act: Assign) -> Crew | Refusal:
    """The crew with a person in a post, or why not: he has one, or the post is held."""
    seat = act.seat
    if not seat.person.strip():
        return Refusal("a post is held by a named person")
    held = next((each for each in crew.seats if same_person(each.person, seat.person)), None)
    if held is not None:
        return Refusal(f"{seat.person} is {_spelled(held)} already: one person, one post")
    if (seat.post in WITH_DIVER) != bool(seat.diver):
        return Refusal(f"{seat.post}: say for which diver" if not seat.diver else f"{seat.post} has no diver")
    other = crew.person(seat.post, seat.diver)
    if other and seat.post not in MANY:
        return Refusal(f"{_spelled(seat)} is {other}: relieve him first")
    return replace(crew, seats=(*crew.seats, seat))


def leave(crew: Crew, act: Leave) -> Crew | Refusal:
    """The crew without a person, or why not."""
    kept = tuple(each for each in crew.seats if not same_person(each.person, act.person))
    if len(kept) == len(crew.seats):
        return Refusal(f"{act.person} holds no post")
    return replace(crew, seats=kept)


def relieve(crew: Crew, act: Relieve) -> Crew | Refusal:
    """The crew after a hand-over, or why not; a supervisor is never relieved without words."""
    seat = next((each for each in crew.seats if same_person(each.person, act.relieved)), None)
    if seat is None:
        return Refusal(f"{act.relieved} holds no post")
    if not act.handed_over.strip():
        return Refusal("what was handed over must be said")
    if not act.by_person.strip() or any(same_person(each.person, act.by_person) for each in crew.seats):
        return Refusal(f"{act.by_person or 'nobody'} cannot relieve: one person, one post")
    after = replace(seat, person=act.by_person)
    return replace(crew, seats=tuple(after if each is seat else each for each in crew.seats))


def _spelled(seat: Seat) -> str:
    post = seat.post.replace("_", " ")
    return f"{post} of {seat.diver}" if seat.diver else post
