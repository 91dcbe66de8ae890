"""From the files of a folder to a set of tables; everything that is wrong is told at once."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass

from . import parse_groups as sheets
from . import parse_schedules
from .faults import TableFault
from .sheets import FaultList, sheet_rows
from .table_set import KnownDifference, Note, TableSet

ABOUT_FILE = "table_set.toml"
NOTES_FILE = "notes.csv"
DIFFERENCES_FILE = "known_differences.csv"
_ABOUT_KEYS = ("id", "title", "document", "dated", "rights", "read")
SHEETS = (
    sheets.NO_STOP_FILE,
    sheets.SHALLOW_NO_STOP_FILE,
    sheets.CREDIT_FILE,
    sheets.RESIDUAL_FILE,
    sheets.SHALLOW_RESIDUAL_FILE,
    parse_schedules.FILE,
    sheets.ALTITUDE_GROUPS_FILE,
    sheets.WAIT_FILE,
    sheets.AIR_DEPTH_FILE,
)
FILES = (ABOUT_FILE, NOTES_FILE, DIFFERENCES_FILE, *SHEETS)


def parse_table_set(files: Mapping[str, str]) -> TableSet:
    """A set of tables from its files (name to text).

    Raises TableFault, which lists every missing or odd row with its file and line.
    """
    faults = FaultList()
    texts = {name: files.get(name, "") for name in FILES}
    for name in FILES:
        if name not in files:
            faults.add(name, 0, "is missing")
    about = _about(texts[ABOUT_FILE], faults)
    groups = sheets.parse_group_names(texts[sheets.NO_STOP_FILE], faults)
    no_stop, shallow = (
        sheets.parse_no_stop(name, texts[name], groups, faults)
        for name in (sheets.NO_STOP_FILE, sheets.SHALLOW_NO_STOP_FILE)
    )
    residual, shallow_residual = (
        sheets.parse_residual(name, texts[name], groups, tuple(row.depth_fsw for row in rows), faults)
        for name, rows in ((sheets.RESIDUAL_FILE, no_stop), (sheets.SHALLOW_RESIDUAL_FILE, shallow))
    )
    increases_ft, waits = sheets.parse_waits(texts[sheets.WAIT_FILE], groups, faults)
    tables = TableSet(
        *about.values,
        printed=about.printed,
        groups=groups,
        no_stop=no_stop,
        shallow_no_stop=shallow,
        credit=sheets.parse_credit(texts[sheets.CREDIT_FILE], groups, faults),
        residual=residual,
        shallow_residual=shallow_residual,
        blocks=parse_schedules.parse_blocks(texts[parse_schedules.FILE], groups, faults),
        altitude_groups=sheets.parse_altitude_groups(texts[sheets.ALTITUDE_GROUPS_FILE], groups, faults),
        wait_increases_ft=increases_ft,
        altitude_waits=waits,
        equivalent_air_depths=sheets.parse_air_depths(texts[sheets.AIR_DEPTH_FILE], faults),
        notes=_notes(texts[NOTES_FILE], faults),
        known_differences=_differences(texts[DIFFERENCES_FILE], faults),
    )
    if faults.found:
        raise TableFault(tuple(faults.found))
    return tables


@dataclass(frozen=True, slots=True)
class _About:
    values: tuple[str, str, str, str, str, str]
    printed: tuple[tuple[str, str], ...]


def _about(text: str, faults: FaultList) -> _About:
    try:
        about = tomllib.loads(text)
    except tomllib.TOMLDecodeError as trouble:
        faults.add(ABOUT_FILE, 0, str(trouble))
        about = {}
    for key in _ABOUT_KEYS:
        if not about.get(key):
            faults.add(ABOUT_FILE, 0, f"{key} is missing")
    named = about.get("printed")
    printed = {str(key): str(name) for key, name in named.items()} if isinstance(named, dict) else {}
    for name in SHEETS:
        if name.removesuffix(".csv") not in printed:
            faults.add(ABOUT_FILE, 0, f"printed.{name.removesuffix('.csv')} is missing")
    one, two, three, four, five, six = (str(about.get(key, "")) for key in _ABOUT_KEYS)
    return _About((one, two, three, four, five, six), tuple(printed.items()))


def _notes(text: str, faults: FaultList) -> tuple[Note, ...]:
    columns = ("id", "file", "row", "column", "sentence")
    notes = []
    for row in sheet_rows(NOTES_FILE, text, columns, faults):
        note = Note(*(row.text(column) for column in columns))
        if f"{note.file}.csv" not in SHEETS:
            row.fault(f"file is {note.file!r}, not a sheet of this set")
        notes.append(note)
    return tuple(notes)


def _differences(text: str, faults: FaultList) -> tuple[KnownDifference, ...]:
    columns = ("check", "row", "printed", "derived")
    return tuple(
        KnownDifference(*(row.text(column) for column in columns))
        for row in sheet_rows(DIFFERENCES_FILE, text, columns, faults)
    )
