"""A register as a file: an SQLite database, version 1, that any tool can open and no tool can rewrite unseen.

    about(id, body)                 one row: {"schema": "overbottom-register/1", "book": "gear" or "people"}
    entry(n, uid, utc, by, act,     one row an entry, in order; `act` as plain JSON; `uid` names the entry
          chain)                    for ever; `chain` is the SHA-256 over the row before and this one

Triggers refuse to change or remove a row, or to add one out of order. The history of one item, in any SQLite
shell:

    SELECT n, utc, by, act FROM entry WHERE json_extract(act, '$.serial') = 'H-07'
        OR json_extract(act, '$.item.serial') = 'H-07' ORDER BY n;
"""

import sqlite3
from enum import StrEnum
from hashlib import sha256
from pathlib import Path
from typing import Final

SCHEMA: Final = "overbottom-register/1"

APPLICATION_ID: Final = 0x4F425247
"""Marks an SQLite file as one of ours ("OBRG" in the file's first page)."""

VERSION: Final = 1

START: Final = b"\0" * 32
"""What the first row is chained to."""


class Book(StrEnum):
    """Which register a file is."""

    GEAR = "gear"
    PEOPLE = "people"


_REFUSED: Final = "a register only grows"

STATEMENTS: Final = (
    "CREATE TABLE about (id INTEGER PRIMARY KEY CHECK (id = 1), body TEXT NOT NULL)",
    (
        "CREATE TABLE entry (n INTEGER PRIMARY KEY, uid TEXT NOT NULL UNIQUE, utc TEXT NOT NULL, "
        "by TEXT NOT NULL, act TEXT NOT NULL, chain BLOB NOT NULL)"
    ),
    *(
        f"CREATE TRIGGER {table}_{what.lower()} BEFORE {what} ON {table} "
        f"BEGIN SELECT RAISE(ABORT, '{_REFUSED}'); END"
        for table in ("about", "entry")
        for what in ("UPDATE", "DELETE")
    ),
    (
        "CREATE TRIGGER entry_order BEFORE INSERT ON entry "
        "WHEN NEW.n <> (SELECT coalesce(max(n), 0) + 1 FROM entry) "
        "OR EXISTS (SELECT 1 FROM entry WHERE uid = NEW.uid) "
        f"BEGIN SELECT RAISE(ABORT, '{_REFUSED}'); END"
    ),
)
"""What version 1 consists of. INSERT OR REPLACE deletes without the trigger; the order trigger stops it."""


def link(before: bytes, n: int, fields: tuple[str, str, str, str]) -> bytes:
    """The chain's digest of a row: over the digest before it, its number, and each field with its length."""
    digest = sha256(before)
    digest.update(str(n).encode())
    for field in fields:
        raw = field.encode("utf-8", "surrogatepass")
        digest.update(f":{len(raw)}:".encode())
        digest.update(raw)
    return digest.digest()


def connect(path: Path) -> sqlite3.Connection:
    """The writing connection, to a file that is made when it is not there; synced at every commit.

    Raises sqlite3.Error.
    """
    connection = sqlite3.connect(f"{path.absolute().as_uri()}?mode=rwc", uri=True, isolation_level=None)
    connection.execute("PRAGMA journal_mode=WAL")
    connection.execute("PRAGMA synchronous=FULL")
    connection.execute("PRAGMA fullfsync=ON")
    connection.execute("PRAGMA checkpoint_fullfsync=ON")
    return connection
