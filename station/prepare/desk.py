"""Everything that is prepared, as one state: what the acts of `station.prepare.acts` are folded over."""

from dataclasses import dataclass, field, replace

from shared.clock import Instant
from station.prepare.acts import Waived
from station.prepare.after_dive import AfterDive
from station.prepare.cards import Opened
from station.prepare.checklist import About, Checklist
from station.prepare.gear import Gear, GearKind
from station.prepare.locks import Locks
from station.prepare.people import People
from station.prepare.plan import DivePlan
from station.prepare.profile import Profile
from station.prepare.run import Run
from station.prepare.signals import Exchange, SignalCode
from station.prepare.team import Crew


@dataclass(frozen=True, slots=True)
class Moment:
    """Around an act: when (station time, and UTC as a label), who, and what the core knows of the divers.

    `dives` holds each diver's name with the number of his dive, `in_water` those who left the surface.
    """

    at: Instant
    utc: str
    by: str
    dives: tuple[tuple[str, int], ...] = ()
    in_water: tuple[str, ...] = ()

    def dive_of(self, diver: str) -> int | None:
        """The number of a diver's dive, None when the station has no such diver."""
        return next((dive for name, dive in self.dives if name == diver), None)


@dataclass(frozen=True, slots=True)
class Overridden:
    """An override as it was given; it stands for good and covers no other dive."""

    diver: str
    dive: int
    conditions: tuple[Waived, ...]
    reason: str
    by: str
    at: Instant


@dataclass(frozen=True, slots=True)
class Departure:
    """A diver left the surface: what was missing then and not overridden, and what was overridden."""

    diver: str
    dive: int
    at: Instant
    missing: tuple[str, ...]
    overridden: tuple[str, ...]
    rescue: bool = False


@dataclass(frozen=True, slots=True)
class Desk:
    """All that is prepared at this station. `worn` holds the outfit of each diver by name."""

    gear: Gear = field(default_factory=Gear)
    people: People = field(default_factory=People)
    profile: Profile | None = None
    lists: tuple[Checklist, ...] = ()
    runs: tuple[Run, ...] = ()
    worn: tuple[tuple[str, str], ...] = ()
    crew: Crew = field(default_factory=Crew)
    plans: tuple[DivePlan, ...] = ()
    overrides: tuple[Overridden, ...] = ()
    departures: tuple[Departure, ...] = ()
    locks: Locks = field(default_factory=Locks)
    code: SignalCode | None = None
    lines: tuple[Exchange, ...] = ()
    cards: Opened = ()
    after: tuple[AfterDive, ...] = ()

    def checklist(self, key: str) -> Checklist | None:
        """The list of this key that holds today, None when there is none."""
        return next((each for each in self.lists if each.key == key), None)

    def run_of(self, checklist: Checklist, subject: str, dive: int) -> Run | None:
        """The run of a list for a diver's dive, or for the station; None when nobody has begun it."""
        wanted = (checklist.key, *whose(checklist, subject, dive))
        return next((run for run in self.runs if (run.list_key, run.subject, run.dive) == wanted), None)

    def outfit_of(self, diver: str) -> str:
        """The name of the outfit that a diver wears; empty when none is told."""
        return next((outfit for name, outfit in self.worn if name == diver), "")

    def plan_of(self, diver: str, dive: int) -> DivePlan | None:
        """The plan of a diver's dive, None when there is none."""
        return next((plan for plan in self.plans if (plan.diver, plan.dive) == (diver, dive)), None)

    def serials_of(self, diver: str) -> tuple[tuple[GearKind, str], ...]:
        """The parts that belong on a diver, by kind and serial."""
        outfit = self.outfit_of(diver)
        return tuple((part.item.kind, part.item.serial) for part in self.gear.parts(outfit)) if outfit else ()

    def parts_changed(self, run: Run) -> bool:
        """Whether a run proved other parts than the diver wears now: then it proves nothing."""
        return bool(run.subject) and run.serials != self.serials_of(run.subject)

    @property
    def in_use(self) -> bool:
        """Whether this station prepares its dives here: somebody chose rules, lists or a crew."""
        return self.profile is not None or bool(self.lists) or bool(self.crew.seats)


def whose(checklist: Checklist, subject: str, dive: int) -> tuple[str, int]:
    """Under whom a run of a list stands: the diver's dive, or the station's day (no name, dive 0)."""
    return (subject, dive) if checklist.about is About.DIVER else ("", 0)


def with_run(desk: Desk, run: Run) -> Desk:
    """The desk with a run in the place of the one for the same list, diver and dive."""
    mark = (run.list_key, run.subject, run.dive)
    kept = tuple(each for each in desk.runs if (each.list_key, each.subject, each.dive) != mark)
    return replace(desk, runs=(*kept, run))
