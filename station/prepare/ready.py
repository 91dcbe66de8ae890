"""The ready board: every condition for "diver may leave the surface", what is missing and who does it.

An override does not make a board ready; it says in whose name the diver goes without, and covers only what
the supervisor read. A diver who leaves the surface otherwise raises an alarm and is never held back.
"""

from dataclasses import dataclass
from enum import StrEnum

from shared.clock import Instant
from station.prepare.checklist import About, Checklist, Stage, Turn
from station.prepare.desk import Desk
from station.prepare.duties import Blocker, Duty, item_blockers
from station.prepare.gear import STATION, OutfitKind
from station.prepare.locks import lock_blockers
from station.prepare.outfits import outfit_blockers
from station.prepare.people import crew_blockers
from station.prepare.plan import DivePlan, plan_blockers
from station.prepare.profile import asked_for
from station.prepare.progress import progress_of
from station.prepare.run import Run
from station.prepare.sources import COMMON_PRACTICE
from station.prepare.team import WITH_DIVER, Post


class Group(StrEnum):
    """The rows of the board, in their order."""

    PLAN = "plan"
    PEOPLE = "people"
    GEAR = "gear"
    LISTS = "lists"
    STANDBY = "standby"
    AIR = "air"
    GAUGES = "gauges"
    VOICE = "voice"
    LOCKS = "locks"


LIVE = (Group.AIR, Group.GAUGES, Group.VOICE)
"""What the core knows and tells the board; what it does not tell is not ready."""


class Readiness(StrEnum):
    """What the board says."""

    NOT_READY = "not_ready"
    OVERRIDDEN = "overridden"  # not ready; the supervisor lets him go without what is named
    READY = "ready"


@dataclass(frozen=True, slots=True)
class Told:
    """What the core tells of one row of `LIVE`: empty `blockers` is good."""

    group: Group
    blockers: tuple[Blocker, ...] = ()


@dataclass(frozen=True, slots=True)
class Sight:
    """The moment at which the board is read: station time, calendar day, what the core tells.

    `dives` holds each diver's name with the number of his dive.
    """

    now: Instant
    day: str
    dives: tuple[tuple[str, int], ...] = ()
    told: tuple[Told, ...] = ()


@dataclass(frozen=True, slots=True)
class Condition:
    """One thing that is missing, and who does it (a post or a name). `overridden_by` names the supervisor."""

    group: Group
    key: str
    what: str
    who: str
    source: str = ""
    overridden_by: str = ""


@dataclass(frozen=True, slots=True)
class Board:
    """The board of one diver's dive. `met` are the rows where nothing is missing."""

    diver: str
    dive: int
    readiness: Readiness
    met: tuple[Group, ...]
    missing: tuple[Condition, ...]

    @property
    def may_leave(self) -> bool:
        """Whether the diver may leave the surface without raising the alarm."""
        return self.readiness is not Readiness.NOT_READY


def board_of(desk: Desk, diver: str, dive: int, sight: Sight) -> Board:
    """The board of a diver's dive at a moment."""
    found = {
        Group.PLAN: _plan(desk, diver, dive),
        Group.PEOPLE: _people(desk, diver, sight),
        Group.GEAR: _outfit(desk, diver, sight) + _serving(desk, STATION, sight),
        Group.LISTS: _lists(desk, required_lists(desk, diver, dive), diver, dive),
        Group.STANDBY: _standby(desk, sight),
        Group.LOCKS: _locks(desk, diver, dive, sight),
        **{group: _told(group, sight) for group in LIVE},
    }
    waived = {
        given.key: override.by
        for override in desk.overrides
        if (override.diver, override.dive) == (diver, dive)
        for given in override.conditions
    }
    missing = tuple(
        Condition(group, each.key, each.what, _who(group, desk, diver), each.source, waived.get(each.key, ""))
        for group in Group
        for each in found[group]
    )
    met = tuple(group for group in Group if not found[group])
    return Board(diver, dive, _readiness(missing), met, missing)


def _readiness(missing: tuple[Condition, ...]) -> Readiness:
    if not missing:
        return Readiness.READY
    if all(condition.overridden_by for condition in missing):
        return Readiness.OVERRIDDEN
    return Readiness.NOT_READY


def _who(group: Group, desk: Desk, diver: str) -> str:
    post = Post.TENDER if group in (Group.GEAR, Group.LISTS) else Post.SUPERVISOR
    return desk.crew.person(post, diver if post in WITH_DIVER else "") or post.replace("_", " ")


_STAGES = tuple(Stage)


def required_lists(desk: Desk, diver: str, dive: int) -> tuple[Checklist, ...]:
    """The lists that a diver's dive asks for before he leaves; a standby's, before anybody does."""
    outfit = desk.gear.outfit(desk.outfit_of(diver))
    plan = desk.plan_of(diver, dive)
    rules = asked_for(desk.profile, plan.exposure) if plan and desk.profile else ()
    asked = {rule.asked.value for rule in rules}
    held = {seat.post for seat in desk.crew.seats if seat.diver == diver}
    standing_by = Post.STANDBY in held and Post.DIVER not in held
    turns = (Turn.ANY, Turn.FIRST if dive <= 1 else Turn.REPEAT)
    return tuple(
        each
        for each in sorted(desk.lists, key=lambda each: _STAGES.index(each.stage))
        if each.stage is not Stage.AFTER
        and each.turn in turns
        and (not each.outfits or (outfit is not None and outfit.kind in each.outfits))
        and (not each.when or each.when in asked)
        and (each.standby or not standing_by)
    )


