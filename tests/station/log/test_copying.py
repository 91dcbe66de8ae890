"""A log copied to a second medium while it is written: whole, in time, and never in the journal's way."""

import shutil
import sqlite3
import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from shared.clock import Instant
from station.core.inputs import OperatorEvent, Remark
from station.core.state import State
from station.log.copying import FIRST_PAUSE_S, LONGEST_PAUSE_S, Copier
from station.log.fault import LogFault
from station.log.integrity import check
from station.log.journal import Journal
from station.log.reading import LogReader
from station.log.sealing import digest_beside

PATIENCE_S = 30.0


class Rest:
    """A rest that a test lets end: it says how long each was asked to be, and waits to be let go."""

    def __init__(self) -> None:
        self.asked_s: list[float] = []
        self._changed = threading.Condition()
        self._allowed = 0
        self._free = False

    def __call__(self, _: threading.Event, pause_s: float) -> None:
        """Note the rest and wait until it is let go."""
        with self._changed:
            self.asked_s.append(pause_s)
            self._changed.notify_all()
            assert self._changed.wait_for(lambda: self._allowed > 0 or self._free, PATIENCE_S)
            self._allowed -= 1

    def wait_rests(self, count: int) -> None:
        """Wait until so many rests were asked for."""
        with self._changed:
            assert self._changed.wait_for(lambda: len(self.asked_s) >= count, PATIENCE_S)

    def let_go(self) -> None:
        """Let one rest end."""
        with self._changed:
            self._allowed += 1
            self._changed.notify_all()

    def end(self) -> None:
        """From now on no rest lasts."""
        with self._changed:
            self._free = True
            self._changed.notify_all()


@pytest.fixture
def rest() -> Rest:
    """A rest under the test's hand."""
    return Rest()


@pytest.fixture
def copier_of(tmp_path: Path, rest: Rest) -> Iterator[Callable[[Journal], Copier]]:
    """Makes copiers into a folder of their own, closed behind the test."""
    made: list[Copier] = []
    (tmp_path / "stick").mkdir()

    def make(journal: Journal) -> Copier:
        copier = Copier(journal, tmp_path / "stick", monotonic=time.monotonic, pause=rest, pace_s=0.01)
        made.append(copier)
        copier.start()
        return copier

    yield make
    rest.end()
    for copier in made:
        copier.close()


def _press(journal: Journal, *seqs: int) -> None:
    for seq in seqs:
        at = Instant(seq * 100_000_000)
        journal.append(seq, OperatorEvent(at, "Tender", seq - 1, Remark("", f"remark {seq}")))
        assert journal.wait_committed(seq, PATIENCE_S)


def _arrivals(path: Path) -> list[object]:
    with LogReader(path) as reader:
        return list(reader.arrivals())


def test_copy_holds_what_the_log_holds_after_each_commit(
    begin: Callable[..., Journal], copier_of: Callable[[Journal], Copier], rest: Rest
) -> None:
    """The first copy is whole, each later one adds the new batches, and the chain holds in both."""
    journal = begin()
    copier = copier_of(journal)
    rest.wait_rests(1)
    assert (copier.copied_seq, _arrivals(copier.path)) == (0, [])
    _press(journal, 1, 2)
    rest.let_go()
    rest.wait_rests(2)
    _press(journal, 3, 4, 5)
    rest.let_go()
    rest.wait_rests(3)
    assert (copier.copied_seq, copier.failure, copier.behind_s()) == (5, "", 0.0)
    assert check(copier.path).findings == ()
    assert _arrivals(copier.path) == _arrivals(journal.path)


def test_copy_of_a_closed_log_is_sealed_and_has_its_digest(
    begin: Callable[..., Journal],
    copier_of: Callable[[Journal], Copier],
    state_after: Callable[[int], State],
    rest: Rest,
) -> None:
    """At the end the copy is a closed log in one file that verifies by itself, checkpoints included."""
    journal = begin()
    copier = copier_of(journal)
    _press(journal, 1, 2, 3)
    journal.checkpoint(3, state_after(3))
    rest.end()
    copier.stop()
    head = journal.close(finished=True)
    assert copier.close() == ""
    report = check(copier.path)
    assert (report.closed, report.head, report.findings) == (True, head, ())
    assert digest_beside(copier.path).exists()
    with LogReader(copier.path) as reader:
        assert [seq for seq, _ in reader.checkpoint_marks()] == [3]


