"""What may be chosen or told of a diver, as frozen values: what is in force, and what there is to take."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Option:
    """One thing to take: the word that the act carries, its title, a detail; `in_force` when it holds now."""

    value: str
    title: str
    detail: str = ""
    in_force: bool = False


@dataclass(frozen=True, slots=True)
class TypedPlace:
    """A pressure that somebody may read and type: a diver's manifold or a bank."""

    channel: str
    subject: str
    title: str


@dataclass(frozen=True, slots=True)
class ChoicesLook:
    """How one diver enters the tables and what he breathes, and what may be taken instead.

    `groups` are the words of `EnterHistory`; `bound` says by whom he is bound to one schedule.
    """

    history: str
    groups: tuple[str, ...]
    modes: tuple[Option, ...]
    rows: tuple[Option, ...]
    cold: tuple[Option, ...]
    supplies: tuple[Option, ...]
    bound: str
    depth_unit: str
    pressure_unit: str
    pressures: tuple[TypedPlace, ...]

    def in_force(self, options: tuple[Option, ...]) -> str:
        """The title of what holds now."""
        return next((option.title for option in options if option.in_force), "")
