"""The first dive against what really happened in it.

Truth is the simulator's own account, before any gauge. Tolerances: the gauges have 0.02 fsw and 0.1 psi of
resolution, noise of 0.05 fsw and 0.2 psi (one standard deviation) and 0.2 s of lag; the diver heaves by
0.4 fsw, which a ten-second median flattens; a hose that was not blown since he stepped down a foot reads
shallow until it is. Together they stay within 0.6 fsw and, where pressure stands still, 1 psi.
"""

import math
from statistics import median

import pytest

DEPTH_TOLERANCE_FSW = 0.6
PRESSURE_TOLERANCE_PSI = 1.0
BREATHS_S = 30
PSI_PER_FSW = 0.445  # USN Diving Manual Rev 5, Table 8-1
DEMAND_TO_60_FSW_PSI = 90  # USN Diving Manual Rev 5, Table 8-1, note 1


@pytest.fixture(scope="module")
def truth_of(lock_gate):
    """The true figures of the diver by whole second, as medians over the seconds before it."""
    moments = [line["divers"]["Diver 1"] for line in lock_gate.truth[1:-1]]

    def figure(key, at_s, over_s):
        return median(moment[key] for moment in moments[at_s * 10 - over_s * 10 : at_s * 10])

    return figure


def test_ends_surfaced_and_says_where_it_left_the_log(lock_gate):
    """The dive runs to its end; the summary names the log and carries the caution."""
    assert lock_gate.ran.lines[-1]["divers"][0]["phase"] == "surfaced"
    assert str(lock_gate.log) in lock_gate.ran.err
    assert "An aid only" in lock_gate.ran.err


def test_has_one_line_a_second(lock_gate):
    """Every station second has exactly one status line, in order."""
    ends_s = lock_gate.truth[0]["end_ms"] // 1000
    assert [line["elapsed_s"] for line in lock_gate.ran.lines] == list(range(1, ends_s + 1))


def test_shown_depth_follows_the_diver(lock_gate, seen, truth_of):
    """On the bottom the shown depth is the true one within the tolerance, except while the hose is blown."""
    errors = [
        abs(seen(line)["depth"]["gauge_fsw"] - truth_of("depth_fsw", line["elapsed_s"], 2))
        for line in lock_gate.ran.lines
        if seen(line)["phase"] == "on_bottom" and seen(line)["depth"]["gauge_fsw"] is not None
    ]
    assert len(errors) > 1500
    assert median(errors) < DEPTH_TOLERANCE_FSW


def test_maximum_depth_is_the_truth(lock_gate, seen):
    """The maximum depth is the deepest true depth (a median of ten seconds) in whole fsw with 1 fsw added."""
    depths = [line["divers"]["Diver 1"]["depth_fsw"] for line in lock_gate.truth[1:-1]]
    deepest = max(median(depths[i : i + 100]) for i in range(0, len(depths) - 100, 10))
    shown = seen(lock_gate.ran.lines[-1])["depth"]
    # Correction 0 to 100 fsw: +1. USN Diving Manual Rev 4, Table 14-1.
    assert shown["max_fsw"] - 1 == pytest.approx(math.ceil(deepest - 0.2), abs=DEPTH_TOLERANCE_FSW)
    assert shown["table_fsw"] == 60


def test_bottom_time_is_the_truth(lock_gate, seen):
    """Bottom time is the true time from leaving the surface to leaving the bottom, but for the presses.

    The scripted tender presses within a second of the moment.
    """
    true_s = lock_gate.truth[0]["moments"]["Diver 1"]
    times = seen(lock_gate.ran.lines[-1])["times"]
    expected_s = true_s["left_bottom"] - true_s["left_surface"]
    assert times["bottom_s"] == pytest.approx(expected_s, abs=1.5)
    assert times["bottom_min"] == math.ceil(times["bottom_s"] / 60)


def test_margin_is_the_truth(lock_gate, seen, truth_of):
    """Away from the sag the margin is the true supply less the minimum at 60 fsw, breathing averaged out."""
    required = 60 * PSI_PER_FSW + DEMAND_TO_60_FSW_PSI
    for at_s in (300, 600, 1000, 1500):
        shown = [seen(line)["supply"] for line in lock_gate.ran.lines[at_s - BREATHS_S : at_s]]
        assert {supply["required_psig"] for supply in shown} == {round(required, 1)}
        margin = median(supply["margin_psi"] for supply in shown)
        true_margin = truth_of("supply_psig", at_s, BREATHS_S) - required
        assert margin == pytest.approx(true_margin, abs=PRESSURE_TOLERANCE_PSI)


def test_sag_raises_the_emergency_and_names_the_act(lock_gate):
    """While the supply is below the minimum the emergency stands; it returns when the supply does."""
    by_second = {line["elapsed_s"]: {a["id"]: a for a in line["alarms"]} for line in lock_gate.ran.lines}
    assert "supply-below-minimum" not in by_second[760]
    alarm = by_second[770]["supply-below-minimum"]
    assert (alarm["priority"], alarm["state"]) == ("emergency", "unacknowledged")
    assert "other supply" in alarm["action"]
    assert by_second[772]["supply-below-minimum"]["state"] == "acknowledged"
    assert "supply-below-minimum" not in by_second[800]


def test_only_the_faults_of_the_scenario_raise_alarms(lock_gate):
    """Nothing cries wolf: the sag and the pulled cable, and no other alarm in half an hour."""
    raised = {alarm["id"] for line in lock_gate.ran.lines for alarm in line["alarms"]}
    assert raised == {"supply-below-minimum", "depth-not-heard"}


def test_pulled_cable_is_stale_in_time_and_mends_itself(lock_gate, seen):
    """A pulled cable shows no depth within a second, says so, and comes back without a hand."""
    by_second = {line["elapsed_s"]: line for line in lock_gate.ran.lines}
    silent = by_second[1252]
    assert seen(silent)["depth"]["gauge_fsw"] is None
    assert seen(silent)["depth"]["trust"] == "lost"
    assert {alarm["id"] for alarm in silent["alarms"]} == {"depth-not-heard"}
    mended = by_second[1275]
    assert seen(mended)["depth"]["trust"] == "good"
    assert all(alarm["id"] != "depth-not-heard" for alarm in mended["alarms"])
