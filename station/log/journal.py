"""The log being written: the pump hands over, a thread of its own brings it to the disk.

Nothing here ever makes the pump wait for the disk. When the disk is full, slow, read-only or gone, what
comes is kept in memory without a bound (some 10 kB a second), `failure` says what is wrong, the writer tries
again ever more slowly, and when the disk is back everything is written in its order.
"""

import threading
from collections.abc import Callable
from pathlib import Path
from typing import Final

from shared.clock import Instant
from station.core.facts import Fact
from station.core.inputs import Arrival, OperatorEvent
from station.core.state import State
from station.log import schema
from station.log.fault import LogFault
from station.log.gathering import Gathering, Waiting, WaitingArrival, WaitingCheckpoint, packed
from station.log.header import Header
from station.log.records import Derived, DigestRecord, FactRecord, Position, TraceRecord, derived_to_line
from station.log.sealing import write_digest
from station.log.sole import Hold
from station.log.store import Connect, Store, disk_trouble_told
from station.plain import Plain, arrival_to_plain, canonical, state_to_plain

FIRST_PAUSE_S: Final = 0.1
"""How long the writer rests after a first failure, wall time; each further rest is twice as long."""

LONGEST_PAUSE_S: Final = 5.0
"""No rest of the writer is longer, wall time."""

CLOSING_PATIENCE_S: Final = 10.0
"""How long closing waits for a disk in trouble, wall time."""

Pause = Callable[[threading.Event, float], object]
"""Rests for so many seconds of wall time, or until the event is set."""


