"""The log being written: what it promises the pump on a good disk and on a bad one."""

import sqlite3
import subprocess
import sys
import threading
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from shared.clock import Instant
from station.core.facts import Refused
from station.core.inputs import OperatorEvent, Remark, Tick
from station.log.fault import LogFault
from station.log.header import Header
from station.log.integrity import check
from station.log.journal import FIRST_PAUSE_S, LONGEST_PAUSE_S, Journal
from station.log.reading import LogReader
from station.log.schema import connect_writing

PATIENCE_S = 30.0

Begin = Callable[..., Journal]
Press = Callable[[int], Any]


def _arrivals(path: Path) -> list[Any]:
    with LogReader(path) as reader:
        arrivals = [one for _, one in reader.arrivals()]
        assert reader.fault is None
    return arrivals


def test_the_connection_syncs_every_commit(begin: Begin, press: Press) -> None:
    """The writing connection, asked itself: a write-ahead log, synchronous in full."""
    opened: list[sqlite3.Connection] = []

    def connect(path: Path) -> sqlite3.Connection:
        opened.append(connect_writing(path))
        return opened[-1]

    journal = begin(connect=connect)
    journal.append(1, press(1))
    assert journal.wait_committed(1, PATIENCE_S)
    (connection,) = opened
    assert connection.execute("PRAGMA journal_mode").fetchone() == (b"wal",)
    assert connection.execute("PRAGMA synchronous").fetchone() == (2,)


def test_arrivals_are_committed_in_order(begin: Begin) -> None:
    """What the pump handed over is in the file, in its order, once the journal says so."""
    journal = begin()
    for seq in range(1, 501):
        journal.append(seq, Tick(Instant(seq)))
    assert journal.wait_committed(500, PATIENCE_S)
    assert journal.committed_seq == 500
    assert journal.waiting == 0
    assert journal.oldest_waiting_s() == 0.0
    assert _arrivals(journal.path) == [Tick(Instant(seq)) for seq in range(1, 501)]


def test_an_operator_event_does_not_wait_for_the_batch(begin: Begin, press: Press) -> None:
    """With a clock that stands still no batch ever grows old enough; an operator's event goes at once."""
    journal = begin(monotonic=lambda: 5.0)
    journal.append(1, Tick(Instant(1)))
    journal.append(2, press(2))
    assert journal.wait_committed(2, PATIENCE_S)


def test_every_kind_of_derived_record_is_kept(begin: Begin, press: Press, state_after: Any) -> None:
    """Facts, trace, digests and checkpoints come back with the number of their arrival."""
    journal = begin()
    journal.append(1, press(1))
    journal.derive(1, Refused(Instant(5), "remark", "why"))
    journal.trace(1, Instant(5), {"depth_fsw": 1.5})
    journal.digest(1, "ab", ("x", "y"))
    journal.checkpoint(1, state_after(1))
    journal.close(finished=True)
    with LogReader(journal.path) as reader:
        kinds = [type(one).__name__ for one in reader.derived()]
        assert reader.checkpoint_marks() == ((1, state_after(1).now),)
    assert kinds == ["FactRecord", "TraceRecord", "DigestRecord", "CheckpointRecord"]
    assert check(journal.path).sound


class _Disk:
    """A disk that can be full: connections of a size that may not grow while it is."""

    def __init__(self) -> None:
        self.full = False
        self.pauses: list[float] = []
        self.paused = threading.Event()
        self.go_on = threading.Event()

    def connect(self, path: Path) -> sqlite3.Connection:
        """A connection to the file as the disk is now."""
        connection = connect_writing(path)
        if self.full:
            (pages,) = connection.execute("PRAGMA page_count").fetchone()
            connection.execute(f"PRAGMA max_page_count={pages}")
        return connection

    def pause(self, hurry: threading.Event, seconds: float) -> None:
        """The writer's rest: until the test lets it go on."""
        self.pauses.append(seconds)
        self.paused.set()
        self.go_on.wait(PATIENCE_S)


def test_a_full_disk_loses_nothing(begin: Begin, press: Press) -> None:
    """While the disk is full the pump goes on and the failure is told; afterwards all is written in order."""
    disk = _Disk()
    disk.full = True
    journal = begin(connect=disk.connect, pause=disk.pause)
    arrivals = [press(seq) for seq in range(1, 2001)]
    for seq, arrival in enumerate(arrivals, 1):
        journal.append(seq, arrival)
    assert disk.paused.wait(PATIENCE_S)
    assert "full" in journal.failure
    assert str(journal.path) in journal.failure
    assert journal.committed_seq < 2000
    assert journal.waiting == 2000 - journal.committed_seq
    assert journal.oldest_waiting_s() > 0
    disk.full = False
    disk.go_on.set()
    assert journal.wait_committed(2000, PATIENCE_S)
    assert journal.failure == ""
    journal.close(finished=True)
    assert _arrivals(journal.path) == arrivals
    assert check(journal.path).sound