def _lists(desk: Desk, lists: tuple[Checklist, ...], diver: str, dive: int) -> tuple[Blocker, ...]:
    if not lists:
        return (Blocker("lists:none", "no checklists are on the desk"),)
    return tuple(
        Blocker(f"list:{each.key}:{diver}" if each.about is About.DIVER else f"list:{each.key}", words)
        for each in lists
        for words in (_unfinished(desk, each, desk.run_of(each, diver, dive)),)
        if words
    )


def _unfinished(desk: Desk, checklist: Checklist, run: Run | None) -> str:
    """What is left of a list, in words; empty when it is complete."""
    if run is None:
        return f"{checklist.title}: not begun"
    if desk.parts_changed(run):
        return f"{checklist.title}: parts were changed since it was begun, begin it anew"
    progress = progress_of(checklist, run)
    if progress.stopped:
        return f"{checklist.title}: stopped by the supervisor, {progress.stopped}"
    if progress.with_supervisor:
        place = progress.with_supervisor[0]
        return f"{checklist.title}: step {place + 1} with the supervisor, {run.steps[place].reason}"
    if progress.next_place is None:
        return ""
    return f"{checklist.title}: step {progress.next_place + 1} of {progress.of}"


def _plan(desk: Desk, diver: str, dive: int) -> tuple[Blocker, ...]:
    plan = desk.plan_of(diver, dive)
    if desk.profile is None:
        return (Blocker("plan:profile", "no profile of rules is chosen"),)
    if plan is None:
        return (Blocker("plan:none", f"no plan of dive {dive} of {diver}"),)
    return plan_blockers(plan, desk.profile, desk.crew) + _dress(desk, plan)


def _dress(desk: Desk, plan: DivePlan) -> tuple[Blocker, ...]:
    """The rules except heavy gear from some things: the plan must be of the gear that he wears."""
    outfit = desk.gear.outfit(desk.outfit_of(plan.diver))
    if outfit is None or plan.exposure.heavy_gear == (outfit.kind is OutfitKind.DEEP_SEA):
        return ()
    worn = "heavy" if outfit.kind is OutfitKind.DEEP_SEA else "light"
    return (Blocker("plan:dress", f"plan: not made for {outfit.name}, which is {worn} gear"),)


_MUST_BE_HELD = (Post.SUPERVISOR, Post.LOG_KEEPER)
"""Posts of the station that no dive goes without. USN Diving Manual Rev 5, para 6-9, manning notes."""

_MUST_BE_HELD_FOR_HIM = (Post.DIVER, Post.TENDER)
"""Posts for the diver himself. 29 CFR 1910.425(c)(1): each diver is tended while in the water."""


def _people(desk: Desk, diver: str, sight: Sight) -> tuple[Blocker, ...]:
    wanted = [(post, "") for post in _MUST_BE_HELD] + [(post, diver) for post in _MUST_BE_HELD_FOR_HIM]
    empty = tuple(
        Blocker(f"post:{post}", f"nobody is {post.replace('_', ' ')}" + (f" of {name}" if name else ""))
        for post, name in wanted
        if not desk.crew.person(post, name)
    )
    return empty + crew_blockers(desk.crew, desk.people, sight.day)


def _outfit(desk: Desk, diver: str, sight: Sight) -> tuple[Blocker, ...]:
    outfit = desk.outfit_of(diver)
    if not outfit:
        return (Blocker(f"outfit:{diver}:none", f"{diver} wears no outfit of the register"),)
    of_outfit = outfit_blockers(desk.gear, outfit, _duties(desk), sight.day)
    return of_outfit + _serving(desk, diver, sight)


def _serving(desk: Desk, use: str, sight: Sight) -> tuple[Blocker, ...]:
    """What is wrong with gear outside the outfits: gauges of the diver, or the plant that serves all."""
    return tuple(
        blocker
        for state in desk.gear.serving(use)
        for blocker in item_blockers(state, _duties(desk), sight.day)
    )


def _duties(desk: Desk) -> tuple[Duty, ...]:
    return desk.profile.duties if desk.profile else ()


def _standby(desk: Desk, sight: Sight) -> tuple[Blocker, ...]:
    """A standby who is dressed and proved as far as his lists go; asked for at every depth."""
    seat = next((each for each in desk.crew.seats if each.post is Post.STANDBY), None)
    if seat is None:
        return (Blocker("standby:none", "nobody is standby", COMMON_PRACTICE),)
    own_dive = dict(sight.dives).get(seat.diver, 1)
    lists = required_lists(desk, seat.diver, own_dive)
    return _outfit(desk, seat.diver, sight) + (_lists(desk, lists, seat.diver, own_dive) if lists else ())


def _locks(desk: Desk, diver: str, dive: int, sight: Sight) -> tuple[Blocker, ...]:
    plan = desk.plan_of(diver, dive)
    return lock_blockers(desk.locks, plan, sight.now) if plan is not None else ()


def _told(group: Group, sight: Sight) -> tuple[Blocker, ...]:
    told = [each for each in sight.told if each.group is group]
    if not told:
        return (Blocker(f"{group}:not_told", f"{group}: not known"),)
    return tuple(blocker for each in told for blocker in each.blockers)
