"""The conductor's protocol with a real child process, its lines read as a station reads them."""

import json
import os
import select
import signal
import socket
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from shared.conductor import Grant, Message, Opened, Ready, Taken, decode, encode
from simulators.handheld import slices
from simulators.scenario_file import SCENARIOS, read_scenario

PNEUMO, SUPPLY = "rehearsal://PNEUMO", "rehearsal://SUPPLY"
Written = Callable[..., Path]


class Station:
    """The least station that keeps in step: opens lines, takes what was granted, answers."""

    def __init__(self, *options: str) -> None:
        self.child = subprocess.Popen(
            [sys.executable, "-P", "-m", "simulators", *options],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
        )
        self._ends: dict[str, int | socket.socket] = {}
        self.heard: dict[str, bytes] = {}

    def hear(self) -> Message:
        """The simulator's next message."""
        assert self.child.stdout is not None
        return decode(self.child.stdout.readline())

    def say(self, message: Message) -> None:
        """Tell the simulator something."""
        assert self.child.stdin is not None
        self.child.stdin.write(encode(message))
        self.child.stdin.flush()

    def open(self, port: str, address: str) -> None:
        """Open a line at its address, again if it was open."""
        self._let_go(port)
        scheme, _, place = address.partition("://")
        if scheme == "serial":
            self._ends[port] = os.open(place, os.O_RDWR | os.O_NOCTTY | os.O_NONBLOCK)
        else:
            host, _, number = place.partition(":")
            self._ends[port] = socket.create_connection((host, int(number)), timeout=5.0)

    def take(self, grant: Grant) -> None:
        """Read what the grant counts on each line."""
        for port, count in grant.sent.items():
            self.heard[port] = self.heard.get(port, b"") + self._read(self._ends[port], count)

    def _read(self, end: int | socket.socket, count: int) -> bytes:
        got = b""
        while len(got) < count and select.select([end], [], [], 10.0)[0]:
            wanted = count - len(got)
            piece = end.recv(wanted) if isinstance(end, socket.socket) else os.read(end, wanted)
            assert piece, f"{count} bytes were granted, the line ended after {got!r}"
            got += piece
        return got

    def start(self) -> Ready:
        """From `Ready` to all lines open."""
        ready = self.hear()
        assert isinstance(ready, Ready)
        for port, address in ready.lines.items():
            self.open(port, address)
        self.say(Opened(tuple(ready.lines)))
        return ready

    def grant(self) -> Grant:
        """The next grant."""
        grant = self.hear()
        assert isinstance(grant, Grant)
        return grant

    def _let_go(self, port: str) -> None:
        end = self._ends.pop(port, None)
        if isinstance(end, socket.socket):
            end.close()
        elif end is not None:
            os.close(end)

    def finish(self) -> tuple[int, str]:
        """Close the pipe; exit status and what was said on standard error."""
        for port in tuple(self._ends):
            self._let_go(port)
        out, error = self.child.communicate(timeout=30)
        assert out == b""
        return self.child.returncode, error.decode()


@pytest.fixture
def station() -> Iterator[Callable[..., Station]]:
    """Starts a simulator and sees to it that it has ended."""
    started: list[Station] = []

    def start(*options: object) -> Station:
        started.append(Station(*map(str, options)))
        return started[-1]

    yield start
    for one in started:
        if one.child.poll() is None:
            one.finish()


KINDS = [pytest.param("pty", marks=pytest.mark.posix), "socket"]


