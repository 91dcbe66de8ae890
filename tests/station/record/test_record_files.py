"""CSV, JSON and PDF say what the log says, and harm nobody whatever the log says."""

import csv
import json
from collections.abc import Callable
from io import StringIO
from pathlib import Path

import numpy as np
import pytest

from station.caution import CAUTION
from station.core.settings import Units
from station.record import read_record
from station.record.as_csv import events_csv, profile_csv
from station.record.as_json import SCHEMA, record_json, record_plain
from station.record.dive_sheet import dive_sheet
from station.record.model import Record
from station.record.pdf import NotWritten, write_pdf
from station.record.profiles import OSHA, PROFILES, UK
from station.record.sheet import MOST_ROWS, sheet_text, wrapped
from station.record.words import LONGEST_NAME, LONGEST_TEXT, cell, shown, slug, stem_of

PdfText = Callable[[Path], str]


def _rows(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(StringIO(text, newline="")))


def test_profile_csv_parses_back_to_the_arrays(stops: Record) -> None:
    """Every cell of the profile is the figure of the array; what was not heard is an empty cell."""
    profile, rows = stops.dives[0].profile, _rows(profile_csv(stops))
    columns = {
        "station_s": profile.at_s,
        "gauge_fsw": profile.depth_fsw,
        "supply_psig": profile.supply_psig,
        "required_psig": profile.required_psig,
        "margin_psi": profile.margin_psi,
    }
    assert len(rows) == len(profile.at_s)
    for name, values in columns.items():
        read = np.array([float(row[name]) if row[name] else np.nan for row in rows])
        assert np.array_equal(read, values, equal_nan=True), name


def test_events_csv_holds_marks_corrections_alarms_and_words_in_order(stops: Record) -> None:
    """Each happening is a row, in order of time, with the first entry of a mark and the reason beside it."""
    rows = _rows(events_csv(stops))
    assert [row["station_s"] for row in rows] == sorted((row["station_s"] for row in rows), key=float)
    marks = {row["text"]: row for row in rows if row["what"] == "mark"}
    assert (marks["Reached bottom"]["utc"], marks["Reached bottom"]["first_utc"]) == (
        "2031-05-04T08:02:08.0Z",
        "2031-05-04T08:02:10.0Z",
    )
    assert [row["reason"] for row in rows if row["what"] == "correction"] == [
        "Pressed late",
        "By the stopwatch",
        "It did not happen",
    ]
    assert {"alarm raised", "alarm acknowledged", "alarm returned", "gap", "remark", "hose_blown"} <= {
        row["what"] for row in rows
    }


def test_json_parses_back_to_the_record(stops: Record) -> None:
    """The object has its schema, caution and head, and the figures of the dive."""
    made = json.loads(record_json(stops, tuple(PROFILES.values())))
    assert (made["schema"], made["caution"], made["log"]["head"]) == (SCHEMA, CAUTION, stops.integrity.head)
    (dive,) = made["dives"]
    assert (dive["times"]["bottom_min"], dive["depth"]["max_fsw"], dive["depth"]["table_fsw"]) == (
        29,
        100.0,
        100,
    )
    read = np.array(dive["profile"]["gauge_fsw"], dtype=np.float64)
    assert np.array_equal(read, stops.dives[0].profile.depth_fsw, equal_nan=True)
    assert None in dive["profile"]["gauge_fsw"]
    assert dive["schedule"]["stops"] == [[20, 3]]
    assert [found["rules"] for found in dive["completeness"]] == ["osha", "uscg", "uk"]


def test_json_keys_are_the_documented_ones(stops: Record) -> None:
    """The keys of "overbottom-record/1" are a promise: none goes, and a new one is added here."""
    made = record_plain(stops, (OSHA,))
    assert set(made) == {"schema", "caution", "written_by", "log", "station", "banks", "dives"}
    assert set(made["log"]) == {
        "file", "program", "mode", "tables", "sqlite", "schema", "boot_id", "head", "head_before", "closed",
        "batches", "records", "sound", "findings",
    }  # fmt: skip
    assert set(made["dives"][0]) == {
        "diver", "number", "person", "role", "tender", "equipment", "supply", "phase", "planned_depth_fsw",
        "planned_bottom_min", "times", "depth", "least_margin_psi", "least_margin_at", "marks", "profile",
        "alarms", "entries", "plan_steps", "schedule", "no_schedule", "gaps", "particulars", "completeness",
    }  # fmt: skip
    assert set(made["dives"][0]["marks"][0]) == {
        "number", "record", "kind", "stop_fsw", "at", "first_at", "pressed_at", "by", "corrections",
    }  # fmt: skip


def test_pdf_holds_the_figures_of_the_log_as_text(stops: Record, tmp_path: Path, pdf_text: PdfText) -> None:
    """Depth, times, row, stops, corrections, alarms, gaps and the head digest can be read out of the page."""
    path = tmp_path / "stops.pdf"
    write_pdf(path, (dive_sheet(stops, stops.dives[0], (OSHA,)),), Units.US)
    text = " ".join(pdf_text(path).split())
    for said in (
        "100.0 fsw", "29:00", "counts as 29 min", "08:00:30", "08:29:30", "08:35:50", "Tomas Reyne",
        "Mira Kestrel", "Ines Varga", "100 fsw / 30 min", "3 min at 20 fsw", "was 08:02:10", "was 08:02:06",
        "Pressed late",
        "taken back", "It did not", "EMERGENCY", "air 100 psi, minimum 180 psi", "off watch",
        "closed with stated gaps", "thermometer broken", "SH-31-0114", stops.integrity.head, CAUTION,
        "Signature of the supervisor",
    ):  # fmt: skip
        assert said in text, said


