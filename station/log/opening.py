"""Opening a log for reading only: the crashed, the cut and the foreign, each told apart."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Final

from station.log.fault import LogFault
from station.log.header import SCHEMA
from station.log.schema import APPLICATION_ID, TABLES, VALUE_LIMIT_BYTES

PAGE_FAULTS: Final = (sqlite3.Error, UnicodeDecodeError)
"""What reading torn pages may raise; the second when SQLite's own message quotes bytes of them."""

_MAGIC: Final = b"SQLite format 3\x00"


@contextmanager
def page_faults_told(path: Path) -> Iterator[None]:
    """Turn what SQLite says of torn pages into LogFault."""
    try:
        yield
    except PAGE_FAULTS as error:
        raise LogFault(path, f"cannot be read: {error}") from error


def connect_reading(path: Path) -> sqlite3.Connection:
    """A connection that can change nothing. Raises LogFault when the file is no log, naming why."""
    _look_at_magic(path)
    connection = _connected(path)
    try:
        with page_faults_told(path):
            _look_at_tables(path, connection)
    except LogFault:
        connection.close()
        raise
    return connection


def version_of(connection: sqlite3.Connection) -> int:
    """The version of the log's layout."""
    return int(_pragma(connection, "user_version"))


def missing_bytes(path: Path, connection: sqlite3.Connection) -> int:
    """How many bytes the file lacks of what its own first page promises; 0 when it is whole."""
    if Path(f"{path}-wal").exists():
        return 0  # the pages may still wait beside the file
    with path.open("rb") as file:
        promised = int.from_bytes(file.read(32)[28:32], "big")
    with page_faults_told(path):
        return max(0, promised * _pragma(connection, "page_size") - path.stat().st_size)


def _look_at_magic(path: Path) -> None:
    try:
        with path.open("rb") as file:
            start = file.read(len(_MAGIC))
    except OSError as error:
        raise LogFault(path, f"cannot be read: {error.strerror}") from error
    if start != _MAGIC:
        raise LogFault(path, "is empty" if not start else "is not a log: not an SQLite file")


def _connected(path: Path) -> sqlite3.Connection:
    address = f"{path.absolute().as_uri()}?mode=ro"
    if not _can_be_opened(address):
        beside = Path(f"{path}-wal")
        if beside.exists():
            reason = (
                f"cannot be read where it lies: copy it with {beside.name} into a folder that can be written"
            )
            raise LogFault(path, reason)
        # A folder that cannot be written, and nothing waiting beside the file: it stands still.
        address += "&immutable=1"
    with page_faults_told(path):
        connection = _careful(address)
        if not _answers(connection):
            # A file that was cut is refused as a whole unless SQLite is told to take the schema as it is.
            connection.execute("PRAGMA writable_schema=ON")
    return connection


def _careful(address: str) -> sqlite3.Connection:
    connection = sqlite3.connect(address, uri=True, isolation_level=None, check_same_thread=False)
    connection.text_factory = bytes
    connection.setlimit(sqlite3.SQLITE_LIMIT_LENGTH, VALUE_LIMIT_BYTES)
    connection.execute("PRAGMA trusted_schema=OFF")
    connection.execute("PRAGMA cell_size_check=ON")
    connection.execute("PRAGMA query_only=ON")
    return connection


def _can_be_opened(address: str) -> bool:
    connection = _careful(address)
    try:
        connection.execute("PRAGMA schema_version")
    except sqlite3.OperationalError:
        return False
    except PAGE_FAULTS:
        return True
    finally:
        connection.close()
    return True


def _answers(connection: sqlite3.Connection) -> bool:
    try:
        connection.execute("SELECT count(*) FROM sqlite_master").fetchone()
    except PAGE_FAULTS:
        return False
    return True


def _look_at_tables(path: Path, connection: sqlite3.Connection) -> None:
    if _pragma(connection, "application_id") != APPLICATION_ID:
        raise LogFault(path, "is not a log: an SQLite file of another program")
    if version_of(connection) != SCHEMA:
        return
    found = dict(connection.execute("SELECT name, sql FROM sqlite_master LIMIT 100").fetchall())
    wanted = {name.encode(): statement.encode() for name, statement in TABLES.items()}
    odd = [name for name in found.keys() | wanted.keys() if found.get(name) != wanted.get(name)]
    if odd:
        raise LogFault(path, f"is not laid out as a log: {', '.join(sorted(map(repr, odd)))}")


def _pragma(connection: sqlite3.Connection, name: str) -> int:
    (value,) = connection.execute(f"PRAGMA {name}").fetchone()
    return int(value)
