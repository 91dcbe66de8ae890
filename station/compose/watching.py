"""One watch from its first arrival to its last: pump, log, listeners, and the page at the end."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import TextIO

from drivers.decode import hear
from shared.clock import EPOCH, Clock, seconds_between
from station.core.books import Books
from station.core.inputs import Arrival
from station.core.state import State
from station.log.journal import Journal
from station.present.looks import Mode
from station.present.status import LogLine
from station.present.summary import Tally, summary
from station.publishing import LineOut, StatusLines, all_of
from station.pump import Publish, Pump


@dataclass(frozen=True, slots=True)
class Outputs:
    """What the caller asked to be given: the status stream, windows fed by a listener, and horns."""

    status: LineOut | None = None
    windows: Publish | None = None
    sound: tuple[Publish, ...] = ()


class LogClock:
    """What the status says of the log: what is committed, and how long ago."""

    def __init__(self, journal: Journal, monotonic: Callable[[], float]) -> None:
        self._journal = journal
        self._monotonic = monotonic
        self._seen = journal.committed_seq
        self._at_s = monotonic()

    def __call__(self) -> LogLine:
        """The line of the status."""
        committed = self._journal.committed_seq
        if committed != self._seen:
            self._seen, self._at_s = committed, self._monotonic()
        return LogLine(str(self._journal.path), committed, self._monotonic() - self._at_s)


def seconds_of(clock: Clock) -> Callable[[], float]:
    """The seconds of a clock, for whatever counts wall time."""
    return lambda: seconds_between(EPOCH, clock.now())


def keep_watch(
    first: State,
    arrivals: Iterable[Arrival],
    journal: Journal,
    mode: Mode,
    outputs: Outputs,
    *,
    books: Books,
    log: LogClock,
    saw: Callable[[int], None],
) -> tuple[State, Tally]:
    """Pump every arrival; `saw` is told the number of the last one taken. The log stays open."""
    tally = Tally()
    listeners: list[Publish] = [*outputs.sound, tally]
    if outputs.status is not None:
        listeners.append(StatusLines(outputs.status, mode, log, first, books))
    if outputs.windows is not None:
        listeners.append(outputs.windows)
    pump = Pump(first, hear, journal, all_of(*listeners), books)
    for arrival in arrivals:
        pump.step(arrival)
        saw(pump.state.seq)
    return pump.state, tally


def write_summary(
    state: State, tally: Tally, journal: Journal, pictures: Path | None, out: TextIO, *, books: Books
) -> None:
    """Print the one-page summary and leave it beside the log."""
    page = journal.path.with_name(f"{journal.path.name}.summary.txt")
    closing = [f"Log: {journal.path}", f"Head digest of the log: {journal.head}"]
    if pictures is not None:
        closing.append(f"Pictures of the windows: {pictures}")
    closing.append(f"This page: {page}")
    text = summary(state, tally, tuple(closing), books)
    page.write_text(text, encoding="utf-8")
    out.write(text)
