"""The dive record, and a log as arrays and plain values for whoever analyses it.

In a notebook: `from station.record import read_record`, then `read_record(path)`; what it holds, and in which
units, stands in `station.record.model`. Nothing here imports Qt but `station.record.pdf`.
"""

from pathlib import Path

from drivers.decode import hear
from station.record.model import Record
from station.record.reading import read_log


def read_record(path: Path | str) -> Record:
    """The record of the log at `path`. Raises LogFault, naming the file and why, when it is no log."""
    return read_log(Path(path), hear)
