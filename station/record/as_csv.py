"""The record as tables: RFC 4180, UTF-8, the point as decimal sign, one unit a column named in its head.

Profile: one row a second of each dive. Events: one row for each mark, correction, alarm and entry, in the
order of time. A number that is not known is an empty cell. Text that a spreadsheet would take for a formula
stands behind an apostrophe.
"""

import csv
from collections.abc import Iterable, Iterator
from io import StringIO
from itertools import chain
from math import isfinite
from typing import Final

from shared.clock import Instant
from station.record.model import AlarmRun, Dive, Entry, MarkMade, Record
from station.record.words import cell, entry_words, mark_words, told_elsewhere, utc_text

PROFILE_HEAD: Final = (
    "diver",
    "dive",
    "utc",
    "station_s",
    "gauge_fsw",
    "supply_psig",
    "required_psig",
    "margin_psi",
)
EVENTS_HEAD: Final = (
    "utc",
    "station_s",
    "record",
    "diver",
    "dive",
    "what",
    "text",
    "by",
    "first_utc",
    "reason",
)

Cell = str | int | None
Row = tuple[Cell, ...]
Timed = tuple[Instant, int, Row]
"""A row with its instant and its record number, to be put in order by."""


def profile_csv(record: Record) -> str:
    """Depth and supply of every dive, once a second."""
    return _table(PROFILE_HEAD, chain.from_iterable(_profile(record, dive) for dive in record.dives))


def events_csv(record: Record) -> str:
    """Everything that was marked, corrected, alarmed and entered."""
    made = sorted(chain(*(_of_dive(record, dive) for dive in record.dives), _of_station(record)))
    return _table(EVENTS_HEAD, (row for _, _, row in made))


def _table(head: Row, rows: Iterable[Row]) -> str:
    out = StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(head)
    writer.writerows(rows)
    return out.getvalue()


def _profile(record: Record, dive: Dive) -> Iterator[Row]:
    profile = dive.profile
    columns = (profile.depth_fsw, profile.supply_psig, profile.required_psig, profile.margin_psi)
    for place, at_s in enumerate(profile.at_s.tolist()):
        at = Instant(round(at_s * 1e9))
        values = (_number(float(column[place])) for column in columns)
        yield (cell(dive.diver), dive.number, utc_text(record, at), f"{at_s:g}", *values)


def _number(value: float) -> str | None:
    return f"{value:.2f}" if isfinite(value) else None


def _of_dive(record: Record, dive: Dive) -> Iterator[Timed]:
    whose: Row = (cell(dive.diver), dive.number)
    for mark in dive.marks:
        yield from _mark(record, whose, mark)
    for alarm in dive.alarms:
        yield from _alarm(record, whose, alarm)
    for step in dive.plan_steps:
        what = ("plan_changed", cell(f"{step.rule}: {step.sentence}"), "")
        yield _row(record, step.at, step.seq, (*whose, *what))
    for entry in dive.entries:
        if not told_elsewhere(entry):
            yield _entry(record, whose, entry)


def _of_station(record: Record) -> Iterator[Timed]:
    for alarm in record.alarms:
        yield from _alarm(record, (cell(alarm.subject), None), alarm)
    for gap in record.gaps:
        length = f"{(gap.end - gap.start) / 1e9:.1f} s" if gap.known else "an unknown time"
        yield _row(record, gap.end, 0, ("", None, "gap", f"off watch for {length}", ""))
    for entry in record.entries:
        if not told_elsewhere(entry):
            yield _entry(record, (cell(entry.diver), entry.dive or None), entry)


def _mark(record: Record, whose: Row, mark: MarkMade) -> Iterator[Timed]:
    """The moment as it holds, with its first entry, and a row for every later word."""
    at = mark.first_at if mark.at is None else mark.at
    taken_back = "taken back" if mark.at is None else ""
    first = utc_text(record, mark.first_at)
    words = mark_words(mark)
    yield _row(record, at, mark.seq, (*whose, "mark", words, cell(mark.by)), (first, taken_back))
    for word in mark.corrections:
        to = "taken back" if word.to is None else f"set to {utc_text(record, word.to)}"
        what = (*whose, "correction", f"{words}: {to}", cell(word.by))
        yield _row(record, word.at, word.seq, what, (first, cell(word.reason)))


def _alarm(record: Record, whose: Row, alarm: AlarmRun) -> Iterator[Timed]:
    name = f"{alarm.priority.value.upper()} {alarm.id}"
    yield _row(
        record, alarm.raised_at, alarm.seq, (*whose, "alarm raised", cell(f"{name}: {alarm.what}"), "")
    )
    if alarm.acknowledged_at is not None:
        seen = (*whose, "alarm acknowledged", name, cell(alarm.acknowledged_by))
        yield _row(record, alarm.acknowledged_at, alarm.seq, seen)
    if alarm.returned_at is not None:
        yield _row(record, alarm.returned_at, alarm.seq, (*whose, "alarm returned", name, ""))


def _entry(record: Record, whose: Row, entry: Entry) -> Timed:
    text = cell(entry_words(entry, record.settings.units))
    return _row(record, entry.at, entry.seq, (*whose, entry.kind, text, cell(entry.by)))


def _row(record: Record, at: Instant, seq: int, what: Row, more: Row = ("", "")) -> Timed:
    return at, seq, (utc_text(record, at), f"{at / 1e9:.1f}", seq, *what, *more)
