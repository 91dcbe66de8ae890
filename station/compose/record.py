"""`overbottom record`: the dive record of logs, the sheet to go on by hand, the book over a folder."""

import argparse
import sys
from collections.abc import Callable, Collection, Iterable
from dataclasses import dataclass
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Final, NoReturn

from drivers.clock import SystemClock
from drivers.decode import hear
from shared.units import NS_PER_S
from station.compose.places import LOG_ENDING
from station.core.settings import Units
from station.log.fault import LogFault
from station.log_books import books_for
from station.record import read_record
from station.record.as_csv import events_csv, profile_csv
from station.record.as_json import record_json
from station.record.book import Entered, book_csv, book_json, book_of, book_text, entered
from station.record.completeness import Completeness, completeness_of
from station.record.dive_sheet import dive_sheet
from station.record.files import write_whole
from station.record.last_state import last_state
from station.record.model import Dive, Record, Told
from station.record.particulars import read_particulars
from station.record.profiles import PROFILES, RulesProfile
from station.record.sheet import Sheet, sheet_text
from station.record.take_over import take_over_sheet
from station.record.words import shown, slug, stem_of
from station.stopped import BadFileTold, StoppedByFault

DONE, DOES_NOT_HOLD = 0, 1
FORMATS: Final = ("pdf", "csv", "json")
BOOK: Final = "log-book"


@dataclass(frozen=True, slots=True)
class _Wish:
    """What was asked for, checked."""

    logs: tuple[Path, ...]
    out: Path | None
    formats: tuple[str, ...]
    rules: tuple[RulesProfile, ...]
    added: tuple[Told, ...]
    take_over: bool


def record_command(options: argparse.Namespace) -> int:
    """Write what was asked for. Exit status 1 when a log holds only in part. Raises StoppedByFault."""
    if bool(options.logs) == (options.book is not None):
        _refuse("record needs either logs, or --book with a folder")
    wish = _wish(options)
    if options.book is not None:
        return _book(options.book, options.find, wish)
    folder = _folder(wish.out or Path.cwd())
    return _each(wish.logs, lambda path: _one(path, folder, wish))


def _wish(options: argparse.Namespace) -> _Wish:
    rules = _words("--rules", options.rules, PROFILES)
    return _Wish(
        tuple(options.logs),
        options.out,
        _words("--format", options.format, FORMATS),
        tuple(PROFILES[word] for word in rules),
        () if options.particulars is None else read_particulars(options.particulars),
        options.take_over,
    )


def _one(path: Path, folder: Path, wish: _Wish) -> int:
    if wish.take_over:
        return _take_over(path, folder, wish.formats)
    record = read_record(path)
    _write(record, folder, wish)
    for finding in record.integrity.findings[:5]:
        _say(f"{path}: {finding.sentence}")
    return DONE if record.integrity.sound else DOES_NOT_HOLD


def _each(paths: Iterable[Path], do: Callable[[Path], int]) -> int:
    """Do it for every log; one that cannot be read stops no other. Raises BadFileTold at the end."""
    statuses, unread = [DONE], False
    for path in paths:
        try:
            statuses.append(do(path))
        except LogFault as fault:
            _say(str(fault))
            unread = True
    if unread:
        raise BadFileTold
    return max(statuses)


def _write(record: Record, folder: Path, wish: _Wish) -> None:
    stem, rules, added = folder / stem_of(record), wish.rules, wish.added
    if "csv" in wish.formats:
        _text(stem, "-profile.csv", profile_csv(record))
        _text(stem, "-events.csv", events_csv(record))
    if "json" in wish.formats:
        _text(stem, ".json", record_json(record, rules, added))
    if not record.dives:
        _say(f"{record.path}: holds no dive")
    for dive in record.dives:
        for profile in rules:
            _tell(dive, completeness_of(record, dive, profile, added))
    if "pdf" in wish.formats and record.dives:
        sheets = tuple(dive_sheet(record, dive, rules, added) for dive in record.dives)
        _pdf(_named(stem, ".pdf"), sheets, record.settings.units)