class Journal:
    """One log open for writing. `append`, `derive`, `trace`, `digest`, `checkpoint` are the pump's."""

    def __init__(
        self,
        path: Path,
        *,
        monotonic: Callable[[], float],
        pause: Pause = threading.Event.wait,
        connect: Connect = schema.connect_writing,
        expected: Position | None = None,
    ) -> None:
        """Open an existing log at its end. Raises LogFault; also when it does not end at `expected`."""
        self._path = path
        self._monotonic = monotonic
        self._pause = pause
        self._hold = Hold(path)
        self._store = Store(path, connect)
        self._written = self._found(expected)
        self._appended_seq = self._written.last_seq
        self._found_kept_seq = self._kept_seq = self._store.last_checkpoint_seq()
        self._gathering = Gathering()
        self._in_hand: tuple[Waiting, ...] = ()
        self._failure = ""
        self._died: BaseException | None = None
        self._closing = False
        self._closed = False
        self._hurry = threading.Event()
        self._changed = threading.Condition()
        self._writer = threading.Thread(target=self._write_on, name="log writer", daemon=True)
        self._writer.start()

    @classmethod
    def begin(
        cls,
        path: Path,
        header: Header,
        *,
        monotonic: Callable[[], float],
        pause: Pause = threading.Event.wait,
        connect: Connect = schema.connect_writing,
    ) -> "Journal":
        """Make a new log and open it. Raises LogFault naming the path and the reason."""
        schema.create(path, header)
        return cls(path, monotonic=monotonic, pause=pause, connect=connect)

    @property
    def path(self) -> Path:
        """The file of the log."""
        return self._path

    @property
    def committed_seq(self) -> int:
        """The number of the last arrival that the disk has confirmed."""
        return self._written.last_seq

    @property
    def head(self) -> str:
        """The head of the chain that the disk has confirmed, in hexadecimal."""
        return self._written.chain.hex()

    @property
    def failure(self) -> str:
        """What is wrong with the disk, "" while nothing is."""
        return self._failure

    @property
    def waiting(self) -> int:
        """How many arrivals wait for the disk."""
        return self._appended_seq - self.committed_seq

    def oldest_waiting_s(self) -> float:
        """How long the oldest unwritten arrival waits, wall time; 0 when none does."""
        with self._changed:
            in_hand = (one.since_s for one in self._in_hand if isinstance(one, WaitingArrival))
            since_s = next(in_hand, self._gathering.oldest_since_s)
        return 0.0 if since_s is None else max(0.0, self._monotonic() - since_s)

    def wait_committed(self, seq: int, timeout_s: float) -> bool:
        """Wait, bounded, until the disk has confirmed the arrival `seq`; whether it has."""
        with self._changed:
            return self._changed.wait_for(lambda: self.committed_seq >= seq or self._died, timeout_s) is True

    def append(self, seq: int, arrival: Arrival) -> None:
        """Hand over the arrival that the pump numbered `seq`. Raises ValueError when the count has a gap."""
        if seq != self._appended_seq + 1:
            raise ValueError(f"arrival {seq} handed to the log after {self._appended_seq}")
        line = canonical(arrival_to_plain(arrival))
        record = WaitingArrival(seq, line, self._monotonic(), arrival.at)
        self._gather(record, urgent=isinstance(arrival, OperatorEvent))
        self._appended_seq = seq

    def derive(self, seq: int, fact: Fact) -> None:
        """Hand over a fact that the fold of `seq` found."""
        self._gather_derived(FactRecord(seq, fact))

    def trace(self, seq: int, at: Instant, values: dict[str, Plain]) -> None:
        """Hand over what stood on the panels at a whole second."""
        self._gather_derived(TraceRecord(seq, at, values))

    def digest(self, seq: int, digest: str, keys: tuple[str, ...]) -> None:
        """Hand over a digest of the status after `seq`, with the keys that it covers."""
        self._gather_derived(DigestRecord(seq, digest, keys))

    def checkpoint(self, seq: int, state: State) -> None:
        """Hand over the whole state after `seq`, later than the last; it goes with the next batch.

        One that the file held already when it was opened is passed over: a replayed tail makes it again.
        """
        if seq <= self._found_kept_seq:
            return
        if seq <= self._kept_seq:
            raise ValueError(f"checkpoint {seq} handed to the log after {self._kept_seq}")
        body = canonical(state_to_plain(state))
        self._gather(WaitingCheckpoint(seq, body, self._monotonic(), state.now))
        self._kept_seq = seq

    def close(self, finished: bool, patience_s: float = CLOSING_PATIENCE_S) -> str:
        """Write what waits and let the file go; returns the head of the chain.

        `finished` seals it: the log is marked as closed, lies in one file, and its digest stands beside it.
        Raises LogFault when the disk does not take it in time: nothing is lost, closing may be tried again.
        """
        if self._closed:
            return self.head
        with self._changed:
            self._closing = True
            self._changed.notify_all()
        self._hurry.set()
        self._writer.join(patience_s)
        self._check_alive()
        if self._writer.is_alive():
            why = self._failure or "the disk has not answered"
            raise LogFault(self._path, f"{self.waiting} arrivals are not written yet: {why}")
        self._let_go(finished)
        self._closed = True
        return self.head

    def _found(self, expected: Position | None) -> Position:
        try:
            end = self._store.position()
        except LogFault:
            self._let_go_unopened()
            raise
        if expected is not None and end != expected:
            self._let_go_unopened()
            raise LogFault(self._path, f"ends with arrival {end.last_seq}, not {expected.last_seq}")
        return end

    def _let_go_unopened(self) -> None:
        self._store.release()
        self._hold.release()

    def _gather_derived(self, record: Derived) -> None:
        self._gather(Waiting(record.seq, derived_to_line(record), self._monotonic()))

    def _gather(self, record: Waiting, urgent: bool = False) -> None:
        self._check_alive()
        with self._changed:
            if not isinstance(record, WaitingArrival) and record.seq > self._appended_seq:
                raise ValueError(
                    f"a record of arrival {record.seq} handed to the log after {self._appended_seq}"
                )
            if self._closing:
                raise ValueError(f"{self._path}: the log is closing, nothing more may be handed to it")
            if self._gathering.add(record, urgent):
                self._changed.notify_all()

    def _check_alive(self) -> None:
        if self._died is not None:
            raise RuntimeError(f"{self._path}: the log writer died of a mistake of ours") from self._died

    def _write_on(self) -> None:
        try:
            while self._next_due():
                self._commit()
        except BaseException as error:
            with self._changed:
                self._died = error
                self._changed.notify_all()
            raise

    def _next_due(self) -> bool:
        """Wait until a batch is due and take it in hand; false when the log closes and nothing is left."""
        with self._changed:
            while not self._closing:
                due_in_s = self._gathering.due_in_s(self._monotonic())
                if due_in_s == 0:
                    break
                self._changed.wait(due_in_s)
            self._in_hand = self._gathering.take()
            return bool(self._in_hand)

    def _commit(self) -> None:
        """Bring what is in hand to the disk, however long that takes."""
        before = self._written
        batch, states = packed(self._in_hand, before)
        pause_s = FIRST_PAUSE_S
        while True:
            try:
                self._store.write(batch, states, before)
                break
            except LogFault as fault:
                self._failure = str(fault)
            self._start_afresh()
            self._pause(self._hurry, pause_s)
            self._hurry.clear()
            pause_s = min(2 * pause_s, LONGEST_PAUSE_S)
        with self._changed:
            self._failure = ""
            self._written = batch.end
            self._in_hand = ()
            self._changed.notify_all()

    def _start_afresh(self) -> None:
        try:
            self._store.drop()
        except LogFault as fault:
            self._failure = f"{self._failure}; {fault.reason}"

    def _let_go(self, finished: bool) -> None:
        try:
            if finished:
                self._store.seal(self._written)
            self._store.release()
            if finished:
                with disk_trouble_told(self._path):
                    write_digest(self._path)
        except LogFault as fault:
            self._failure = str(fault)
            self._start_afresh()
            raise LogFault(self._path, f"is written but cannot be closed: {fault.reason}") from fault
        self._hold.release()
