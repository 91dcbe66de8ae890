"""`overbottom replay`: a dive again, flat out without windows, in time with them."""

import argparse
import sys
from dataclasses import replace
from datetime import UTC, datetime, time, timedelta
from pathlib import Path
from typing import TextIO

from drivers.clock import SystemClock
from drivers.decode import hear
from drivers.pacing import Pacer
from shared.clock import EPOCH, Instant
from shared.units import NS_PER_S
from station.compose.screen import without_windows
from station.core.fold import initial_state
from station.log.fault import LogFault
from station.log.reading import LogReader
from station.log_books import books_for
from station.present.looks import Mode
from station.present.status import LogLine
from station.publishing import StatusLines, all_of
from station.pump import Publish
from station.replaying import Playback
from station.table_files import other_edition

DONE, DOES_NOT_HOLD = 0, 1


def replay_command(options: argparse.Namespace) -> int:
    """Replay one log. Exit status 1 when it could be read only in part. Raises LogFault."""
    headless = without_windows(options.headless, "replaying without windows")
    with LogReader(options.log) as reader:
        start = _start(options.log, reader, options.start)
        if not headless or options.pictures is not None:
            from station.compose.replay_windows import replay_in_windows  # noqa: PLC0415 - needs the windows

            replay_in_windows(reader, start, options.rate or 1.0, options.pictures)
        if not headless:
            return DONE
        _replay(reader, start, options.rate, sys.stdout if options.status else None)
        if reader.fault is not None:
            sys.stderr.write(f"overbottom: {options.log}: read up to here: {reader.fault.sentence}\n")
            return DOES_NOT_HOLD
    return DONE


def _replay(reader: LogReader, start: Instant, rate: float | None, out: TextIO | None) -> None:
    header = reader.header
    books = books_for(reader.path, header)
    if told := other_edition(header.tables, books):
        sys.stderr.write(f"overbottom: {told}\n")
    listeners: list[Publish] = []
    if out is not None:
        first = replace(
            initial_state(header.settings, header.utc_epoch_ns), ticked=Instant(max(EPOCH, start - 1))
        )
        log = LogLine(str(reader.path), 0, None)
        listeners.append(StatusLines(out, Mode.REPLAY, lambda: log, first, books))
    playback = Playback(reader, hear, all_of(*listeners), start)
    pace = Pacer(SystemClock(), rate)
    while (due := playback.due_at) is not None:
        pace(due)
        playback.step()


def _start(path: Path, reader: LogReader, wanted: str | None) -> Instant:
    """The instant of a time of day in UTC: the first such moment at or after the log's beginning."""
    if wanted is None:
        return EPOCH
    try:
        of_day = time.fromisoformat(wanted)
    except ValueError as error:
        raise LogFault(path, f"--from {wanted}: not a time of day such as 08:14:07") from error
    begins = datetime.fromtimestamp(reader.header.utc_epoch_ns / NS_PER_S, UTC)
    moment = datetime.combine(begins.date(), of_day, UTC)
    if moment < begins.replace(microsecond=0):
        moment += timedelta(days=1)
    return Instant(max(0, round((moment - begins).total_seconds() * NS_PER_S)))