def test_lost_medium_is_told_and_never_holds_up_the_log(
    begin: Callable[..., Journal], copier_of: Callable[[Journal], Copier], rest: Rest
) -> None:
    """With the folder gone the log goes on, the failure names the copy, the rests grow up to their cap."""
    journal = begin()
    copier = copier_of(journal)
    rest.wait_rests(1)
    shutil.rmtree(copier.path.parent)
    _press(journal, 1, 2, 3)
    for count in range(2, 9):
        rest.let_go()
        rest.wait_rests(count)
    assert journal.committed_seq == 3
    assert str(copier.path) in copier.failure
    assert copier.behind_s() > 0
    rests = rest.asked_s[1:8]
    assert rests == [FIRST_PAUSE_S, 2, 4, 8, 16, LONGEST_PAUSE_S, LONGEST_PAUSE_S]


def test_medium_that_comes_back_is_brought_up_whole(
    begin: Callable[..., Journal], copier_of: Callable[[Journal], Copier], rest: Rest
) -> None:
    """A stick that was pulled and put back, empty, gets the whole log again."""
    journal = begin()
    copier = copier_of(journal)
    rest.wait_rests(1)
    shutil.rmtree(copier.path.parent)
    _press(journal, 1, 2)
    rest.let_go()
    rest.wait_rests(2)
    assert copier.failure
    copier.path.parent.mkdir()
    rest.let_go()
    rest.wait_rests(3)
    assert (copier.failure, copier.copied_seq, copier.behind_s()) == ("", 2, 0.0)
    assert _arrivals(copier.path) == _arrivals(journal.path)


def test_copy_that_another_hand_changed_is_made_anew(
    begin: Callable[..., Journal], copier_of: Callable[[Journal], Copier], rest: Rest
) -> None:
    """A copy that does not end where it was left is told of, and replaced by a whole one."""
    journal = begin()
    _press(journal, 1, 2)
    copier = copier_of(journal)
    rest.wait_rests(1)
    with sqlite3.connect(copier.path) as other:
        other.execute("DELETE FROM batch WHERE n = (SELECT max(n) FROM batch)")
    other.close()
    _press(journal, 3)
    rest.let_go()
    rest.wait_rests(2)
    assert "another hand wrote in it" in copier.failure
    rest.let_go()
    rest.wait_rests(3)
    assert copier.failure == ""
    assert _arrivals(copier.path) == _arrivals(journal.path)


def test_older_copy_stays_until_a_whole_one_is_there(
    begin: Callable[..., Journal], copier_of: Callable[[Journal], Copier], rest: Rest, tmp_path: Path
) -> None:
    """A file of the same name on the medium is only replaced by a complete copy."""
    journal = begin()
    _press(journal, 1)
    older = tmp_path / "stick" / journal.path.name
    (older.with_name(f"{older.name}.new")).mkdir()
    older.write_bytes(b"an older copy")
    copier_of(journal)
    rest.wait_rests(1)
    assert older.read_bytes() == b"an older copy"
    (older.with_name(f"{older.name}.new")).rmdir()
    rest.let_go()
    rest.wait_rests(2)
    assert _arrivals(older) == _arrivals(journal.path)


def test_copy_into_the_log_s_own_folder_is_refused(begin: Callable[..., Journal]) -> None:
    """A copy on the same medium, over the log itself, is no copy."""
    journal = begin()
    with pytest.raises(LogFault, match="own folder"):
        Copier(journal, journal.path.parent, monotonic=time.monotonic)


def test_log_of_a_foreign_day_is_replaced_not_added_to(
    begin: Callable[..., Journal], copier_of: Callable[[Journal], Copier], rest: Rest, tmp_path: Path
) -> None:
    """A log of the same name and length that lies on the medium already is not taken for the copy."""
    other = begin("other.log")
    _press(other, 1)
    shutil.copy(other.path, tmp_path / "stick" / "day.log")
    journal = begin("day.log")
    _press(journal, 1, 2)
    copier = copier_of(journal)
    rest.wait_rests(1)
    assert check(copier.path).head == journal.head
