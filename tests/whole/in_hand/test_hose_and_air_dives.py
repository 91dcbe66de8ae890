"""Rehearsals of a hose that lies and of air that runs short, from the simulator's bytes to the words."""

import pytest

from station.core.depth import depth_of
from station.core.facts import BlowSeen, Refused
from station.core.phase import IN_WATER, Phase
from station.core.state import Trust

pytestmark = pytest.mark.dives

SECONDS_TO_SAY_AT_LEAST = 3
BLOW_SEEN_WITHIN_S = 2
GOOD_WITHIN_FSW = 1.0
"""A good depth is the true one: noise, half a wave and a heave of 0.4 fsw, and a second of latency at 30
fsw a minute."""

NOISE_FSW = 0.5

NAMES = (
    "hose_unblown",
    "valve_left_open",
    "primary_leaks",
    "bank_too_small",
    "gauges_drift",
    "gauge_frozen",
)


@pytest.mark.parametrize("name", NAMES)
def test_no_depth_is_good_that_is_not_the_true_one(dived, name):
    """In no second of these dives is a depth called good that is off by more than a foot.

    But for a gauge that hangs: until that is found out it looks like any other.
    """
    dive = dived(name)
    for second, moment in enumerate(dive.truth, start=1):
        depth = depth_of(dive.state(second), "Diver 1")
        if depth.trust is not Trust.GOOD or (name == "gauge_frozen" and 250 <= second <= 501):
            continue
        assert abs(depth.gauge_fsw - moment.divers[0].depth_fsw) < GOOD_WITHIN_FSW, second


@pytest.mark.parametrize("name", NAMES)
def test_every_press_is_taken_and_every_diver_comes_up(dived, name):
    """The scripts say nothing that the station refuses, and the dives end at the surface."""
    dive = dived(name)
    assert [fact for _, fact in dive.facts if isinstance(fact, Refused)] == []
    assert dive.seconds[-1] in dive.in_phase(Phase.SURFACED)


def test_an_unblown_hose_says_at_least_and_the_tables_take_the_plan(dived):
    """At least from the first seconds in the water, the blow asked for, the plan in the tables till then."""
    dive = dived("hose_unblown")
    for second in range(60 + SECONDS_TO_SAY_AT_LEAST, 419):
        depth = dive.diver(second)["depth"]
        assert depth["trust"] == "at_least"
        assert depth["at_least_fsw"] == depth["gauge_fsw"]
        assert (depth["table_fsw"], depth["max_by"], depth["bound_fsw"]) == (60, "plan", None)
    assert dive.diver(200)["depth"]["gauge_fsw"] < 10 < dive.truth[199].divers[0].depth_fsw
    asked = dive.alarm_seconds("blow-asked")
    assert 90 <= asked[0] <= 95
    assert dive.alarm_seconds("depth-unproven")[0] <= 190
    assert dive.view(200).divers[0].depth.caption == "Depth at least"
    assert dive.diver(440)["depth"]["trust"] == "good"
    assert dive.diver(440)["hose"]["blown_fsw"] == pytest.approx(57.9, abs=0.5)
    assert dive.alarm_seconds("blow-asked")[-1] < 425


def test_a_blow_that_the_trace_shows_is_proposed(dived):
    """The valve shut at 420 s is seen, told as a fact, and stands until somebody confirms it at 430 s."""
    dive = dived("valve_left_open")
    seen = [at for at, fact in dive.facts if isinstance(fact, BlowSeen)]
    assert seen[0] == pytest.approx(421, abs=1.5)
    assert dive.diver(428)["hose"]["blow_seen_at"] is not None
    assert dive.diver(432)["hose"]["blow_seen_at"] is None


