"""The order in which alarms are shown: emergencies first, a flood together, what is put aside last."""

from collections.abc import Iterable
from typing import Final, Protocol, TypeVar

from station.core.state import Priority, Standing

_ORDER: Final = tuple(Priority)
PUT_ASIDE: Final = (Standing.SHELVED, Standing.OUT_OF_SERVICE)
"""Standings that are listed and not announced."""


class Ranked(Protocol):
    """What the order goes by."""

    @property
    def id(self) -> str:
        """The alarm's name."""
        ...

    @property
    def subject(self) -> str:
        """Whose it is."""
        ...

    @property
    def priority(self) -> Priority:
        """How grave it counts."""
        ...

    @property
    def standing(self) -> Standing:
        """How it stands."""
        ...

    @property
    def first_out(self) -> bool:
        """Whether it came before all others that wait with it."""
        ...

    @property
    def age_s(self) -> float:
        """Seconds since it was raised."""
        ...


Row = TypeVar("Row", bound=Ranked)


def ranked(rows: Iterable[Row], flooded: tuple[str, ...]) -> tuple[Row, ...]:
    """Rows in the order of showing: by priority, then the first that came.

    In a flood the rows of its subject stand together, at the place of their gravest, what came first at
    their head; an emergency leaves the group and stands above everything.
    """
    rows = list(rows)
    shown = [row for row in rows if row.standing not in PUT_ASIDE]
    groups = {subject: _gravest(shown, subject) for subject in flooded}
    return tuple(sorted(rows, key=lambda row: _key(row, groups)))


def _gravest(rows: list[Row], subject: str) -> int:
    own = [_ORDER.index(row.priority) for row in rows if row.subject == subject]
    return min((rank for rank in own if rank), default=len(_ORDER))


def _key(row: Ranked, groups: dict[str, int]) -> tuple[bool, int, str, bool, int, float, str, str]:
    rank, aside = _ORDER.index(row.priority), row.standing in PUT_ASIDE
    if rank and not aside and row.subject in groups:
        return aside, groups[row.subject], row.subject, not row.first_out, rank, -row.age_s, row.id, ""
    return aside, rank, "", False, rank, -row.age_s, row.id, row.subject
