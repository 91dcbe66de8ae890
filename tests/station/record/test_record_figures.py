"""The record's figures are the log's: arrays, marks, times, alarms, gaps."""

import subprocess
import sys
from collections.abc import Callable
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest

from shared.clock import Instant
from station.core.phase import Phase
from station.log.outline import outline_of
from station.log.reading import LogReader
from station.record import read_record
from station.record.model import Record

DIVER = "Diver 1"


def test_profile_is_the_log_s_own_trace(stops: Record, stops_log: Path) -> None:
    """Every second of the profile is the depth that the log's trace holds at that second."""
    with LogReader(stops_log) as reader:
        traced = {at / 1e9: depth for at, depth in outline_of(reader).depths_fsw[DIVER]}
    profile = stops.dives[0].profile
    assert len(profile.at_s) > 800
    for at_s, depth_fsw in zip(profile.at_s.tolist(), profile.depth_fsw.tolist(), strict=True):
        wanted = traced[at_s]
        assert np.isnan(depth_fsw) if wanted is None else depth_fsw == wanted


def test_profile_is_of_the_dive_alone_and_cannot_be_changed(stops: Record) -> None:
    """It spans the dive and a minute around it, in order of time, and is read-only."""
    profile, times = stops.dives[0].profile, stops.dives[0].times
    assert times.left_surface is not None
    assert times.reached_surface is not None
    assert profile.at_s[0] <= times.left_surface / 1e9
    assert profile.at_s[-1] == pytest.approx(times.reached_surface / 1e9 + 60, abs=2)
    assert all(before < after for before, after in pairwise(profile.at_s.tolist()))
    with pytest.raises(ValueError, match="read-only"):
        profile.depth_fsw[0] = 1.0


def test_times_and_depth_are_those_of_the_marks(stops: Record) -> None:
    """Bottom time from leaving the surface to the leaving of the bottom that holds; depth corrected."""
    dive = stops.dives[0]
    assert (dive.times.left_surface, dive.times.left_bottom) == (Instant(30 * 10**9), Instant(1770 * 10**9))
    assert (dive.times.bottom_s, dive.times.bottom_min) == (1740, 29)
    assert dive.deepest_gauge_fsw == pytest.approx(99, abs=0.1)
    assert (dive.depth.max_fsw, dive.depth.table_fsw) == (100.0, 100)
    assert dive.phase is Phase.SURFACED


def test_first_entries_stay_readable_beside_their_corrections(stops: Record) -> None:
    """A mark set to another time and one taken back keep what was first entered, by whom, and why."""
    marks = {mark.number: mark for mark in stops.dives[0].marks}
    late, undone = marks[2], marks[3]
    assert (late.first_at, late.at) == (Instant(130 * 10**9), Instant(128 * 10**9))
    assert [(word.to, word.reason, word.by) for word in late.corrections] == [
        (Instant(126 * 10**9), "Pressed late", "Mira Kestrel"),
        (Instant(128 * 10**9), "By the stopwatch", "Ines Varga"),
    ]
    assert (undone.at, undone.corrections[0].reason) == (None, "It did not happen")


def test_alarm_runs_from_raise_to_return_with_who_saw_it(stops: Record) -> None:
    """An alarm of the diver stands with its three instants, its sentence and who acknowledged it."""
    (run,) = [run for run in stops.dives[0].alarms if run.id == "supply-below-minimum"]
    assert run.acknowledged_at is not None
    assert run.returned_at is not None
    assert run.raised_at < run.acknowledged_at < run.returned_at
    assert run.acknowledged_by == "Ines Varga"
    assert "air 100 psi" in run.what


def test_what_was_not_heard_is_no_number(stops: Record) -> None:
    """A gauge that is silent leaves its seconds empty, never at zero."""
    profile = stops.dives[0].profile
    silent = (profile.at_s > 442) & (profile.at_s < 450)
    assert silent.sum() > 2
    assert np.isnan(profile.depth_fsw[silent]).all()
    assert not np.isnan(profile.supply_psig[silent]).any()


def test_least_margin_is_the_lowest_of_the_dive_with_its_instant(stops: Record) -> None:
    """The supply fell to 100 psi where 180 were needed."""
    assert stops.dives[0].least_margin is not None
    margin_psi, at = stops.dives[0].least_margin
    assert margin_psi == pytest.approx(100 - 179.5, abs=0.6)
    assert 450 <= at / 1e9 <= 462


def test_gap_stands_with_its_length_and_breaks_the_curve(stops: Record) -> None:
    """A minute off watch is a gap of the dive; no second of it is in the profile."""
    (gap,) = stops.dives[0].gaps
    assert ((gap.end - gap.start) / 1e9, gap.known) == (60.0, True)
    at_s = stops.dives[0].profile.at_s
    assert not ((at_s > gap.start / 1e9) & (at_s < gap.end / 1e9)).any()


def test_row_is_the_one_that_he_came_up_by(stops: Record) -> None:
    """100 fsw for 29 minutes is the row of 30; its stop and its legs, planned and done, stand there."""
    row = stops.dives[0].schedule
    assert row is not None
    assert (row.depth_fsw, row.time_min, row.edition) == (100, 30, stops.header.tables)
    assert row.stops
    assert row.planned[-1].to_fsw == row.done[-1].to_fsw == 0
    assert row.done[-1].end_s == 380


def test_each_dive_of_a_day_is_a_record_of_its_own(short_log: Callable[..., Path]) -> None:
    """Two dives of one diver have their own marks, depths and entries."""
    record = read_record(short_log("Visibility: 5 ft", dives=2))
    assert [(dive.number, len(dive.marks), dive.depth.max_fsw) for dive in record.of(DIVER)] == [
        (1, 4, 31.0),
        (2, 4, 41.0),
    ]
    assert [told.value for dive in record.dives for told in dive.particulars] == ["5 ft"]


def test_unfinished_log_is_read_to_its_end_and_says_so(short_log: Callable[..., Path]) -> None:
    """A log that was broken off gives its record, and is not called closed."""
    record = read_record(short_log(finished=False))
    assert (record.integrity.closed, record.integrity.sound, len(record.dives)) == (False, True, 1)


def test_integrity_carries_the_head_and_what_does_not_hold(
    short_log: Callable[..., Path], tmp_path: Path
) -> None:
    """A cut log is read as far as it holds, with findings; its head is the one of its last whole batch."""
    whole = short_log()
    cut = tmp_path / "cut.dive"
    cut.write_bytes(whole.read_bytes()[: whole.stat().st_size * 2 // 3])
    record = read_record(cut)
    assert not record.integrity.sound
    assert record.integrity.head != read_record(whole).integrity.head


def test_record_needs_no_qt() -> None:
    """A notebook that reads a record loads no Qt."""
    code = "import sys, station.record, station.record.dive_sheet, station.record.take_over;"
    code += "sys.exit(any(name.startswith('PySide') for name in sys.modules))"
    assert subprocess.run([sys.executable, "-P", "-c", code], check=False).returncode == 0
