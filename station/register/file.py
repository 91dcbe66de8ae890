"""One register on disk: opened or made, read from the first entry to the last, added to, never changed.

Adding an entry again under the uid that it has already adds nothing: after a crash the station gives the
register every entry of its log once more, and nothing is lost or doubled.
"""

import sqlite3
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Final, Generic, TypeVar, cast

from station.plain import Plain, canonical, parse
from station.prepare.gear import Gear
from station.prepare.gear_acts import GearAct, GearEntry
from station.prepare.gear_fold import take_gear
from station.prepare.people import People, PersonAct, PersonEntry, take_person
from station.prepare.refusal import Refusal
from station.register.codec import from_plain, to_plain
from station.register.fault import RegisterFault
from station.register.schema import (
    APPLICATION_ID,
    SCHEMA,
    START,
    STATEMENTS,
    VERSION,
    Book,
    connect,
    link,
)

S = TypeVar("S", Gear, People)
E = TypeVar("E", GearEntry, PersonEntry)

Connect = Callable[[Path], sqlite3.Connection]
"""Opens the writing connection; tests put a full disk here."""

BUSY_MS: Final = 5_000
"""So long a second program may hold the file before it is told of. Own choice."""


@contextmanager
def _told(path: Path) -> Iterator[None]:
    """Turn what the disk or the file does to us into RegisterFault; a mistake of ours passes as it is."""
    try:
        yield
    except OSError as error:
        raise RegisterFault(path, (error.strerror or str(error),)) from error
    except sqlite3.DatabaseError as error:
        if type(error) not in {sqlite3.OperationalError, sqlite3.DatabaseError}:
            raise
        raise RegisterFault(path, (str(error),)) from error


class Register(Generic[S, E]):
    """A register that is open. Every method may raise RegisterFault; `state` is the fold of all entries."""

    def __init__(
        self,
        path: Path,
        book: Book,
        empty: S,
        fold: Callable[[S, E], S | Refusal],
        read: Callable[[str, str, str, Plain], E],
        *,
        connecting: Connect = connect,
    ) -> None:
        self._path = path
        self._fold: Callable[[S, E], S | Refusal] = fold
        self._read: Callable[[str, str, str, Plain], E] = read
        self.state: S = empty
        self.entries: tuple[E, ...] = ()
        self._head = START
        with _told(path):
            path.parent.mkdir(parents=True, exist_ok=True)
            self._connection = connecting(path)
            try:
                self._connection.execute(f"PRAGMA busy_timeout={BUSY_MS}")
                _lay_out(self._connection, book)
                _check_kind(path, self._connection, book)
                self._take_up()
            except BaseException:
                self._connection.close()
                raise

    def add(self, entries: Iterable[E]) -> int:
        """Add the entries that are not there yet, all or none; how many were added, when the disk has them.

        Raises RegisterFault with every reason when some cannot be taken.
        """
        with _told(self._path):
            self._connection.execute("BEGIN IMMEDIATE")
            try:
                # Another program may have added since we looked.
                self._take_up()
                added = self._insert(tuple(entries))
                self._connection.execute("COMMIT")
            except BaseException:
                if self._connection.in_transaction:
                    self._connection.execute("ROLLBACK")
                raise
            self._take_up()
            return added

    def close(self) -> None:
        """Let the file go."""
        with _told(self._path):
            self._connection.close()

    def _insert(self, entries: tuple[E, ...]) -> int:
        new, reasons = self._judged(entries)
        if reasons:
            raise RegisterFault(self._path, reasons, of_entries=True)
        n, head = len(self.entries), self._head
        for entry in new:
            n += 1
            fields: tuple[str, str, str, str] = _fields(entry)
            head = link(head, n, fields)
            self._connection.execute(
                "INSERT INTO entry (n, uid, utc, by, act, chain) VALUES (?, ?, ?, ?, ?, ?)",
                (n, *fields, head),
            )
        return len(new)

    def _judged(self, entries: tuple[E, ...]) -> tuple[tuple[E, ...], tuple[str, ...]]:
        """The entries that are new, and why some cannot be taken."""
        known = {entry.uid: entry for entry in self.entries}
        state, new, reasons = self.state, [], []
        for place, entry in enumerate(entries, 1):
            if not entry.uid.strip():
                reasons.append(f"entry {place}: an entry needs its uid")
            elif entry.uid in known:
                if known[entry.uid].act != entry.act:
                    reasons.append(f"entry {place}: {entry.uid} is in the register with other words")
            else:
                after = self._fold(state, entry)
                if isinstance(after, Refusal):
                    reasons.append(f"entry {place}: {after.reason}")
                else:
                    state = after
                    new.append(entry)
                known[entry.uid] = entry
        return tuple(new), tuple(reasons)

    def _take_up(self) -> None:
        """Read and fold what stands in the file behind what is known."""
        rows = self._connection.execute(
            "SELECT n, uid, utc, by, act, chain FROM entry WHERE n > ? ORDER BY n", (len(self.entries),)
        ).fetchall()
        state, entries, head = self.state, list(self.entries), self._head
        for n, uid, utc, by, act, chain in rows:
            head = link(head, n, (uid, utc, by, act))
            if n != len(entries) + 1 or head != chain:
                raise RegisterFault(self._path, (f"entry {n} was changed or one before it is missing",))
            entry = self._entry(n, uid, utc, by, act)
            after = self._fold(state, entry)
            if isinstance(after, Refusal):
                raise RegisterFault(self._path, (f"entry {n}: {after.reason}",))
            state = after
            entries.append(entry)
        self.state, self.entries, self._head = state, tuple(entries), head

    def _entry(self, n: int, uid: str, utc: str, by: str, act: str) -> E:
        try:
            return self._read(uid, utc, by, parse(act))
        except ValueError as error:
            raise RegisterFault(self._path, (f"entry {n}: {error}",)) from error