def test_pauses_grow_up_to_a_limit(begin: Begin, press: Press) -> None:
    """On a disk that stays full the writer rests twice as long each time, never longer than the limit."""
    disk = _Disk()
    disk.full = True
    disk.go_on.set()
    enough = threading.Event()

    def pause(hurry: threading.Event, seconds: float) -> None:
        disk.pauses.append(seconds)
        if len(disk.pauses) == 10:
            disk.full = False
            enough.set()

    journal = begin(connect=disk.connect, pause=pause)
    for seq in range(1, 200):
        journal.append(seq, press(seq))
    assert enough.wait(PATIENCE_S)
    assert journal.wait_committed(199, PATIENCE_S)
    assert disk.pauses == [min(FIRST_PAUSE_S * 2**step, LONGEST_PAUSE_S) for step in range(10)]


def test_closing_on_a_full_disk_says_so_and_can_be_tried_again(begin: Begin, press: Press) -> None:
    """Closing gives up after its patience, names what is not written, and loses nothing."""
    disk = _Disk()
    disk.full = True
    journal = begin(connect=disk.connect, pause=disk.pause)
    arrivals = [press(seq) for seq in range(1, 2001)]
    for seq, arrival in enumerate(arrivals, 1):
        journal.append(seq, arrival)
    assert disk.paused.wait(PATIENCE_S)
    with pytest.raises(LogFault, match=r"arrivals are not written yet: .*full"):
        journal.close(finished=True, patience_s=0.01)
    disk.full = False
    disk.go_on.set()
    journal.close(finished=True, patience_s=PATIENCE_S)
    assert _arrivals(journal.path) == arrivals


class _Slow(sqlite3.Connection):
    """A connection whose commits wait until they are let through."""

    gate = threading.Event()
    reached = threading.Event()

    def execute(self, sql: str, *parameters: Any) -> sqlite3.Cursor:
        if sql == "COMMIT":
            self.reached.set()
            assert self.gate.wait(PATIENCE_S)
        return super().execute(sql, *parameters)


def test_a_slow_disk_does_not_hold_the_pump(begin: Begin, press: Press) -> None:
    """While a commit hangs the pump hands over, and can tell for how long the oldest arrival waits."""
    now_s = [100.0]
    _Slow.gate.clear()

    def connect(path: Path) -> sqlite3.Connection:
        connection = sqlite3.connect(path, isolation_level=None, check_same_thread=False, factory=_Slow)
        connection.text_factory = bytes
        return connection

    journal = begin(connect=connect, monotonic=lambda: now_s[0])
    journal.append(1, press(1))
    assert _Slow.reached.wait(PATIENCE_S)
    for seq in range(2, 100):
        journal.append(seq, press(seq))
    now_s[0] = 107.5
    assert journal.oldest_waiting_s() == 7.5
    assert journal.committed_seq == 0
    assert journal.failure == ""
    _Slow.gate.set()
    assert journal.wait_committed(99, PATIENCE_S)
    assert journal.oldest_waiting_s() == 0.0


class _Doubtful(sqlite3.Connection):
    """A connection that commits and then says that it failed, twice."""

    lies = 2

    def execute(self, sql: str, *parameters: Any) -> sqlite3.Cursor:
        cursor = super().execute(sql, *parameters)
        if sql == "COMMIT" and _Doubtful.lies > 0:
            _Doubtful.lies -= 1
            raise sqlite3.OperationalError("disk I/O error")
        return cursor


def test_a_commit_in_doubt_is_not_written_twice(begin: Begin, press: Press) -> None:
    """A commit that reached the disk although it was reported as failed is found there."""
    _Doubtful.lies = 2

    def connect(path: Path) -> sqlite3.Connection:
        connection = sqlite3.connect(path, isolation_level=None, check_same_thread=False, factory=_Doubtful)
        connection.text_factory = bytes
        return connection

    journal = begin(connect=connect, pause=lambda hurry, seconds: None)
    for seq in range(1, 6):
        journal.append(seq, press(seq))
        assert journal.wait_committed(seq, PATIENCE_S)
    assert _Doubtful.lies == 0
    journal.close(finished=True)
    assert _arrivals(journal.path) == [press(seq) for seq in range(1, 6)]
    assert check(journal.path).sound


