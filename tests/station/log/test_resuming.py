"""Taking up what a crash left: the last checkpoint, the tail, and one chain through both."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from shared.clock import Instant
from station.core.facts import Refused
from station.core.inputs import Arrival, StationFact, StationFactKind, Tick
from station.log.fault import Check, LogFault
from station.log.header import Header
from station.log.integrity import check
from station.log.journal import Journal
from station.log.records import FactRecord
from station.log.resuming import is_unfinished, look_at, take_up

SmallLog = Callable[..., tuple[Path, list[Arrival]]]
Edit = Callable[..., None]
STILL = {"monotonic": lambda: 0.0}


def test_an_unfinished_log_is_told_from_a_closed_one(small_log: SmallLog) -> None:
    """A log without a seal is unfinished; a closed one cannot be taken up."""
    assert is_unfinished(small_log(2, finished=False)[0])
    closed, _ = small_log(2, name="closed.log")
    assert not is_unfinished(closed)
    with pytest.raises(LogFault, match="is closed: it cannot be taken up again"):
        look_at(closed)


def test_the_tail_begins_after_the_last_checkpoint(
    small_log: SmallLog, state_after: Any, header: Header
) -> None:
    """The checkpoint, the arrivals after it with their numbers, and the facts that reached the disk."""
    path, arrivals = small_log(44, finished=False)
    left = look_at(path)
    assert left.header == header
    assert left.fault is None
    assert left.checkpoint is not None
    assert left.checkpoint.state == state_after(120)
    assert left.tail == tuple(enumerate(arrivals, 1))[120:]
    assert [one.seq for one in left.derived if isinstance(one, FactRecord)] == [123, 126, 129, 132]
    assert left.end.last_seq == 132


def test_a_checkpoint_inside_a_batch_parts_it(
    begin: Callable[..., Journal], press: Callable[[int], Any], state_after: Any
) -> None:
    """What stands in the same batch before the checkpoint is no part of the tail."""
    journal = begin(**STILL)
    for seq in (1, 2):
        journal.append(seq, Tick(Instant(seq)))
        journal.derive(seq, Refused(Instant(seq), "remark", "why"))
    journal.checkpoint(2, state_after(2))
    journal.append(3, press(3))
    journal.derive(3, Refused(Instant(3), "remark", "why"))
    journal.close(finished=False)
    left = look_at(journal.path)
    assert left.tail == ((3, press(3)),)
    assert [one.seq for one in left.derived] == [3]


def test_without_a_checkpoint_the_tail_is_everything(small_log: SmallLog) -> None:
    """A log that is younger than its first checkpoint is replayed from its beginning."""
    path, arrivals = small_log(4, finished=False)
    left = look_at(path)
    assert left.checkpoint is None
    assert [one for _, one in left.tail] == arrivals


def test_a_log_without_arrivals_can_be_taken_up(begin: Callable[..., Journal]) -> None:
    """A station that stopped before anything came goes on at number 1."""
    journal = begin()
    journal.close(finished=False)
    left = look_at(journal.path)
    assert (left.tail, left.checkpoint, left.end.last_seq) == ((), None, 0)
    again = take_up(left, **STILL)
    again.append(1, StationFact(Instant(5), StationFactKind.RESUMED, 7.5))
    again.close(finished=True)
    assert check(journal.path).sound


def test_the_chain_goes_on_in_the_same_file(small_log: SmallLog, press: Callable[[int], Any]) -> None:
    """After it is taken up the log is one sound log, and its numbers go on."""
    path, arrivals = small_log(4, finished=False)
    left = look_at(path)
    journal = take_up(left, **STILL)
    assert journal.committed_seq == len(arrivals)
    assert journal.head == left.end.chain.hex()
    with pytest.raises(ValueError, match="handed to the log after 12"):
        journal.append(12, press(12))
    journal.append(13, press(13))
    journal.close(finished=True)
    report = check(path)
    assert report.sound
    assert (report.closed, report.arrivals) == (True, 13)


def test_a_tail_replayed_over_a_damaged_checkpoint_goes_on(
    small_log: SmallLog, edit: Edit, state_after: Any, press: Callable[[int], Any]
) -> None:
    """The tail begins at the checkpoint before; the one that the replay makes again is not written twice."""
    path, _ = small_log(44, finished=False)
    edit(path, "UPDATE checkpoint SET body = '{}' WHERE seq = 120")
    left = look_at(path)
    assert left.checkpoint is not None
    assert left.checkpoint.seq == 90
    journal = take_up(left, **STILL)
    journal.checkpoint(120, state_after(120))
    journal.append(133, press(133))
    journal.checkpoint(133, state_after(133))
    journal.close(finished=True)
    assert [(one.check, one.seq) for one in check(path).findings] == [(Check.CHECKPOINT, 120)]


def test_a_log_that_has_grown_is_not_taken_up(small_log: SmallLog, press: Callable[[int], Any]) -> None:
    """What was looked at and what lies there now must be the same."""
    path, _ = small_log(4, finished=False)
    left = look_at(path)
    journal = take_up(left, **STILL)
    journal.append(13, press(13))
    journal.close(finished=False)
    with pytest.raises(LogFault, match="ends with arrival 13, not 12"):
        take_up(left, **STILL)
    take_up(look_at(path), **STILL).close(finished=False)


def test_a_log_in_use_is_not_taken_up(begin: Callable[..., Journal], press: Callable[[int], Any]) -> None:
    """A log that a running station writes is not to be had."""
    journal = begin()
    journal.append(1, press(1))
    assert journal.wait_committed(1, 30.0)
    with pytest.raises(LogFault, match="is being written by another program"):
        take_up(look_at(journal.path), **STILL)


def test_a_damaged_log_gives_its_sound_part_and_is_not_written_on(small_log: SmallLog, edit: Edit) -> None:
    """The tail ends before the damage, which is named; nothing is added behind it."""
    path, arrivals = small_log(44, finished=False)
    edit(path, "UPDATE batch SET derived = '[1]' WHERE n = 43")
    left = look_at(path)
    assert left.fault is not None
    assert (left.fault.check, left.fault.batch) == (Check.CHAIN, 43)
    assert left.tail == tuple(enumerate(arrivals, 1))[120:126]
    with pytest.raises(LogFault, match=r"cannot be written on: batch 43"):
        take_up(left, **STILL)


def test_a_checkpoint_ahead_of_the_log_is_not_believed(small_log: SmallLog, edit: Edit) -> None:
    """A log whose end was cut away behind its checkpoint is refused."""
    path, _ = small_log(44, finished=False)
    edit(path, "DELETE FROM batch WHERE n > 20")
    with pytest.raises(LogFault, match="ends with arrival 60, before its checkpoint after 120"):
        look_at(path)
