"""Checking a log as a whole: nothing changed, cut, moved or put in, as far as the file itself can show.

A log that was not closed can be cut at its end without a trace in it; its head, written down or carried by
the next log, shows that too (`expected_head`). Whether the derived records are right is shown by a replay.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from hashlib import sha256
from pathlib import Path

from station.log.examining import inconsistent, misplaced, unreadable
from station.log.fault import Check, Finding, LogFault
from station.log.opening import connect_reading, page_faults_told
from station.log.reading import LogReader
from station.log.records import Batch, CheckpointRecord, Contents, Position
from station.log.sealing import digest_of_file, read_digest


@dataclass(frozen=True, slots=True)
class IntegrityReport:
    """What was looked at and what does not hold. `head` and the digest of the arrivals are hexadecimal.

    `arrivals_digest` is the SHA-256 of the texts of all arrivals, in order, joined by commas: two runs that
    took the same arrivals have the same, however they fell into batches.
    """

    path: Path
    closed: bool
    batches: int
    arrivals: int
    head: str
    arrivals_digest: str
    findings: tuple[Finding, ...]

    @property
    def sound(self) -> bool:
        """Whether everything holds."""
        return not self.findings


@dataclass(slots=True)
class _Walk:
    """One way through all batches, past whatever does not hold."""

    end: Position
    batches: int = 0
    arrivals: int = 0
    kept: dict[int, str] = field(default_factory=dict)
    findings: list[Finding] = field(default_factory=list)


def check(path: Path, expected_head: str | None = None) -> IntegrityReport:
    """Look at everything in a log. Raises LogFault when it is no log that this program reads."""
    with LogReader(path) as reader:
        walk = _Walk(reader.start)
        digest = sha256()
        for batch in reader.rows():
            _look_at(reader, batch, walk)
            if batch.last_seq >= batch.first_seq:
                digest.update(b"," * (batch.first_seq > 1) + batch.arrivals[1:-1])
        if reader.fault is not None:
            walk.findings.append(reader.fault)
        closed = _sealed(reader, walk)
        walk.findings.extend(_checkpoints(reader, walk))
    walk.findings.extend(_pages(path))
    if closed:
        walk.findings.extend(_file_digest(path))
    head = walk.end.chain.hex()
    if expected_head is not None and head != expected_head:
        walk.findings.append(
            _of_file(Check.CHAIN, f"the head is {head}, not {expected_head} as written down")
        )
    return IntegrityReport(
        path, closed, walk.batches, walk.arrivals, head, digest.hexdigest(), tuple(walk.findings)
    )


def _look_at(reader: LogReader, batch: Batch, walk: _Walk) -> None:
    walk.findings.extend(misplaced(batch, walk.end))
    try:
        contents = reader.opened(batch)
    except ValueError as error:
        walk.findings.append(unreadable(batch, error))
    else:
        walk.findings.extend(inconsistent(contents, walk.end))
        walk.arrivals += len(contents.arrivals)
        walk.kept.update(_kept_in(contents))
    walk.batches += 1
    walk.end = batch.end


def _kept_in(contents: Contents) -> Iterator[tuple[int, str]]:
    return ((one.seq, one.digest) for one in contents.derived if isinstance(one, CheckpointRecord))


def _sealed(reader: LogReader, walk: _Walk) -> bool:
    try:
        seal = reader.seal
    except LogFault as fault:
        walk.findings.append(_of_file(Check.SEAL, fault.reason))
        return False
    if seal is None:
        return False
    end = walk.end
    if (seal.n, seal.last_seq, seal.head) != (end.n, end.last_seq, end.chain):
        sentence = (
            f"the seal says that the log ends with batch {seal.n}, arrival {seal.last_seq}, head "
            f"{seal.head.hex()}; it ends with batch {end.n}, arrival {end.last_seq}, head {end.chain.hex()}"
        )
        walk.findings.append(Finding(Check.SEAL, end.n, end.last_seq, sentence))
    return True


def _checkpoints(reader: LogReader, walk: _Walk) -> Iterator[Finding]:
    named = dict(walk.kept)
    try:
        for seq, digest, whole in reader.checkpoint_digests():
            if not whole or named.get(seq) != digest.hex():
                sentence = f"the checkpoint after arrival {seq} is not the one that the log names"
                yield Finding(Check.CHECKPOINT, None, seq, sentence)
            named.pop(seq, None)
    except LogFault as fault:
        yield _of_file(Check.CHECKPOINT, f"the checkpoints cannot be read: {fault.reason}")
        return
    for seq in named:
        yield Finding(Check.CHECKPOINT, None, seq, f"the checkpoint after arrival {seq} is missing")


def _pages(path: Path) -> Iterator[Finding]:
    connection = connect_reading(path)
    try:
        with page_faults_told(path):
            rows = connection.execute("PRAGMA quick_check(10)").fetchall()
    except LogFault as fault:
        yield _of_file(Check.FILE, f"the pages cannot be checked: {fault.reason}")
        return
    finally:
        connection.close()
    yield from (_of_file(Check.FILE, row[0].decode()) for row in rows if row[0] != b"ok")


def _file_digest(path: Path) -> Iterator[Finding]:
    try:
        noted = read_digest(path)
    except (ValueError, OSError, UnicodeDecodeError) as error:
        yield _of_file(Check.DIGEST, f"the digest beside the log cannot be read: {error}")
        return
    found = digest_of_file(path)
    if noted is None:
        yield _of_file(Check.DIGEST, f"no digest stands beside the closed log; it is {found}")
    elif noted != found:
        yield _of_file(Check.DIGEST, f"the file's digest is {found}, beside it stands {noted}")


def _of_file(check_: Check, sentence: str) -> Finding:
    return Finding(check_, None, None, sentence)
