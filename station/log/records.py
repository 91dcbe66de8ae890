"""What a log is made of: batches of arrivals and derived records, chained by their digests.

The chain before the first batch is the SHA-256 of the header's text. The chain of a batch is the SHA-256 of
the chain before it (32 bytes), then one line of the decimal numbers `n first_seq last_seq at_ns` and the
byte lengths of the two texts, separated by spaces and ended by a line feed, then the text of the arrivals,
then the text of the derived records, both as stored (UTF-8).
"""

from collections.abc import Callable
from dataclasses import dataclass
from hashlib import sha256

from shared.clock import Instant
from station.core.facts import Fact
from station.core.inputs import Arrival
from station.core.state import State
from station.plain import Plain, arrival_from_plain, canonical, fact_from_plain, fact_to_plain, parse


@dataclass(frozen=True, slots=True)
class Position:
    """The end of a log, or of a part of it: its last batch, arrival and stamp, and the head of its chain."""

    n: int
    last_seq: int
    at_ns: int
    chain: bytes


@dataclass(frozen=True, slots=True)
class Batch:
    """One row of the log. `at_ns` is the latest stamp up to its end; the two texts are JSON lists."""

    n: int
    first_seq: int
    last_seq: int
    at_ns: int
    arrivals: bytes
    derived: bytes
    chain: bytes

    @property
    def end(self) -> Position:
        """Where the log stands after this batch."""
        return Position(self.n, self.last_seq, self.at_ns, self.chain)


@dataclass(frozen=True, slots=True)
class FactRecord:
    """A fact that the fold of the arrival numbered `seq` found."""

    seq: int
    fact: Fact


@dataclass(frozen=True, slots=True)
class TraceRecord:
    """What stood on the panels at a whole second: any plain values by name."""

    seq: int
    at: Instant
    values: dict[str, Plain]


@dataclass(frozen=True, slots=True)
class DigestRecord:
    """A digest of the status after `seq`, with the list of the keys that it covers."""

    seq: int
    digest: str
    keys: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CheckpointRecord:
    """A checkpoint was written after `seq`; its digest stands here so that the chain covers it."""

    seq: int
    digest: str


Derived = FactRecord | TraceRecord | DigestRecord | CheckpointRecord


@dataclass(frozen=True, slots=True)
class Contents:
    """A batch, opened: its arrivals with their numbers, and its derived records."""

    batch: Batch
    arrivals: tuple[tuple[int, Arrival], ...]
    derived: tuple[Derived, ...]


@dataclass(frozen=True, slots=True)
class Checkpoint:
    """The whole state after the arrival numbered `seq`, at station time `at`."""

    seq: int
    at: Instant
    state: State


Lift = Callable[[Plain], Plain]
"""Brings a plain value of an older version to the form of this one."""


def as_stored(plain: Plain) -> Plain:
    """The lift of this program's own version: none."""
    return plain


def start_of(header_text: bytes) -> Position:
    """The position before the first batch of the log with this header."""
    return Position(0, 0, 0, sha256(header_text).digest())


def chain_after(before: bytes, batch: Batch) -> bytes:
    """The digest that a batch has to carry after the chain `before`."""
    numbers = (batch.n, batch.first_seq, batch.last_seq, batch.at_ns, len(batch.arrivals), len(batch.derived))
    return sha256(b"%b%d %d %d %d %d %d\n%b%b" % (before, *numbers, batch.arrivals, batch.derived)).digest()


def derived_to_line(record: Derived) -> bytes:
    """A derived record as it stands in its batch."""
    match record:
        case FactRecord(seq, fact):
            return canonical([seq, "fact", fact_to_plain(fact)])
        case TraceRecord(seq, at, values):
            return canonical([seq, "trace", at, values])
        case DigestRecord(seq, digest, keys):
            return canonical([seq, "digest", digest, list(keys)])
        case CheckpointRecord(seq, digest):
            return canonical([seq, "checkpoint", digest])


def derived_from_plain(plain: Plain) -> Derived:
    """The record that `derived_to_line` wrote. Raises ValueError."""
    match plain:
        case [int(seq), "fact", fact]:
            return FactRecord(seq, fact_from_plain(fact))
        case [int(seq), "trace", int(at), dict(values)]:
            return TraceRecord(seq, Instant(at), values)
        case [int(seq), "digest", str(digest), list(keys)]:
            return DigestRecord(seq, digest, tuple(str(key) for key in keys))
        case [int(seq), "checkpoint", str(digest)]:
            return CheckpointRecord(seq, digest)
        case _:
            raise ValueError(f"not a derived record: {str(plain)[:200]}")


def contents_of(batch: Batch, lift: Lift = as_stored, lift_derived: Lift = as_stored) -> Contents:
    """What a batch holds. Raises ValueError that names the arrival or record that cannot be read."""
    return Contents(batch, _arrivals_in(batch, lift), _derived_in(batch, lift_derived))


def _arrivals_in(batch: Batch, lift: Lift) -> tuple[tuple[int, Arrival], ...]:
    arrivals = []
    for seq, plain in enumerate(_listed(batch.arrivals), batch.first_seq):
        try:
            arrivals.append((seq, arrival_from_plain(lift(plain))))
        except ValueError as error:
            raise ValueError(f"arrival {seq}: {error}") from error
    if len(arrivals) != batch.last_seq - batch.first_seq + 1:
        raise ValueError(f"{len(arrivals)} arrivals where {batch.first_seq} to {batch.last_seq} belong")
    return tuple(arrivals)


def _derived_in(batch: Batch, lift: Lift) -> tuple[Derived, ...]:
    return tuple(derived_from_plain(lift(plain)) for plain in _listed(batch.derived))


def _listed(text: bytes) -> list[Plain]:
    plain = parse(text)
    if type(plain) is not list:
        raise ValueError(f"not a list: {text[:80]!r}")
    return plain
