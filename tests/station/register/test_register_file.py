"""A register on disk: it only grows, tells of every change, and survives a kill at any point."""

import sqlite3
import subprocess
import sys
from contextlib import closing
from itertools import islice
from pathlib import Path

import pytest

from station.demo.crew import demo_gear, demo_people
from station.plain import canonical
from station.prepare.gear import GearKind, Item
from station.prepare.gear_acts import AddItem, FindFault, GearEntry, GearNote, SignBack
from station.register.codec import to_plain
from station.register.fault import RegisterFault
from station.register.file import open_gear, open_people
from station.register.schema import connect

UTC = "2031-05-02T08:00:00Z"
CHILD = Path(__file__).with_name("adding_child.py")


def _item(serial: str = "H-1") -> GearEntry:
    return GearEntry(f"add {serial}", UTC, "P. Rusk", AddItem(Item(serial, GearKind.HELMET, "helmet")))


def test_what_was_added_is_there_again(tmp_path: Path) -> None:
    """Closed and opened: the same entries in the same order, and the same fold of them."""
    path = tmp_path / "deep" / "gear.register"
    register = open_gear(path)
    assert register.add(demo_gear()) == len(demo_gear())
    entries, state = register.entries, register.state
    register.close()
    again = open_gear(path)
    assert (again.entries, again.state) == (entries, state)
    again.close()


def test_bringing_an_entry_twice_adds_nothing(tmp_path: Path) -> None:
    """After a crash the log is given to the register once more: nothing is doubled, nothing refused."""
    register = open_gear(tmp_path / "gear.register")
    assert register.add([_item()]) == 1
    assert register.add([_item(), _item("H-2")]) == 1
    assert len(register.entries) == 2
    other = GearEntry("add H-1", UTC, "P. Rusk", GearNote("H-1", "other words"))
    with pytest.raises(RegisterFault, match="with other words"):
        register.add([other])
    register.close()


def test_a_batch_is_taken_whole_or_not_at_all_with_every_reason(tmp_path: Path) -> None:
    """One bad entry among good ones: none is added, and each bad one has its reason."""
    register = open_gear(tmp_path / "gear.register")
    bad = [
        _item(),
        GearEntry("x", UTC, "P. Rusk", FindFault("H-9", "bent")),
        GearEntry("y", UTC, " ", GearNote("H-1", "words")),
        GearEntry("z", UTC, "P. Rusk", SignBack("H-1", "no such", "mended", repaired=True)),
    ]
    with pytest.raises(RegisterFault) as caught:
        register.add(bad)
    assert len(caught.value.reasons) == 3
    assert [reason.split(":")[0] for reason in caught.value.reasons] == ["entry 2", "entry 3", "entry 4"]
    assert register.entries == ()
    assert register.add([_item()]) == 1
    register.close()


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE entry SET by = 'nobody'",
        "DELETE FROM entry",
        "INSERT OR REPLACE INTO entry SELECT n, uid, utc, 'nobody', act, chain FROM entry WHERE n = 1",
        "INSERT OR REPLACE INTO entry SELECT 3, uid, utc, 'nobody', act, chain FROM entry WHERE n = 1",
        "INSERT INTO entry SELECT 9, 'new', utc, by, act, chain FROM entry WHERE n = 1",
        "UPDATE about SET body = ''",
        "DELETE FROM about",
    ],
)
def test_the_file_refuses_to_be_rewritten(tmp_path: Path, statement: str) -> None:
    """No row is changed, removed, replaced or put out of order, by any program that opens the file."""
    path = tmp_path / "gear.register"
    register = open_gear(path)
    register.add([_item(), _item("H-2")])
    register.close()
    with closing(sqlite3.connect(path)) as other, pytest.raises(sqlite3.IntegrityError, match="only grows"):
        other.execute(statement)


def test_a_changed_row_is_told_of_when_the_guards_were_taken_off(tmp_path: Path) -> None:
    """Triggers can be dropped by who wants to; then the missing guard, or the chain, tells of it."""
    path = tmp_path / "gear.register"
    register = open_gear(path)
    register.add([_item(), _item("H-2")])
    register.close()
    with closing(sqlite3.connect(path, isolation_level=None)) as other:
        (guard,) = other.execute("SELECT sql FROM sqlite_master WHERE name = 'entry_update'").fetchone()
        other.execute("DROP TRIGGER entry_update")
        other.execute("UPDATE entry SET by = 'nobody' WHERE n = 1")
        with pytest.raises(RegisterFault, match="guard"):
            open_gear(path)
        other.execute(guard)
    with pytest.raises(RegisterFault, match="entry 1 was changed"):
        open_gear(path)