def open_gear(path: Path, connecting: Connect = connect) -> Register[Gear, GearEntry]:
    """The gear register at `path`, made when it is not there. Raises RegisterFault."""
    return Register(path, Book.GEAR, Gear(), take_gear, _gear_entry, connecting=connecting)


def open_people(path: Path, connecting: Connect = connect) -> Register[People, PersonEntry]:
    """The register of people at `path`, made when it is not there. Raises RegisterFault."""
    return Register(path, Book.PEOPLE, People(), take_person, _person_entry, connecting=connecting)


def _gear_entry(uid: str, utc: str, by: str, act: Plain) -> GearEntry:
    return GearEntry(uid, utc, by, cast(GearAct, from_plain(act, GearAct)))


def _person_entry(uid: str, utc: str, by: str, act: Plain) -> PersonEntry:
    return PersonEntry(uid, utc, by, cast(PersonAct, from_plain(act, PersonAct)))


def _fields(entry: GearEntry | PersonEntry) -> tuple[str, str, str, str]:
    return entry.uid, entry.utc, entry.by, canonical(to_plain(entry.act)).decode()


def _lay_out(connection: sqlite3.Connection, book: Book) -> None:
    """Give an empty file its tables, all or none; a file that a kill left empty is laid out now."""
    connection.execute("BEGIN IMMEDIATE")
    try:
        if _tables(connection) == [] and _pragma(connection, "application_id") == 0:
            connection.execute(f"PRAGMA application_id={APPLICATION_ID}")
            connection.execute(f"PRAGMA user_version={VERSION}")
            for statement in STATEMENTS:
                connection.execute(statement)
            body = canonical({"schema": SCHEMA, "book": book.value}).decode()
            connection.execute("INSERT INTO about (id, body) VALUES (1, ?)", (body,))
        connection.execute("COMMIT")
    except BaseException:
        if connection.in_transaction:
            connection.execute("ROLLBACK")
        raise


def _tables(connection: sqlite3.Connection) -> list[str]:
    rows = connection.execute("SELECT sql FROM sqlite_master WHERE sql IS NOT NULL")
    return sorted(str(row[0]) for row in rows)


def _pragma(connection: sqlite3.Connection, name: str) -> int:
    (value,) = connection.execute(f"PRAGMA {name}").fetchone()
    return int(value)


def _check_kind(path: Path, connection: sqlite3.Connection, book: Book) -> None:
    if _pragma(connection, "application_id") != APPLICATION_ID:
        raise RegisterFault(path, ("is no register of this program",))
    version = _pragma(connection, "user_version")
    if version != VERSION:
        raise RegisterFault(path, (f"is of version {version}, this program reads {VERSION}",))
    if _tables(connection) != sorted(STATEMENTS):
        raise RegisterFault(path, ("its tables or the triggers that guard them were changed",))
    (body,) = connection.execute("SELECT body FROM about").fetchone()
    found = cast("dict[str, Plain]", parse(body)).get("book")
    if found != book.value:
        raise RegisterFault(path, (f"is the register of {found}, not of {book}",))
