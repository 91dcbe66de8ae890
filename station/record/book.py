"""The log book over many logs: every dive, what each diver has done, what is due, how long to keep it.

A rehearsal stands in the book as one and counts for nothing.
"""

import csv
import json
from collections.abc import Iterable
from dataclasses import asdict, dataclass
from datetime import date, timedelta
from io import StringIO
from typing import Final

from shared.clock import EPOCH
from station.caution import CAUTION
from station.record.completeness import completeness_of, sickness_suspected, told_about
from station.record.model import Dive, Record, Told
from station.record.profiles import Retention, RulesProfile
from station.record.words import cell, shown

SCHEMA: Final = "overbottom-book/1"
LIVE: Final = "live"


@dataclass(frozen=True, slots=True)
class BookLine:
    """One dive in the book. Depth in fsw with its correction, None where it is not known."""

    day: str
    station: str
    person: str
    post: str
    dive: int
    mode: str
    max_fsw: float | None
    bottom_min: int | None
    row: str
    standing: str
    missing: int
    sickness: bool
    keep: str
    log: str
    head: str


@dataclass(frozen=True, slots=True)
class Total:
    """What one person has dived, rehearsals left out. Bottom time in whole counted minutes."""

    person: str
    dives: int
    bottom_min: int
    deepest_fsw: float | None
    last_day: str


@dataclass(frozen=True, slots=True)
class AssessmentDue:
    """A written assessment that is due after decompression sickness; `overdue` by the day of the book."""

    person: str
    day: str
    due: str
    overdue: bool
    source: str
    log: str


@dataclass(frozen=True, slots=True)
class Book:
    """The dives of a folder in order of time; what they were held against is `rules`."""

    rules: str
    made_on: str
    lines: tuple[BookLine, ...]
    totals: tuple[Total, ...]
    due: tuple[AssessmentDue, ...]


@dataclass(frozen=True, slots=True)
class Entered:
    """A dive with the assessment that it asks for, if any."""

    line: BookLine
    due: AssessmentDue | None


def entered(record: Record, profile: RulesProfile, today: date) -> tuple[Entered, ...]:
    """The dives of one log for the book: so little that a season of them is held at once."""
    return tuple(
        Entered(_line(record, dive, profile), _due(record, dive, profile, today)) for dive in record.dives
    )


def book_of(dives: Iterable[Entered], profile: RulesProfile, today: date, find: str = "") -> Book:
    """The book of these dives; with `find` only those in whose line all its words stand."""
    words = find.casefold().split()
    kept = sorted(
        (one for one in dives if all(word in _searched(one.line) for word in words)),
        key=lambda one: (one.line.day, one.line.station, one.line.log, one.line.person, one.line.dive),
    )
    due = sorted((one.due for one in kept if one.due is not None), key=lambda one: one.due)
    lines = tuple(one.line for one in kept)
    return Book(profile.title, today.isoformat(), lines, _totals(lines), tuple(due))


def _searched(line: BookLine) -> str:
    return " ".join(str(value) for value in asdict(line).values()).casefold()


def _line(record: Record, dive: Dive, profile: RulesProfile) -> BookLine:
    found, told = completeness_of(record, dive, profile), told_about(record, dive)
    row, sickness = dive.schedule, sickness_suspected(told)
    return BookLine(
        day=_day(record, dive).isoformat(),
        station=record.settings.station,
        person=dive.post.person,
        post=dive.diver,
        dive=dive.number,
        mode=record.header.mode,
        max_fsw=None if dive.depth.max_fsw is None else round(dive.depth.max_fsw, 1),
        bottom_min=dive.times.bottom_min,
        row="" if row is None else f"{row.depth_fsw}/{row.time_min or 'no limit'}",
        standing=found.standing.value,
        missing=len(found.missing),
        sickness=sickness,
        keep=_keep(_day(record, dive), profile.retention, sickness=sickness),
        log=record.path.name,
        head=record.integrity.head,
    )


def _day(record: Record, dive: Dive) -> date:
    return record.utc(dive.times.left_surface or EPOCH).date()


