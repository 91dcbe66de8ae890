"""The log as a file: an SQLite database, version 1, that any tool can open.

    header(id, body)                      one row: plain JSON, see `station.log.header`
    batch(n, first_seq, last_seq, at_ns,  one row per commit: the arrivals first_seq to last_seq, in order,
          arrivals, derived, chain)       as a JSON list; the derived records as another; the chain's digest
    checkpoint(seq, at_ns, body, digest)  the whole state after an arrival, plain JSON, with its SHA-256
    seal(id, n, last_seq, head)           one row once the log is closed: where it ends

How the chain is computed stands in `station.log.records`. Batches are never changed and never removed.
A batch without arrivals has last_seq = first_seq - 1. Two examples, for any SQLite shell:

    -- everything that came on one line, with its number and its station time in seconds
    SELECT batch.first_seq + a.key AS seq, json_extract(a.value, '$[1]') / 1e9 AS at_s,
           json_extract(a.value, '$[3]') AS data
      FROM batch, json_each(batch.arrivals) AS a
     WHERE json_extract(a.value, '$[0]') = 'received' AND json_extract(a.value, '$[2]') LIKE '%ttyUSB0%';

    -- every alarm, with the number of the arrival that changed it
    SELECT json_extract(d.value, '$[0]') AS seq, json_extract(d.value, '$[2].id') AS alarm,
           json_extract(d.value, '$[2].subject') AS subject,
           json_extract(d.value, '$[2].standing') AS standing
      FROM batch, json_each(batch.derived) AS d
     WHERE json_extract(d.value, '$[2].fact') = 'alarm_changed';
"""

import os
import sqlite3
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from station.log.fault import LogFault
from station.log.header import SCHEMA, Header, header_text
from station.plain import Plain

APPLICATION_ID: Final = 0x4F42544D
"""Marks an SQLite file as one of ours ("OBTM" in the file's first page)."""

VALUE_LIMIT_BYTES: Final = 64 * 1024 * 1024
"""No text in a log is longer; a file that says so is not believed. Own choice: a state is under 1 MiB."""

TABLES: Final[dict[str, str]] = {
    "header": "CREATE TABLE header (id INTEGER PRIMARY KEY CHECK (id = 1), body TEXT NOT NULL)",
    "batch": (
        "CREATE TABLE batch (n INTEGER PRIMARY KEY, first_seq INTEGER NOT NULL, last_seq INTEGER NOT NULL, "
        "at_ns INTEGER NOT NULL, arrivals TEXT NOT NULL, derived TEXT NOT NULL, chain BLOB NOT NULL)"
    ),
    "checkpoint": (
        "CREATE TABLE checkpoint (seq INTEGER PRIMARY KEY, at_ns INTEGER NOT NULL, body TEXT NOT NULL, "
        "digest BLOB NOT NULL)"
    ),
    "seal": (
        "CREATE TABLE seal (id INTEGER PRIMARY KEY CHECK (id = 1), n INTEGER NOT NULL, "
        "last_seq INTEGER NOT NULL, head BLOB NOT NULL)"
    ),
}
"""The tables of version 1, word for word as the file holds them; a file with any other is refused."""


@dataclass(frozen=True, slots=True)
class Upcaster:
    """Lifts what one version stored to the next version, one plain value at a time."""

    header: Callable[[Plain], Plain]
    arrival: Callable[[Plain], Plain]
    derived: Callable[[Plain], Plain]
    state: Callable[[Plain], Plain]


UPCASTERS: Final[Mapping[int, Upcaster]] = {}
"""By the version that it lifts from; version 1 is the first."""


def lifters(version: int, upcasters: Mapping[int, Upcaster] = UPCASTERS) -> tuple[Upcaster, ...]:
    """The steps from `version` to the one that this program reads. Raises ValueError when there is no way."""
    if version > SCHEMA:
        raise ValueError(
            f"written by a newer program: log version {version}, this program reads up to {SCHEMA}"
        )
    missing = [step for step in range(version, SCHEMA) if step not in upcasters]
    if version < 1 or missing:
        raise ValueError(f"log version {version} is not known to this program")
    return tuple(upcasters[step] for step in range(version, SCHEMA))


def create(path: Path, header: Header) -> None:
    """Make a new log with its header, whole or not at all. Raises LogFault."""
    for beside in (path, Path(f"{path}-wal"), Path(f"{path}-journal")):
        if beside.exists():
            raise LogFault(path, f"cannot be made: {beside} exists already")
    try:
        os.close(os.open(path, os.O_CREAT | os.O_EXCL | os.O_RDWR, 0o644))
    except OSError as error:
        raise LogFault(path, f"cannot be made: {error.strerror}") from error
    try:
        _lay_out(path, header_text(header))
    except sqlite3.Error as error:
        path.unlink()
        raise LogFault(path, f"cannot be made: {error}") from error


def _lay_out(path: Path, body: bytes) -> None:
    connection = sqlite3.connect(path, isolation_level=None)
    try:
        connection.execute("PRAGMA synchronous=FULL")
        connection.execute("BEGIN IMMEDIATE")
        connection.execute(f"PRAGMA application_id={APPLICATION_ID}")
        connection.execute(f"PRAGMA user_version={SCHEMA}")
        for statement in TABLES.values():
            connection.execute(statement)
        connection.execute("INSERT INTO header (id, body) VALUES (1, ?)", (body.decode(),))
        connection.execute("COMMIT")
    finally:
        connection.close()


def connect_writing(path: Path) -> sqlite3.Connection:
    """The one writing connection: write-ahead log, synced at every commit. Raises sqlite3.Error."""
    connection = sqlite3.connect(
        f"{path.absolute().as_uri()}?mode=rw", uri=True, isolation_level=None, check_same_thread=False
    )
    connection.text_factory = bytes
    connection.execute("PRAGMA journal_mode=WAL")
    connection.execute("PRAGMA synchronous=FULL")
    # Where the system has a stronger sync than fsync (macOS), it is asked for; elsewhere this does nothing.
    connection.execute("PRAGMA fullfsync=ON")
    connection.execute("PRAGMA checkpoint_fullfsync=ON")
    return connection
