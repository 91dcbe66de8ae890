"""`overbottom rehearse`: the station on simulated gauges over real lines."""

import argparse
import sys
from contextlib import ExitStack
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import TextIO

from drivers.clock import SystemClock, boot_id
from drivers.opening import open_port
from drivers.paced_lines import PacedLines
from drivers.pacing import Pacer
from shared.conductor import Ready
from shared.units import NS_PER_S
from simulators.scenario_file import list_scenarios
from station import __version__
from station.compose.children import Simulator
from station.compose.known import known_to_rehearsal
from station.compose.places import new_log, pictures_folder
from station.compose.screen import without_windows
from station.compose.sound import sound_for
from station.compose.watching import LogClock, Outputs, keep_watch, seconds_of, write_summary
from station.compose.windows import windows_for
from station.config import read_station
from station.core.fold import initial_state
from station.log.header import Header
from station.log.journal import Journal
from station.observing import LogObserver, PanelsObserver
from station.present.looks import Mode
from station.rehearsing import RehearsalArrivals, RehearsalBroken, hear
from station.stopped import BadFileTold
from station.table_files import load_books


@dataclass(frozen=True, slots=True)
class RehearsalWish:
    """What was asked for. `rate` None is flat out; `windows` says whether they are shown on a screen.

    `sound`: the alarms sound. A horn's relay stays still: nothing of a rehearsal leaves the computer.
    """

    scenario: str
    rate: float | None
    windows: bool
    log: Path | None
    pictures: Path | None
    seed: int | None
    truth: Path | None
    status: TextIO | None
    sound: bool = False


def rehearse(wish: RehearsalWish) -> None:
    """Run a rehearsal to its end. Raises FileFault, LogFault, RehearsalBroken."""
    with ExitStack() as closing:
        simulator = Simulator(_arguments(wish))
        closing.callback(simulator.end)
        _run(wish, _ready(simulator), simulator, closing)


def _ready(simulator: Simulator) -> Ready:
    """What the simulator says first. Raises BadFileTold when it could not read its scenario."""
    try:
        ready = hear(simulator.said)
    except RehearsalBroken:
        if simulator.end() == BAD_FILES:
            raise BadFileTold from None
        raise
    if not isinstance(ready, Ready):
        raise RehearsalBroken(f"the simulator said {ready!r} before it was ready")
    return ready


def _arguments(wish: RehearsalWish) -> list[str]:
    arguments = ["--scenario", wish.scenario]
    if wish.seed is not None:
        arguments += ["--seed", str(wish.seed)]
    if wish.truth is not None:
        arguments += ["--truth", str(wish.truth)]
    return arguments


def _run(wish: RehearsalWish, ready: Ready, simulator: Simulator, closing: ExitStack) -> None:
    settings, text = read_station(Path(ready.station_file), known_to_rehearsal())
    epoch_ns = _utc_ns(ready.starts_utc)
    books = load_books(settings.tables)
    header = Header(__version__, Mode.REHEARSAL.value, text, settings, books.edition, epoch_ns, boot_id())
    path = new_log(wish.log, f"rehearsal-{ready.scenario}", epoch_ns)
    clock = SystemClock()
    steady_s = seconds_of(clock)
    journal = Journal.begin(path, header, monotonic=steady_s)
    closing.callback(journal.close, finished=False)
    lines = PacedLines(open_port, clock)
    closing.callback(lines.stop)
    first = initial_state(settings, epoch_ns)
    log = LogClock(journal, steady_s)
    windows = windows_for(Mode.REHEARSAL, log, books, on_screen=wish.windows, pictures=wish.pictures)
    observers = [LogObserver(journal, settings.parameters.log_behind_s)]
    sound = sound_for(wanted=wish.sound, relay=None, seconds=steady_s)
    closing.enter_context(sound.opened())
    arrivals = RehearsalArrivals(
        ready,
        simulator.said,
        simulator.told,
        lines,
        pace=Pacer(clock, wish.rate),
        picture=windows.picture,
        observers=(*observers, PanelsObserver(windows.lost), *sound.observers),
    )
    closing.enter_context(windows.opened(arrivals.press, arrivals.finish))
    outputs = Outputs(wish.status, windows, sound.listeners)
    state, tally = keep_watch(
        first, arrivals, journal, Mode.REHEARSAL, outputs, books=books, log=log, saw=arrivals.saw
    )
    journal.close(finished=True)
    write_summary(state, tally, journal, wish.pictures, sys.stderr, books=books)


def _utc_ns(text: str) -> int:
    moment = datetime.fromisoformat(text.replace("Z", "+00:00"))
    return int(moment.timestamp()) * NS_PER_S


DONE, BAD_FILES = 0, 2
OFFSCREEN_RATE = 20.0
"""Speed over real time where there is no display and nobody has said another."""


def rehearse_command(options: argparse.Namespace) -> int:
    """Run what the command line asks for."""
    if options.list:
        for name, title, purpose in list_scenarios():
            sys.stdout.write(f"{name}\n    {title}: {purpose}\n")
        return DONE
    rehearse(_wish(options))
    return DONE


def _wish(options: argparse.Namespace) -> RehearsalWish:
    """What is left out: real time with windows, flat out without; no display, pictures at 20 times."""
    say = f"running offscreen at {OFFSCREEN_RATE:g} times real time to the end of the dive"
    headless = without_windows(options.headless, say)
    unasked = headless and not options.headless
    ceiling = OFFSCREEN_RATE if unasked else None if headless else 1.0
    return RehearsalWish(
        options.scenario,
        ceiling if options.rate is None else options.rate,
        not headless,
        options.log,
        options.pictures or (pictures_folder(options.scenario) if unasked else None),
        options.seed,
        options.truth,
        sys.stdout if options.status else None,
        not headless if options.sound is None else options.sound,
    )
