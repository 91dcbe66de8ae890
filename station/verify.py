"""Verifying a log: is it whole, and does a replay give again what it recorded?

The arrivals are pumped once more; each derived record of the replay is held against the recorded one, and
the first difference is told with the number of its arrival. Another version of the program may derive more
or otherwise: there a difference is told, and is no fault of the log. A digest is compared over the keys that
were recorded, so that a program that knows more keys is not taken for a changed watch. What a killed station
derived from its last arrivals may not have reached the disk: that is no difference either.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from shared.clock import Instant
from station import __version__
from station.core.books import Books
from station.core.facts import Fact
from station.core.fold import initial_state
from station.core.inputs import Arrival
from station.core.state import State
from station.digest import watch_digest
from station.log.integrity import IntegrityReport, check
from station.log.reading import LogReader
from station.log.records import CheckpointRecord, Derived, DigestRecord, FactRecord, TraceRecord
from station.log_books import books_for
from station.plain import Plain
from station.pump import Decode, Pump
from station.table_files import other_edition

SCHEMA = "overbottom-verify/1"


@dataclass(frozen=True, slots=True)
class Difference:
    """The first place where the replay does not give what was recorded."""

    seq: int
    recorded: str
    replayed: str


@dataclass(frozen=True, slots=True)
class Replayed:
    """What a replay of the whole log gave."""

    arrivals: int
    compared: int
    difference: Difference | None


@dataclass(frozen=True, slots=True)
class Verdict:
    """The two answers about a log; `program` wrote it, `other_tables` says when other tables did."""

    path: Path
    program: str
    integrity: IntegrityReport
    replayed: Replayed
    other_tables: str = ""

    @property
    def of_this_program(self) -> bool:
        """Whether this version wrote the log, by these tables: only then must it derive the same."""
        return self.program == __version__ and not self.other_tables

    @property
    def holds(self) -> bool:
        """Whether the log is whole, and the replay of a log of this program gives it again."""
        same = self.replayed.difference is None or not self.of_this_program
        return self.integrity.sound and same

    def to_plain(self) -> dict[str, Any]:
        """The verdict as plain JSON, schema "overbottom-verify/1"."""
        found = self.integrity.findings
        difference = self.replayed.difference
        return {
            "schema": SCHEMA,
            "log": str(self.path),
            "holds": self.holds,
            "written_by": self.program,
            "read_by": __version__,
            "other_tables": self.other_tables or None,
            "closed": self.integrity.closed,
            "batches": self.integrity.batches,
            "records": self.integrity.arrivals,
            "arrivals_digest": self.integrity.arrivals_digest,
            "head": self.integrity.head,
            "findings": [
                {"check": f.check.value, "batch": f.batch, "seq": f.seq, "what": f.sentence} for f in found
            ],
            "replay": {
                "records": self.replayed.arrivals,
                "compared": self.replayed.compared,
                "difference": None
                if difference is None
                else {
                    "seq": difference.seq,
                    "recorded": difference.recorded,
                    "replayed": difference.replayed,
                },
            },
        }


class _Comparing:
    """A ledger that writes nothing and keeps what the pump derives from one arrival."""

    def __init__(self) -> None:
        self.derived: list[Derived] = []

    def append(self, seq: int, arrival: Arrival) -> None:
        """A new arrival: what is derived next belongs to it."""
        self.derived = []

    def derive(self, seq: int, fact: Fact) -> None:
        """A fact that the fold found."""
        self.derived.append(FactRecord(seq, fact))

    def trace(self, seq: int, at: Instant, values: dict[str, Plain]) -> None:
        """One second of the trace."""
        self.derived.append(TraceRecord(seq, at, values))

    def digest(self, seq: int, digest: str, keys: tuple[str, ...]) -> None:
        """A digest of the watch."""
        self.derived.append(DigestRecord(seq, digest, keys))

    def checkpoint(self, seq: int, state: State) -> None:
        """Checkpoints are not compared: the digest covers the watch, and their form may change."""


def verify(path: Path, decode: Decode) -> Verdict:
    """Check a log and replay it. Raises LogFault when it cannot be opened at all."""
    integrity = check(path)
    with LogReader(path) as reader:
        told = other_edition(reader.header.tables, books_for(path, reader.header))
        return Verdict(path, reader.header.program, integrity, _replay(reader, decode), told)


def _replay(reader: LogReader, decode: Decode) -> Replayed:
    ledger, books = _Comparing(), books_for(reader.path, reader.header)
    start = initial_state(reader.header.settings, reader.header.utc_epoch_ns)
    pump = Pump(start, decode, ledger, lambda *_: None, books)
    arrivals, compared = 0, 0
    first: Difference | None = None
    recorded = _grouped(reader)
    broken_off, last_derived = not reader.closed, max(recorded, default=0)
    for seq, arrival in reader.arrivals():
        pump.step(arrival)
        arrivals += 1
        was = recorded.get(seq, [])
        compared += len(was)
        if first is None and not (broken_off and seq >= last_derived and len(was) < len(ledger.derived)):
            first = _difference(seq, was, ledger.derived, pump.state, books)
    return Replayed(arrivals, compared, first)


def _grouped(reader: LogReader) -> dict[int, list[Derived]]:
    grouped: dict[int, list[Derived]] = {}
    for record in reader.derived():
        if not isinstance(record, CheckpointRecord):
            grouped.setdefault(record.seq, []).append(record)
    return grouped


def _difference(
    seq: int, was: list[Derived], now: list[Derived], state: State, books: Books
) -> Difference | None:
    for one, other in _paired(was, now):
        if isinstance(one, DigestRecord) and isinstance(other, DigestRecord):
            again = watch_digest(state, books, one.keys).hex
            if again != one.digest:
                return Difference(seq, f"digest {one.digest}", f"digest {again}")
        elif one != other:
            return Difference(seq, str(one), str(other))
    return None


def _paired(was: list[Derived], now: list[Derived]) -> Iterator[tuple[Derived | None, Derived | None]]:
    for place in range(max(len(was), len(now))):
        yield (
            was[place] if place < len(was) else None,
            now[place] if place < len(now) else None,
        )
