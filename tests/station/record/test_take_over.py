"""The sheet to go on by hand: everything that runs, with the time of day at which it was right."""

from collections.abc import Callable
from pathlib import Path

import pytest

from drivers.decode import hear
from shared.clock import Instant
from station.caution import CAUTION
from station.core.settings import Units
from station.log.reading import LogReader
from station.record.last_state import last_state
from station.record.pdf import write_pdf
from station.record.sheet import Sheet, sheet_text
from station.record.take_over import take_over_sheet
from station.replaying import Playback
from station.table_files import load_books


def _at(log: Path, seconds: float) -> Sheet:
    with LogReader(log) as reader:
        playback = Playback(reader, hear, lambda *_: None, Instant(round(seconds * 1e9)))
        return take_over_sheet(playback.state, load_books(), mode="live", log=log.name)


def _words(sheet: Sheet) -> str:
    return " ".join(sheet_text(sheet).split())


def test_on_the_bottom_it_gives_the_clock_and_every_row_ahead(stops_log: Path) -> None:
    """Bottom time with its start, depth, the row if he left now and the next ones, air, blanks to fill."""
    words = _words(_at(stops_log, 1230))
    for said in (
        "19:58 (runs, at 08:20:28); began 08:00:30", "99.0 fsw by the gauge", "enters the table at 100 fsw",
        "if he left now 100/25", "after 08:25:30 100/30 20/3", "Reached bottom 08:02:08", "primary, 240 psi",
        "least 180 psi", "Ascent if he left now", "Bank A", "Stopwatch started at", CAUTION,
    ):  # fmt: skip
        assert said in words, said


def test_on_the_way_up_it_gives_what_is_still_due_by_the_clock(stops_log: Path) -> None:
    """The stop and the last travel stand with the time of day at which each ends."""
    words = _words(_at(stops_log, 1960))
    for said in (
        "Since leaving the bottom",
        "comes up by 100/30 20/3",
        "08:35:10 at 20 fsw stop",
        "08:35:50 20 to 0",
    ):
        assert said in words, said


def test_dressed_diver_takes_one_line(stops_log: Path) -> None:
    """Before the dive there is nothing to take over but who stands where."""
    words = _words(_at(stops_log, 10))
    assert "Diver 1: Tomas Reyne, dive 1, dressed" in words
    assert "Bottom time" not in words


def test_sheet_of_each_phase_is_one_page(
    stops_log: Path, tmp_path: Path, pdf_text: Callable[[Path], str]
) -> None:
    """Dressed, going down, on the bottom, at the stop, at the surface: one page each, with the caution."""
    for seconds in (10, 60, 1230, 1960, 2200):
        write_pdf(tmp_path / "t.pdf", (_at(stops_log, seconds),), Units.US)
        text = pdf_text(tmp_path / "t.pdf")
        assert text.count("\f") == 1, seconds
        assert CAUTION in text


@pytest.mark.parametrize("finished", [True, False])
def test_last_state_is_the_end_of_the_log(short_log: Callable[..., Path], finished: bool) -> None:
    """From its last checkpoint on, a log that was broken off gives the state in which it ended."""
    log = short_log(finished=finished)
    state, header = last_state(log, hear)
    with LogReader(log) as reader:
        playback = Playback(reader, hear, lambda *_: None)
        while not playback.ended:
            playback.step()
    assert state == playback.state
    assert header.mode == "live"
