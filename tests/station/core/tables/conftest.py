"""The tables that every rule is tested on."""

import pytest

from station.core.tables.table_set import TableSet
from station.table_files import load_tables


@pytest.fixture(scope="session")
def tables() -> TableSet:
    """The tables that come with the program."""
    return load_tables()
