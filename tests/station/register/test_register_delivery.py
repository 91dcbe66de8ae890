"""What was entered on watch reaches the registers once, however often the watch is taken up again."""

from pathlib import Path

import pytest

from shared.clock import EPOCH
from station.prepare.acts import DeskAct, EnterGear, EnterPerson
from station.prepare.desk import Moment
from station.prepare.gear import GearKind, Item
from station.prepare.gear_acts import AddItem, FindFault, GearNote
from station.prepare.people import AddPerson, Gone
from station.prepare.team import Leave
from station.register.delivery import deliver_gear, deliver_people, gear_entries, people_entries
from station.register.fault import RegisterFault
from station.register.file import open_gear, open_people

NOW = Moment(EPOCH, "2031-05-02T08:00:00Z", "P. Rusk")
TAKEN: tuple[tuple[DeskAct, Moment], ...] = (
    (EnterGear("g1", AddItem(Item("H-1", GearKind.HELMET, "helmet"))), NOW),
    (Leave("T. Osk"), NOW),
    (EnterGear("g2", FindFault("H-9", "unknown to the register")), NOW),
    (EnterPerson("p1", AddPerson("T. Osk")), NOW),
    (EnterGear("g3", GearNote("H-1", "new strap")), NOW),
    (EnterPerson("p2", Gone("Nobody", "x")), NOW),
)


def test_one_entry_that_cannot_be_taken_keeps_no_other_out(tmp_path: Path) -> None:
    """The good ones are in, the bad one is told of by its uid; delivered again, nothing is doubled."""
    gear, people = open_gear(tmp_path / "gear"), open_people(tmp_path / "people")
    for _ in range(2):
        told = deliver_gear(gear, gear_entries(TAKEN)) + deliver_people(people, people_entries(TAKEN))
        assert [reason.split(":")[0] for reason in told] == ["g2", "p2"]
        assert [entry.uid for entry in gear.entries] == ["g1", "g3"]
        assert [entry.uid for entry in people.entries] == ["p1"]
    gear.close()
    people.close()


def test_a_file_that_fails_is_no_matter_of_one_entry(tmp_path: Path) -> None:
    """The file was tampered with while it was open: loud, and nothing is called delivered."""
    path = tmp_path / "gear"
    gear, other = open_gear(path), open_gear(path)
    other.add(gear_entries(TAKEN)[:1])
    other.close()
    gear.close()
    with pytest.raises(Exception, match="closed"):
        deliver_gear(gear, gear_entries(TAKEN))
    broken = open_gear(path)
    path.write_bytes(b"\0" * path.stat().st_size)
    with pytest.raises(RegisterFault) as caught:
        deliver_gear(broken, gear_entries(TAKEN))
    assert not caught.value.of_entries
    broken.close()
