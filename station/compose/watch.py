"""`overbottom watch`: a real station on its ports."""

import argparse
import signal
import sys
from collections.abc import Callable
from contextlib import ExitStack
from dataclasses import dataclass
from pathlib import Path
from types import FrameType

from drivers.clock import StepWatch, SystemClock, boot_id
from drivers.decode import hear
from drivers.opening import open_port
from drivers.reader import Reader
from drivers.turns import turn_on
from shared.clock import EPOCH
from shared.gauges import ports_of
from station import __version__
from station.arriving import LiveArrivals
from station.compose.copies import copier_for, observers_of, tell_end
from station.compose.known import known_to_watch
from station.compose.places import day_log
from station.compose.screen import without_windows
from station.compose.sound import sound_for
from station.compose.watching import LogClock, Outputs, keep_watch, seconds_of, write_summary
from station.compose.windows import windows_for
from station.config import read_station
from station.core.books import Books
from station.core.fold import initial_state
from station.core.inputs import StationFact, StationFactKind
from station.core.settings import Settings
from station.core.state import State
from station.log.header import Header
from station.log.journal import Journal
from station.log.resuming import is_unfinished, look_at, take_up
from station.log_books import books_for
from station.observing import ClockObserver, LogObserver, PanelsObserver
from station.present.looks import Mode
from station.publishing import DetachedOut
from station.resuming import going_on, restored
from station.table_files import load_books, other_edition

DONE = 0
STATUS_PATIENCE_S = 2.0
"""How long the last status lines may take to be read at the end: own choice."""


@dataclass(frozen=True, slots=True)
class _Begun:
    """A watch that can begin, new or taken up again."""

    journal: Journal
    first: State
    clock: SystemClock
    fact: StationFact
    books: Books


def watch_command(options: argparse.Namespace) -> int:
    """Watch until the windows are closed, Ctrl-C or SIGTERM. Raises FileFault, LogFault."""
    settings, text = read_station(options.station, known_to_watch())
    headless = without_windows(options.headless, "watching without windows")
    path = options.log or day_log(settings.station, SystemClock().utc_ns())
    with ExitStack() as closing:
        begun = _begin(path, settings, text)
        closing.callback(begun.journal.close, finished=False)
        _watch(options, headless, begun, closing)
    return DONE


def _begin(path: Path, settings: Settings, text: str) -> _Begun:
    if path.exists() and is_unfinished(path):
        return _resume(path)
    clock = SystemClock()
    epoch_ns = clock.utc_at_start_ns
    books = load_books(settings.tables)
    header = Header(__version__, Mode.LIVE.value, text, settings, books.edition, epoch_ns, boot_id())
    journal = Journal.begin(path, header, monotonic=seconds_of(clock))
    started = StationFact(EPOCH, StationFactKind.STARTED, detail=f"overbottom {__version__}")
    return _Begun(journal, initial_state(settings, epoch_ns), clock, started, books)


def _resume(path: Path) -> _Begun:
    """The watch that was broken off, going on with the settings that it had."""
    found = look_at(path)
    journal = take_up(found, monotonic=seconds_of(SystemClock()))
    books = books_for(path, found.header)
    if told := other_edition(found.header.tables, books):
        sys.stderr.write(f"overbottom: {told}\n")
    state = restored(found, journal, hear, books)
    on = going_on(state, SystemClock().utc_ns())
    gap = "an unknown time" if on.fact.value is None else f"{on.fact.value:.1f} s"
    sys.stderr.write(f"overbottom: {path} was not closed: going on after {gap} off watch\n")
    return _Begun(journal, state, SystemClock(on.start), on.fact, books)


def _watch(options: argparse.Namespace, headless: bool, begun: _Begun, closing: ExitStack) -> None:
    first, journal, clock = begun.first, begun.journal, begun.clock
    parameters = first.settings.parameters
    log = LogClock(journal, seconds_of(clock))
    copier = copier_for(first.settings.copy_to, journal, seconds_of(clock))
    windows = windows_for(Mode.LIVE, log, begun.books, on_screen=not headless, pictures=options.pictures)
    wanted = not headless if options.sound is None else options.sound
    sound = sound_for(wanted=wanted, relay=first.settings.horn, seconds=seconds_of(clock))
    closing.enter_context(sound.opened())
    arrivals = LiveArrivals(
        clock,
        (
            LogObserver(journal, parameters.log_behind_s),
            ClockObserver(StepWatch(clock, parameters.clock_step_s).step_s),
            PanelsObserver(windows.lost),
            *observers_of(copier),
            *sound.observers,
        ),
    )
    if copier is not None:
        closing.callback(copier.close)
    arrivals.offer(begun.fact)
    closing.enter_context(windows.opened(arrivals.press, arrivals.finish))
    for reader in _readers(first.settings, arrivals, clock):
        reader.start()
        closing.callback(reader.stop)
    _finish_on_signal(arrivals.finish)
    status = DetachedOut(sys.stdout) if options.status else None
    outputs = Outputs(status, windows, sound.listeners)
    state, tally = keep_watch(
        first, arrivals, journal, Mode.LIVE, outputs, books=begun.books, log=log, saw=_nobody
    )
    if copier is not None:
        copier.stop()
    journal.close(finished=True)
    tell_end(copier)
    if status is not None:
        status.close(STATUS_PATIENCE_S)
    write_summary(state, tally, journal, options.pictures, sys.stderr, books=begun.books)


def _readers(settings: Settings, arrivals: LiveArrivals, clock: SystemClock) -> list[Reader]:
    return [
        Reader(
            port,
            open_port,
            clock,
            arrivals.offer,
            lambda _, error: arrivals.crash(error),
            turn=turn_on(port, settings.gauges, clock),
        )
        for port in ports_of(settings.gauges)
    ]


def _finish_on_signal(finish: Callable[[], None]) -> None:
    def on_signal(_: int, __: FrameType | None) -> None:
        finish()

    signal.signal(signal.SIGINT, on_signal)
    signal.signal(signal.SIGTERM, on_signal)


def _nobody(_: int) -> None:
    """No scripted operator looks on."""
