"""A checklist as data: what is done, why it matters, who signs, and what proves it."""

from dataclasses import dataclass
from enum import StrEnum

from station.prepare.gear import GearKind, OutfitKind
from station.prepare.team import Post


@dataclass(frozen=True, slots=True)
class Seen:
    """The signer saw it with his own eyes."""


@dataclass(frozen=True, slots=True)
class Measured:
    """A value is entered and must lie from `low` to `high`, in `unit`. `channel` may offer a live value."""

    quantity: str
    unit: str
    low: float
    high: float
    channel: str = ""


@dataclass(frozen=True, slots=True)
class SerialRead:
    """The serial of the part in hand is entered and must be the one that belongs to the outfit."""

    kind: GearKind


Proof = Seen | Measured | SerialRead

PROOFS: dict[str, type] = {"seen": Seen, "measured": Measured, "serial": SerialRead}
"""The proofs by their stored names."""


@dataclass(frozen=True, slots=True)
class Step:
    """One step. `after` are keys of steps that must be passed before it.

    A hold point is passed only when others have done it and the supervisor has signed; nothing behind it
    opens before. A timed step is begun by a press: it must run `least_s` and end within `most_s`.
    """

    key: str
    text: str
    why: str
    signs: tuple[Post, ...]
    proof: Proof
    source: str
    hold: bool = False
    persons: int = 1
    after: tuple[str, ...] = ()
    least_s: float | None = None
    most_s: float | None = None

    @property
    def timed(self) -> bool:
        """Whether the step is begun by a press and runs on a clock."""
        return self.least_s is not None or self.most_s is not None


class Stage(StrEnum):
    """When a list is worked off."""

    GEAR = "gear"
    STATION = "station"
    DRESSING = "dressing"
    WATER = "water"
    AFTER = "after"


class About(StrEnum):
    """Whose list it is."""

    DIVER = "diver"
    STATION = "station"


class Turn(StrEnum):
    """For which dive of the day a list is asked for."""

    ANY = "any"
    FIRST = "first"
    REPEAT = "repeat"


@dataclass(frozen=True, slots=True)
class Checklist:
    """A list. With `ordered` each step waits for all before it. `outfits` empty: for every outfit.

    `standby` says that the standby diver needs it as well before anybody leaves the surface. `when` names
    the dives that ask for it ("chamber": only where a chamber is required); empty for all.
    """

    key: str
    title: str
    version: int
    stands_above: str
    source: str
    stage: Stage
    about: About
    turn: Turn
    ordered: bool
    standby: bool
    steps: tuple[Step, ...]
    outfits: tuple[OutfitKind, ...] = ()
    when: str = ""

    def place(self, key: str) -> int | None:
        """At which place the step of this key stands, from 0; None when there is none."""
        return next((place for place, step in enumerate(self.steps) if step.key == key), None)

    def rests_on(self, place: int) -> tuple[int, ...]:
        """The places that must be passed before the one at `place` can be done."""
        step = self.steps[place]
        return tuple(
            earlier
            for earlier, each in enumerate(self.steps)
            if each.key in step.after or (earlier < place and (each.hold or self.ordered))
        )
