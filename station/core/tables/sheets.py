"""Reading the cells of one CSV text, gathering faults instead of stopping at the first."""

import csv
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from io import StringIO
from typing import TypeVar

from .faults import CellFault

T = TypeVar("T")


@dataclass(slots=True)
class FaultList:
    """The faults found so far in a whole folder."""

    found: list[CellFault] = field(default_factory=list)

    def add(self, file: str, line: int, what: str) -> None:
        """Note that something is wrong at a place."""
        self.found.append(CellFault(file, line, what))


@dataclass(frozen=True, slots=True)
class SheetRow:
    """One line of a sheet by column; a cell that does not read is a fault and counts as None."""

    file: str
    line: int
    cells: Mapping[str, str]
    faults: FaultList

    def fault(self, what: str) -> None:
        """Note that something is wrong on this line."""
        self.faults.add(self.file, self.line, what)

    def text(self, column: str) -> str:
        """The cell as it stands, which must not be empty."""
        cell = self.cells.get(column, "")
        if not cell:
            self.fault(f"{column} is empty")
        return cell

    def read(self, column: str, reader: Callable[[str], T], kind: str) -> T | None:
        """The cell through `reader`; a fault and None when it does not read."""
        try:
            return reader(self.text(column))
        except ValueError:
            self.fault(f"{column} is {self.cells[column]!r}, not {kind}")
            return None

    def whole(self, column: str) -> int | None:
        """A whole number, 0 or more."""
        return self.read(column, _whole, "a whole number")

    def optional(self, column: str) -> int | None:
        """A whole number, or None for an empty cell."""
        return self.whole(column) if self.cells.get(column, "") else None


def _whole(cell: str) -> int:
    if not (cell.isascii() and cell.isdigit()):
        raise ValueError(cell)
    return int(cell)


def lines_of(file: str, text: str, faults: FaultList) -> Iterator[tuple[int, tuple[str, ...]]]:
    """The lines of a CSV text with their numbers; text that is no CSV is a fault and ends it."""
    lines = csv.reader(StringIO(text))
    try:
        for cells in lines:
            yield lines.line_num, tuple(cells)
    except csv.Error as trouble:
        faults.add(file, lines.line_num, f"does not read as comma-separated values: {trouble}")


def header_of(file: str, text: str, faults: FaultList) -> tuple[str, ...]:
    """The first line of a sheet; a fault and an empty tuple when there is none."""
    for _, cells in lines_of(file, text, faults):
        return cells
    faults.add(file, 0, "is empty")
    return ()


def sheet_rows(file: str, text: str, columns: tuple[str, ...], faults: FaultList) -> Iterator[SheetRow]:
    """The lines of a sheet that has exactly these columns; a line of another width is a fault."""
    for number, (line, cells) in enumerate(lines_of(file, text, faults)):
        if number == 0:
            if cells != columns:
                faults.add(file, line, f"columns are {','.join(cells)}, not {','.join(columns)}")
                return
        elif len(cells) != len(columns):
            faults.add(file, line, f"has {len(cells)} cells, not {len(columns)}")
        else:
            yield SheetRow(file, line, dict(zip(columns, cells, strict=True)), faults)