@pytest.mark.parametrize("kind", KINDS)
def test_a_whole_rehearsal_says_on_its_lines_what_it_says_in_hand(
    station: Callable[..., Station], small_scenario: Written, tmp_path: Path, kind: str
):
    """Same bytes, pulls, presses and pictures as in-process slices; the truth file is complete."""
    path, truth = small_scenario(), tmp_path / "truth.jsonl"
    simulator = station("--scenario", path, "--lines", kind, "--truth", truth)
    ready = simulator.start()
    assert (ready.scenario, ready.starts_utc, ready.ends_s) == ("small", "2031-05-02T08:00:00Z", 3.0)
    assert ready.station_file == str(tmp_path / "small.station.toml")
    assert list(ready.lines) == [PNEUMO, SUPPLY]
    expected: dict[str, bytes] = {}
    for piece in slices(read_scenario(path)):
        grant = simulator.grant()
        assert (grant.at_ms, grant.done) == (piece.at_ms, piece.done)
        assert (grant.pulled, tuple(grant.restored)) == (piece.pulled, piece.restored)
        assert (grant.presses, grant.pictures) == (piece.presses, piece.pictures)
        assert grant.sent == {port: len(data) for port, data in piece.sent.items()}
        simulator.take(grant)
        for port, address in grant.restored.items():
            simulator.open(port, address)
            simulator.say(Opened((port,)))
        simulator.say(Taken(grant.at_ms))
        for port, data in piece.sent.items():
            expected[port] = expected.get(port, b"") + data
    assert simulator.finish() == (0, "")
    assert simulator.heard == expected
    lines = truth.read_text(encoding="utf-8").splitlines()
    assert json.loads(lines[-1])["end"]["complete"] is True
    assert len(lines) == 32


@pytest.mark.posix
def test_a_restored_line_is_dumb_until_the_station_has_opened_it(
    station: Callable[..., Station], small_scenario: Written
):
    """Slices go on meanwhile; the first bytes come in the slice after `Opened`."""
    simulator = station("--scenario", small_scenario())
    simulator.start()
    spoke: list[int] = []
    restored: dict[str, str] = {}
    for at_ms in range(100, 3001, 100):
        grant = simulator.grant()
        simulator.take(grant)
        spoke += [at_ms] if PNEUMO in grant.sent else []
        restored |= grant.restored
        if at_ms == 2500:
            simulator.open(PNEUMO, restored[PNEUMO])
            simulator.say(Opened((PNEUMO,)))
        simulator.say(Taken(at_ms))
    assert spoke == [*range(100, 1000, 100), *range(2600, 3001, 100)]
    assert simulator.finish() == (0, "")


@pytest.mark.posix
def test_a_station_that_opens_a_line_just_as_it_is_pulled_does_no_harm(
    station: Callable[..., Station], small_scenario: Written
):
    """The message is about a line that is gone; nothing is said on it."""
    simulator = station("--scenario", small_scenario())
    simulator.start()
    for at_ms in range(100, 1200, 100):
        grant = simulator.grant()
        simulator.take(grant)
        if at_ms == 1000:
            assert grant.pulled == (PNEUMO,)
            simulator.say(Opened((PNEUMO,)))
        simulator.say(Taken(at_ms))
    assert PNEUMO not in simulator.grant().sent
    assert simulator.finish() == (0, "")


@pytest.mark.posix
def test_closing_the_pipe_ends_the_rehearsal_in_good_order(
    station: Callable[..., Station], small_scenario: Written, tmp_path: Path
):
    """Status 0, nothing on standard error, lines taken up, the truth file ended and marked incomplete."""
    truth = tmp_path / "truth.jsonl"
    simulator = station("--scenario", small_scenario(), "--truth", truth)
    ready = simulator.start()
    simulator.take(simulator.grant())
    assert simulator.finish() == (0, "")
    end = json.loads(truth.read_text(encoding="utf-8").splitlines()[-1])["end"]
    assert (end["at_ms"], end["complete"]) == (100, False)
    assert not Path(ready.lines[PNEUMO].removeprefix("serial://")).parent.exists()


def test_a_station_that_dies_in_the_middle_of_a_word_ends_the_rehearsal(
    station: Callable[..., Station], small_scenario: Written
):
    """Half a message and then nothing is the end, not a message out of place."""
    simulator = station("--scenario", small_scenario(), "--lines", "socket")
    simulator.start()
    simulator.take(simulator.grant())
    assert simulator.child.stdin is not None
    simulator.child.stdin.write(b'{"kind":"tak')
    assert simulator.finish() == (0, "")


@pytest.mark.posix
def test_a_station_that_dies_without_a_word_leaves_nothing_behind(
    station: Callable[..., Station], small_scenario: Written
):
    """Both pipes gone while the simulator is about to write: status 0 and no complaint."""
    simulator = station("--scenario", small_scenario())
    simulator.start()
    grant = simulator.grant()
    assert simulator.child.stdout is not None
    simulator.child.stdout.close()
    simulator.say(Taken(grant.at_ms))
    assert simulator.child.stdin is not None
    simulator.child.stdin.close()
    assert simulator.child.stderr is not None
    assert simulator.child.stderr.read() == b""
    assert simulator.child.wait(timeout=30) == 0
    simulator.child.stderr.close()


