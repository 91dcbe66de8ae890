"""A header, journals that are closed behind the test, and a small log whose batches are known."""

import sqlite3
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from shared.arrivals import Received
from shared.clock import Instant
from station.core.facts import Refused
from station.core.inputs import Arrival, OperatorEvent, Remark, Tick
from station.core.settings import Settings, Units
from station.core.state import State
from station.log.fault import LogFault
from station.log.header import CarryOver, Header
from station.log.journal import Journal

PATIENCE_S = 30.0
_SETTINGS = Settings("Lock gate 3", "sill", "A. Example", Units.US, divers=(), supplies=(), gauges=())


@pytest.fixture
def header() -> Header:
    """The header of an invented station day."""
    return Header(
        program="0.1.0",
        mode="live",
        station_file='[station]\nname = "Lock gate 3"\n',
        settings=_SETTINGS,
        tables="USN Rev 7",
        utc_epoch_ns=1_900_000_000_000_000_000,
        boot_id="boot-1",
        carry_over=(CarryOver("Diver 1", "C", 1_899_990_000_000_000_000), CarryOver("Standby", None, None)),
        head_before="ab" * 32,
    )


@pytest.fixture
def begin(tmp_path: Path, header: Header) -> Iterator[Callable[..., Journal]]:
    """Makes journals; whatever a test leaves open is let go, and what cannot be written is let be."""
    made: list[Journal] = []

    def make(name: str = "day.log", **changes: Any) -> Journal:
        journal = Journal.begin(tmp_path / name, header, **{"monotonic": time.monotonic} | changes)
        made.append(journal)
        return journal

    yield make
    for journal in made:
        try:
            journal.close(finished=False, patience_s=0.05)
        except (LogFault, RuntimeError):
            continue


@pytest.fixture
def press() -> Callable[[int], OperatorEvent]:
    """The operator's event with a number: committed at once, so that each makes a batch of its own."""
    return _press


def _press(seq: int) -> OperatorEvent:
    return OperatorEvent(_at(seq), "Tender", seq - 1, Remark("", f"remark {seq}"))


def _at(seq: int) -> Instant:
    return Instant(seq * 100_000_000)


@pytest.fixture
def state_after() -> Callable[[int], State]:
    """A state with the number and the instant of an arrival of the small log."""
    return _state_after


def _state_after(seq: int) -> State:
    return State(settings=_SETTINGS, utc_epoch_ns=1, seq=seq, now=_at(seq))


def arrivals_of(events: int) -> list[Arrival]:
    """Three arrivals for each event: bytes, a tick, a press."""
    arrivals: list[Arrival] = []
    for _ in range(events):
        seq = len(arrivals) + 1
        line = f"$WIXDR,P,{seq / 1000:.4f},B,P1*00\r\n".encode()
        arrivals.append(Received(_at(seq), "serial:///dev/ttyUSB0", line))
        arrivals.append(Tick(_at(seq + 1)))
        arrivals.append(_press(seq + 2))
    return arrivals


@pytest.fixture
def small_log(begin: Callable[..., Journal]) -> Callable[..., tuple[Path, list[Arrival]]]:
    """Writes a log of `events` batches with facts and checkpoints; gives its path and arrivals."""

    def make(events: int = 40, finished: bool = True, name: str = "day.log") -> tuple[Path, list[Arrival]]:
        # A clock that stands still: only the presses make batches fall due, however slow the machine is.
        journal = begin(name, monotonic=lambda: 0.0)
        arrivals = arrivals_of(events)
        for seq, arrival in enumerate(arrivals, 1):
            journal.append(seq, arrival)
            if seq % 3 == 0:
                assert journal.wait_committed(seq, PATIENCE_S)
                journal.derive(seq, Refused(arrival.at, "remark", f"reason {seq}"))
            if seq % 30 == 0:
                journal.trace(seq, arrival.at, {"depth_fsw": 12.5, "next": None})
                journal.digest(seq, "cd" * 32, ("phase", "depth"))
                journal.checkpoint(seq, _state_after(seq))
        journal.close(finished)
        return journal.path, arrivals

    return make


@pytest.fixture
def edit() -> Callable[..., None]:
    """Does to a log what no program of ours does: runs SQL statements on it."""

    def run(path: Path, *statements: str) -> None:
        connection = sqlite3.connect(path, isolation_level=None)
        try:
            for statement in statements:
                connection.execute(statement)
        finally:
            connection.close()

    return run