def _tell(dive: Dive, found: Completeness) -> None:
    missing = ", ".join(one.required.what for one in found.missing)
    lacks = f": missing {missing}" if missing else ""
    whose = f"{shown(dive.diver, 40)}, dive {dive.number}"
    _say(f"{whose}, {found.profile.name}: {found.standing.value}{lacks}")


def _take_over(path: Path, folder: Path, formats: tuple[str, ...]) -> int:
    state, header = last_state(path, hear)
    books = books_for(path, header)
    sheet = take_over_sheet(state, books, mode=header.mode, log=path.name)
    stem = folder / f"{slug(state.settings.station)}-take-over-{slug(sheet.right)}"
    _text(stem, ".txt", sheet_text(sheet))
    if "pdf" in formats:
        _pdf(_named(stem, ".pdf"), (sheet,), state.settings.units)
    return DONE


def _book(of: Path, find: str, wish: _Wish) -> int:
    if not of.is_dir():
        _refuse(f"{of}: is no folder")
    profile, today = wish.rules[0], _today()
    dives: list[Entered] = []

    def enter(path: Path) -> int:
        record = read_record(path)
        dives.extend(entered(record, profile, today))
        return DONE if record.integrity.sound else DOES_NOT_HOLD

    status, unread = DONE, None
    try:
        status = _each(sorted(of.glob(f"*{LOG_ENDING}")), enter)
    except BadFileTold as told:
        unread = told
    book = book_of(dives, profile, today, find)
    sys.stdout.write(book_text(book))
    if wish.out is not None:
        stem = _folder(wish.out) / BOOK
        if "csv" in wish.formats:
            _text(stem, ".csv", book_csv(book))
        if "json" in wish.formats:
            _text(stem, ".json", book_json(book))
    if unread is not None:
        raise unread
    return status


def _today() -> date:
    return datetime.fromtimestamp(SystemClock().utc_ns() // NS_PER_S, UTC).date()


def _folder(folder: Path) -> Path:
    """The folder, made when it is not there. Raises BadFileTold."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        _say(f"{folder}: cannot be made: {error.strerror}")
        raise BadFileTold from error
    return folder


def _named(stem: Path, ending: str) -> Path:
    return stem.with_name(f"{stem.name}{ending}")


def _text(stem: Path, ending: str, text: str) -> None:
    path = _named(stem, ending)
    try:
        write_whole(path, text)
    except OSError as error:
        _say(f"{path}: cannot be written: {error.strerror}")
        raise BadFileTold from error
    sys.stdout.write(f"{path}\n")


def _pdf(path: Path, sheets: tuple[Sheet, ...], units: Units) -> None:
    """Raises StoppedByFault where Qt's libraries are missing: the other files are written by then."""
    try:
        from station.record.pdf import NotWritten, write_pdf  # noqa: PLC0415 - needs Qt
    except ImportError as error:
        raise StoppedByFault(f"no PDF: {error}; csv and json need nothing more") from error
    try:
        write_pdf(path, sheets, units)
    except NotWritten as fault:
        _say(str(fault))
        raise BadFileTold from fault
    sys.stdout.write(f"{path}\n")


def _words(option: str, text: str, known: Collection[str]) -> tuple[str, ...]:
    """The words of an option, each once. Raises BadFileTold for one that is not known."""
    words = tuple(dict.fromkeys(word.strip() for word in text.split(",")))
    strange = [word for word in words if word not in known]
    if strange:
        _refuse(f"{option} {text}: {', '.join(map(repr, strange))} is none of {', '.join(known)}")
    return words


def _refuse(why: str) -> NoReturn:
    _say(why)
    raise BadFileTold


def _say(message: str) -> None:
    sys.stderr.write(f"overbottom: {message}\n")