def _keep(day: date, retention: Retention, *, sickness: bool) -> str:
    """Until when a record is kept, with its class; the program never deletes one."""
    years = retention.after_sickness_years if sickness else retention.years
    if years is None:
        return f"not verified ({retention.source})"
    return f"{_years_after(day, years).isoformat()} ({years} years{', sickness' if sickness else ''})"


def _years_after(day: date, years: int) -> date:
    try:
        return day.replace(year=day.year + years)
    except ValueError:
        return date(day.year + years, 3, 1)


def _due(record: Record, dive: Dive, profile: RulesProfile, today: date) -> AssessmentDue | None:
    told = told_about(record, dive)
    if profile.assessment_days is None or record.header.mode != LIVE:
        return None
    if not sickness_suspected(told) or "assessment" in told:
        return None
    due = _onset(told, _day(record, dive)) + timedelta(days=profile.assessment_days)
    day, name = _day(record, dive).isoformat(), record.path.name
    return AssessmentDue(dive.post.person, day, due.isoformat(), due < today, _assessed_by(profile), name)


def _assessed_by(profile: RulesProfile) -> str:
    return next((one.source for one in profile.required if one.key == "assessment"), profile.title)


def _onset(told: dict[str, Told], dived: date) -> date:
    """The day of the first symptom; the day of the dive where none can be read, the stricter."""
    try:
        return date.fromisoformat(told["onset"].value.strip()[:10]) if "onset" in told else dived
    except ValueError:
        return dived


def _totals(lines: tuple[BookLine, ...]) -> tuple[Total, ...]:
    real = [line for line in lines if line.mode == LIVE]
    return tuple(
        _total(person, [line for line in real if line.person == person])
        for person in sorted({line.person for line in real})
    )


def _total(person: str, dives: list[BookLine]) -> Total:
    return Total(
        person,
        len(dives),
        sum(line.bottom_min or 0 for line in dives),
        max((line.max_fsw for line in dives if line.max_fsw is not None), default=None),
        max(line.day for line in dives),
    )


def book_json(book: Book) -> str:
    """The book as one JSON object, schema "overbottom-book/1"."""
    plain = {"schema": SCHEMA, "caution": CAUTION, **asdict(book)}
    return json.dumps(plain, ensure_ascii=False, allow_nan=False) + "\n"


def book_csv(book: Book) -> str:
    """The dives of the book as a table, one row each."""
    out = StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(BookLine.__slots__)
    for line in book.lines:
        writer.writerow(cell(value) if isinstance(value, str) else value for value in asdict(line).values())
    return out.getvalue()


def book_text(book: Book) -> str:
    """The book to be read on a terminal."""
    lines = [f"Dives, held against {book.rules}, on {book.made_on}:"]
    lines += [_line_text(line) for line in book.lines] or ["  none"]
    lines += ["", "Divers (rehearsals left out):"]
    for total in book.totals:
        deepest = "not known" if total.deepest_fsw is None else f"{total.deepest_fsw:.1f} fsw"
        lines.append(
            f"  {shown(total.person, 40)}: {total.dives} dives, {total.bottom_min} min on the bottom in all, "
            f"deepest {deepest}, last on {total.last_day}"
        )
    lines += [] if book.totals else ["  none"]
    lines += ["", "Assessments due after decompression sickness:"]
    lines += [
        f"  {one.due}{' OVERDUE' if one.overdue else ''}: {shown(one.person, 40)}, dive of {one.day} "
        f"({one.source}; {shown(one.log, 60)})"
        for one in book.due
    ] or ["  none"]
    return "\n".join([*lines, "", f"{CAUTION}.", ""])


def _line_text(line: BookLine) -> str:
    depth = "depth not known" if line.max_fsw is None else f"{line.max_fsw:.1f} fsw"
    time = "time not known" if line.bottom_min is None else f"{line.bottom_min} min"
    what = "" if line.mode == LIVE else f"{shown(line.mode, 20).upper()} "
    missing = f", {line.missing} missing" if line.missing else ""
    return (
        f"  {line.day} {what}{shown(line.person, 40)}, dive {line.dive}: {depth}, {time}, "
        f"row {line.row or 'none'}; {line.standing}{missing}; keep until {line.keep}; "
        f"{shown(line.station, 40)}; {shown(line.log, 60)}"
    )
