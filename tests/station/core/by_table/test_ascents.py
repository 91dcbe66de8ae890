"""From left bottom to the surface by the marks: stop clocks, delays, oxygen, the chamber, undone marks."""

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from station.core.by_table.asked import Place
from station.core.by_table.cards import cards_of
from station.core.decompression.answers import Gas, Mode
from station.core.decompression.legs import legs_join
from station.core.facts import PlanChanged, Refused
from station.core.inputs import MarkKind, UndoMark
from station.core.phase import Phase
from station.core.state import Standing
from station.core.timekeeping import phase_of

ONE = "Diver 1"
RAISED = (Standing.UNACKNOWLEDGED, Standing.ACKNOWLEDGED)


def test_a_stop_clock_runs_from_arrival_not_before_the_planned_travel(dive):
    """60/100: 42 min at 20. From 57 fsw 74 s are planned; early by 14 s, the clock waits. Rule A2."""
    dive.down(57.0, 100 * 60)
    dive.leave()
    assert dive.row() == "60/100"
    assert dive.stops() == [(20, 42 * 60)]
    dive.go_to(20.0, 60)
    dive.mark(MarkKind.REACHED_STOP, 20)
    assert dive.found().stop_left_s == 42 * 60 + 14
    dive.run(14 + 60)
    assert dive.found().stop_left_s == 41 * 60
    assert "Keep at 20 fsw until" in dive.says()
    dive.run(41 * 60)
    assert dive.found().stop_left_s == 0
    assert dive.says().startswith("Leave 20 fsw")
    dive.mark(MarkKind.LEFT_STOP, 20)
    dive.up(40)
    assert dive.changed() == []
    assert dive.found().ends_s == 74 + 42 * 60 + 40
    assert legs_join(dive.found().legs)
    dive.next_dive()
    assert dive.diver().past[-1].group == "Z"


def test_a_delay_of_a_minute_changes_nothing_and_a_second_more_does(new_dive):
    """60/100 from 57 fsw, late shallower than 50: 1:00 is ignored, 1:01 puts 2 min to the first stop. A4."""
    for late_s, due_s, changes in ((60, 42 * 60, 0), (61, 44 * 60, 1)):
        dive = new_dive()
        dive.down(57.0, 100 * 60)
        dive.leave()
        dive.go_to(45.0, 24)
        dive.run(late_s)
        dive.go_to(20.0, 50)
        dive.mark(MarkKind.REACHED_STOP, 20)
        assert dive.stops() == [(20, due_s)]
        assert dive.row() == "60/100"
        assert len({(c.rule, c.delay_min) for c in dive.changed()}) == changes


def test_a_delay_deeper_than_fifty_goes_to_bottom_time(dive):
    """60/100, 2:30 held at 57 fsw: 3 min to bottom time, and the table is entered again at 60/110. A4."""
    dive.down(57.0, 100 * 60)
    dive.leave()
    dive.run(150)
    running = dive.found().changes
    assert running[-1].number == 0
    assert running[-1].change.rule.id == "A4"
    dive.go_to(20.0, 74)
    dive.mark(MarkKind.REACHED_STOP, 20)
    assert dive.row() == "60/110"
    assert dive.stops() == [(20, 57 * 60)]
    told = dive.changed()[-1]
    assert (told.rule, told.delay_min, told.old.row, told.new.row) == ("A4", 3, "60/100", "60/110")
    assert told.new.ends_at > told.old.ends_at


def test_a_no_stop_dive_that_is_late_enough_needs_a_stop(dive):
    """62:00 at 58 fsw is without stops; two minutes lost on the way make it 64: 60/65, 2 min at 20. A4."""
    dive.down(57.0, 62 * 60)
    dive.leave()
    assert dive.stops() == []
    dive.go_to(40.0, 34)
    dive.run(110)
    assert dive.row() == "60/65"
    assert dive.stops() == [(20, 120)]
    dive.go_to(20.0, 40)
    dive.mark(MarkKind.REACHED_STOP, 20)
    assert dive.found().place is Place.STOP
    assert dive.found().stop_left_s == 120