def test_a_folder_that_goes_and_comes_back_loses_nothing(begin: Begin, press: Press, tmp_path: Path) -> None:
    """A disk that is pulled and put back: told while it is away, written afterwards."""
    (tmp_path / "disk").mkdir()
    disk = _Disk()
    journal = begin("disk/day.log", pause=disk.pause)
    journal.append(1, press(1))
    assert journal.wait_committed(1, PATIENCE_S)
    (tmp_path / "disk").rename(tmp_path / "pulled")
    journal.append(2, press(2))
    assert disk.paused.wait(PATIENCE_S)
    assert "folder is gone" in journal.failure
    (tmp_path / "pulled").rename(tmp_path / "disk")
    disk.go_on.set()
    assert journal.wait_committed(2, PATIENCE_S)
    journal.close(finished=True)
    assert _arrivals(journal.path) == [press(1), press(2)]


@pytest.mark.posix
def test_a_deleted_log_is_written_again_whole(begin: Begin, press: Press) -> None:
    """A file that somebody deletes is put back whole while it can still be reached."""
    journal = begin()
    for seq in range(1, 30):
        journal.append(seq, press(seq))
        assert journal.wait_committed(seq, PATIENCE_S)
    journal.path.unlink()
    journal.append(30, press(30))
    assert journal.wait_committed(30, PATIENCE_S)
    journal.close(finished=True)
    assert _arrivals(journal.path) == [press(seq) for seq in range(1, 31)]
    assert check(journal.path).sound


def test_another_file_in_the_place_of_the_log_is_not_touched(
    begin: Begin, press: Press, tmp_path: Path
) -> None:
    """The journal goes on only in the file that it began."""
    disk = _Disk()
    journal, other = begin(pause=disk.pause), begin("other.log")
    other.close(finished=False)
    journal.append(1, press(1))
    assert journal.wait_committed(1, PATIENCE_S)
    kept = other.path.read_bytes()
    journal.path.rename(tmp_path / "kept.log")
    other.path.rename(journal.path)
    journal.append(2, press(2))
    assert disk.paused.wait(PATIENCE_S)
    assert "another file" in journal.failure
    assert journal.path.read_bytes() == kept
    disk.go_on.set()
    with pytest.raises(LogFault, match="1 arrivals are not written yet"):
        journal.close(finished=True, patience_s=0.01)


def test_another_hand_in_the_log_is_told(begin: Begin, press: Press, edit: Callable[..., None]) -> None:
    """A batch that the journal did not write stops it from writing on, and is not overwritten."""
    disk = _Disk()
    journal = begin(pause=disk.pause)
    journal.append(1, press(1))
    assert journal.wait_committed(1, PATIENCE_S)
    edit(journal.path, "INSERT INTO batch VALUES (2, 2, 1, 0, '[]', '[]', x'00')")
    journal.append(2, press(2))
    assert disk.paused.wait(PATIENCE_S)
    assert "batch 2 cannot be added" in journal.failure
    edit(journal.path, "UPDATE batch SET n = 3 WHERE n = 2")
    disk.paused.clear()
    disk.go_on.set()
    assert disk.paused.wait(PATIENCE_S)
    assert "another hand wrote in it: it ends with batch 3" in journal.failure
    with pytest.raises(LogFault, match="1 arrivals are not written yet"):
        journal.close(finished=True, patience_s=0.01)


def test_only_one_journal_writes_into_a_log(begin: Begin) -> None:
    """A second program that wants to write into a log is refused."""
    journal = begin()
    with pytest.raises(LogFault, match=r"day\.log: is being written by another program"):
        Journal(journal.path, monotonic=lambda: 0.0)


def test_a_sealed_log_is_one_file_with_its_digest(begin: Begin, press: Press) -> None:
    """Closed in good order: one file, an end in it, a digest that a common tool agrees with."""
    journal = begin()
    journal.append(1, press(1))
    head = journal.close(finished=True)
    assert head == journal.close(finished=True) == check(journal.path).head
    connection = sqlite3.connect(journal.path)
    assert connection.execute("PRAGMA journal_mode").fetchone() == ("delete",)
    assert connection.execute("SELECT n, last_seq, lower(hex(head)) FROM seal").fetchall() == [(1, 1, head)]
    connection.close()
    assert not Path(f"{journal.path}-wal").exists()
    if sys.platform == "linux":
        subprocess.run(
            ["sha256sum", "--check", f"{journal.path.name}.sha256"], cwd=journal.path.parent, check=True
        )


