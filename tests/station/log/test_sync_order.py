"""Each confirmation follows the system's own word that the disk has it, seen from outside by strace."""

import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

CHILD = Path(__file__).with_name("writing_child.py")
PAIRS = 25

_CALL = re.compile(
    r"^(?P<pid>\d+) +(?P<name>pwrite64|write|fdatasync|fsync)\((?P<fd>\d+)<(?P<file>[^>]*)>(?P<rest>.*)$"
)
_RESUMED = re.compile(r"^(?P<pid>\d+) +<\.\.\. (?P<name>\w+) resumed>(?P<rest>.*)$")


def _completed(trace: str) -> list[tuple[str, str, str]]:
    """The calls in the order of their completion: name, file, and what stood in the call and its result."""
    begun: dict[str, tuple[str, str, str]] = {}
    done = []
    for line in trace.splitlines():
        if call := _CALL.match(line):
            entry = (call["name"], call["file"], call["rest"])
            if call["rest"].endswith("<unfinished ...>"):
                begun[call["pid"]] = entry
            else:
                done.append(entry)
        elif (back := _RESUMED.match(line)) and back["pid"] in begun:
            name, file, rest = begun.pop(back["pid"])
            done.append((name, file, rest + back["rest"]))
    return done


@pytest.mark.posix
@pytest.mark.slow
def test_each_confirmation_follows_its_sync(tmp_path: Path) -> None:
    """Between the last write of a batch and the confirmation of it the write-ahead log was synced."""
    strace = shutil.which("strace")
    assert strace is not None, (
        "strace is not installed: this test cannot look at the system calls (apt install strace)"
    )
    path, trace = tmp_path / "day.log", tmp_path / "trace"
    watch = [strace, "-f", "-y", "-o", str(trace), "-e", "trace=pwrite64,write,fdatasync,fsync"]
    run = subprocess.run(
        [*watch, sys.executable, "-P", str(CHILD), str(path), str(PAIRS)],
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )
    assert run.returncode == 0, run.stderr
    assert [int(line) for line in run.stdout.split()] == list(range(2, 2 * PAIRS + 2, 2))
    unsynced, synced_since, confirmed = False, False, 0
    for name, file, rest in _completed(trace.read_text(errors="replace")):
        if name == "pwrite64" and file.endswith("day.log-wal"):
            unsynced, synced_since = True, False
        elif name in {"fdatasync", "fsync"} and file.endswith("day.log-wal"):
            assert rest.endswith("= 0")
            unsynced, synced_since = False, True
        elif name == "write" and re.match(r', "\d+\\n"', rest):
            assert not unsynced, f"confirmed before the sync: {rest}"
            assert synced_since, f"confirmed without a sync of its own: {rest}"
            synced_since = False
            confirmed += 1
    assert confirmed == PAIRS
