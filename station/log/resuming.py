"""Taking up a log that was not closed: the last checkpoint, what came after it, and the same file again."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from station.core.inputs import Arrival
from station.log.fault import Finding, LogFault
from station.log.header import Header
from station.log.journal import Journal
from station.log.reading import LogReader
from station.log.records import Checkpoint, Derived, Position


@dataclass(frozen=True, slots=True)
class Resumption:
    """What a station needs to go on where it was stopped.

    `tail` holds the arrivals after the checkpoint (all of them when there is none), `derived` the derived
    records of these arrivals that reached the disk: the replay of the tail derives them again, and only
    what is not among them has to be written. `end` is where the file stands. `fault` says what is damaged:
    then `tail` ends before it, and the log cannot be written on; a new one begins with the head of this.
    """

    path: Path
    header: Header
    checkpoint: Checkpoint | None
    tail: tuple[tuple[int, Arrival], ...]
    derived: tuple[Derived, ...]
    end: Position
    fault: Finding | None


def is_unfinished(path: Path) -> bool:
    """Whether this log was not closed in good order. Raises LogFault when it is no log."""
    with LogReader(path) as reader:
        return not reader.closed


def look_at(path: Path) -> Resumption:
    """What an unfinished log gives for going on. Raises LogFault when it is no log, or closed."""
    with LogReader(path) as reader:
        if reader.closed:
            raise LogFault(path, "is closed: it cannot be taken up again")
        checkpoint = reader.last_checkpoint()
        done_seq = 0 if checkpoint is None else checkpoint.seq
        end = reader.position_before(done_seq + 1)
        tail: list[tuple[int, Arrival]] = []
        derived: list[Derived] = []
        for contents in reader.batches(done_seq + 1):
            tail.extend(one for one in contents.arrivals if one[0] > done_seq)
            derived.extend(one for one in contents.derived if one.seq > done_seq)
            end = contents.batch.end
        if reader.fault is None and end.last_seq < done_seq:
            raise LogFault(path, f"ends with arrival {end.last_seq}, before its checkpoint after {done_seq}")
        return Resumption(path, reader.header, checkpoint, tuple(tail), tuple(derived), end, reader.fault)


def take_up(resumption: Resumption, *, monotonic: Callable[[], float]) -> Journal:
    """Open the same log for writing, its chain going on. Raises LogFault when it is damaged or has grown."""
    if resumption.fault is not None:
        raise LogFault(resumption.path, f"cannot be written on: {resumption.fault.sentence}")
    return Journal(resumption.path, monotonic=monotonic, expected=resumption.end)