def test_a_log_that_is_not_finished_is_not_sealed(begin: Begin, press: Press) -> None:
    """Stopped without being finished: written to the end, open to be taken up."""
    journal = begin()
    journal.append(1, press(1))
    journal.close(finished=False)
    with LogReader(journal.path) as reader:
        assert not reader.closed
    assert check(journal.path).sound


def test_a_reader_in_the_way_of_closing_is_told(begin: Begin, press: Press) -> None:
    """A reader in the midst of a row keeps the file from being put together; closing again works."""

    def connect(path: Path) -> sqlite3.Connection:
        connection = connect_writing(path)
        connection.execute("PRAGMA busy_timeout=1")
        return connection

    journal = begin(connect=connect)
    journal.append(1, press(1))
    assert journal.wait_committed(1, PATIENCE_S)
    reader = sqlite3.connect(journal.path, isolation_level=None)
    reader.execute("BEGIN")
    reader.execute("SELECT * FROM batch").fetchone()
    with pytest.raises(LogFault, match="is written but cannot be closed"):
        journal.close(finished=True)
    reader.close()
    journal.close(finished=True)
    assert check(journal.path).sound


@pytest.mark.parametrize("name", ["absent/day.log", "file/day.log"])
def test_a_log_that_cannot_be_made_says_where_and_why(begin: Begin, tmp_path: Path, name: str) -> None:
    """A folder that is not there, or is no folder, is named with the system's reason."""
    (tmp_path / "file").write_text("")
    with pytest.raises(
        LogFault, match=rf"{name}: cannot be made: (No such file or directory|Not a directory)"
    ):
        begin(name)


@pytest.mark.posix
def test_a_folder_that_cannot_be_written_is_told(header: Header) -> None:
    """A log in a folder that takes no files (for the superuser too) is refused with the reason."""
    with pytest.raises(LogFault, match=r"/proc/self/day\.log: cannot be made: "):
        Journal.begin(Path("/proc/self/day.log"), header, monotonic=lambda: 0.0)


@pytest.mark.parametrize("there", ["day.log", "day.log-wal", "day.log-journal"])
def test_what_is_there_is_never_overwritten(begin: Begin, tmp_path: Path, there: str) -> None:
    """A log is not begun over a file, nor beside what an earlier one left."""
    (tmp_path / there).write_text("kept")
    with pytest.raises(LogFault, match="exists already"):
        begin()
    assert (tmp_path / there).read_text() == "kept"


def test_mistakes_of_the_pump_are_loud(begin: Begin, press: Press, state_after: Any) -> None:
    """A gap in the count, a record of the future, a checkpoint twice, anything after closing: ValueError."""
    journal = begin()
    with pytest.raises(ValueError, match="arrival 2 handed to the log after 0"):
        journal.append(2, press(2))
    journal.append(1, press(1))
    with pytest.raises(ValueError, match="record of arrival 2"):
        journal.derive(2, Refused(Instant(1), "x", "y"))
    journal.checkpoint(1, state_after(1))
    with pytest.raises(ValueError, match="checkpoint 1"):
        journal.checkpoint(1, state_after(1))
    journal.close(finished=False)
    with pytest.raises(ValueError, match="closing"):
        journal.append(2, press(2))


@pytest.mark.filterwarnings("ignore::pytest.PytestUnhandledThreadExceptionWarning")
def test_a_mistake_in_the_writer_stops_the_pump(begin: Begin, press: Press) -> None:
    """An error of ours in the writer's thread is raised at the next arrival, never swallowed."""
    opened: list[Path] = []

    def connect(path: Path) -> sqlite3.Connection:
        opened.append(path)
        if len(opened) > 1:
            raise ZeroDivisionError
        connection = connect_writing(path)
        connection.execute("PRAGMA max_page_count=1")
        return connection

    journal = begin(connect=connect, pause=lambda hurry, seconds: None)
    for seq in range(1, 100):
        journal.append(seq, Tick(Instant(seq)))
    large = OperatorEvent(Instant(1), "Tender", 1, Remark("", "x" * 100_000))
    journal.append(100, large)
    assert not journal.wait_committed(100, PATIENCE_S)
    with pytest.raises(RuntimeError, match="mistake of ours"):
        journal.append(101, large)
