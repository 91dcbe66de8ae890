"""What a check of the tables comes to: how many cells were looked at, and which differ."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Difference:
    """A cell that does not come out as derived."""

    check: str
    row: str
    printed: str
    derived: str


@dataclass(frozen=True, slots=True)
class Check:
    """One relation or recomputation over a whole table."""

    id: str
    sentence: str
    checked: int
    differences: tuple[Difference, ...]

    @property
    def agreed(self) -> int:
        """How many cells come out as derived."""
        return self.checked - len(self.differences)


@dataclass(frozen=True, slots=True)
class Cell:
    """One cell as printed beside what a rule or the model derives for it."""

    row: str
    printed: str
    derived: str


def check(id_: str, sentence: str, cells: Iterable[Cell]) -> Check:
    """Count cells and keep those that differ."""
    found = tuple(cells)
    return Check(id_, sentence, len(found), tuple(_differing(id_, found)))


def _differing(id_: str, cells: tuple[Cell, ...]) -> Iterator[Difference]:
    for cell in cells:
        if cell.printed != cell.derived:
            yield Difference(id_, cell.row, cell.printed, cell.derived)