def test_a_valve_left_open_is_told_and_sets_no_depth(dived):
    """Flowing at once, suspect and told after a minute; neither deepest nor trace takes what it reads."""
    dive = dived("valve_left_open")
    assert dive.diver(300 + BLOW_SEEN_WITHIN_S)["hose"]["state"] == "flowing"
    told = dive.alarm_seconds("hose-flows")
    assert 360 <= told[0] <= 363
    assert dive.diver(380)["depth"]["gauge_fsw"] > 61
    deepest = max(moment.divers[0].depth_fsw for moment in dive.truth)
    read = dive.diver(dive.seconds[-1])["depth"]["deepest_read_fsw"]
    assert read == pytest.approx(deepest, abs=NOISE_FSW)
    in_flow = (dive.state(second).divers[0].history[-1].value for second in range(305, 420))
    assert max(in_flow) < deepest + NOISE_FSW
    assert dive.diver(419)["depth"]["table_fsw"] == 60
    assert dive.diver(445)["depth"]["trust"] == "good"


def test_a_leak_is_warned_of_and_the_shift_ends_the_work(dived):
    """Measured fall names the minutes, the warning comes within a minute, the shift is told as a reserve."""
    dive = dived("primary_leaks")
    warned = dive.alarm_seconds("air-nearly-short")
    assert 600 < warned[0] <= 665
    primary = dive.at(680)["air"][0]
    assert (primary["left_by"], primary["breathing"]) == ("measured", ["Diver 1"])
    assert primary["left_min"] < primary["left_computed_min"]
    assert "supply-below-minimum" not in dive.raised()
    secondary = dive.at(700)["air"][1]
    assert (secondary["breathing"], secondary["enough"]) == (["Diver 1"], True)
    assert dive.diver(700)["supply"]["source"] == "secondary"
    reserve = dive.alarm_seconds("on-reserve")
    assert reserve[0] in (690, 691)
    assert dive.diver(700)["emergency_gas"]["left_min"] > 0


def test_a_bank_that_will_not_last_the_stops_calls_him_up_in_time(dived):
    """Who leaves the bottom a minute after the warning comes up by the table with air to the surface.

    The whole ascent is dived on the primary: nobody is shifted, the manifold is never below its minimum and
    the bank never below what feeds it.
    """
    dive = dived("bank_too_small")
    warned = dive.alarm_seconds("air-nearly-short")[0]
    left = dive.in_phase(Phase.ASCENDING)[0]
    assert 30 <= left - warned <= 120
    assert "supply-below-minimum" not in dive.raised()
    assert "bank-low" not in dive.raised()
    for second in dive.in_phase(*IN_WATER)[::5]:
        primary = dive.at(second)["air"][0]
        assert primary["breathing"] == ["Diver 1"]
        assert primary["pressure_psig"] > primary["least_psig"]
    before = dive.at(warned)["air"][0]
    assert before["left_min"] >= before["needed_min"]
    assert before["enough"]
    sentence = dive.view(warned).air.sentence
    assert sentence.head.startswith("All up by ")
    assert "Bank A covers it until" in sentence.lead


def test_two_gauges_that_part_are_found_out(dived):
    """Told when they differ by 2 % of full scale, 5 fsw; suspect from then on, also on the way up."""
    dive = dived("gauges_drift")
    told = dive.alarm_seconds("gauges-differ")[0]
    depth = dive.diver(told)["depth"]
    assert depth["gauge_fsw"] - depth["other_fsw"] == pytest.approx(5.2, abs=0.6)
    for second in (*range(650, 840, 10), *dive.in_phase(Phase.ASCENDING)):
        assert depth_of(dive.state(second), "Diver 1").trust is Trust.SUSPECT
    assert "other says" in dive.view(told + 20).divers[0].depth.detail
    overdue = next(alarm for alarm in dive.at(10)["alarms"] if alarm["id"] == "calibration-overdue")
    assert (overdue["subject"], overdue["text"]) == ("pneumo-1b", "calibration overdue by 43 days")


def test_a_gauge_that_hangs_is_found_out_and_read_by_hand(dived):
    """One value for a minute where there was noise: suspect, told, and asked for by hand until it moves."""
    dive = dived("gauge_frozen")
    frozen = dive.alarm_seconds("gauge-frozen")
    assert 310 <= frozen[0] <= 312
    assert frozen[-1] <= 506
    assert dive.diver(320)["depth"]["trust"] == "suspect"
    assert dive.diver(345)["depth"]["typed_fsw"] == 58.0
    assert dive.diver(345)["depth"]["typed_age_s"] == pytest.approx(5.0, abs=0.2)
    assert dive.diver(510)["depth"]["trust"] == "good"
