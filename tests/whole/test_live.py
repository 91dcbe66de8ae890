"""A real station in real time: gauges on pseudo-terminals that the test feeds, one sentence a status line."""

import json
import os
import signal
import subprocess
import tty
from contextlib import contextmanager
from pathlib import Path

import pytest

from shared.wire.nmea0183 import XdrGroup, xdr_sentence

pytestmark = [pytest.mark.posix, pytest.mark.slow]

STATION = """
[station]
name = "Quay"

[[supply]]
name = "primary"

[[diver]]
name = "Diver 1"
person = "A. Body"
equipment = "demand-helmet"
supply = "primary"
planned_depth_fsw = 60

[[gauge]]
name = "pneumo"
channel = "depth"
diver = "Diver 1"
port = "serial://{line}?baud=9600"
every_s = 0.4
format = {{ kind = "nmea-xdr", transducer = "P1", unit = "bar" }}
range = {{ low_fsw = -5, high_fsw = 250 }}
"""
# 1 fsw = 0.445 psi, 1 psi = 0.06894757 bar: 20 fsw.
TWENTY_FSW_BAR = "0.61363"


class GaugeLine:
    """A pseudo-terminal under a lasting name, with a gauge on it that speaks when it is told."""

    def __init__(self, folder):
        self.name = folder / "line"
        self._master = None
        self.plug()

    def plug(self):
        """A fresh line under the name."""
        self._master, slave = os.openpty()
        tty.setraw(slave)
        self._slave = slave
        self.name.unlink(missing_ok=True)
        self.name.symlink_to(os.ttyname(slave))

    def pull(self):
        """The cable is out."""
        os.close(self._master)
        os.close(self._slave)
        self.name.unlink()

    def speak(self):
        """One sentence."""
        os.write(self._master, xdr_sentence("YX", [XdrGroup("P", TWENTY_FSW_BAR, "B", "P1")]))


@contextmanager
def station(command, environment, file, log, *more):
    """A watch that runs until it is told to end; its status lines are read one by one."""
    arguments = ["watch", file, "--headless", "--status", "-", "--log", log, *more]
    with subprocess.Popen(
        command(*arguments), stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, env=environment
    ) as process:
        try:
            yield process
        finally:
            if process.poll() is None:
                process.send_signal(signal.SIGTERM)
                process.wait()


def until(process, line, holds, *, speaking, most=20):
    """Status lines until one holds; the gauge speaks after each when it may."""
    for _ in range(most):
        status = json.loads(process.stdout.readline())
        if speaking:
            line.speak()
        if holds(status):
            return status
    raise AssertionError(f"not in {most} s: {status['divers'][0]['depth']} {status['alarms']}")


def trust(status):
    """The trust of the one gauge."""
    return status["links"][0]["trust"]


@pytest.fixture
def quay(tmp_path):
    """A station file with one gauge, and its line."""
    line = GaugeLine(tmp_path)
    file = tmp_path / "quay.station.toml"
    file.write_text(STATION.format(line=line.name))
    return file, line


def test_watches_loses_and_finds_a_gauge_in_real_time(quay, command, surroundings, verified, tmp_path):
    """Heard, silent, pulled, put back: each shown in time, and the log is closed whole on SIGTERM."""
    file, line = quay
    log = tmp_path / "quay.dive"
    with station(command, surroundings(tmp_path), file, log) as process:
        heard = until(process, line, lambda s: s["divers"][0]["depth"]["gauge_fsw"], speaking=True)
        assert heard["mode"] == "live"
        assert heard["divers"][0]["depth"]["gauge_fsw"] == pytest.approx(20.0, abs=0.01)
        silent = until(process, line, lambda s: trust(s) == "stale", speaking=False, most=4)
        assert silent["divers"][0]["depth"]["gauge_fsw"] is None
        line.pull()
        pulled = until(process, line, lambda s: trust(s) == "lost", speaking=False, most=4)
        assert "depth-not-heard" in {alarm["id"] for alarm in pulled["alarms"]}
        line.plug()
        until(process, line, lambda s: trust(s) == "good", speaking=True)
        process.send_signal(signal.SIGTERM)
        process.wait()
        assert process.returncode == 0
    verdict = verified(log, tmp_path)
    assert verdict["holds"]
    assert verdict["closed"]


