"""Adds notes to a gear register, one a commit, and prints each number when the disk has it; to be killed."""

import sys
from pathlib import Path

from station.prepare.gear import GearKind, Item
from station.prepare.gear_acts import AddItem, GearEntry, GearNote
from station.register.file import open_gear

UTC = "2031-05-02T08:00:00Z"


def main(path: Path) -> None:
    """Go on from where the register ends."""
    register = open_gear(path)
    register.add([GearEntry("item", UTC, "Tender", AddItem(Item("H-1", GearKind.HELMET, "helmet")))])
    for number in range(len(register.entries), 1_000_000):
        register.add([GearEntry(f"note {number}", UTC, "Tender", GearNote("H-1", f"note {number}"))])
        sys.stdout.write(f"{number}\n")
        sys.stdout.flush()


if __name__ == "__main__":
    main(Path(sys.argv[1]))
