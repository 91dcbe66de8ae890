"""The files of the tables that come with the program: their only reader."""

from collections.abc import Mapping
from hashlib import sha256
from importlib.resources import files
from typing import Final

from station.core.books import Books
from station.core.settings import DEFAULT_TABLES
from station.core.tables.parse import FILES, parse_table_set
from station.core.tables.table_set import TableSet

EDITION_HEX_DIGITS: Final = 16
"""So much of the digest of the files names an edition; own choice."""


def table_set_names() -> tuple[str, ...]:
    """The sets that come with the program: every folder that says what it is."""
    folders = files("station.core.tables").iterdir()
    return tuple(sorted(folder.name for folder in folders if folder.joinpath("table_set.toml").is_file()))


def table_texts(name: str = DEFAULT_TABLES) -> Mapping[str, str]:
    """The files of one set by name; a file that is not there is left out, for the parser to tell.

    Raises LookupError when no set of that name comes with the program.
    """
    if name not in table_set_names():
        raise LookupError(f"no tables named {name!r}; there are: {', '.join(table_set_names())}")
    folder = files("station.core.tables").joinpath(name)
    found = {file: folder.joinpath(file) for file in FILES}
    return {file: place.read_text(encoding="utf-8") for file, place in found.items() if place.is_file()}


def load_tables(name: str = DEFAULT_TABLES) -> TableSet:
    """One set, read and checked. Raises TableFault when its files do not hold."""
    return parse_table_set(table_texts(name))


def load_books(name: str = DEFAULT_TABLES) -> Books:
    """One set with its edition. Raises TableFault, LookupError."""
    texts = table_texts(name)
    tables = parse_table_set(texts)
    digest = sha256()
    for file in sorted(texts):
        digest.update(f"{file}\0{texts[file]}\0".encode())
    return Books(tables, f"{tables.title}, {digest.hexdigest()[:EDITION_HEX_DIGITS]}")


def other_edition(recorded: str, books: Books) -> str:
    """What is to be told of a log that was made with other tables; nothing when they are the same."""
    if recorded == books.edition:
        return ""
    return (
        f"the log was made with the tables {recorded!r}, this program has {books.edition!r}: "
        "schedules and what follows from them may differ"
    )
