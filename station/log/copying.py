"""A copy of a log on a second medium, kept up batch by batch while the log is written.

It begins with the whole log through SQLite's own backup, read by a connection that can change nothing; from
then on each commit's new rows are added to the copy, so that a commit costs what it holds and not the log.
The copy is a log like the first: the same chain, the same header. Its trouble never reaches the journal: a
medium that is full, slow or gone makes `failure` and `behind_s` grow, and is tried again ever more slowly.

The live file is only ever opened by SQLite here: closing any other handle on it would drop the locks that
this process holds on it (SQLite, "How To Corrupt An SQLite Database File", 2.2).
"""

import sqlite3
import threading
from collections.abc import Callable
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path
from typing import Final, Protocol

from station.log.fault import LogFault
from station.log.sealing import write_digest
from station.log.store import disk_trouble_told

PACE_S: Final = 1.0
"""The least time between two writes of the copy, wall time: a stick is not written ten times a second. Own
choice: the copy is a second behind."""

FIRST_PAUSE_S: Final = 1.0
LONGEST_PAUSE_S: Final = 30.0
"""How long the copier rests after a failure, wall time: at first, and at most, doubling. Own choice."""

BEHIND_S: Final = 30.0
"""A copy that is further behind is told of as lost, also where no failure says why. Own choice."""

CLOSING_PATIENCE_S: Final = 10.0
"""How long the end of the watch waits for the copy, wall time. Own choice."""

Pause = Callable[[threading.Event, float], object]
"""Rests for so many seconds of wall time, or until the event is set."""

_NOTHING: Final = -1
"""What a copy ends with that is not there yet: less than the header alone."""


class Committed(Protocol):
    """What the copier asks of the journal."""

    @property
    def path(self) -> Path:
        """The file of the log."""
        ...

    @property
    def committed_seq(self) -> int:
        """The number of the last arrival that the disk has confirmed."""
        ...


class Copier:
    """Keeps the copy on a thread of its own. `behind_s`, `failure` and `copied_seq` tell how it stands."""

    def __init__(
        self,
        log: Committed,
        folder: Path,
        *,
        monotonic: Callable[[], float],
        pause: Pause = threading.Event.wait,
        pace_s: float = PACE_S,
    ) -> None:
        """A copy in `folder`. Raises LogFault when that is the folder of the log itself."""
        if folder.resolve() == log.path.resolve().parent:
            raise LogFault(log.path, f"cannot be copied into its own folder {folder}")
        self._log = log
        self.path = folder / log.path.name
        self._monotonic = monotonic
        self._pause = pause
        self._pace_s = pace_s
        self._copied_seq = _NOTHING
        self._behind_since_s: float | None = None
        self._failure = ""
        self._ours = False
        self._ended = False
        self._closing = threading.Event()
        self._thread = threading.Thread(target=self._run, name="log copier", daemon=True)

    @property
    def copied_seq(self) -> int:
        """The number of the last arrival that the copy holds; -1 while there is none."""
        return self._copied_seq

    @property
    def failure(self) -> str:
        """What is wrong with the copy, "" while nothing is."""
        return self._failure

    def behind_s(self) -> float:
        """How long the copy has lacked something that the log holds, wall time; 0 when it lacks nothing."""
        since_s = self._behind_since_s
        return 0.0 if since_s is None else max(0.0, self._monotonic() - since_s)

    def start(self) -> None:
        """Begin to copy."""
        self._thread.start()

    def stop(self, patience_s: float = CLOSING_PATIENCE_S) -> None:
        """Stop copying, before the journal is closed: a log that is being read cannot be sealed."""
        self._closing.set()
        if self._thread.is_alive():
            self._thread.join(patience_s)

    def close(self, patience_s: float = CLOSING_PATIENCE_S) -> str:
        """Copy the whole log once more, after the journal was closed; returns the failure or "".

        The copy of a closed log has its seal, and a digest beside it. A medium that does not answer is left.
        """
        self.stop(patience_s)
        if not self._ended and not self._thread.is_alive():
            self._ended = True
            self._thread = threading.Thread(target=self._end, name="log copier's end", daemon=True)
            self._thread.start()
            self._thread.join(patience_s)
        if self._thread.is_alive():
            return self._failure or f"{self.path}: the medium has not answered"
        return self._failure

    def _run(self) -> None:
        pause_s = FIRST_PAUSE_S
        while not self._closing.is_set():
            self._note_behind()
            if self._log.committed_seq == self._copied_seq or self._try(self._bring_up):
                pause_s = FIRST_PAUSE_S
                self._pause(self._closing, self._pace_s)
            else:
                self._pause(self._closing, pause_s)
                pause_s = min(2 * pause_s, LONGEST_PAUSE_S)

    def _end(self) -> None:
        self._note_behind()
        self._try(self._finish)

    def _note_behind(self) -> None:
        if self._behind_since_s is None and self._log.committed_seq > self._copied_seq:
            self._behind_since_s = self._monotonic()

    def _try(self, do: Callable[[], None]) -> bool:
        began_s = self._monotonic()
        try:
            with disk_trouble_told(self.path):
                do()
        except LogFault as fault:
            self._failure, self._ours = str(fault), False
            return False
        self._failure = ""
        self._behind_since_s = began_s if self._log.committed_seq > self._copied_seq else None
        return True

    def _bring_up(self) -> None:
        """Make the copy hold what the log holds: by its new rows, as a whole where it is not known."""
        if not self._ours or not self.path.exists():
            self._whole()
            return
        with closing(_target(self.path)) as copy:
            after = _end_of(copy)
            if after.seq != self._copied_seq:
                raise LogFault(
                    self.path, f"another hand wrote in it: it ends with {after.seq}, not {self._copied_seq}"
                )
            _add(copy, _rows_after(self._log.path, after))
            self._copied_seq = _end_of(copy).seq

    def _whole(self) -> bool:
        """A whole copy beside the old one, then in its place; whether the log is sealed.

        The log is taken into memory first, so that a medium that hangs never holds the log itself.
        """
        unfinished = self.path.with_name(f"{self.path.name}.new")
        unfinished.unlink(missing_ok=True)
        with closing(sqlite3.connect(":memory:")) as whole:
            with closing(_source(self._log.path)) as live:
                live.backup(whole)
            with closing(sqlite3.connect(unfinished)) as copy:
                whole.backup(copy)
                copy.execute("PRAGMA journal_mode=DELETE")
            seq, (sealed,) = _end_of(whole).seq, whole.execute("SELECT count(*) FROM seal").fetchone()
        unfinished.replace(self.path)
        self._copied_seq, self._ours = seq, True
        return bool(sealed)

    def _finish(self) -> None:
        if self._whole():
            write_digest(self.path)


