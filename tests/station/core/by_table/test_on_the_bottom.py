"""The schedule on the bottom: if he left now, what the next row and depth cost, what is asked for."""

from shared.clock import after
from station.core.decompression.answers import Mode, NotCovered
from station.core.decompression.schedule import Schedule
from station.core.facts import Refused
from station.core.inputs import (
    BindDivers,
    ChooseCold,
    ChooseMode,
    ChooseRow,
    EnterHistory,
    MarkKind,
    PartDivers,
    RowChoice,
)
from station.present.next_acts import order_by

ONE, TWO = "Diver 1", "Diver 2"


def test_a_no_stop_dive_tells_the_last_second_and_what_the_next_costs(dive):
    """58 fsw enters 60 fsw: 63 min without stops, 2 min at 20 for 65. USN Diving Manual Rev 7, 9-7, 9-9."""
    dive.down(57.0, 600)
    found = dive.now()
    assert (found.answer.depth_fsw, found.answer.no_stop, found.answer.bottom_min) == (60, True, 10)
    assert found.no_stop_left_s == found.next_row.in_s == 63 * 60 - 600
    assert [(s.depth_fsw, s.minutes) for s in found.next_row.cost.stops] == [(20, 2)]
    assert found.next_row.cost.time_min == 65
    assert found.next_depth.in_fsw == 2.0
    assert found.next_depth.cost.depth_fsw == 70
    said = dive.says()
    assert said.endswith(" to stay without stops; a second later: 2 min at 20 (60/65)")


def test_the_row_changes_with_the_second_after_its_time(dive):
    """63:00 is without stops, 63:01 is not."""
    dive.down(57.0, 63 * 60)
    assert dive.answer().no_stop
    assert dive.now().no_stop_left_s == 0
    dive.run(1)
    assert [(s.depth_fsw, s.minutes) for s in dive.answer().stops] == [(20, 2)]
    assert dive.now().no_stop_left_s is None
    assert dive.now().next_row.in_s == 2 * 60 - 1
    assert "to stay on 60/65" in dive.says()


def test_longer_is_never_cheaper(dive):
    """Minute by minute the total ascent never falls, and the count to the next row never misses it."""
    dive.down(87.0, 60)
    before = dive.answer()
    for _ in range(70):
        left_s = dive.now().next_row.in_s
        dive.run(60)
        now = dive.answer()
        assert now.total_ascent_s >= before.total_ascent_s
        assert (now.time_min != before.time_min or now.group != before.group) or left_s >= 60
        before = now


def test_the_order_stands_before_the_limit(new_dive):
    """The lead that the team needs comes off: no count to the last second."""
    dive = new_dive(order_lead_s=90)
    dive.down(57.0, 600)
    leave = after(dive.watch.now, 63 * 60 - 600)
    assert order_by(dive.state, leave) == after(leave, -90)


def test_no_history_is_asked_for_and_never_taken_as_clean(new_dive):
    """The schedule is shown, with the word that nobody has told; an alarm stands until it is told."""
    dive = new_dive(history=None)
    assert dive.says().startswith("Enter his history")
    dive.down(57.0, 600)
    assert dive.now().entry.untold == (ONE,)
    assert "History not entered" in dive.says()
    assert dive.watch.standing("history-not-entered").value == "unacknowledged"
    dive.act(EnterHistory(ONE, "none"))
    dive.run(2)
    assert dive.now().entry.untold == ()
    assert dive.watch.standing("history-not-entered").value == "returned"


def test_a_group_and_an_interval_bring_their_residual_time(dive):
    """Group K after 2:00 is group I at most by the credit table; its residual time goes on top."""
    dive.act(EnterHistory(ONE, "K", 2 * 3600))
    dive.down(57.0, 600)
    found = dive.answer()
    assert found.residual_min > 0
    assert found.equivalent_min == 10 + found.residual_min


def test_a_history_in_utc_is_the_same_as_its_interval(new_dive):
    """Station time 0 is 1970 here, and the watch is 20,012 s old: two hours before is 03:33:32."""
    by_interval, by_utc = new_dive(), new_dive()
    by_interval.act(EnterHistory(ONE, "K", 7200))
    by_utc.act(EnterHistory(ONE, "K", None, "1970-01-01T03:33:32Z"))
    for dive in (by_interval, by_utc):
        dive.down(57.0, 600)
    assert by_interval.answer() == by_utc.answer()


def test_what_cannot_be_a_history_is_refused(dive):
    """No such group, an interval of zero, a moment in the future, a text that is no moment."""
    for act in (
        EnterHistory(ONE, "Q"),
        EnterHistory(ONE, "C", 0),
        EnterHistory(ONE, "C", -60),
        EnterHistory(ONE, "C", None, "2031-01-01T00:00:00Z"),
        EnterHistory(ONE, "C", None, "yesterday"),
        EnterHistory(ONE, "C", None, "1970-01-01T03:00:00"),
    ):
        (fact,) = dive.act(act)
        assert isinstance(fact, Refused)
        assert fact.reason
        assert not dive.diver().past


def test_no_group_given_leaves_no_figure(dive):
    """The last dive ended in no group: the tables say nothing, in words. Rule S4."""
    dive.act(EnterHistory(ONE, "not given", 3600))
    dive.down(57.0, 600)
    answer = dive.now().answer
    assert isinstance(answer, NotCovered)
    assert dive.says().startswith("No schedule")


