"""The book over many logs: totals, assessments due, retention, search; rehearsals count for nothing."""

import csv
import json
from collections.abc import Callable
from datetime import date
from io import StringIO
from pathlib import Path

from station.record import read_record
from station.record.book import Book, book_csv, book_json, book_of, book_text, entered
from station.record.profiles import OSHA, UK, USCG, RulesProfile

TODAY = date(2031, 5, 10)


def _book(*logs: Path, profile: RulesProfile = OSHA, today: date = TODAY, find: str = "") -> Book:
    dives = [one for log in logs for one in entered(read_record(log), profile, today)]
    return book_of(dives, profile, today, find)


def test_totals_are_per_person_and_leave_rehearsals_out(short_log: Callable[..., Path]) -> None:
    """Two real dives count; the rehearsed one stands in the book as one."""
    book = _book(short_log(dives=2), short_log(mode="rehearsal"))
    (total,) = book.totals
    assert (total.person, total.dives, total.bottom_min, total.deepest_fsw) == ("Tomas Reyne", 2, 4, 41.0)
    assert sorted(line.mode for line in book.lines) == ["live", "live", "rehearsal"]


def test_assessment_is_due_45_days_after_the_onset(short_log: Callable[..., Path]) -> None:
    """29 CFR 1910.423(e): within 45 days of the onset; overdue the day after."""
    sick = short_log("Decompression sickness: suspected", "Onset: 2031-05-05, left elbow")
    (due,) = _book(sick).due
    assert (due.due, due.overdue) == ("2031-06-19", False)
    assert not _book(sick, today=date(2031, 6, 19)).due[0].overdue
    assert _book(sick, today=date(2031, 6, 20)).due[0].overdue


def test_assessment_that_was_written_or_never_needed_is_not_due(short_log: Callable[..., Path]) -> None:
    """A noted assessment ends the duty; so does no sickness; a profile without the rule has none."""
    done = short_log("Decompression sickness: suspected", "Decompression assessment: 2031-05-20, office")
    assert _book(done, short_log("Decompression sickness: none"), short_log()).due == ()
    assert _book(short_log("Decompression sickness: suspected"), profile=UK).due == ()


def test_onset_that_cannot_be_read_counts_from_the_dive(short_log: Callable[..., Path]) -> None:
    """Words where a day should stand make the earlier, stricter day."""
    (due,) = _book(short_log("Symptoms: left elbow", "Onset: the evening after")).due
    assert due.due == "2031-06-18"


def test_retention_follows_the_profile(short_log: Callable[..., Path]) -> None:
    """29 CFR 1910.440(b)(3): one year, five after sickness; UK: two; what is not verified is not said."""
    well, sick = short_log(), short_log("Decompression sickness: suspected")
    assert _book(well).lines[0].keep == "2032-05-04 (1 years)"
    assert _book(sick).lines[0].keep == "2036-05-04 (5 years, sickness)"
    assert _book(well, profile=UK).lines[0].keep == "2033-05-04 (2 years)"
    assert _book(well, profile=USCG).lines[0].keep.startswith("not verified")


def test_search_keeps_the_dives_with_all_the_words(short_log: Callable[..., Path]) -> None:
    """Words are looked for in the whole line, in any order and case."""
    log = short_log(dives=2)
    assert len(_book(log, find="REYNE saltholm").lines) == 2
    assert len(_book(log, find="reyne 41.0").lines) == 1
    assert _book(log, find="nobody").lines == ()


def test_book_can_be_read_by_people_and_programs(short_log: Callable[..., Path]) -> None:
    """Text, CSV and JSON tell of the same dives."""
    book = _book(short_log(dives=2))
    rows = list(csv.DictReader(StringIO(book_csv(book), newline="")))
    made = json.loads(book_json(book))
    assert [row["max_fsw"] for row in rows] == ["31.0", "41.0"]
    assert [line["max_fsw"] for line in made["lines"]] == [31.0, 41.0]
    assert made["schema"] == "overbottom-book/1"
    assert book_text(book).count("Tomas Reyne, dive") == 2
