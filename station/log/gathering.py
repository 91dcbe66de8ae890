"""What waits to be written: records in their order, and when they fall due. No thread, no clock."""

from collections import deque
from dataclasses import dataclass, field
from hashlib import sha256
from itertools import chain
from typing import Final

from station.log.records import Batch, CheckpointRecord, Position, chain_after, derived_to_line

BATCH_SPAN_S: Final = 0.1
"""A batch is written at most this long, by the wall, after its first arrival. Own choice."""

BATCH_LIMIT_BYTES: Final = 1024 * 1024
"""A batch that has grown past this ends; what follows goes into the next. Own choice."""


@dataclass(frozen=True, slots=True)
class Waiting:
    """One record that waits: its number, its text, since when by the monotonic clock."""

    seq: int
    line: bytes
    since_s: float


@dataclass(frozen=True, slots=True)
class WaitingArrival(Waiting):
    """An arrival that waits, with its stamp."""

    at_ns: int


@dataclass(frozen=True, slots=True)
class WaitingCheckpoint(Waiting):
    """A state that waits to be kept, with its stamp; `line` is its text."""

    at_ns: int


@dataclass(frozen=True, slots=True)
class KeptState:
    """One row of the table of checkpoints."""

    seq: int
    at_ns: int
    body: bytes
    digest: bytes


@dataclass(slots=True)
class Gathering:
    """Records between the pump and the disk. It has no bound: a disk that fails for hours loses nothing."""

    _records: deque[Waiting] = field(default_factory=deque)
    _arrivals: int = 0
    _first_since_s: float = 0.0
    _urgent: bool = False

    def add(self, record: Waiting, urgent: bool = False) -> bool:
        """Take a record; true when the writer has to look again at what falls due."""
        self._records.append(record)
        if not isinstance(record, WaitingArrival):
            return False
        self._arrivals += 1
        first = self._arrivals == 1
        if first:
            self._first_since_s = record.since_s
        wakes = first or (urgent and not self._urgent)
        self._urgent = self._urgent or urgent
        return wakes

    @property
    def arrivals(self) -> int:
        """How many arrivals wait."""
        return self._arrivals

    @property
    def empty(self) -> bool:
        """Whether nothing waits at all."""
        return not self._records

    @property
    def oldest_since_s(self) -> float | None:
        """Since when the oldest arrival waits, by the monotonic clock; None when none does."""
        return self._first_since_s if self._arrivals else None

    def due_in_s(self, now_s: float) -> float | None:
        """Seconds until a batch has to be written, 0 when it is time; None while no arrival waits.

        Derived records alone never make a batch fall due: they ride with the arrivals that follow.
        """
        if not self._arrivals:
            return None
        return 0.0 if self._urgent else max(0.0, self._first_since_s + BATCH_SPAN_S - now_s)

    def take(self) -> tuple[Waiting, ...]:
        """The oldest records, as many as one batch may hold; the rest stays and is due at once."""
        taken: list[Waiting] = []
        size = 0
        while self._records and size < BATCH_LIMIT_BYTES:
            record = self._records.popleft()
            size += 0 if isinstance(record, WaitingCheckpoint) else len(record.line)
            self._arrivals -= isinstance(record, WaitingArrival)
            taken.append(record)
        self._urgent = self._arrivals > 0
        if self._urgent:
            self._first_since_s = next(
                one for one in self._records if isinstance(one, WaitingArrival)
            ).since_s
        return tuple(taken)


def packed(records: tuple[Waiting, ...], before: Position) -> tuple[Batch, tuple[KeptState, ...]]:
    """The batch of these records after `before`, and the checkpoints that go with it."""
    arrivals = [one for one in records if isinstance(one, WaitingArrival)]
    states = tuple(_kept(one) for one in records if isinstance(one, WaitingCheckpoint))
    derived = chain(
        (one.line for one in records if not isinstance(one, WaitingArrival | WaitingCheckpoint)),
        (derived_to_line(CheckpointRecord(one.seq, one.digest.hex())) for one in states),
    )
    unchained = Batch(
        n=before.n + 1,
        first_seq=before.last_seq + 1,
        last_seq=before.last_seq + len(arrivals),
        at_ns=max(chain((before.at_ns,), (one.at_ns for one in arrivals))),
        arrivals=b"[" + b",".join(one.line for one in arrivals) + b"]",
        derived=b"[" + b",".join(derived) + b"]",
        chain=b"",
    )
    return chained(unchained, before), states


def chained(batch: Batch, before: Position) -> Batch:
    """The batch with the digest that it has to carry after `before`."""
    digest = chain_after(before.chain, batch)
    return Batch(batch.n, batch.first_seq, batch.last_seq, batch.at_ns, batch.arrivals, batch.derived, digest)


def _kept(waiting: WaitingCheckpoint) -> KeptState:
    return KeptState(waiting.seq, waiting.at_ns, waiting.line, sha256(waiting.line).digest())
