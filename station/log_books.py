"""The tables for a log that is played again: the set that it names, as this program has it."""

from functools import cache
from pathlib import Path

from station.core.books import Books
from station.log.fault import LogFault
from station.log.header import Header
from station.table_files import load_books

_loaded = cache(load_books)


def books_for(path: Path, header: Header) -> Books:
    """The tables of a log. Raises LogFault when this program has no set of that name."""
    try:
        return _loaded(header.settings.tables)
    except LookupError as error:
        raise LogFault(path, f"its tables: {error}") from error
