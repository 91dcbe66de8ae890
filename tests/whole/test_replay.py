"""A replay is the watch again: the same lines, from the same log, through the same pump."""

import json

import pytest

OF_THE_RUN = ("mode", "log")


def watch_only(lines):
    """The status lines without the keys that tell of the run."""
    return [{key: value for key, value in line.items() if key not in OF_THE_RUN} for line in lines]


@pytest.fixture(scope="module")
def replayed(lock_gate, overbottom, tmp_path_factory):
    """The first dive, replayed whole."""
    home = tmp_path_factory.mktemp("replay")
    ran = overbottom("replay", lock_gate.log, "--headless", "--status", "-", home=home)
    assert ran.exit_status == 0, ran.err
    return ran


def test_gives_the_same_states_line_for_line(lock_gate, replayed):
    """All keys but `mode` and `log` are the same, in every line."""
    assert watch_only(replayed.lines) == watch_only(lock_gate.ran.lines)


def test_says_that_it_is_a_replay(replayed):
    """Every line says that it is a replay, and names the log."""
    assert {line["mode"] for line in replayed.lines} == {"replay"}


def test_begins_where_it_is_asked_to(lock_gate, replayed, overbottom, tmp_path):
    """`--from` gives the same lines from that time of day on."""
    ran = overbottom(
        "replay", lock_gate.log, "--headless", "--status", "-", "--from", "08:20:00", home=tmp_path
    )
    assert ran.lines[0]["utc"] == "2031-05-02T08:20:00Z"
    assert watch_only(ran.lines) == watch_only(replayed.lines)[-len(ran.lines) :]


def test_refuses_a_time_that_is_none(lock_gate, overbottom, tmp_path):
    """A wrong time of day is a bad argument, told as such."""
    ran = overbottom("replay", lock_gate.log, "--headless", "--from", "25:99", home=tmp_path)
    assert ran.exit_status == 2
    assert "25:99" in ran.err


def test_verify_finds_the_log_whole_and_repeatable(lock_gate, overbottom, tmp_path):
    """`verify --json` says that the log holds and how much it compared."""
    ran = overbottom("verify", lock_gate.log, "--json", home=tmp_path)
    verdict = json.loads(ran.out)
    assert ran.exit_status == 0
    assert verdict["holds"] is True
    assert verdict["closed"] is True
    assert verdict["findings"] == []
    # One trace a second at the least.
    assert verdict["replay"]["compared"] > lock_gate.truth[0]["end_ms"] // 1000


def test_two_rehearsals_are_the_same_to_the_digest(line_trouble, rehearsed, overbottom, tmp_path):
    """The same scenario over fresh lines gives the same watch, line for line, and the same arrivals."""
    again = rehearsed("line_trouble", tmp_path)
    assert watch_only(again.ran.lines) == watch_only(line_trouble.ran.lines)
    heads = [
        json.loads(overbottom("verify", run.log, "--json", home=tmp_path).out)["records"]
        for run in (line_trouble, again)
    ]
    assert heads[0] == heads[1]
