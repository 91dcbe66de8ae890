"""Whole dives through the public door: the command line in a process of its own."""

import json
import os
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

Status = dict[str, Any]


@dataclass(frozen=True)
class Ran:
    """What one command left behind."""

    exit_status: int
    out: str
    err: str

    @property
    def lines(self) -> list[Status]:
        """Standard output as JSON, line by line."""
        return [json.loads(line) for line in self.out.splitlines()]


def run(*arguments: object, home: Path, **environment: str) -> Ran:
    """Run one command to its end; its user data folder is under `home`."""
    done = subprocess.run(
        command_line(*arguments),
        capture_output=True,
        text=True,
        env=bare_surroundings(home, **environment),
        check=False,
    )
    return Ran(done.returncode, done.stdout, done.stderr)


def command_line(*arguments: object) -> list[str]:
    """How a command is started."""
    return [sys.executable, "-P", "-m", "station", *(str(argument) for argument in arguments)]


def bare_surroundings(home: Path, **more: str) -> dict[str, str]:
    """The environment of a command: no display, its own home."""
    bare = {key: value for key, value in os.environ.items() if key not in {"DISPLAY", "WAYLAND_DISPLAY"}}
    return {**bare, "HOME": str(home), "XDG_DATA_HOME": str(home / "data"), **more}


@dataclass(frozen=True)
class Rehearsed:
    """One rehearsal over real lines, with its log, its status stream and the truth."""

    log: Path
    ran: Ran
    truth: list[Status]


@pytest.fixture(scope="session")
def lock_gate(tmp_path_factory: pytest.TempPathFactory) -> Rehearsed:
    """The first dive of the program, thirty minutes over pseudo-terminals, flat out."""
    return rehearse_whole("lock_gate_30min", tmp_path_factory.mktemp("lock_gate"))


@pytest.fixture(scope="session")
def line_trouble(tmp_path_factory: pytest.TempPathFactory) -> Rehearsed:
    """The short rehearsal in which everything goes wrong on the lines."""
    return rehearse_whole("line_trouble", tmp_path_factory.mktemp("line_trouble"))


def rehearse_whole(scenario: str, folder: Path) -> Rehearsed:
    """A scenario rehearsed to its end."""
    log, truth = folder / "rehearsed.dive", folder / "truth.jsonl"
    ran = run(
        "rehearse", scenario, "--headless", "--log", log, "--status", "-", "--truth", truth, home=folder
    )
    assert ran.exit_status == 0, ran.err
    return Rehearsed(log, ran, [json.loads(line) for line in truth.read_text().splitlines()])


@pytest.fixture(scope="session")
def overbottom():
    """Runs one command to its end."""
    return run


@pytest.fixture(scope="session")
def command():
    """The command line of a command, for a process of the test's own."""
    return command_line


@pytest.fixture(scope="session")
def surroundings():
    """The environment of a command: no display, a home of its own."""
    return bare_surroundings


@pytest.fixture(scope="session")
def rehearsed():
    """Rehearses a scenario to its end in a folder."""
    return rehearse_whole


@pytest.fixture(scope="session")
def verified():
    """The verdict of `verify --json` on a log."""

    def verdict(log: Path, home: Path) -> Status:
        ran = run("verify", log, "--json", home=home)
        assert ran.exit_status in {0, 1}, ran.err
        return json.loads(ran.out)

    return verdict


@pytest.fixture(scope="session")
def seen():
    """Picks one diver of a status line."""

    def pick(line: Status, name: str = "Diver 1") -> Status:
        return next(each for each in line["divers"] if each["name"] == name)

    return pick