def test_pdf_of_an_ordinary_dive_is_one_page(
    short_log: Callable[..., Path], tmp_path: Path, pdf_text: PdfText
) -> None:
    """One page per diver and dive, on letter paper and on A4."""
    for units in Units:
        record = read_record(short_log("On the sill", dives=2, units=units))
        sheets = tuple(dive_sheet(record, dive, (OSHA,)) for dive in record.dives)
        write_pdf(tmp_path / "two.pdf", sheets, units)
        assert pdf_text(tmp_path / "two.pdf").count("\f") == 2


def test_rehearsal_is_never_taken_for_a_dive(
    short_log: Callable[..., Path], tmp_path: Path, pdf_text: PdfText
) -> None:
    """The record of a rehearsal says over every page that it is none."""
    record = read_record(short_log(mode="rehearsal"))
    write_pdf(tmp_path / "r.pdf", (dive_sheet(record, record.dives[0], (OSHA,)),), Units.US)
    assert "REHEARSAL: not a real dive" in pdf_text(tmp_path / "r.pdf")


def test_hostile_text_stands_literally_on_the_page(
    hostile_log: Path, tmp_path: Path, pdf_text: PdfText
) -> None:
    """Markup, SQL, path tricks, escape codes and turned writing are shown as what they are, bounded."""
    record = read_record(hostile_log)
    path = tmp_path / "hostile.pdf"
    write_pdf(path, (dive_sheet(record, record.dives[0], (OSHA, UK)),), Units.US)
    text = pdf_text(path)
    assert "../../<b>Robert'); DROP TABLE batch;--" in text
    assert "<U+202E>" in text
    assert "more characters in the log" in text
    assert f"{600 + 2 - MOST_ROWS} more in the log" in text
    assert text.count("\f") < 20


def test_hostile_text_starts_no_formula_and_breaks_no_table(hostile_log: Path) -> None:
    """Cells that a spreadsheet would run stand behind an apostrophe; the JSON keeps every character."""
    record = read_record(hostile_log)
    rows = _rows(events_csv(record))
    assert not [value for row in rows for value in row.values() if value.startswith(("=", "+", "-", "@"))]
    assert all(len(row) == 10 for row in rows)
    made = json.loads(record_json(record, (OSHA,)))
    (long,) = [one for one in made["dives"][0]["entries"] if "silt" in one["details"].get("text", "")]
    assert len(long["details"]["text"]) > 20_000


def test_hostile_names_make_harmless_files(hostile_log: Path) -> None:
    """The name of a file has letters, digits and hyphens, no way up, and an end."""
    stem = stem_of(read_record(hostile_log))
    assert stem.startswith("b-robert-drop-table-batch-2031-05-04-")
    for name in ("", "..", "/", "a" * 1000, "con\x00", "..\\..\\x", "\u202egnp"):
        made = slug(name)
        assert 0 < len(made) <= LONGEST_NAME
        assert not set(made) & set("./\\:\x00\u202e")


def test_shown_text_is_bounded_and_tells_what_it_leaves_out() -> None:
    """Foreign text takes one line of known length; the rest is counted."""
    assert shown("a\nb\tc") == "a b c"
    assert shown("x" * (LONGEST_TEXT + 5)).endswith("x [5 more characters in the log]")
    assert cell("-1+1") == "'-1+1"
    assert cell("plain") == "plain"


@pytest.mark.parametrize("text", ["", "one", "some words to wrap", "x" * 500, "x " * 200])
def test_wrapped_lines_hold_every_letter_and_no_line_is_too_wide(text: str) -> None:
    """Wrapping loses nothing and breaks a word that is wider than the line."""
    lines = wrapped(text, 12, len)
    assert "".join(lines).replace(" ", "") == text.replace(" ", "")
    assert all(len(line) <= 12 for line in lines)


def test_pdf_that_cannot_be_written_says_so_and_leaves_nothing(
    short_log: Callable[..., Path], tmp_path: Path
) -> None:
    """A folder that is not there is told of with the file's name."""
    record = read_record(short_log())
    with pytest.raises(NotWritten, match=r"x\.pdf"):
        write_pdf(tmp_path / "no" / "x.pdf", (dive_sheet(record, record.dives[0], ()),), Units.US)
    assert list(tmp_path.iterdir()) == []


def test_sheet_as_text_holds_what_the_page_holds(stops: Record) -> None:
    """The plain text of a sheet has its marks, its row and its caution."""
    text = sheet_text(dive_sheet(stops, stops.dives[0], (OSHA,)))
    for said in ("Reached stop 20 fsw", "3 min at 20 fsw", "Pressed late", CAUTION):
        assert said in text