@pytest.mark.posix
def test_a_simulator_that_is_told_to_end_takes_its_lines_up(
    station: Callable[..., Station], small_scenario: Written
):
    """SIGTERM ends it with 128 + 15; Ctrl-C, which goes to the whole group, is the station's to act on."""
    simulator = station("--scenario", small_scenario())
    ready = simulator.start()
    simulator.child.send_signal(signal.SIGINT)
    simulator.take(simulator.grant())
    simulator.child.send_signal(signal.SIGTERM)
    assert simulator.child.wait(timeout=30) == 128 + signal.SIGTERM
    assert simulator.finish() == (128 + signal.SIGTERM, "")
    assert not Path(ready.lines[PNEUMO].removeprefix("serial://")).parent.exists()


@pytest.mark.parametrize(
    ("message", "told"),
    [
        (b"what?\n", "not a conductor's message: b'what?"),
        (encode(Taken(700)), "700 ms taken, but 100 ms was granted"),
        (encode(Grant(100)), "has no place here"),
        (
            encode(Opened(("rehearsal://OTHER",))),
            "rehearsal://OTHER is said to be open, but there is no such line",
        ),
    ],
)
def test_a_message_out_of_place_stops_the_rehearsal(
    station: Callable[..., Station], small_scenario: Written, message: bytes, told: str
):
    """Status 3 and a sentence that says what was wrong."""
    simulator = station("--scenario", small_scenario(), "--lines", "socket")
    simulator.start()
    simulator.take(simulator.grant())
    assert simulator.child.stdin is not None
    simulator.child.stdin.write(message)
    status, error = simulator.finish()
    assert (status, told in error) == (3, True), error


@pytest.mark.posix
def test_a_station_that_does_not_listen_before_it_answers_is_waited_for(
    station: Callable[..., Station], small_scenario: Written
):
    """Lines opened one after the other in two messages start the rehearsal as well as in one."""
    simulator = station("--scenario", small_scenario())
    ready = simulator.hear()
    assert isinstance(ready, Ready)
    for port, address in ready.lines.items():
        simulator.open(port, address)
        simulator.say(Opened((port,)))
    assert simulator.grant().at_ms == 100
    assert simulator.finish() == (0, "")


def test_another_seed_is_taken_from_the_command_line(
    station: Callable[..., Station], small_scenario: Written
):
    """The noise on the line is that of the seed given."""
    path = small_scenario()
    simulator = station("--scenario", path, "--seed", 99, "--lines", "socket")
    simulator.start()
    simulator.take(simulator.grant())
    assert simulator.heard[PNEUMO] == next(slices(read_scenario(path, 99))).sent[PNEUMO]
    assert simulator.finish() == (0, "")


def test_bad_files_are_told_whole_on_standard_error(station: Callable[..., Station], small_scenario: Written):
    """Status 2, nothing on standard output, every problem with its place."""
    path = small_scenario({"seed = 7": "seed = -7", "flasks = 2": "flasks = 2.5"})
    simulator = station("--scenario", path)
    status, error = simulator.finish()
    assert status == 2
    assert f"{path}:3: seed: -7 is below 0" in error
    assert "bank[1].flasks: 2.5 is not a whole number" in error


def test_a_truth_file_that_cannot_be_written_is_told(
    station: Callable[..., Station], small_scenario: Written
):
    """Before anything begins."""
    simulator = station("--scenario", small_scenario(), "--truth", "/nowhere/truth.jsonl")
    assert simulator.finish() == (2, "/nowhere/truth.jsonl: No such file or directory\n")


def test_the_scenarios_of_the_program_are_listed(station: Callable[..., Station]):
    """One a line: name, title, purpose."""
    simulator = station("--list")
    out, error = simulator.child.communicate(timeout=30)
    rows = [line.split("\t") for line in out.decode().splitlines()]
    shipped = sorted(file.stem for file in SCENARIOS.glob("*.toml") if not file.stem.endswith(".station"))
    assert [name for name, _, _ in rows] == shipped
    assert (simulator.child.returncode, error) == (0, b"")