def test_an_overstay_shallower_than_fifty_changes_no_stop(dive):
    """100/90 on air: 40 fsw left five minutes late; the later stops are as they were. Rule A5."""
    dive.down(97.0, 90 * 60)
    dive.leave()
    first, *later = dive.stops()
    assert first[0] == 40
    dive.stop(40.0, 114, first[1] + 300)
    assert dive.stops() == later
    assert not [c for c in dive.changed() if c.rule == "A5"]


def test_an_overstay_at_fifty_or_deeper_goes_to_bottom_time(dive):
    """150/40 has a stop at 50 fsw; two minutes too long there put 2 min to bottom time: 150/45. Rule A5."""
    dive.down(147.0, 40 * 60)
    dive.leave()
    (fsw, due_s), *_ = dive.stops()
    assert fsw >= 50
    dive.go_to(float(fsw), round((147 - fsw) * 2))
    dive.mark(MarkKind.REACHED_STOP, fsw)
    dive.run(due_s + 60)
    assert dive.row() == "150/40"
    dive.run(60)
    assert dive.row() == "150/45"
    assert dive.found().over_s == 120
    dive.mark(MarkKind.LEFT_STOP, fsw)
    assert dive.row() == "150/45"
    assert dive.changed()[-1].rule == "A5"


def test_an_undone_mark_leaves_the_plan_as_if_it_had_not_been(dive):
    """Left bottom pressed, a delay counted, the mark taken back: schedule and plan are those of the clock."""
    dive.down(57.0, 100 * 60)
    dive.leave()
    dive.run(150)
    assert dive.found().changes
    number = dive.diver().marks[-1].number
    dive.act(UndoMark(ONE, number, "he had not left"))
    assert phase_of(dive.diver()) is Phase.ON_BOTTOM
    assert dive.answer().bottom_min == 103
    dive.leave()
    assert dive.found().changes == ()
    assert dive.row() == "60/110"


def test_a_wrong_stop_mark_taken_back_makes_its_change_void(dive):
    """A fact tells that the change does not hold any more; plan and stops are as before the press."""
    dive.down(57.0, 100 * 60)
    dive.leave()
    dive.go_to(45.0, 24)
    dive.run(200)
    dive.go_to(20.0, 50)
    before = dive.stops()
    dive.mark(MarkKind.REACHED_STOP, 20)
    assert dive.stops() == before == [(20, (42 + 4) * 60)]
    dive.watch.act(UndoMark(ONE, dive.diver().marks[-1].number, "not there yet"))
    assert dive.stops() == before
    dive.go_to(21.0, 5)
    dive.mark(MarkKind.REACHED_STOP, 20)
    assert dive.stops() == [(20, (42 + 4) * 60)]


def test_a_stop_left_early_is_still_due(dive):
    """Left with five minutes to go: alarm, no credit; back within the minute it is a minute longer. A7."""
    dive.down(57.0, 100 * 60)
    dive.leave()
    dive.stop(20.0, 74, 37 * 60)
    assert dive.found().early is not None
    assert dive.says().startswith("Back to 20 fsw")
    dive.run(2)
    assert dive.watch.standing("stop-left-early") in RAISED
    dive.run(38)
    dive.mark(MarkKind.REACHED_STOP, 20)
    assert dive.found().stop_left_s == 6 * 60
    assert dive.changed()[-1].rule == "A7"
    dive.run(6 * 60)
    dive.mark(MarkKind.LEFT_STOP, 20)
    assert dive.stops() == []


def test_a_rise_above_the_stop_by_the_trace_stops_its_clock(dive):
    """Thirty seconds at 15 fsw: that time does not count and the stop is a minute longer. Rule A7."""
    dive.down(57.0, 100 * 60)
    dive.leave()
    dive.go_to(20.0, 74)
    dive.mark(MarkKind.REACHED_STOP, 20)
    dive.run(600)
    left_s = dive.found().stop_left_s
    dive.go_to(15.0, 2)
    dive.run(28)
    assert dive.watch.standing("above-stop") in RAISED
    dive.go_to(20.0, 2)
    dive.run(28)
    assert left_s - 60 + 60 + 25 <= dive.found().stop_left_s <= left_s - 60 + 60 + 35
    assert dive.changed()[-1].rule == "A7"


