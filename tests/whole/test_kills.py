"""Killed at any instant, the station loses no record that it said was committed."""

import json
import random
import signal
import subprocess

import pytest

KILLS = 50


@pytest.mark.posix
@pytest.mark.slow
@pytest.mark.timeout(1200)
def test_fifty_kills_lose_no_acknowledged_record(command, surroundings, verified, tmp_path):
    """After each kill the log holds at least the records of the last status line, whole and repeatable."""
    chance = random.Random(197458)
    for kill in range(KILLS):
        log = tmp_path / f"{kill}.dive"
        told = run_and_kill(command, surroundings(tmp_path), log, chance.randint(1, 45))
        verdict = verified(log, tmp_path)
        assert verdict["records"] >= told, f"kill {kill}: {told} records were acknowledged"
        assert verdict["findings"] == []
        assert verdict["replay"]["difference"] is None
        assert not verdict["closed"]


def run_and_kill(command, environment, log, lines):
    """Rehearse until so many status lines are read, then kill -9; the records acknowledged in the last."""
    arguments = ["rehearse", "line_trouble", "--headless", "--log", log, "--status", "-"]
    with subprocess.Popen(
        command(*arguments), stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, env=environment
    ) as station:
        assert station.stdout is not None
        told = 0
        for _ in range(lines):
            told = json.loads(station.stdout.readline())["log"]["records"]
        station.send_signal(signal.SIGKILL)
        # Lines that were on their way when it died count too: it had said them.
        rest = [line for line in station.stdout.read().splitlines(keepends=True) if line.endswith(b"\n")]
    return json.loads(rest[-1])["log"]["records"] if rest else told
