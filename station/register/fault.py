"""What can be wrong with a register or with a file that is brought into one."""

from pathlib import Path


class RegisterFault(Exception):  # noqa: N818 - a fault of the file, told to the person who keeps it
    """A register cannot be made, opened, read or added to; says which file and every reason, a line each.

    `of_entries` says that the file is sound and only what was to be added is not.
    """

    def __init__(self, path: Path, reasons: tuple[str, ...], *, of_entries: bool = False) -> None:
        super().__init__("\n".join(f"{path}: {reason}" for reason in reasons))
        self.path = path
        self.reasons = reasons
        self.of_entries = of_entries
