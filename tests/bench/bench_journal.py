"""What the log costs: packing, committing against the bare disk in the same run, reading back.

    python tests/bench/bench_journal.py [FOLDER]

prints one JSON object. The folder says which disk is measured; without one it is the folder for temporary
files. Figures move with the disk and what else the machine does: compare `confirm` with `raw`, not days.
"""

import json
import os
import statistics
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

from shared.arrivals import Received
from shared.clock import Instant
from station.core.inputs import Arrival, OperatorEvent, Remark, Tick
from station.core.settings import Settings, Units
from station.core.state import DiverState, Sample, State
from station.log.gathering import WaitingArrival, packed
from station.log.header import Header, header_text
from station.log.journal import Journal
from station.log.reading import LogReader
from station.log.records import start_of
from station.log.store import Store
from station.plain import (
    arrival_from_plain,
    arrival_to_plain,
    canonical,
    parse,
    state_from_plain,
    state_to_plain,
)

COMMITS = 400
ARRIVALS = 60_000
PACKINGS = 20_000
BATCH_ARRIVALS = 3
_LINE = b"$WIXDR,P,1.23456,B,PNEUMO1*5A\r\n"
_PORT = "serial:///dev/ttyUSB0?baud=9600"


def header() -> Header:
    """The header of an empty station."""
    settings = Settings("Lock gate 3", "sill", "A. Example", Units.US, divers=(), supplies=(), gauges=())
    return Header("bench", "live", "", settings, "none", 0, "bench")


def arrival(seq: int) -> Arrival:
    """One tick to two lines, as a day brings them."""
    at = Instant(seq * 33_333_333)
    return Tick(at) if seq % 3 == 0 else Received(at, _PORT, _LINE)


def spread(seconds: list[float]) -> dict[str, float]:
    """Median, 99th percentile in ms, and how many a second."""
    cuts = statistics.quantiles(seconds, n=100)
    return {
        "p50_ms": round(cuts[49] * 1e3, 3),
        "p99_ms": round(cuts[98] * 1e3, 3),
        "per_s": round(len(seconds) / sum(seconds), 1),
    }


def timed(run: Callable[[], object]) -> float:
    """Seconds that one call takes."""
    start = time.perf_counter()
    run()
    return time.perf_counter() - start


def raw(folder: Path) -> dict[str, float]:
    """The limit: 300 bytes appended and synced."""
    descriptor = os.open(folder / "raw", os.O_CREAT | os.O_WRONLY | os.O_APPEND)

    def commit() -> None:
        os.write(descriptor, b"x" * 300)
        os.fsync(descriptor)

    seconds = [timed(commit) for _ in range(COMMITS)]
    os.close(descriptor)
    return spread(seconds)


def commits(folder: Path) -> dict[str, float]:
    """Batches packed and committed on one thread."""
    path = folder / "commits.log"
    Journal.begin(path, header(), monotonic=time.monotonic).close(finished=False)
    store = Store(path)
    end = start_of(header_text(header()))

    def commit() -> None:
        nonlocal end
        seqs = range(end.last_seq + 1, end.last_seq + 1 + BATCH_ARRIVALS)
        lines = ((seq, canonical(arrival_to_plain(arrival(seq)))) for seq in seqs)
        batch, states = packed(tuple(WaitingArrival(seq, line, 0.0, seq) for seq, line in lines), end)
        store.write(batch, states, end)
        end = batch.end

    seconds = [timed(commit) for _ in range(COMMITS)]
    store.release()
    return spread(seconds)


def confirm(folder: Path) -> dict[str, float]:
    """An operator's event: from the hand-over to the confirmation, through the writer's thread."""
    journal = Journal.begin(folder / "confirm.log", header(), monotonic=time.monotonic)

    def press(seq: int) -> None:
        journal.append(seq, OperatorEvent(Instant(seq), "Tender", seq, Remark("", "bench")))
        assert journal.wait_committed(seq, 60.0)

    seconds = [timed(lambda seq=seq: press(seq)) for seq in range(1, COMMITS + 1)]  # type: ignore[misc]
    journal.close(finished=True)
    return spread(seconds)


def packing() -> dict[str, float]:
    """Microseconds to write and read one arrival, and milliseconds for a state of four divers."""
    kinds: dict[str, Arrival] = {
        "tick": Tick(Instant(123_456_789_012)),
        "received": Received(Instant(123_456_789_012), _PORT, _LINE),
        "event": OperatorEvent(Instant(1), "Tender", 1, Remark("", "bench")),
    }
    figures: dict[str, float] = {}
    for name, one in kinds.items():
        text = canonical(arrival_to_plain(one))
        figures[f"{name}_write_us"] = _each_us(lambda one=one: canonical(arrival_to_plain(one)))  # type: ignore[misc]
        figures[f"{name}_read_us"] = _each_us(lambda text=text: arrival_from_plain(parse(text)))  # type: ignore[misc]
        figures[f"{name}_bytes"] = len(text)
    history = tuple(Sample(Instant(at), at / 2) for at in range(600))
    divers = tuple(DiverState(name, history=history) for name in ("1", "2", "3", "4"))
    state = State(settings=header().settings, utc_epoch_ns=0, divers=divers)
    text = canonical(state_to_plain(state))
    figures["state_write_ms"] = round(
        min(timed(lambda: canonical(state_to_plain(state))) for _ in range(9)) * 1e3, 3
    )
    figures["state_read_ms"] = round(
        min(timed(lambda: state_from_plain(parse(text))) for _ in range(9)) * 1e3, 3
    )
    figures["state_bytes"] = len(text)
    return figures


def _each_us(run: Callable[[], object]) -> float:
    return round(timed(lambda: [run() for _ in range(PACKINGS)]) / PACKINGS * 1e6, 2)


def reading(folder: Path) -> dict[str, float]:
    """Hand-over and reading back of a part of a day, and the size of one of twelve hours."""
    path = folder / "reading.log"
    journal = Journal.begin(path, header(), monotonic=time.monotonic)
    handed = [timed(lambda seq=seq: journal.append(seq, arrival(seq))) for seq in range(1, ARRIVALS + 1)]  # type: ignore[misc]
    journal.close(finished=True, patience_s=60.0)
    with LogReader(path) as reader:
        start = time.perf_counter()
        count = sum(1 for _ in reader.arrivals())
        seconds = time.perf_counter() - start
        assert (count, reader.fault) == (ARRIVALS, None)
    return {
        "append_p50_us": round(statistics.median(handed) * 1e6, 2),
        "append_p99_us": round(statistics.quantiles(handed, n=100)[98] * 1e6, 2),
        "read_per_s": round(count / seconds),
        "bytes_per_arrival": round(path.stat().st_size / ARRIVALS, 1),
    }


def measure(folder: Path) -> dict[str, Any]:
    """All figures, on the disk that holds `folder`."""
    return {
        "raw": raw(folder),
        "commit": commits(folder),
        "confirm": confirm(folder),
        "packing": packing(),
        "reading": reading(folder),
    }


if __name__ == "__main__":
    with tempfile.TemporaryDirectory(dir=sys.argv[1] if len(sys.argv) > 1 else None) as scratch:
        sys.stdout.write(json.dumps(measure(Path(scratch)), indent=1) + "\n")
