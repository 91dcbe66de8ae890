"""Reading a log as a record: the whole log is played through the pump, so that every figure is the log's."""

from math import inf
from pathlib import Path
from typing import Final

from shared.clock import EPOCH, Instant
from shared.units import NS_PER_S
from station.core.books import Books
from station.core.depth import depth_of
from station.core.finding import diver_settings
from station.core.fold import initial_state
from station.core.phase import IN_WATER
from station.core.state import Amendment, DiverState, Gap, Mark, State
from station.core.timekeeping import effective_marks, phase_of, times_of
from station.log.integrity import IntegrityReport, check
from station.log.reading import LogReader
from station.log_books import books_for
from station.pump import Decode
from station.record.gathering import DiveKey, Gathered, Samples
from station.record.model import Correction, Dive, Integrity, MarkMade, Record
from station.record.particulars import told_by
from station.record.schedules import schedule_row
from station.replaying import Playback

AROUND_DIVE_S: Final = 60.0
"""A profile begins so long before the first mark of its dive and ends so long after the last: own choice."""


def read_log(path: Path, decode: Decode) -> Record:
    """The record of a log, as far as the log holds. Raises LogFault when it is none.

    What does not hold stands in `integrity.findings`; the record ends there.
    """
    report = check(path)
    with LogReader(path) as reader:
        header = reader.header
        books = books_for(path, header)
        gathered = Gathered(initial_state(header.settings, header.utc_epoch_ns))
        playback = Playback(reader, decode, gathered)
        while not playback.ended:
            playback.step()
    state = gathered.last
    dived = _dived(gathered)
    dives = (_dive(gathered, key, books) for key in dived)
    others = tuple(entry for entry in gathered.entries if (entry.diver, entry.dive) not in dived)
    return Record(
        path=path,
        header=header,
        settings=state.settings,
        ends=state.now,
        dives=tuple(sorted(dives, key=lambda dive: (dive.times.left_surface or EPOCH, dive.diver))),
        banks=gathered.banks(),
        gauges=state.settings.gauges,
        gauge_faults={gauge.name: gauge.faults for gauge in state.gauges},
        alarms=tuple(run for dive, run in gathered.runs if dive not in dived),
        entries=others,
        gaps=state.gaps,
        particulars=told_by(tuple(entry for entry in others if not entry.diver)),
        integrity=_integrity(report),
    )


def _integrity(report: IntegrityReport) -> Integrity:
    return Integrity(report.head, report.closed, report.batches, report.arrivals, report.findings)


def _dived(gathered: Gathered) -> list[DiveKey]:
    """The dives that were begun, or of which a mark stands, taken back or not."""
    return [
        key
        for key, (state, diver) in gathered.ends.items()
        if times_of(diver, state.now).left_surface is not None or _marks_of(diver)
    ]


def _marks_of(diver: DiverState) -> list[Mark]:
    return [mark for mark in diver.marks if mark.dive == diver.dive]


def _dive(gathered: Gathered, key: DiveKey, books: Books) -> Dive:
    state, diver = gathered.ends[key]
    name, number = key
    begins_s, ends_s = _span_s(state, diver)
    entries = tuple(entry for entry in gathered.entries if (entry.diver, entry.dive) == key)
    row = schedule_row(state, diver, books)
    return Dive(
        diver=name,
        number=number,
        post=diver_settings(state, name),
        phase=phase_of(diver),
        times=times_of(diver, state.now),
        depth=depth_of(state, name),
        deepest_gauge_fsw=diver.deepest_read_fsw,
        planned_depth_fsw=diver.planned_depth_fsw,
        planned_bottom_min=diver.planned_bottom_min,
        marks=_marks_made(diver),
        profile=gathered.samples.get(key, Samples()).profile(begins_s, ends_s),
        least_margin=gathered.least.get(key),
        alarms=tuple(run for dive, run in gathered.runs if dive == key),
        entries=entries,
        plan_steps=tuple(step for dive, step in gathered.plan_steps if dive == key),
        schedule=None if isinstance(row, str) else row,
        no_schedule=row if isinstance(row, str) else "",
        gaps=tuple(gap for gap in gathered.last.gaps if _touches(gap, begins_s, ends_s)),
        particulars=told_by(entries),
    )


def _span_s(state: State, diver: DiverState) -> tuple[float, float]:
    """From a while before the first mark of the dive to a while after the last; open while he is under."""
    moments = [mark.at for mark in effective_marks(diver)] or [mark.at for mark in _marks_of(diver)]
    ends_s = inf if phase_of(diver) in IN_WATER or not moments else max(moments) / NS_PER_S + AROUND_DIVE_S
    begins_s = min(moments, default=state.now) / NS_PER_S - AROUND_DIVE_S
    return begins_s, ends_s


def _touches(gap: Gap, begins_s: float, ends_s: float) -> bool:
    return gap.end / NS_PER_S >= begins_s and gap.start / NS_PER_S <= ends_s


def _marks_made(diver: DiverState) -> tuple[MarkMade, ...]:
    """Every mark of the dive with its later words, and what only the trace holds; in order of time."""
    made = [_made(mark, diver.amendments) for mark in _marks_of(diver)]
    made += [_made(mark, ()) for mark in effective_marks(diver) if mark.number == 0]
    return tuple(sorted(made, key=lambda one: (_holds_at(one), one.number)))


def _holds_at(mark: MarkMade) -> Instant:
    return mark.first_at if mark.at is None else mark.at


def _made(mark: Mark, amendments: tuple[Amendment, ...]) -> MarkMade:
    words = tuple(
        Correction(word.at, word.to, word.by, word.reason, word.seq)
        for word in amendments
        if word.mark == mark.number
    )
    return MarkMade(
        mark.number,
        mark.seq,
        mark.kind.value,
        words[-1].to if words else mark.at,
        mark.at,
        mark.pressed_at,
        mark.by,
        mark.stop_fsw,
        words,
    )
