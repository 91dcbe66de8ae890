"""Reading logs: whole, live, cut, bent, foreign, newer and older."""

import json
import re
import shutil
import sqlite3
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from shared.arrivals import Received
from shared.clock import Instant
from station.core.facts import AlarmChanged
from station.core.inputs import Arrival, Tick
from station.core.state import Priority, Standing
from station.log import schema
from station.log.fault import Check, LogFault
from station.log.header import Header
from station.log.integrity import check
from station.log.journal import Journal
from station.log.reading import LogReader
from station.log.schema import Upcaster, lifters
from station.plain import Plain

SmallLog = Callable[..., tuple[Path, list[Arrival]]]
Edit = Callable[..., None]
PATIENCE_S = 30.0


def _read(path: Path) -> tuple[list[Arrival], Any]:
    with LogReader(path) as reader:
        return [one for _, one in reader.arrivals()], reader.fault


def test_a_log_gives_back_what_was_written(small_log: SmallLog, header: Header) -> None:
    """Header, arrivals and their numbers are those that were handed over."""
    path, arrivals = small_log()
    with LogReader(path) as reader:
        assert reader.header == header
        assert list(reader.arrivals()) == list(enumerate(arrivals, 1))
        assert reader.closed
        assert reader.fault is None


@pytest.mark.parametrize("first", [1, 2, 3, 4, 60, 119, 120, 121])
def test_reading_can_begin_anywhere(small_log: SmallLog, first: int) -> None:
    """Arrivals and derived records are given from any number on."""
    path, arrivals = small_log()
    with LogReader(path) as reader:
        assert list(reader.arrivals(first)) == list(enumerate(arrivals, 1))[first - 1 :]
        facts = [one.seq for one in reader.derived(first)]
        assert facts == sorted(facts)
        assert facts == [one.seq for one in reader.derived() if one.seq >= first]
        assert reader.fault is None


def test_checkpoints_are_found_by_instant(small_log: SmallLog, state_after: Any) -> None:
    """The last checkpoint at or before an instant, and none before the first."""
    path, _ = small_log()
    with LogReader(path) as reader:
        assert [seq for seq, _ in reader.checkpoint_marks()] == [30, 60, 90, 120]
        for at, seq in ((Instant(6_000_000_000), 60), (Instant(8_999_999_999), 60), (Instant(10**12), 120)):
            kept = reader.last_checkpoint_before(at)
            assert kept is not None
            assert (kept.seq, kept.at, kept.state) == (seq, state_after(seq).now, state_after(seq))
        assert reader.last_checkpoint_before(Instant(2_999_999_999)) is None


def test_a_damaged_checkpoint_gives_way_to_the_one_before(small_log: SmallLog, edit: Edit) -> None:
    """A checkpoint whose digest is wrong is passed over."""
    path, _ = small_log()
    edit(path, "UPDATE checkpoint SET body = replace(body, 'Lock', 'Luck') WHERE seq = 120")
    edit(path, "UPDATE checkpoint SET body = 7 WHERE seq = 90")
    with LogReader(path) as reader:
        kept = reader.last_checkpoint()
    assert kept is not None
    assert kept.seq == 60


def test_a_live_log_can_be_read(begin: Callable[..., Journal], press: Callable[[int], Any]) -> None:
    """While the station writes, a reader sees whole batches and disturbs nothing."""
    journal = begin()
    for seq in range(1, 20):
        journal.append(seq, press(seq))
        assert journal.wait_committed(seq, PATIENCE_S)
        assert _read(journal.path) == ([press(one) for one in range(1, seq + 1)], None)


def test_any_tool_can_read_a_log(begin: Callable[..., Journal]) -> None:
    """The two queries of the documentation give lines and alarms without a program of ours."""
    journal = begin()
    journal.append(1, Tick(Instant(5)))
    journal.append(2, Received(Instant(1_500_000_000), "serial:///dev/ttyUSB0", b"$WIXDR\xff\r\n"))
    raised = AlarmChanged(
        Instant(9), "ascent-fast", "Diver 1", Priority.ALARM, Standing.UNACKNOWLEDGED, 55.0, 40.0
    )
    journal.derive(2, raised)
    journal.close(finished=True)
    received, alarms = re.findall(r"SELECT.*?;", schema.__doc__ or "", re.DOTALL)
    connection = sqlite3.connect(journal.path)
    lines = connection.execute(received).fetchall()
    changes = connection.execute(alarms).fetchall()
    connection.close()
    assert lines == [(2, 1.5, "$WIXDRÿ\r\n")]
    assert changes == [(2, "ascent-fast", "Diver 1", "unacknowledged")]