def test_the_supervisor_takes_a_stricter_row_with_a_reason(dive):
    """Next longer, next deeper, and back; without a reason nothing is taken."""
    dive.down(57.0, 64 * 60)
    assert dive.answer().time_min == 65
    (fact,) = dive.act(ChooseRow(ONE, RowChoice.NEXT_LONGER, " "))
    assert isinstance(fact, Refused)
    dive.act(ChooseRow(ONE, RowChoice.NEXT_LONGER, "hard work"))
    assert dive.answer().time_min == 70
    dive.act(ChooseRow(ONE, RowChoice.NEXT_DEEPER, "soft bottom"))
    assert (dive.answer().depth_fsw, dive.answer().time_min) == (70, 70)
    dive.act(ChooseRow(ONE, RowChoice.NORMAL, "as it was"))
    assert (dive.answer().depth_fsw, dive.answer().time_min) == (60, 65)
    dive.act(ChooseCold(ONE, True, "4 degrees"))
    assert dive.answer().time_min == 70


def test_another_mode_shares_row_and_group(dive):
    """Rule S8: one table, one group for all three; in the chamber no stop shallower than 40 in the water."""
    dive.down(97.0, 60 * 60)
    on_air = dive.answer()
    for mode in (Mode.AIR_OXYGEN, Mode.CHAMBER):
        dive.act(ChooseMode(ONE, mode, "on the plan"))
        found = dive.answer()
        assert (found.time_min, found.group) == (on_air.time_min, on_air.group)
    assert all(stop.depth_fsw >= 40 for stop in dive.answer().stops)
    assert dive.answer().chamber_periods > 0


def test_beyond_the_table_there_are_words_and_no_number(dive):
    """Past the last row of 200 fsw nothing is extrapolated; the last row is called too short. Rule S5."""
    dive.watch.supply(280.0)
    dive.down(185.0, 2 * 3600 + 240)
    answer = dive.now().answer
    assert isinstance(answer, NotCovered)
    assert answer.rule.id == "S5"
    assert "TOO SHORT" in dive.says()
    dive.run(16)
    assert dive.watch.standing("beyond-table").value == "unacknowledged"


def test_bound_divers_come_up_by_the_worst_of_both(new_dive):
    """Deepest depth, longest time, largest residual time for both; parted, each by his own."""
    dive = new_dive(names=(ONE, TWO))
    dive.act(EnterHistory(TWO, "F", 3600))
    dive.mark(MarkKind.LEFT_SURFACE)
    dive.go_to(47.0, 60)
    dive.run(600)
    dive.mark(MarkKind.LEFT_SURFACE, name=TWO)
    dive.go_to(57.0, 60, TWO)
    dive.run(600)
    own, other = dive.answer(), dive.answer(TWO)
    assert (own.depth_fsw, other.depth_fsw) == (50, 60)
    (fact,) = dive.act(BindDivers((ONE, TWO), ""))
    assert isinstance(fact, Refused)
    dive.act(BindDivers((ONE, TWO), "one stage"))
    both = dive.answer()
    assert both == dive.answer(TWO)
    assert (both.depth_fsw, both.bottom_min, both.residual_min) == (60, own.bottom_min, other.residual_min)
    dive.act(PartDivers("second stage down"))
    assert (dive.answer(), dive.answer(TWO)) == (own, other)


def test_altitude_deepens_the_entry(new_dive):
    """At 6,000 ft 58 fsw counts as more than 70: depth over the ratio of pressures. Rule N4."""
    dive = new_dive(altitude_ft=6000.0)
    dive.down(57.0, 600)
    found = dive.now()
    assert found.entry.max_fsw == 58.0
    assert 70 < found.entry.entry.max_fsw < 80
    assert found.answer.depth_fsw == 80


def test_a_gauge_not_zeroed_at_altitude_reads_shallow(new_dive):
    """One fsw for every 1,000 ft comes on first. Rule D8."""
    dive = new_dive(altitude_ft=6000.0, gauges_zeroed=False)
    dive.down(57.0, 600)
    assert dive.now().entry.max_fsw == 64.0


def test_without_a_depth_there_is_no_schedule(dive):
    """A gauge that was never heard in the dive gives no depth to enter."""
    dive.watch.depth(None)
    dive.run(10)
    dive.mark(MarkKind.LEFT_SURFACE)
    dive.run(120)
    answer = dive.now().answer
    assert isinstance(answer, NotCovered)
    assert "not known" in answer.sentence


def test_under_ten_minutes_it_is_one_dive(dive):
    """Times added, the deeper depth, no residual time of the first. Rule N1."""
    dive.down(57.0, 1200)
    dive.leave()
    dive.up(114)
    dive.run(300)
    dive.next_dive()
    dive.mark(MarkKind.LEFT_SURFACE)
    dive.go_to(37.0, 60)
    dive.run(540)
    found = dive.answer()
    assert isinstance(found, Schedule)
    assert (found.depth_fsw, found.bottom_min, found.residual_min) == (60, 30, 0)


def test_a_repetitive_dive_carries_group_and_time_over(dive):
    """58 fsw for 40:00 ends in group H, an hour later G: 40 min at 60 fsw. USN Rev 7, 9-7, 9-8; N2."""
    dive.down(57.0, 40 * 60)
    assert dive.answer().group == "H"
    dive.leave()
    dive.up(114)
    dive.run(3600)
    dive.next_dive()
    (past,) = dive.diver().past
    assert (past.group, past.max_fsw) == ("H", 58.0)
    dive.mark(MarkKind.LEFT_SURFACE)
    dive.go_to(57.0, 60)
    dive.run(30)
    assert dive.now().entry.entry.group == "G"
    assert dive.answer().residual_min == 40
