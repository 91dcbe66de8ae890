"""A writer to be killed or watched: takes up or begins the log it is given, prints each confirmed number."""

import sys
import time
from pathlib import Path

from shared.clock import Instant
from station.core.inputs import OperatorEvent, Remark, Tick
from station.core.settings import Settings, Units
from station.core.state import State
from station.log.header import Header
from station.log.journal import Journal
from station.log.resuming import look_at, take_up

_SETTINGS = Settings("Lock gate 3", "sill", "A. Example", Units.US, divers=(), supplies=(), gauges=())


def journal_at(path: Path) -> Journal:
    """The journal of a new log, or of the one that was left."""
    if path.exists():
        return take_up(look_at(path), monotonic=time.monotonic)
    header = Header("0.1.0", "live", "", _SETTINGS, "USN Rev 7", 1, "boot-1")
    return Journal.begin(path, header, monotonic=time.monotonic)


def main(path: Path, count: int) -> None:
    """Write pairs of a tick and an operator's event, each pair confirmed before the next."""
    journal = journal_at(path)
    first = journal.committed_seq + 1
    for seq in range(first, first + 2 * count, 2):
        journal.append(seq, Tick(Instant(seq)))
        journal.append(
            seq + 1, OperatorEvent(Instant(seq + 1), "Tender", seq, Remark("", f"remark {seq + 1}"))
        )
        if seq % 7 == 0:
            state = State(settings=_SETTINGS, utc_epoch_ns=1, seq=seq + 1, now=Instant(seq + 1))
            journal.checkpoint(seq + 1, state)
        if not journal.wait_committed(seq + 1, 60.0):
            sys.exit(f"not committed: {journal.failure}")
        sys.stdout.write(f"{journal.committed_seq}\n")
        sys.stdout.flush()


if __name__ == "__main__":
    main(Path(sys.argv[1]), int(sys.argv[2]))
