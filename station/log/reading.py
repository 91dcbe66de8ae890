"""Reading a log: live, closed, left by a crash, or damaged; up to the last batch that holds, and no further.

Every batch is checked where it stands before anything of it is handed out. The first thing that does not
hold ends the reading and stands in `fault`, with the batch, the arrival and what is wrong.
"""

from bisect import bisect_left
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import reduce
from hashlib import sha256
from itertools import chain
from pathlib import Path
from types import TracebackType
from typing import Any, Final

from shared.clock import Instant
from station.core.inputs import Arrival
from station.log.examining import inconsistent, misplaced, unreadable
from station.log.fault import Check, Finding, LogFault
from station.log.header import Header, header_of
from station.log.opening import PAGE_FAULTS, connect_reading, missing_bytes, page_faults_told, version_of
from station.log.records import Batch, Checkpoint, Contents, Derived, Lift, Position, contents_of, start_of
from station.log.schema import UPCASTERS, Upcaster, lifters
from station.plain import canonical, parse, state_from_plain

PAGE_ROWS: Final = 256
"""Rows are fetched so many at a time, so that a slow reader never holds up the writer's file. Own choice."""

_COLUMNS: Final = "n, first_seq, last_seq, at_ns, arrivals, derived, chain"
_KINDS: Final = (int, int, int, int, bytes, bytes, bytes)


@dataclass(frozen=True, slots=True)
class Seal:
    """Where a closed log says that it ends."""

    n: int
    last_seq: int
    head: bytes


