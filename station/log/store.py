"""The one writing connection to a log: opened when needed, dropped after trouble, never trusted blindly."""

import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from station.log.fault import LogFault
from station.log.gathering import KeptState
from station.log.records import Batch, Position, start_of
from station.log.schema import connect_writing

Connect = Callable[[Path], sqlite3.Connection]
"""Opens the writing connection; tests put a full or slow disk here."""


@contextmanager
def disk_trouble_told(path: Path) -> Iterator[None]:
    """Turn what the disk or the file does to us into LogFault; a mistake of ours passes as it is."""
    try:
        yield
    except OSError as error:
        raise LogFault(path, error.strerror or str(error)) from error
    except sqlite3.DatabaseError as error:
        if type(error) not in {sqlite3.OperationalError, sqlite3.DatabaseError}:
            raise
        raise LogFault(path, str(error)) from error


class Store:
    """Writes batches after one another. Every method may raise LogFault."""

    def __init__(self, path: Path, connect: Connect = connect_writing) -> None:
        self._path = path
        self._connect = connect
        self._connection: sqlite3.Connection | None = None
        self._identity: tuple[int, int] | None = None

    def position(self) -> Position:
        """Where the file ends, read from the file."""
        with disk_trouble_told(self._path):
            return _end_of(self._open())

    def last_checkpoint_seq(self) -> int:
        """The number of the last arrival that has a checkpoint, 0 when none has."""
        with disk_trouble_told(self._path):
            (seq,) = self._open().execute("SELECT coalesce(max(seq), 0) FROM checkpoint").fetchone()
            return int(seq)

    def write(self, batch: Batch, states: tuple[KeptState, ...], before: Position) -> None:
        """Commit one batch with its checkpoints; returns when the disk has it.

        After trouble it cannot be known whether the last commit reached the disk, so the file is asked:
        a batch that is there already is not written again, and a file that ends elsewhere is refused.
        """
        with disk_trouble_told(self._path):
            known = self._connection is not None
            connection = self._open()
            if not known and self._holds(batch, before):
                return
            connection.execute("BEGIN IMMEDIATE")
            try:
                _insert(connection, batch, states)
            except sqlite3.IntegrityError as error:
                raise LogFault(self._path, f"batch {batch.n} cannot be added: {error}") from error
            connection.execute("COMMIT")

    def seal(self, end: Position) -> None:
        """Mark the log as closed at `end` and put it into one file."""
        with disk_trouble_told(self._path):
            connection = self._open()
            connection.execute(
                "INSERT OR REPLACE INTO seal (id, n, last_seq, head) VALUES (1, ?, ?, ?)",
                (end.n, end.last_seq, end.chain),
            )
            connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
            (mode,) = connection.execute("PRAGMA journal_mode=DELETE").fetchone()
            if mode not in {b"delete", "delete"}:
                raise LogFault(self._path, "is sealed but still in use by a reader")

    def drop(self) -> None:
        """Let the connection go, unless it is the last way to a file whose name is gone."""
        if self._connection is None or not self._path.exists():
            return
        connection, self._connection = self._connection, None
        with disk_trouble_told(self._path):
            connection.close()

    def release(self) -> None:
        """Let the connection go for good."""
        if self._connection is not None:
            connection, self._connection = self._connection, None
            with disk_trouble_told(self._path):
                connection.close()

    def _open(self) -> sqlite3.Connection:
        if self._connection is not None and not self._path.exists():
            self._rescue(self._connection)
        found = self._path.stat()
        identity = (found.st_dev, found.st_ino)
        if self._connection is None:
            self._connection = self._connect(self._path)
            self._identity = identity if self._identity is None else self._identity
        if identity != self._identity:
            raise LogFault(self._path, "another file lies in the place of the log")
        return self._connection

    def _rescue(self, connection: sqlite3.Connection) -> None:
        """The file's name is gone, the file is not while we hold it: copy it whole and go on in the copy."""
        if not self._path.parent.is_dir():
            raise LogFault(self._path, "its folder is gone")
        copy = Path(f"{self._path}.copy")
        copy.unlink(missing_ok=True)
        with closing(sqlite3.connect(copy)) as whole:
            connection.backup(whole)
        for left_over in ("-wal", "-shm"):
            Path(f"{self._path}{left_over}").unlink(missing_ok=True)
        copy.replace(self._path)
        self._connection, self._identity = None, None
        connection.close()

    def _holds(self, batch: Batch, before: Position) -> bool:
        end = _end_of(self._open())
        if end == batch.end:
            return True
        if end != before:
            raise LogFault(
                self._path,
                f"another hand wrote in it: it ends with batch {end.n} (arrival {end.last_seq}) "
                f"where batch {before.n} (arrival {before.last_seq}) was written last",
            )
        return False


def _end_of(connection: sqlite3.Connection) -> Position:
    row = connection.execute("SELECT n, last_seq, at_ns, chain FROM batch ORDER BY n DESC LIMIT 1").fetchone()
    if row is not None:
        return Position(*row)
    (body,) = connection.execute("SELECT body FROM header").fetchone()
    return start_of(body)


def _insert(connection: sqlite3.Connection, batch: Batch, states: tuple[KeptState, ...]) -> None:
    connection.execute(
        "INSERT INTO batch (n, first_seq, last_seq, at_ns, arrivals, derived, chain) "
        "VALUES (?, ?, ?, ?, ?, ?, ?)",
        (
            batch.n,
            batch.first_seq,
            batch.last_seq,
            batch.at_ns,
            batch.arrivals.decode(),
            batch.derived.decode(),
            batch.chain,
        ),
    )
    connection.executemany(
        "INSERT INTO checkpoint (seq, at_ns, body, digest) VALUES (?, ?, ?, ?)",
        [(one.seq, one.at_ns, one.body.decode(), one.digest) for one in states],
    )