def test_second_station_on_the_port_is_refused(quay, command, surroundings, tmp_path):
    """A second program that opens the line is refused, says so, and the first hears on."""
    file, line = quay
    with (
        station(command, surroundings(tmp_path), file, tmp_path / "first.dive") as first,
    ):
        until(first, line, lambda s: trust(s) == "good", speaking=True)
        with station(command, surroundings(tmp_path), file, tmp_path / "second.dive") as second:
            refused = json.loads(second.stdout.readline())
            assert trust(refused) == "lost"
        until(first, line, lambda s: trust(s) == "good", speaking=True)


def test_killed_watch_is_taken_up_again(quay, command, surroundings, verified, tmp_path):
    """After kill -9 the same command goes on in the same log, says the gap, and keeps counting."""
    file, line = quay
    log = tmp_path / "quay.dive"
    with station(command, surroundings(tmp_path), file, log) as process:
        before = until(process, line, lambda s: s["elapsed_s"] >= 3 and s["log"]["records"], speaking=True)
        process.kill()
        process.wait()
    with station(command, surroundings(tmp_path), file, log) as process:
        again = until(process, line, lambda s: trust(s) == "good", speaking=True)
        assert again["elapsed_s"] > before["elapsed_s"]
        assert again["log"]["records"] > before["log"]["records"]
        process.send_signal(signal.SIGTERM)
        process.wait()
        assert "off watch" in process.stderr.read()
    verdict = verified(log, tmp_path)
    assert verdict["holds"], verdict
    assert verdict["closed"]


def test_same_log_is_not_written_by_two(quay, command, surroundings, overbottom, tmp_path):
    """A second station on an open log is refused with the file's name."""
    file, line = quay
    log = tmp_path / "quay.dive"
    with station(command, surroundings(tmp_path), file, log) as process:
        until(process, line, lambda s: s["log"]["records"], speaking=True)
        ran = overbottom("watch", file, "--headless", "--log", log, home=tmp_path)
        assert ran.exit_status == 2
        assert str(log) in ran.err


def test_blocked_windows_delay_no_stamp_and_no_commit(quay, command, surroundings, tmp_path):
    """Windows that are stopped dead change nothing: a line each second, and each is committed."""
    file, line = quay
    arguments = ["--pictures", tmp_path / "pictures"]
    with station(command, surroundings(tmp_path), file, tmp_path / "quay.dive", *arguments) as process:
        until(process, line, lambda s: trust(s) == "good", speaking=True)
        windows = child_of(process.pid, "station.panels")
        os.kill(windows, signal.SIGSTOP)
        blocked = [until(process, line, lambda _: True, speaking=True) for _ in range(5)]
        os.kill(windows, signal.SIGCONT)
        seconds = [status["elapsed_s"] for status in blocked]
        assert seconds == list(range(seconds[0], seconds[0] + 5))
        records = [status["log"]["records"] for status in blocked]
        assert records == sorted(set(records))
        assert "windows-lost" not in {alarm["id"] for status in blocked for alarm in status["alarms"]}


def child_of(parent, module):
    """The process that a station has started for a part of itself."""
    for entry in Path("/proc").glob("[0-9]*"):
        try:
            words = (entry / "cmdline").read_bytes().decode().split("\0")
            mother = int((entry / "stat").read_text().rsplit(")", 1)[1].split()[1])
        except (FileNotFoundError, ProcessLookupError):
            continue
        if mother == parent and module in words:
            return int(entry.name)
    raise AssertionError(f"{parent} has no child {module}")
