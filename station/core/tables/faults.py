"""What is wrong with a folder of tables, all of it at once."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class CellFault:
    """One missing or odd thing, with the file and the line it stands on (0: the file as a whole)."""

    file: str
    line: int
    what: str

    def __str__(self) -> str:
        return f"{self.file}:{self.line}: {self.what}" if self.line else f"{self.file}: {self.what}"


class TableFault(ValueError):  # noqa: N818 - the program's word for trouble that came in from outside
    """A set of tables that cannot be used; `faults` lists everything that is wrong with it."""

    def __init__(self, faults: tuple[CellFault, ...]) -> None:
        self.faults = faults
        super().__init__("\n".join(str(fault) for fault in faults))
