"""The tables in force, as they are handed to the core: never part of the state."""

from dataclasses import dataclass

from station.core.tables.table_set import TableSet


@dataclass(frozen=True, slots=True, eq=False)
class Books:
    """One table set with its `edition`: its title and a digest of its files, as a log's header names it.

    Two books are the same only when they are one object, so that what is worked out from them can be kept
    by whoever works it out.
    """

    tables: TableSet
    edition: str