def test_a_wave_above_the_band_for_less_than_ten_seconds_changes_nothing(dive):
    """Eight seconds at 15 fsw are no time above the stop."""
    dive.down(57.0, 100 * 60)
    dive.leave()
    dive.go_to(20.0, 74)
    dive.mark(MarkKind.REACHED_STOP, 20)
    dive.run(600)
    due = dive.stops()
    dive.watch.depth(15.0)
    dive.run(7)
    dive.watch.depth(20.0)
    dive.run(30)
    assert dive.stops() == due


def test_a_passed_stop_is_an_omitted_one_with_cards(new_dive):
    """Surfaced from the 40-fsw stop: no plan any more, the cards name what the station has. Rule O1."""
    dive = new_dive(chamber=True, oxygen=True, medical_officer="channel 12")
    dive.down(97.0, 90 * 60)
    dive.leave()
    dive.stop(40.0, 114, 60)
    dive.up(80)
    assert dive.refused().rule.id == "O1"
    cards = cards_of(dive.state, dive.ascent())
    assert (cards.deepest_missed_fsw, cards.clock_s, cards.call) == (40, 80, "channel 12")
    assert [card.id for card in cards.cards] == ["OM-08"]
    dive.run(2)
    assert dive.watch.standing("missed-stop") in RAISED
    assert "Call channel 12" in dive.says() or dive.says().startswith("Ask Diver 1")


def test_the_first_oxygen_stop_waits_for_oxygen(dive):
    """120/60 air and oxygen: the 30-fsw clock runs from oxygen confirmed, not from arrival. Rule A2."""
    dive.mode(Mode.AIR_OXYGEN)
    dive.down(117.0, 60 * 60)
    dive.leave()
    assert dive.stops() == [(30, 14 * 60), (20, 39 * 60)]
    due_s = 14 * 60
    dive.go_to(30.0, 174)
    dive.mark(MarkKind.REACHED_STOP, 30)
    dive.run(90)
    assert dive.found().waits_for_oxygen
    assert dive.found().stop_left_s == due_s
    assert dive.says().startswith("Confirm oxygen")
    dive.mark(MarkKind.ON_OXYGEN)
    assert phase_of(dive.diver()) is Phase.AT_STOP
    dive.run(60)
    assert dive.found().stop_left_s == due_s - 60
    assert dive.found().gas is Gas.OXYGEN


def test_oxygen_deeper_than_its_stop_is_an_alarm(dive):
    """On oxygen at 36 fsw: shift to air. Rule A9."""
    dive.mode(Mode.AIR_OXYGEN)
    dive.down(97.0, 30 * 60)
    dive.leave()
    dive.go_to(30.0, 134)
    dive.mark(MarkKind.REACHED_STOP, 30)
    dive.mark(MarkKind.ON_OXYGEN)
    dive.go_to(36.0, 3)
    dive.run(6)
    assert dive.watch.standing("oxygen-too-deep") in RAISED


