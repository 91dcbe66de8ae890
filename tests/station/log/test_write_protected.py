"""Logs in a folder that takes no files, as on a write-protected medium; tried as a user who may not write."""

import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from station.core.inputs import Arrival
from station.log.journal import Journal

SmallLog = Callable[..., tuple[Path, list[Arrival]]]

# The superuser may write anywhere: the child gives his rights up once it has imported what it needs.
_CHILD = """
import os, sys
from pathlib import Path
from station.log.fault import LogFault
from station.log.header import Header
from station.log.integrity import check
from station.log.journal import Journal
from station.log.reading import LogReader
from station.core.settings import Settings, Units
import encodings.idna
if os.geteuid() == 0:
    os.setuid(65534)
what, path = sys.argv[1], Path(sys.argv[2])
settings = Settings("Lock gate 3", "", "", Units.US, (), (), ())
try:
    if what == "begin":
        Journal.begin(path, Header("0", "live", "", settings, "", 1, ""), monotonic=lambda: 0.0)
    elif what == "write":
        Journal(path, monotonic=lambda: 0.0)
    else:
        with LogReader(path) as reader:
            print(sum(1 for _ in reader.arrivals()), reader.fault, check(path).sound)
except LogFault as fault:
    print(fault)
"""


@pytest.fixture
def protected() -> Iterator[Path]:
    """A folder that others may enter and read."""
    folder = Path(tempfile.mkdtemp())
    folder.chmod(0o755)
    yield folder
    folder.chmod(0o755)
    shutil.rmtree(folder)


def _run(folder: Path, what: str) -> str:
    folder.chmod(0o555)
    run = subprocess.run(
        [sys.executable, "-P", "-c", _CHILD, what, str(folder / "day.log")],
        capture_output=True,
        text=True,
        check=True,
        timeout=60,
    )
    return run.stdout.strip()


@pytest.mark.posix
def test_a_log_is_not_begun_in_a_protected_folder(protected: Path) -> None:
    """The message names the file and the system's reason."""
    assert _run(protected, "begin") == f"{protected}/day.log: cannot be made: Permission denied"


@pytest.mark.posix
@pytest.mark.parametrize("finished", [True, False])
def test_a_log_can_be_read_in_a_protected_folder(
    small_log: SmallLog, protected: Path, finished: bool
) -> None:
    """A closed log, and one that was left without anything waiting beside it."""
    path, arrivals = small_log(5, finished=finished)
    for part in (path, Path(f"{path}.sha256")):
        if part.exists():
            shutil.copy(part, protected)
    assert _run(protected, "read") == f"{len(arrivals)} None True"


@pytest.mark.posix
def test_a_log_is_not_taken_up_in_a_protected_folder(small_log: SmallLog, protected: Path) -> None:
    """The right to write is asked for before anything is touched."""
    path, _ = small_log(5, finished=False)
    shutil.copy(path, protected)
    said = _run(protected, "write")
    assert said == f"{protected}/day.log: cannot be written: day.log.lock: Permission denied"


@pytest.mark.posix
def test_a_crashed_log_in_a_protected_folder_says_what_to_do(
    begin: Callable[..., Journal], press: Callable[[int], Any], protected: Path
) -> None:
    """What still waits beside the file cannot be seen there: nothing is shown in part, the remedy is told."""
    journal = begin()
    journal.append(1, press(1))
    assert journal.wait_committed(1, 30.0)
    for part in (journal.path, Path(f"{journal.path}-wal")):
        shutil.copy(part, protected)
    said = _run(protected, "read")
    assert "day.log: cannot be read where it lies: copy it with day.log-wal into a folder" in said