@pytest.mark.parametrize("content", [b"not a database, only words in a file of some length" * 20, None])
def test_another_file_is_told_of_and_left_alone(tmp_path: Path, content: bytes | None) -> None:
    """A text file, or another program's database, under the register's name."""
    path = tmp_path / "gear.register"
    if content is None:
        with closing(sqlite3.connect(path)) as other:
            other.execute("CREATE TABLE t (x)")
            other.commit()
    else:
        path.write_bytes(content)
    before = path.read_bytes()
    with pytest.raises(RegisterFault, match=r"gear\.register: "):
        open_gear(path)
    assert content is None or path.read_bytes() == before


def test_one_register_is_not_taken_for_the_other(tmp_path: Path) -> None:
    """The people's register is not opened as that of gear."""
    path = tmp_path / "people.register"
    people = open_people(path)
    assert people.add(demo_people()) == len(demo_people())
    people.close()
    with pytest.raises(RegisterFault, match="register of people, not of gear"):
        open_gear(path)


def test_two_programs_add_to_one_register(tmp_path: Path) -> None:
    """What the other program added in between is taken up before one's own."""
    path = tmp_path / "gear.register"
    one, other = open_gear(path), open_gear(path)
    one.add([_item("H-1")])
    assert other.add([_item("H-1"), _item("H-2")]) == 1
    one.add([_item("H-3")])
    assert [entry.uid for entry in one.entries] == ["add H-1", "add H-2", "add H-3"]
    one.close()
    other.close()


def test_a_place_that_cannot_be_written_is_told_of(tmp_path: Path) -> None:
    """A file stands where the folder should be: file and reason, no traceback of ours."""
    (tmp_path / "folder").write_text("in the way")
    with pytest.raises(RegisterFault, match=r"gear\.register"):
        open_gear(tmp_path / "folder" / "gear.register")


def test_a_full_disk_is_told_of_and_loses_nothing(tmp_path: Path) -> None:
    """The file may not grow: refused with the reason, what was there stays, and it goes on later."""
    path = tmp_path / "gear.register"
    opened: list[sqlite3.Connection] = []

    def connecting(place: Path) -> sqlite3.Connection:
        opened.append(connect(place))
        return opened[-1]

    register = open_gear(path, connecting)
    register.add([_item()])
    (connection,) = opened
    (pages,) = connection.execute("PRAGMA page_count").fetchone()
    connection.execute(f"PRAGMA max_page_count={pages}")
    big = GearEntry("big", UTC, "P. Rusk", GearNote("H-1", "x" * 100_000))
    with pytest.raises(RegisterFault, match="full"):
        register.add([big])
    assert len(register.entries) == 1
    connection.execute("PRAGMA max_page_count=1000000")
    assert register.add([big]) == 1
    register.close()


@pytest.mark.slow
def test_killed_writers_lose_nothing_that_was_confirmed(tmp_path: Path) -> None:
    """Kill -9 again and again, first while the file is being made: every confirmed entry is there."""
    path = tmp_path / "gear.register"
    for turn in range(6):
        child = subprocess.Popen(
            [sys.executable, "-P", str(CHILD), str(path)], stdout=subprocess.PIPE, text=True
        )
        assert child.stdout is not None
        seen = [int(line) for line in islice(child.stdout, 5 * turn)]
        child.kill()
        rest = [int(line) for line in child.stdout if line.endswith("\n")]
        child.stdout.close()
        assert child.wait(60) != 0
        confirmed = [0, *seen, *rest][-1]
        register = open_gear(path)
        uids = [entry.uid for entry in register.entries]
        register.close()
        assert uids == (["item"] + [f"note {number}" for number in range(1, len(uids))])[: len(uids)]
        assert len(uids) > confirmed or confirmed == 0


def test_an_empty_file_left_by_a_kill_is_laid_out(tmp_path: Path) -> None:
    """A kill between making the file and its first commit leaves it empty: it becomes the register."""
    path = tmp_path / "gear.register"
    path.touch()
    register = open_gear(path)
    assert register.add([_item()]) == 1
    register.close()


def test_any_tool_reads_the_history_of_an_item(tmp_path: Path) -> None:
    """The query of the module's docstring gives an item's entries, in order, as plain JSON."""
    path = tmp_path / "gear.register"
    register = open_gear(path)
    note = GearEntry("n", UTC, "P. Rusk", GearNote("H-1", "new strap"))
    register.add([_item(), _item("H-2"), note])
    register.close()
    query = (
        "SELECT act FROM entry WHERE json_extract(act, '$.serial') = 'H-1' "
        "OR json_extract(act, '$.item.serial') = 'H-1' ORDER BY n"
    )
    with closing(sqlite3.connect(path)) as other:
        rows = [row[0] for row in other.execute(query)]
    assert rows == [canonical(to_plain(entry.act)).decode() for entry in (_item(), note)]