@pytest.mark.parametrize("share", [0.3, 0.5, 0.7, 0.9])
def test_a_cut_file_is_read_to_its_last_whole_batch(
    small_log: SmallLog, tmp_path: Path, share: float
) -> None:
    """Of half a file the whole batches are given, and what is missing is said."""
    path, arrivals = small_log(150)
    cut = tmp_path / "cut.log"
    whole = path.read_bytes()
    cut.write_bytes(whole[: int(len(whole) * share)])
    found, fault = _read(cut)
    assert found == arrivals[: len(found)]
    assert 0 < len(found) < len(arrivals)
    assert fault.batch == len(found) // 3 + 1
    assert f"batch {fault.batch}" in fault.sentence or f"after batch {fault.batch - 1}" in fault.sentence
    with LogReader(cut) as reader:
        assert reader.missing_bytes == len(whole) - int(len(whole) * share)
    report = check(cut)
    assert not report.sound
    assert fault in report.findings


def test_half_a_file_still_gives_dives(small_log: SmallLog, tmp_path: Path) -> None:
    """Half of a file gives a good part of its arrivals, not only the first."""
    path, arrivals = small_log(150)
    cut = tmp_path / "cut.log"
    cut.write_bytes(path.read_bytes()[: path.stat().st_size // 2])
    assert len(_read(cut)[0]) > len(arrivals) // 4


@settings(max_examples=100, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.data())
def test_bent_bits_never_pass(
    bent_log: tuple[Path, list[Arrival]], tmp_path: Path, data: st.DataObject
) -> None:
    """Whatever bit is flipped in a closed log: what is read is a true beginning, and the check finds it."""
    path, arrivals = bent_log
    whole = bytearray(path.read_bytes())
    place = data.draw(st.integers(0, len(whole) - 1), "place")
    whole[place] ^= 1 << data.draw(st.integers(0, 7), "bit")
    bent = tmp_path / "bent.log"
    bent.write_bytes(whole)
    shutil.copy(f"{path}.sha256", f"{bent}.sha256")
    try:
        found, fault = _read(bent)
        assert found == arrivals[: len(found)]
        assert fault is not None or found == arrivals
        assert not check(bent).sound
    except LogFault:
        # The file is refused as a whole, which loses nothing and hides nothing.
        return


@pytest.fixture
def bent_log(small_log: SmallLog) -> tuple[Path, list[Arrival]]:
    """A log of a size that bits can be bent in quickly."""
    return small_log(60)


@settings(max_examples=50, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.data())
def test_a_torn_tail_gives_whole_batches(
    crashed_log: tuple[Path, Path, list[Arrival]], tmp_path: Path, data: st.DataObject
) -> None:
    """A write-ahead log that was cut or bent beside a crashed log: a true beginning, in whole batches."""
    path, beside, arrivals = crashed_log
    torn = tmp_path / "torn.log"
    for leftover in tmp_path.glob("torn.log*"):
        leftover.unlink()
    shutil.copy(path, torn)
    tail = bytearray(beside.read_bytes())
    if data.draw(st.booleans(), "cut"):
        tail = tail[: data.draw(st.integers(0, len(tail)), "length")]
    else:
        tail[data.draw(st.integers(0, len(tail) - 1), "place")] ^= 0x10
    Path(f"{torn}-wal").write_bytes(tail)
    found, fault = _read(torn)
    assert fault is None
    assert found == arrivals[: len(found)]
    assert len(found) % 3 == 0
    assert check(torn).sound


@pytest.fixture
def crashed_log(
    begin: Callable[..., Journal], press: Callable[[int], Any], tmp_path: Path
) -> tuple[Path, Path, list[Arrival]]:
    """What a crash would leave: the file and its write-ahead log as they lie while the journal is open."""
    journal = begin()
    arrivals: list[Arrival] = [press(seq) for seq in range(1, 31)]
    for seq, arrival in enumerate(arrivals, 1):
        journal.append(seq, arrival)
        if seq % 3 == 0:
            assert journal.wait_committed(seq, PATIENCE_S)
    assert len(list(_rows(journal.path))) >= 10
    path, beside = tmp_path / "left.log", tmp_path / "left.log-wal.kept"
    shutil.copy(journal.path, path)
    shutil.copy(f"{journal.path}-wal", beside)
    return path, beside, arrivals


def _rows(path: Path) -> list[Any]:
    with LogReader(path) as reader:
        return list(reader.rows())


def test_reading_changes_no_byte(small_log: SmallLog) -> None:
    """A log that was not sealed is the same file after it was read and checked."""
    path, _ = small_log(finished=False)
    before = path.read_bytes()
    _read(path)
    check(path)
    assert path.read_bytes() == before


@pytest.mark.parametrize(
    ("statement", "why"),
    [
        ("PRAGMA user_version=2", "written by a newer program: log version 2, this program reads up to 1"),
        ("PRAGMA user_version=0", "log version 0 is not known"),
        ("PRAGMA application_id=7", "an SQLite file of another program"),
        ("CREATE VIEW peek AS SELECT 1", "not laid out as a log: b'peek'"),
        ("ALTER TABLE batch RENAME TO old", "not laid out as a log: b'batch'"),
        ("CREATE TRIGGER t AFTER INSERT ON batch BEGIN DELETE FROM batch; END", "b't'"),
        ("DELETE FROM header", "has no header"),
        (
            "UPDATE header SET body = json_remove(body, '$.boot_id')",
            r"header: the key boot_id is missing @ \$.boot_id",
        ),
        ("UPDATE header SET body = json_set(body, '$.mood', 1)", "header: unknown keys mood"),
        ("UPDATE header SET body = '{'", "header: "),
        ("UPDATE header SET body = x'ff'", "has no header|header: "),
        ("UPDATE header SET body = 5", "header"),
    ],
)
def test_what_cannot_be_read_is_refused_with_its_reason(
    small_log: SmallLog, edit: Edit, statement: str, why: str
) -> None:
    """Newer, foreign and headless files are refused by a message that names the file and the reason."""
    path, _ = small_log(2)
    edit(path, statement)
    with pytest.raises(LogFault, match=rf"day\.log: .*({why})"):
        LogReader(path)


@pytest.mark.parametrize(
    ("content", "why"),
    [(b"", "is empty"), (b"hello", "not an SQLite file"), (b"SQLite format 3\x00", "day.log: ")],
)
def test_what_is_no_database_is_refused(tmp_path: Path, content: bytes, why: str) -> None:
    """An empty file, a text and a database of which only the first word is left are told apart."""
    (tmp_path / "day.log").write_bytes(content)
    with pytest.raises(LogFault, match=why):
        LogReader(tmp_path / "day.log")


def test_a_log_that_is_not_there_is_refused(tmp_path: Path) -> None:
    """A missing file is named with the system's reason."""
    with pytest.raises(LogFault, match=r"day\.log: cannot be read: No such file"):
        LogReader(tmp_path / "day.log")


@pytest.mark.parametrize(
    ("statement", "told"),
    [
        (
            "UPDATE batch SET arrivals = replace(arrivals, 'remark 33', 'remark 34') WHERE n = 11",
            (Check.CHAIN, 11, "digest"),
        ),
        ("UPDATE batch SET derived = '[]' WHERE n = 11", (Check.CHAIN, 11, "digest")),
        ("UPDATE batch SET at_ns = 5 WHERE n = 11", (Check.STAMP, 11, "time runs back")),
        ("DELETE FROM batch WHERE n = 11", (Check.NUMBER, 12, "follows batch 10")),
        (
            "UPDATE batch SET first_seq = 32 WHERE n = 11",
            (Check.SEQUENCE, 11, "begins with arrival 32 after 30"),
        ),
        ("UPDATE batch SET arrivals = '[]' WHERE n = 11", (Check.CHAIN, 11, "digest")),
        ("UPDATE batch SET arrivals = '{' WHERE n = 11", (Check.CHAIN, 11, "digest")),
        ("UPDATE batch SET arrivals = x'ff' WHERE n = 11", (Check.CHAIN, 11, "digest")),
        ("UPDATE batch SET chain = 5 WHERE n = 11", (Check.PACKING, 11, "is no batch")),
        (
            "INSERT INTO batch VALUES (42, 121, 120, 99000000000, '[]', '[]', x'00')",
            (Check.CHAIN, 42, "digest"),
        ),
    ],
)
def test_the_first_thing_that_does_not_hold_ends_the_reading(
    small_log: SmallLog, edit: Edit, statement: str, told: tuple[Check, int, str]
) -> None:
    """What was changed, removed or put in is named with its batch; what stands before it is given."""
    path, arrivals = small_log()
    edit(path, statement)
    found, fault = _read(path)
    assert found == arrivals[: 120 if told[1] == 42 else 30]
    kind, batch, words = told
    assert (fault.check, fault.batch) == (kind, batch)
    assert words in fault.sentence


def _lift_header(plain: Plain) -> Plain:
    assert isinstance(plain, dict)
    return plain | {"boot_id": plain.pop("boot")}


def _same(plain: Plain) -> Plain:
    return plain


def test_older_versions_are_lifted_step_by_step() -> None:
    """A registry of steps leads from an old version to this one; a missing step is told."""
    step = Upcaster(header=_lift_header, arrival=_same, derived=_same, state=_same)
    assert lifters(0 + 1, {}) == ()
    with pytest.raises(ValueError, match="log version 0 is not known"):
        lifters(0, {0: step})
    with pytest.raises(ValueError, match="log version -1"):
        lifters(-1, {})


def test_a_header_holds_what_the_next_needs(small_log: SmallLog) -> None:
    """Divers' carry-over, the head before, the caution and the edition stand in the header as plain JSON."""
    path, _ = small_log(1)
    connection = sqlite3.connect(path)
    (body,) = connection.execute("SELECT body FROM header").fetchone()
    connection.close()
    plain = json.loads(body)
    assert plain["carry_over"][0] == {
        "diver": "Diver 1",
        "group": "C",
        "surfaced_utc_ns": 1_899_990_000_000_000_000,
    }
    assert plain["head_before"] == "ab" * 32
    assert plain["caution"].startswith("An aid only")
    assert plain["sqlite"] == sqlite3.sqlite_version
    assert plain["schema"] == 1
