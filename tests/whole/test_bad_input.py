"""Whatever is wrong with a file, a line or a disk: a message that says what and where, and nothing lost."""

import json
import shutil
import sqlite3
import subprocess

import pytest

STATION = """
[station]
name = "Quay"
units = "us"

[[supply]]
name = "primary"

[[diver]]
name = "Diver 1"
person = "A. Body"
equipment = "demand-helmet"
supply = "primary"

[[gauge]]
name = "pneumo"
channel = "depth"
diver = "Diver 1"
port = "serial:///dev/nowhere?baud=9600"
format = { kind = "nmea-xdr", transducer = "P1", unit = "bar" }
range = { low_fsw = -5, high_fsw = 250 }
"""


def test_station_file_tells_every_fault_at_once(overbottom, tmp_path):
    """Wrong key, wrong unit, wrong range and an unknown diver are all told, each with its line."""
    bad = STATION.replace("equipment =", "equipmnt =").replace('unit = "bar"', 'unit = "inches"')
    bad = bad.replace('diver = "Diver 1"', 'diver = "Diver 7"').replace("high_fsw = 250", "high_fsw = -50")
    file = tmp_path / "quay.station.toml"
    file.write_text(bad)
    ran = overbottom("watch", file, "--headless", home=tmp_path)
    assert ran.exit_status == 2
    assert ran.out == ""
    for word in ("quay.station.toml", "equipmnt", "inches", "Diver 7", "range"):
        assert word in ran.err
    assert len([line for line in ran.err.splitlines() if ":" in line]) >= 4


def test_scenario_file_tells_every_fault_at_once(overbottom, tmp_path):
    """A scenario with a wrong key and a wrong value is refused with file and line; no log is begun."""
    file = tmp_path / "bad.toml"
    file.write_text('title = "x"\npurpose = "y"\nseed = -1.5\nends_at = 3\n')
    log = tmp_path / "never.dive"
    ran = overbottom("rehearse", file, "--headless", "--log", log, home=tmp_path)
    assert ran.exit_status == 2
    assert "bad.toml:3" in ran.err
    assert "ends_at" in ran.err
    assert not log.exists()


def test_unknown_scenario_is_named(overbottom, tmp_path):
    """A scenario that there is not is a bad argument, and the ones there are can be listed."""
    ran = overbottom("rehearse", "no_such_dive", "--headless", home=tmp_path)
    assert ran.exit_status == 2
    assert "no_such_dive" in ran.err
    assert "lock_gate_30min" in overbottom("rehearse", "--list", home=tmp_path).out


@pytest.mark.parametrize("command", ["replay", "verify"])
def test_no_log_is_a_bad_argument(command, overbottom, tmp_path):
    """A file that is missing, empty or something else is told as such."""
    empty, other = tmp_path / "empty.dive", tmp_path / "other.dive"
    empty.touch()
    other.write_text("The quick brown diver")
    for file in (tmp_path / "missing.dive", empty, other):
        ran = overbottom(command, file, "--headless", home=tmp_path)
        assert ran.exit_status == 2
        assert str(file) in ran.err


def test_newer_log_is_refused(line_trouble, overbottom, tmp_path):
    """A log of a newer layout is refused in words, and not touched."""
    newer = tmp_path / "newer.dive"
    shutil.copy(line_trouble.log, newer)
    with sqlite3.connect(newer) as connection:
        connection.execute("PRAGMA user_version=99")
    connection.close()
    ran = overbottom("verify", newer, home=tmp_path)
    assert ran.exit_status == 2
    assert "newer" in ran.err


def test_half_a_log_is_read_to_its_last_whole_batch(line_trouble, overbottom, verified, tmp_path):
    """A log cut in half is told as cut; what is whole of it replays as it was."""
    half = tmp_path / "half.dive"
    data = line_trouble.log.read_bytes()
    half.write_bytes(data[: len(data) // 2])
    verdict = verified(half, tmp_path)
    assert not verdict["holds"]
    assert verdict["findings"]
    ran = overbottom("replay", half, "--headless", "--status", "-", home=tmp_path)
    assert ran.exit_status == 1
    assert "batch" in ran.err
    whole = [json.loads(line) for line in line_trouble.ran.out.splitlines()]
    assert 0 < len(ran.lines) < len(whole)
    assert [line["divers"] for line in ran.lines] == [line["divers"] for line in whole[: len(ran.lines)]]


def test_changed_log_is_found_out(line_trouble, verified, tmp_path):
    """One byte changed inside an arrival is found, with its batch."""
    bent = tmp_path / "bent.dive"
    shutil.copy(line_trouble.log, bent)
    with sqlite3.connect(bent) as connection:
        connection.execute("UPDATE batch SET arrivals = replace(arrivals, 'YXXDR', 'YXXDQ') WHERE n = 3")
    connection.close()
    verdict = verified(bent, tmp_path)
    assert not verdict["holds"]
    assert 3 in {finding["batch"] for finding in verdict["findings"]}


def test_log_that_exists_is_not_overwritten(line_trouble, overbottom, tmp_path):
    """A rehearsal never writes over a log; the message names the file."""
    before = line_trouble.log.read_bytes()
    ran = overbottom("rehearse", "line_trouble", "--headless", "--log", line_trouble.log, home=tmp_path)
    assert ran.exit_status == 2
    assert str(line_trouble.log) in ran.err
    assert line_trouble.log.read_bytes() == before


def test_folder_that_cannot_be_written_is_told_before_the_dive(overbottom, tmp_path):
    """A log in a folder that is none ends the start with the path."""
    not_a_folder = tmp_path / "file"
    not_a_folder.touch()
    log = not_a_folder / "x.dive"
    ran = overbottom("rehearse", "line_trouble", "--headless", "--log", log, home=tmp_path)
    assert ran.exit_status == 2
    assert str(log) in ran.err


@pytest.mark.posix
def test_full_disk_in_mid_dive_stops_nothing(command, surroundings, tmp_path):
    """When the log cannot grow the watch goes on to the end of the dive, and the alarm stands."""
    import resource  # noqa: PLC0415 - only where there are limits

    def small_files() -> None:
        resource.setrlimit(resource.RLIMIT_FSIZE, (250_000, 250_000))

    arguments = ["rehearse", "line_trouble", "--headless", "--status", "-", "--log", tmp_path / "full.dive"]
    ran = subprocess.run(
        command(*arguments),
        capture_output=True,
        text=True,
        env=surroundings(tmp_path),
        preexec_fn=small_files,
        check=False,
    )
    lines = [json.loads(line) for line in ran.stdout.splitlines()]
    assert lines[-1]["divers"][0]["phase"] == "surfaced"
    assert any(alarm["id"] == "log-not-durable" for alarm in lines[-1]["alarms"])
    assert lines[-1]["log"]["records"] < lines[-1]["elapsed_s"] * 10
    assert ran.returncode == 2
    assert "full.dive" in ran.stderr


def test_line_trouble_is_counted_and_heals(line_trouble, seen):
    """Garbled, cut, over-long, foreign and silent lines are faults of the link, never a depth."""
    last = line_trouble.ran.lines[-1]
    faults = {link["name"]: link["faults"] for link in last["links"]}
    assert faults["pneumo-1"] > 10
    assert all(link["trust"] == "good" for link in last["links"])
    planned_fsw = 60
    for line in line_trouble.ran.lines:
        depth = seen(line)["depth"]["gauge_fsw"]
        assert depth is None or -1 < depth < planned_fsw + 5