class LogReader:
    """A log open for reading; use it in a `with` statement.

    `fault` is the first thing found that does not hold. `missing_bytes` is what a cut file lacks, else 0.
    """

    def __init__(self, path: Path, upcasters: Mapping[int, Upcaster] = UPCASTERS) -> None:
        """Open the log. Raises LogFault: no log, a newer log, or no header that can be read."""
        self.path = path
        self.fault: Finding | None = None
        self._connection = connect_reading(path)
        try:
            self.missing_bytes = missing_bytes(path, self._connection)
            self._lifters = self._found_lifters(upcasters)
            self._header_text, self.header = self._read_header()
        except LogFault:
            self._connection.close()
            raise

    def __enter__(self) -> "LogReader":
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def close(self) -> None:
        """Let the file go."""
        self._connection.close()

    @property
    def start(self) -> Position:
        """Where the chain begins."""
        return start_of(self._header_text)

    @property
    def closed(self) -> bool:
        """Whether the log was closed in good order."""
        return self.seal is not None

    @property
    def seal(self) -> Seal | None:
        """Where a closed log says that it ends; None while it is not closed."""
        with page_faults_told(self.path):
            row = self._connection.execute("SELECT n, last_seq, head FROM seal").fetchone()
        if row is not None and not _is_of(row, (int, int, bytes)):
            raise LogFault(self.path, "the seal holds something else than numbers and a digest")
        return None if row is None else Seal(*row)

    def rows(self, after_n: int = 0) -> Iterator[Batch]:
        """The batches as they are stored, unchecked; torn pages end the rows and stand in `fault`."""
        torn: Finding | None = None
        more = True
        while more:
            # The rows before torn pages come first: one of them may not hold, and that is the first fault.
            rows, torn = self._page(after_n)
            for row in rows:
                if not _is_of(row, _KINDS):
                    what = f"the row after batch {after_n} is no batch"
                    self._stop(Finding(Check.PACKING, after_n + 1, None, what))
                    return
                yield Batch(*row)
                after_n = row[0]
            more = bool(rows) and torn is None
        if torn is not None:
            self._stop(torn)
        if self.missing_bytes:
            sentence = f"{self.missing_bytes} bytes of the file are missing at its end"
            self._stop(Finding(Check.FILE, None, None, sentence))

    def opened(self, batch: Batch) -> Contents:
        """What a batch holds. Raises ValueError."""
        return contents_of(batch, self._lift("arrival"), self._lift("derived"))

    def batches(self, from_seq: int = 1) -> Iterator[Contents]:
        """The batches from the one that holds `from_seq` (its derived records included), each checked."""
        before = self.position_before(from_seq)
        for batch in self.rows(before.n):
            try:
                contents = self.opened(batch)
                found = next(chain(misplaced(batch, before), inconsistent(contents, before)), None)
            except ValueError as error:
                found = next(misplaced(batch, before), unreadable(batch, error))
            if found is not None:
                self._stop(found)
                return
            yield contents
            before = batch.end

    def position_before(self, seq: int) -> Position:
        """Where the log stood before the batch that holds `seq`; its beginning when that cannot be told."""
        try:
            (count,) = self._connection.execute("SELECT coalesce(max(n), 0) FROM batch").fetchone()
            n = bisect_left(range(1, count + 1), seq, key=self._last_seq)
            row = self._connection.execute(
                "SELECT n, last_seq, at_ns, chain FROM batch WHERE n = ?", (n,)
            ).fetchone()
        except PAGE_FAULTS:
            # A damaged file is read from its beginning, up to the damage.
            return self.start
        return Position(*row) if _is_of(row, (int, int, int, bytes)) else self.start

    def arrivals(self, from_seq: int = 1) -> Iterator[tuple[int, Arrival]]:
        """The arrivals in order with their numbers, from `from_seq`."""
        for contents in self.batches(from_seq):
            yield from (one for one in contents.arrivals if one[0] >= from_seq)

    def derived(self, from_seq: int = 1) -> Iterator[Derived]:
        """The derived records of arrivals from `from_seq`, in the order in which they were made."""
        for contents in self.batches(from_seq):
            yield from (one for one in contents.derived if one.seq >= from_seq)

    def checkpoint_marks(self) -> tuple[tuple[int, Instant], ...]:
        """The number and the instant of every checkpoint, in order."""
        with page_faults_told(self.path):
            rows = self._connection.execute("SELECT seq, at_ns FROM checkpoint ORDER BY seq").fetchall()
        return tuple((row[0], Instant(row[1])) for row in rows if _is_of(row, (int, int)))

    def last_checkpoint_before(self, at: Instant) -> Checkpoint | None:
        """The latest sound checkpoint at or before an instant; None when there is none."""
        marks = reversed(self.checkpoint_marks())
        sound = (self.checkpoint(seq) for seq, kept_at in marks if kept_at <= at)
        return next((one for one in sound if one is not None), None)

    def last_checkpoint(self) -> Checkpoint | None:
        """The latest sound checkpoint of all; None when there is none."""
        sound = (self.checkpoint(seq) for seq, _ in reversed(self.checkpoint_marks()))
        return next((one for one in sound if one is not None), None)

    def checkpoint(self, seq: int) -> Checkpoint | None:
        """The checkpoint after `seq`; None when it is damaged or cannot be read by this program."""
        try:
            row = self._connection.execute(
                "SELECT at_ns, body, digest FROM checkpoint WHERE seq = ?", (seq,)
            ).fetchone()
            if not _is_of(row, (int, bytes, bytes)) or sha256(row[1]).digest() != row[2]:
                return None
            state = state_from_plain(self._lift("state")(parse(row[1])))
        except (*PAGE_FAULTS, ValueError):
            # A checkpoint is only a short cut: an earlier one, or the arrivals, serve as well.
            return None
        return Checkpoint(seq, Instant(row[0]), state) if (state.seq, state.now) == (seq, row[0]) else None

    def checkpoint_digests(self) -> Iterator[tuple[int, bytes, bool]]:
        """The number of each checkpoint, its digest as stored, and whether its body has it."""
        with page_faults_told(self.path):
            for row in self._connection.execute("SELECT seq, body, digest FROM checkpoint ORDER BY seq"):
                if not _is_of(row, (int, bytes, bytes)):
                    raise LogFault(self.path, f"the row {str(row)[:80]} is no checkpoint")
                seq, body, digest = row
                yield seq, digest, sha256(body).digest() == digest

    def _page(self, after_n: int) -> tuple[list[tuple[Any, ...]], Finding | None]:
        """The next rows, and what kept the rest of them from being read."""
        rows: list[tuple[Any, ...]] = []
        select = f"SELECT {_COLUMNS} FROM batch WHERE n > ? ORDER BY n LIMIT {PAGE_ROWS}"
        try:
            rows.extend(self._connection.execute(select, (after_n,)))
        except PAGE_FAULTS as error:
            last = rows[-1][0] if rows else after_n
            sentence = f"the file cannot be read after batch {last}: {error}"
            return rows, Finding(Check.FILE, last + 1, None, sentence)
        return rows, None

    def _last_seq(self, n: int) -> int:
        row = self._connection.execute("SELECT last_seq FROM batch WHERE n = ?", (n,)).fetchone()
        return int(row[0]) if _is_of(row, (int,)) else 0

    def _stop(self, finding: Finding) -> None:
        if self.fault is None:
            self.fault = finding

    def _found_lifters(self, upcasters: Mapping[int, Upcaster]) -> tuple[Upcaster, ...]:
        try:
            return lifters(version_of(self._connection), upcasters)
        except ValueError as error:
            raise LogFault(self.path, str(error)) from error

    def _lift(self, part: str) -> Lift:
        return lambda plain: reduce(lambda value, step: getattr(step, part)(value), self._lifters, plain)

    def _read_header(self) -> tuple[bytes, Header]:
        with page_faults_told(self.path):
            row = self._connection.execute("SELECT body FROM header WHERE id = 1").fetchone()
        if not _is_of(row, (bytes,)):
            raise LogFault(self.path, "has no header")
        try:
            return row[0], header_of(canonical(self._lift("header")(parse(row[0]))))
        except ValueError as error:
            raise LogFault(self.path, f"header: {error}") from error


def _is_of(row: Any, kinds: tuple[type, ...]) -> bool:  # noqa: ANN401 - a row as SQLite gives it, or None
    """Whether a row is there and holds values of these kinds: a damaged page can hold anything."""
    return row is not None and tuple(type(one) for one in row) == kinds