def test_oxygen_given_up_goes_on_by_air(dive):
    """At the 20-fsw oxygen stop the supervisor takes air: the rest in proportion, by rule X2."""
    dive.mode(Mode.AIR_OXYGEN)
    dive.down(57.0, 100 * 60)
    dive.leave()
    dive.go_to(20.0, 74)
    dive.mark(MarkKind.REACHED_STOP, 20)
    dive.mark(MarkKind.ON_OXYGEN)
    ((_, due_s),) = dive.stops()
    dive.run(600)
    dive.mark(MarkKind.OFF_OXYGEN)
    dive.run(60)
    dive.mode(Mode.AIR, "bank of oxygen empty")
    ((fsw, air_s),) = dive.stops()
    assert fsw == 20
    assert air_s == -(-(due_s - 600) * 42 // due_s) * 60
    assert dive.changed()[-1].rule == "X2"
    (fact,) = dive.mode(Mode.AIR_OXYGEN, "it is back")
    assert isinstance(fact, Refused)


@pytest.mark.parametrize(
    ("interval_s", "halves", "alarm"), [(270, 0, "interval-over-four"), (330, 1, "interval-over-five")]
)
def test_surface_decompression_by_its_interval(new_dive, interval_s, halves, alarm):
    """100/60 has no stop at 40: the interval runs from passing it; over 5:00 half a period more. X4, X5."""
    dive = new_dive(chamber=True, oxygen=True)
    dive.watch.supply(200.0)
    dive.mode(Mode.CHAMBER)
    dive.down(97.0, 60 * 60)
    dive.leave()
    assert dive.stops() == []
    assert dive.says().startswith("Bring him up at 30 fsw a minute to 40 fsw")
    dive.go_to(40.0, 114)
    dive.go_to(36.0, 6)
    assert dive.found().interval_runs
    dive.up(54)
    passed_s = dive.ascent().now_s - dive.found().interval_s
    assert abs(passed_s - 114) <= 2
    assert "50 fsw in the chamber by" in dive.says()
    dive.run(interval_s - dive.found().interval_s)
    assert dive.watch.standing(alarm) in RAISED
    dive.mark(MarkKind.REACHED_CHAMBER)
    assert phase_of(dive.diver()) is Phase.CHAMBER
    assert dive.found().plan.chamber.late == bool(halves)
    dive.mark(MarkKind.ON_OXYGEN)
    dive.run(60)
    first_s = (30 if halves else 15) * 60
    assert dive.found().stop_left_s == first_s - 60
    ends_s = dive.found().ends_s
    dive.run(ends_s - dive.ascent().now_s - 90)
    dive.mark(MarkKind.LEFT_CHAMBER)
    dive.run(90)
    dive.mark(MarkKind.REACHED_SURFACE)
    assert phase_of(dive.diver()) is Phase.DONE
    dive.next_dive()
    assert dive.diver().dive == 2
    assert dive.diver().past[-1].group == dive.diver().past[-1].group is not None


def test_past_seven_minutes_it_is_for_the_medical_officer(new_dive):
    """No figure, a treatment table only as a suggestion under his number. Rule X4."""
    dive = new_dive(chamber=True, medical_officer="channel 12")
    dive.mode(Mode.CHAMBER)
    dive.down(97.0, 90 * 60)
    dive.leave()
    dive.stop(40.0, 114, dive.stops()[0][1])
    dive.up(60)
    dive.run(421 - 60)
    assert dive.watch.standing("interval-over-seven") in RAISED
    assert cards_of(dive.state, dive.ascent()).cards[0].medical_officer_first
    dive.mark(MarkKind.REACHED_CHAMBER)
    assert dive.refused().rule.id == "X4"


@settings(max_examples=6, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(late_s=st.integers(0, 400), deep=st.booleans())
def test_half_the_ticks_change_no_stop(new_dive, late_s, deep):
    """However late, the plan is the same when the clock ticks half as often."""
    seen = []
    for step_s in (1.0, 2.0):
        dive = new_dive(step_s=step_s)
        watch = dive.watch
        watch.mark(MarkKind.LEFT_SURFACE)
        watch.depth(57.0)
        watch.run(60, 2.0)
        watch.mark(MarkKind.LEFT_BOTTOM)
        begin = watch.now
        if not deep:
            watch.depth(lambda t: max(45.0, 57.0 - t / 2))
            watch.run(24, step_s)
        watch.run(late_s - late_s % 2, step_s)
        watch.depth(lambda t, d=57.0 if deep else 45.0: max(20.0, d - t / 2))
        watch.run(74 if deep else 50, step_s)
        watch.mark(MarkKind.REACHED_STOP, stop=20)
        found = dive.found()
        plan = found.plan
        seen.append(
            (watch.now - begin, [(s.depth_fsw, s.due_s) for s in plan.due], plan.entry, plan.schedule)
        )
    assert seen[0] == seen[1]


def test_every_change_of_a_plan_is_told_once(dive):
    """A running delay is told as its minutes grow, and not again when the mark ends it."""
    dive.down(57.0, 100 * 60)
    dive.leave()
    dive.run(74 + 150)
    dive.go_to(20.0, 20)
    dive.mark(MarkKind.REACHED_STOP, 20)
    told = [(c.rule, c.delay_min) for c in dive.changed()]
    assert len(told) == len(set(told))
    assert all(isinstance(c, PlanChanged) for c in dive.changed())