@dataclass(frozen=True, slots=True)
class _End:
    """Where a log ends: its last batch, arrival and checkpoint."""

    n: int
    seq: int
    kept: int


def _source(path: Path) -> sqlite3.Connection:
    connection = sqlite3.connect(f"{path.absolute().as_uri()}?mode=ro", uri=True, isolation_level=None)
    connection.execute("PRAGMA query_only=ON")
    return connection


def _target(path: Path) -> sqlite3.Connection:
    connection = sqlite3.connect(f"{path.absolute().as_uri()}?mode=rw", uri=True, isolation_level=None)
    connection.execute("PRAGMA synchronous=FULL")
    return connection


def _end_of(log: sqlite3.Connection) -> _End:
    n, seq = log.execute("SELECT coalesce(max(n), 0), coalesce(max(last_seq), 0) FROM batch").fetchone()
    (kept,) = log.execute("SELECT coalesce(max(seq), 0) FROM checkpoint").fetchone()
    return _End(n, seq, kept)


def _rows_after(path: Path, end: _End) -> dict[str, list[tuple[object, ...]]]:
    """What the log holds beyond an end, of one moment: read and let go before anything is written."""
    with closing(_source(path)) as live:
        live.execute("BEGIN")
        return {
            "batch": live.execute("SELECT * FROM batch WHERE n > ? ORDER BY n", (end.n,)).fetchall(),
            "checkpoint": live.execute(
                "SELECT * FROM checkpoint WHERE seq > ? ORDER BY seq", (end.kept,)
            ).fetchall(),
        }


def _add(copy: sqlite3.Connection, rows: dict[str, list[tuple[object, ...]]]) -> None:
    """Add rows to the copy in one commit."""
    copy.execute("BEGIN IMMEDIATE")
    for table, new in rows.items():
        if new:
            copy.executemany(f"INSERT INTO {table} VALUES ({', '.join('?' * len(new[0]))})", new)
    copy.execute("COMMIT")
