"""`overbottom record` as it is called: files, exit statuses, messages, several logs, the book."""

import json
import os
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest


@dataclass(frozen=True)
class Ran:
    """What one call left behind."""

    status: int
    out: str
    err: str


@pytest.fixture
def record(tmp_path: Path) -> Callable[..., Ran]:
    """Calls the command in an empty folder."""

    def call(*arguments: object, **environment: str) -> Ran:
        done = subprocess.run(
            [sys.executable, "-P", "-m", "station", "record", *map(str, arguments)],
            cwd=tmp_path,
            capture_output=True,
            text=True,
            env={**os.environ, **environment},
            check=False,
        )
        return Ran(done.returncode, done.stdout, done.stderr)

    return call


def test_every_format_is_written_and_named(
    record: Callable[..., Ran], short_log: Callable[..., Path], tmp_path: Path
) -> None:
    """Standard output names the files, standard error what is missing; exit status 0."""
    ran = record(short_log(), "--out", "here/too")
    assert ran.status == 0, ran.err
    names = [Path(line) for line in ran.out.splitlines()]
    assert [name.suffix for name in names] == [".csv", ".csv", ".json", ".pdf"]
    assert all((tmp_path / name).stat().st_size > 100 for name in names)
    assert sorted((tmp_path / "here/too").iterdir()) == sorted(tmp_path / name for name in names)
    assert "osha: closed with stated gaps: missing the designated person in charge" in ran.err


def test_one_bad_log_among_several_is_told_and_stops_no_other(
    record: Callable[..., Ran], short_log: Callable[..., Path], tmp_path: Path
) -> None:
    """The others are written; exit status 2 with the name of the bad one."""
    (tmp_path / "bad.dive").write_text("no log")
    ran = record("bad.dive", short_log(), "--format", "json")
    assert ran.status == 2
    assert "bad.dive" in ran.err
    assert len(ran.out.splitlines()) == 1


def test_log_that_holds_only_in_part_is_written_with_exit_status_1(
    record: Callable[..., Ran], short_log: Callable[..., Path], tmp_path: Path
) -> None:
    """What holds is on record, what does not is told."""
    whole = short_log().read_bytes()
    (tmp_path / "cut.dive").write_bytes(whole[: len(whole) * 2 // 3])
    ran = record("cut.dive", "--format", "json")
    assert ran.status == 1
    assert "cut.dive" in ran.err
    made = json.loads((tmp_path / ran.out.strip()).read_text())
    assert made["log"]["sound"] is False


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        ((), "either logs, or --book"),
        (("x.dive", "--format", "doc"), "'doc' is none of pdf, csv, json"),
        (("x.dive", "--rules", "mars"), "'mars' is none of osha, uscg, uk"),
        (("--book", "nowhere"), "nowhere: is no folder"),
        (("x.dive", "--particulars", "none.toml"), "none.toml"),
    ],
)
def test_bad_arguments_are_told_with_exit_status_2(
    record: Callable[..., Ran], arguments: tuple[str, ...], told: str
) -> None:
    """Nothing is written and the message says what is wrong."""
    ran = record(*arguments)
    assert (ran.status, ran.out) == (2, "")
    assert told in ran.err


def test_without_qt_csv_and_json_are_written_all_the_same(
    record: Callable[..., Ran], short_log: Callable[..., Path], tmp_path: Path
) -> None:
    """Where Qt's libraries are missing the rest is there, and the exit status says that something stopped."""
    (tmp_path / "no" / "PySide6").mkdir(parents=True)
    (tmp_path / "no" / "PySide6" / "__init__.py").write_text("raise ImportError('libEGL.so.1 is missing')")
    path = os.pathsep.join([str(tmp_path / "no"), os.environ.get("PYTHONPATH", "")])
    ran = record(short_log(), PYTHONPATH=path.rstrip(os.pathsep))
    assert ran.status == 3
    assert "no PDF: libEGL.so.1 is missing" in ran.err
    assert [Path(line).suffix for line in ran.out.splitlines()] == [".csv", ".csv", ".json"]


def test_take_over_sheet_of_a_broken_log_is_written_as_page_and_text(
    record: Callable[..., Ran], short_log: Callable[..., Path], tmp_path: Path
) -> None:
    """From the last state of an unfinished log, named after the moment at which it stood."""
    ran = record(short_log(finished=False), "--take-over")
    assert ran.status == 0, ran.err
    text, pdf = (tmp_path / line for line in ran.out.splitlines())
    assert "Take over by hand" in text.read_text()
    assert text.stem == "saltholm-lock-gate-3-take-over-2031-05-04t08-03-20z"
    assert pdf.read_bytes().startswith(b"%PDF")


def test_book_lists_a_folder_and_can_be_kept(
    record: Callable[..., Ran], short_log: Callable[..., Path], tmp_path: Path
) -> None:
    """The dives of all logs of a folder on standard output, and as files where asked for."""
    folder = tmp_path / "season"
    folder.mkdir()
    (folder / "one.dive").write_bytes(short_log(dives=2).read_bytes())
    (folder / "bad.dive").write_text("no log")
    ran = record("--book", folder, "--out", "book")
    assert ran.status == 2
    assert "bad.dive" in ran.err
    assert ran.out.count("Tomas Reyne, dive") == 2
    assert {path.name for path in (tmp_path / "book").iterdir()} == {"log-book.csv", "log-book.json"}


def test_disk_that_refuses_is_told_and_leaves_no_half_file(
    record: Callable[..., Ran], short_log: Callable[..., Path], tmp_path: Path
) -> None:
    """A folder that cannot be made is named, with exit status 2."""
    (tmp_path / "taken").write_text("a file")
    ran = record(short_log(), "--out", "taken/in")
    assert ran.status == 2
    assert "taken/in: cannot be made" in ran.err
