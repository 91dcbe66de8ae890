"""`overbottom plan` and `overbottom tables`: what they print, and with which exit status they end."""

import json

import pytest

from station.__main__ import main


def run(capsys, *arguments: str) -> tuple[int, str, str]:
    """Run a command in this process; exit status, standard output, standard error."""
    try:
        ended = main(list(arguments))
    except SystemExit as stopped:
        ended = int(stopped.code or 0)
    caught = capsys.readouterr()
    return ended, caught.out, caught.err


def test_a_plan_tells_schedule_ascent_and_what_the_next_row_costs(capsys):
    """57 fsw read, 100 min: 60/100, 42 min at 20, up at 43:54. USN Diving Manual Rev 7, Table 9-9."""
    ended, out, _ = run(capsys, "plan", "--depth", "57", "--time", "100")
    assert ended == 0
    assert "60/100: 42 min at 20" in out
    assert "Longer by more than 0:00: 57 min at 20 (60/110)" in out
    assert "43:54" in out
    assert "An aid only" in out


def test_a_plan_as_json_is_the_documented_object(capsys):
    """Schema, stops, total ascent, group; the corrected depth is taken as it is."""
    ended, out, _ = run(
        capsys, "plan", "--depth", "60", "--corrected", "--time", "65", "--json", "--mode", "air-o2"
    )
    made = json.loads(out)
    assert ended == 0
    assert (made["schema"], made["stops"], made["depth"]["correction_fsw"]) == (
        "overbottom-plan/1",
        [[20, 1]],
        None,
    )


def test_a_group_with_an_interval_brings_residual_time(capsys):
    """Group H after half an hour is still H: 46 min at 60 fsw. USN Diving Manual Rev 7, Table 9-8."""
    _, out, _ = run(
        capsys, "plan", "--depth", "57", "--time", "20", "--group", "H", "--interval", "0:30", "--json"
    )
    made = json.loads(out)
    assert (made["group_at_dive"], made["time"]["residual_min"], made["time"]["table_min"]) == ("H", 46, 70)


def test_what_is_beyond_the_table_ends_with_one_and_words(capsys):
    """Nothing is extrapolated; the last row is called too short."""
    ended, out, _ = run(capsys, "plan", "--depth", "190", "--time", "600")
    assert ended == 1
    assert out.startswith("No schedule.")
    assert "TOO SHORT" in out


@pytest.mark.parametrize(
    "arguments",
    [
        ("--depth", "-3", "--time", "20"),
        ("--depth", "nan", "--time", "20"),
        ("--depth", "57", "--time", "0"),
        ("--depth", "57", "--time", "20", "--group", "Q"),
        ("--depth", "57", "--time", "20", "--interval", "1:00"),
        ("--depth", "57", "--time", "20", "--group", "C", "--interval", "0:00"),
        ("--depth", "57", "--time", "20", "--group", "C", "--interval", "90"),
        ("--depth", "57", "--time", "20", "--mode", "nitrox"),
        ("--depth", "57"),
    ],
)
def test_bad_arguments_end_with_two_and_a_sentence(capsys, arguments: tuple[str, ...]):
    """Each is told on standard error, and nothing is printed as a plan."""
    ended, out, err = run(capsys, "plan", *arguments)
    assert (ended, out) == (2, "")
    assert err.strip()


def test_the_altitude_beyond_the_tables_is_words(capsys):
    """11,000 ft is above Tables 9-5 and 9-6."""
    ended, out, _ = run(capsys, "plan", "--depth", "57", "--time", "20", "--altitude", "11000")
    assert ended == 1
    assert "10,000 ft" in out


def test_the_tables_hold(capsys):
    """Exactly the known cells differ; the edition stands on top and in the JSON."""
    ended, out, _ = run(capsys, "tables", "--check")
    assert ended == 0
    assert "356 of 359" in out
    assert out.rstrip().endswith("Exactly the known cells differ.")
    ended, out, _ = run(capsys, "tables", "--check", "--json")
    assert (ended, json.loads(out)["ok"]) == (0, True)
    ended, out, _ = run(capsys, "tables")
    assert ended == 0
    assert "USN Rev 7" in out
