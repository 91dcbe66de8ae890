"""The files of the tables that come with the program: their only reader."""

from collections.abc import Mapping
from importlib.resources import files

from station.core.tables.parse import FILES, parse_table_set
from station.core.tables.table_set import TableSet

DEFAULT_TABLES = "usn_rev7"


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
