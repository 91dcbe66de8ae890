"""Marks to times: bottom time and its rounding, phases, and what holds by the trace while unmarked."""

from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shared.clock import EPOCH, Instant, after
from shared.units import NS_PER_S
from station.core.facts import MarkProposed, PhaseChanged
from station.core.inputs import AmendMark, MarkKind, NextDive
from station.core.phase import IN_WATER, TRANSITIONS, Phase, next_phase
from station.core.state import DiverState, Mark
from station.core.timekeeping import (
    TRACE,
    open_proposals,
    phase_of,
    stage_depth_fsw,
    times_of,
    whole_minutes,
    whole_seconds,
    working_descent_proposed,
)

ONE = "Diver 1"
LS, RB, LB = MarkKind.LEFT_SURFACE, MarkKind.REACHED_BOTTOM, MarkKind.LEFT_BOTTOM
AT, OFF, RS = MarkKind.REACHED_STOP, MarkKind.LEFT_STOP, MarkKind.REACHED_SURFACE


def _dive(*marks: tuple[MarkKind, float]) -> DiverState:
    made = tuple(
        Mark(i + 1, i + 1, 1, kind, after(EPOCH, at_s), after(EPOCH, at_s), "tender")
        for i, (kind, at_s) in enumerate(marks)
    )
    return DiverState(ONE, marks=made)


def _bottom_min(seconds: float) -> int | None:
    return times_of(_dive((LS, 100.0), (LB, 100.0 + seconds)), after(EPOCH, 9999)).bottom_min


def test_bottom_time_goes_up_to_the_next_minute() -> None:
    """09:00:00 to 09:47:20 is 48 min (rule of USN Diving Manual Rev 4 Change A, p. 14-3 and ch. 9)."""
    assert _bottom_min(47 * 60 + 20) == 48


@pytest.mark.parametrize(
    ("seconds", "minutes"), [(47 * 60, 47), (47 * 60 + 1, 48), (47 * 60 - 1, 47), (1, 1), (60, 1), (60.2, 2)]
)
def test_an_exact_minute_stays(seconds, minutes) -> None:
    """47:00 is 47 and 47:01 is 48; a begun second counts."""
    assert _bottom_min(seconds) == minutes


@given(st.integers(0, 10**15), st.integers(0, 10**14))
def test_minutes_are_the_least_that_hold_the_time(start, span) -> None:
    """Never short by a nanosecond, never a whole minute too many."""
    minutes = whole_minutes(whole_seconds(Instant(start), Instant(start + span)))
    assert (minutes - 1) * 60 * NS_PER_S < span or minutes == 0
    assert span <= minutes * 60 * NS_PER_S


def test_times_at_the_epoch_are_times() -> None:
    """A mark at instant 0 is a mark like any other: zero is not "unknown"."""
    times = times_of(_dive((LS, 0.0), (RB, 0.0), (LB, 61.0)), after(EPOCH, 100))
    assert (times.left_surface, times.reached_bottom, times.bottom_min) == (EPOCH, EPOCH, 2)


def test_bottom_time_runs_until_the_bottom_is_left() -> None:
    """With no leaving marked it runs on; with the surface marked it runs to there."""
    diver = _dive((LS, 0.0), (RB, 60.0))
    assert times_of(diver, after(EPOCH, 600)).bottom_s == 600
    assert times_of(_dive((LS, 0.0), (RB, 60.0), (RS, 700.0)), after(EPOCH, 900)).bottom_s == 700


def test_a_dive_called_off_counts_to_leaving() -> None:
    """No bottom reached: bottom time is still from the surface to leaving the bottom. Rule T5."""
    times = times_of(_dive((LS, 10.0), (LB, 130.0), (RS, 200.0)), after(EPOCH, 900))
    assert (times.reached_bottom, times.bottom_min) == (None, 2)


@pytest.mark.parametrize(("phase", "kind"), list(product(Phase, MarkKind)))
def test_every_pair_of_phase_and_mark(phase, kind) -> None:
    """A mark leads on along the way of a dive or has no place; nothing leads back to before the surface."""
    way = {
        Phase.DRESSED: {LS: Phase.DESCENDING},
        Phase.DESCENDING: {RB: Phase.ON_BOTTOM, LB: Phase.ASCENDING, RS: Phase.SURFACED},
        Phase.ON_BOTTOM: {LB: Phase.ASCENDING, RS: Phase.SURFACED},
        Phase.ASCENDING: {
            RB: Phase.ON_BOTTOM,
            AT: Phase.AT_STOP,
            RS: Phase.SURFACED,
            MarkKind.ON_OXYGEN: Phase.ASCENDING,
            MarkKind.OFF_OXYGEN: Phase.ASCENDING,
        },
        Phase.AT_STOP: {
            MarkKind.ON_OXYGEN: Phase.AT_STOP,
            MarkKind.OFF_OXYGEN: Phase.AT_STOP,
            RB: Phase.ON_BOTTOM,
            AT: Phase.AT_STOP,
            OFF: Phase.ASCENDING,
            RS: Phase.SURFACED,
        },
        Phase.SURFACED: {MarkKind.REACHED_CHAMBER: Phase.CHAMBER},
        Phase.CHAMBER: {
            MarkKind.ON_OXYGEN: Phase.CHAMBER,
            MarkKind.OFF_OXYGEN: Phase.CHAMBER,
            MarkKind.LEFT_CHAMBER: Phase.CHAMBER,
            RS: Phase.DONE,
        },
    }
    assert next_phase(phase, kind) is way.get(phase, {}).get(kind)
    assert len(TRANSITIONS) == sum(len(marks) for marks in way.values())


def test_a_forgotten_start_runs_from_the_trace_and_says_so(watch) -> None:
    """Deeper than 3 fsw and nothing marked: the clock runs from the last second at the surface. Rule T1."""
    watch.depth(lambda t: 0.5 * t)
    facts = watch.run(60)
    assert watch.phase() is Phase.DESCENDING
    times = watch.times()
    assert times.presumed
    assert abs(times.left_surface - after(EPOCH, 2 + 2)) <= 1.5 * NS_PER_S
    assert [f.kind for f in facts if isinstance(f, MarkProposed)] == [LS]
    assert [f.phase for f in facts if isinstance(f, PhaseChanged)] == [Phase.DESCENDING]
    assert watch.marks()[0].by == TRACE


def test_a_late_press_keeps_the_start_of_the_trace(watch) -> None:
    """The start is confirmed at the instant that the trace showed, not at the press."""
    watch.depth(lambda t: min(50.0, 0.5 * t))
    watch.run(150)
    start = watch.times().left_surface
    watch.mark(LS)
    assert watch.times().left_surface == start
    assert not watch.times().presumed
    assert watch.marks()[0].pressed_at == watch.now


def test_a_start_is_confirmed_also_after_later_marks(watch) -> None:
    """Bottom reached and left were marked first: the forgotten start is still taken, at its place."""
    watch.depth(lambda t: min(50.0, t))
    watch.run(60)
    watch.mark(RB)
    watch.run(60)
    watch.mark(LB)
    start, bottom_s = watch.times().left_surface, watch.times().bottom_s
    watch.mark(LS)
    assert [m.kind for m in watch.marks()] == [LS, RB, LB]
    assert (watch.times().left_surface, watch.times().bottom_s) == (start, bottom_s)


def test_undoing_the_start_leaves_the_clock_to_the_trace(watch) -> None:
    """Taken back after the trace has forgotten the surface: the clock runs on all the same."""
    watch.mark(LS)
    watch.depth(lambda t: min(50.0, t))
    watch.run(700, step_s=0.5)
    facts = watch.undo(1)
    assert watch.phase() is Phase.DESCENDING
    assert watch.times().presumed
    assert watch.times().bottom_s >= 698
    assert not [f for f in facts if isinstance(f, PhaseChanged)]


def test_a_gauge_that_never_shows_zero_still_gives_a_start(new_watch) -> None:
    """Off by 1.5 fsw at the surface: the start is taken where he passed 3 fsw, not ten minutes ago."""
    watch = new_watch()
    watch.depth(1.5)
    watch.run(100, step_s=0.5)
    watch.depth(lambda t: 1.5 + t)
    watch.run(20)
    assert abs(watch.times().left_surface - after(EPOCH, 101.5)) <= 2 * NS_PER_S


def test_a_gauge_tried_on_deck_is_no_dive(watch) -> None:
    """Lowered for half a minute and up again with nothing marked: dressed as before."""
    watch.depth(20.0)
    watch.run(30)
    watch.depth(0.0)
    watch.run(5)
    assert watch.phase() is Phase.DRESSED
    assert watch.times().left_surface is None


def test_a_mark_undone_does_not_keep_a_trial_alive(watch) -> None:
    """A mark that was taken back counts for nothing when the trial ends."""
    watch.depth(20.0)
    watch.run(10)
    watch.mark(LS)
    watch.undo(1)
    watch.depth(0.0)
    watch.run(5)
    assert watch.phase() is Phase.DRESSED


def test_a_dive_is_no_trial_when_it_is_marked(watch) -> None:
    """Up again after half a minute, but the start was marked: he is in the water until somebody says else."""
    watch.mark(LS)
    watch.depth(20.0)
    watch.run(30)
    watch.depth(0.0)
    watch.run(30)
    assert watch.phase() is Phase.DESCENDING


def test_a_long_trial_is_taken_back_by_hand_at_the_surface_only(watch) -> None:
    """A start that only the trace shows is mark 0: taken back with a reason, never while he is down."""
    watch.depth(20.0)
    watch.run(90)
    refused = watch.undo(0)
    assert "at the surface" in refused[0].reason
    watch.depth(0.0)
    watch.run(5)
    assert watch.phase() is Phase.DESCENDING
    watch.undo(0)
    watch.run(5)
    assert watch.phase() is Phase.DRESSED
    assert watch.diver().amendments[-1].mark == 0


@pytest.fixture(name="risen")
def _risen(on_bottom):
    """Left the bottom at 50 and up at 30 fsw."""
    on_bottom.run(30)
    on_bottom.mark(LB)
    on_bottom.depth(lambda t: max(30.0, 50 - 0.5 * t))
    on_bottom.run(60)
    return on_bottom


def test_a_working_descent_makes_the_leaving_void(risen) -> None:
    """Down again by more than 5 fsw: bottom time runs on from the start, he is on the bottom. Rule T1."""
    left_s = risen.times().bottom_s
    risen.depth(lambda t: min(45.0, 30 + 0.5 * t))
    risen.run(60)
    assert working_descent_proposed(risen.diver())
    assert risen.phase() is Phase.ON_BOTTOM
    assert risen.times().left_bottom is None
    assert risen.times().bottom_s >= left_s + 100
    assert [p.kind for p in open_proposals(risen.diver())] == [RB]


def test_a_void_leaving_stays_void_after_the_surface_is_marked(risen) -> None:
    """Nobody marked the second leaving: bottom time is that to the surface, not that to the void leaving."""
    risen.depth(lambda t: min(45.0, 30 + 0.5 * t))
    risen.run(60)
    risen.depth(0.0)
    risen.mark(RS)
    at_surface_s = risen.times().bottom_s
    risen.run(30)
    assert risen.times().left_bottom is None
    assert risen.times().bottom_s == at_surface_s >= 180


def test_leaving_again_after_a_working_descent_counts_and_can_be_undone(risen) -> None:
    """The second leaving ends the bottom time; taken back, all is as if it had not been."""
    risen.depth(lambda t: min(45.0, 30 + 0.5 * t))
    risen.run(60)
    marks = risen.marks()
    risen.mark(LB)
    assert risen.phase() is Phase.ASCENDING
    assert risen.times().left_bottom == risen.now
    risen.depth(lambda t: 45 - 0.5 * t)
    risen.run(60)
    risen.undo(risen.marks()[-1].number)
    assert risen.marks() == marks
    assert risen.phase() is Phase.ON_BOTTOM
    assert risen.times().left_bottom is None


@pytest.mark.parametrize("taken_back", [(3,), (2, 3)])
def test_without_the_leaving_there_is_no_working_descent(risen, taken_back) -> None:
    """The leaving was pressed by mistake: what the trace showed since is no moment of the dive."""
    risen.depth(lambda t: min(45.0, 30 + 0.5 * t))
    risen.run(60)
    for number in taken_back:
        risen.undo(number)
    assert [m.number for m in risen.marks()] == [n for n in (1, 2) if n not in taken_back]
    assert risen.phase() is (Phase.DESCENDING if 2 in taken_back else Phase.ON_BOTTOM)
    assert not working_descent_proposed(risen.diver())
    assert RB not in {p.kind for p in open_proposals(risen.diver()) if p.holds}


def test_a_working_descent_that_was_none_is_taken_back(risen) -> None:
    """The supervisor's word, with a reason, against the trace: the leaving counts again."""
    left_s = risen.times().bottom_s
    risen.depth(40.0)
    risen.run(20)
    risen.depth(30.0)
    assert risen.phase() is Phase.ON_BOTTOM
    risen.undo(0)
    assert risen.phase() is Phase.ASCENDING
    assert risen.times().bottom_s == left_s


def test_waves_on_the_way_up_are_no_working_descent(risen) -> None:
    """A swell of 9 fsw from trough to crest, hanging at 30: the bottom stays left."""
    from math import sin  # noqa: PLC0415

    risen.depth(lambda t: 30 + 4.5 * sin(t * 2 * 3.1416 / 5))
    risen.run(120)
    assert risen.phase() is Phase.ASCENDING


@pytest.mark.parametrize("fsw_s", [0.5, 1.0, 2.0])
def test_a_fast_ascent_is_no_working_descent(on_bottom, fsw_s) -> None:
    """However fast he rises, rising is not going down."""
    on_bottom.mark(LB)
    on_bottom.depth(lambda t: max(2.0, 50 - fsw_s * t))
    on_bottom.run(40)
    assert on_bottom.phase() is Phase.ASCENDING


def test_a_stop_badly_kept_is_no_working_descent_but_leaving_it_downward_is(risen) -> None:
    """Eight fsw under a stop of 30 is a stop badly kept; past the next deeper stop he works again."""
    risen.mark(AT, stop=30.0)
    risen.depth(38.0)
    risen.run(20)
    assert risen.phase() is Phase.AT_STOP
    risen.depth(41.0)
    risen.run(20)
    assert risen.phase() is Phase.ON_BOTTOM
    assert risen.times().left_bottom is None


def test_leaving_is_hinted_and_withdrawn_when_he_is_back(on_bottom) -> None:
    """A rise of more than 5 fsw hints at the last moment near the deepest; back there, the hint is gone."""
    before = on_bottom.now
    on_bottom.depth(lambda t: max(40.0, 50 - 0.5 * t))
    on_bottom.run(16)
    hints = [p for p in on_bottom.diver().proposals if p.kind is LB]
    assert abs(hints[0].at - after(before, 2)) <= 3 * NS_PER_S
    on_bottom.depth(50.0)
    on_bottom.run(5)
    assert not [p for p in on_bottom.diver().proposals if p.kind is LB]
    assert on_bottom.phase() is Phase.ON_BOTTOM


def test_the_bottom_is_hinted_where_the_descent_ends(watch) -> None:
    """Steady for the window of a rate: reached bottom is hinted, never taken."""
    watch.mark(LS)
    watch.depth(lambda t: min(30.0, t))
    watch.run(45)
    hint = next(p for p in watch.diver().proposals if p.kind is RB)
    assert abs(hint.at - after(EPOCH, 32)) <= 5 * NS_PER_S
    assert watch.phase() is Phase.DESCENDING


@pytest.mark.parametrize("bottom_marked", [True, False])
def test_the_surface_is_hinted_from_every_phase_in_the_water(watch, bottom_marked) -> None:
    """Nobody marked the leaving: at the surface the hint stands; below again it goes."""
    watch.mark(LS)
    watch.depth(30.0)
    watch.run(20)
    if bottom_marked:
        watch.mark(RB)
    watch.depth(0.5)
    watch.run(5)
    assert [p.kind for p in watch.diver().proposals if p.kind is RS] == [RS]
    watch.depth(8.0)
    watch.run(5)
    assert not [p for p in watch.diver().proposals if p.kind is RS]


def test_at_the_ladder_the_surface_is_not_hinted(watch) -> None:
    """Marked as leaving and still at the surface: he has not come back from anywhere."""
    watch.mark(LS)
    watch.run(20)
    assert watch.diver().proposals == ()


def test_the_stage_depth_of_a_late_mark_is_that_of_its_moment(on_bottom) -> None:
    """Ten minutes of depth are kept; earlier there is none."""
    moment = on_bottom.now
    on_bottom.depth(lambda t: max(20.0, 50 - 0.5 * t))
    on_bottom.run(60)
    assert stage_depth_fsw(on_bottom.diver(), moment) == 50.0
    on_bottom.run(700, step_s=0.5)
    assert stage_depth_fsw(on_bottom.diver(), moment) is None


def test_a_start_marked_late_loses_no_depth(watch) -> None:
    """A dip to 60 before anybody pressed, with the trace alone running, is in the deepest."""
    watch.depth(60.0)
    watch.run(20)
    watch.depth(40.0)
    watch.run(20)
    watch.mark(LS)
    assert watch.diver().deepest_fsw == 60.0


def test_depth_under_a_surface_marked_in_error_is_not_lost(on_bottom) -> None:
    """Reached surface by mistake, deeper meanwhile, taken back: the deepest knows of it."""
    on_bottom.mark(RS)
    on_bottom.depth(58.0)
    on_bottom.run(20)
    on_bottom.depth(50.0)
    on_bottom.run(20)
    assert on_bottom.diver().deepest_fsw == 50.0
    on_bottom.undo(on_bottom.marks()[-1].number)
    assert on_bottom.diver().deepest_fsw == 58.0


def test_a_further_dive_begins_anew(on_bottom) -> None:
    """Marks stay for the log; deepest, times and plan are those of the new dive, which has its own start."""
    on_bottom.mark(LB)
    on_bottom.depth(0.0)
    on_bottom.run(20)
    on_bottom.mark(RS)
    on_bottom.act(NextDive(ONE))
    diver = on_bottom.diver()
    assert (diver.dive, diver.deepest_fsw, diver.planned_depth_fsw, len(diver.marks)) == (2, None, None, 4)
    assert on_bottom.phase() is Phase.DRESSED
    on_bottom.run(5)
    begin = on_bottom.now
    on_bottom.depth(20.0)
    on_bottom.run(20)
    assert abs(on_bottom.times().left_surface - begin) <= 3 * NS_PER_S
    assert on_bottom.diver().deepest_fsw == 20.0


def test_a_second_dive_never_starts_in_the_first(on_bottom) -> None:
    """He hangs at 2 fsw between the dives: the start lies after the surfacing that was marked."""
    on_bottom.mark(LB)
    on_bottom.depth(2.0)
    on_bottom.run(20)
    on_bottom.mark(RS)
    surfaced = on_bottom.now
    on_bottom.act(NextDive(ONE))
    on_bottom.run(20)
    on_bottom.depth(20.0)
    on_bottom.run(20)
    assert on_bottom.times().left_surface >= surfaced


def test_in_water_is_between_the_surfaces() -> None:
    """Only dressed, surfaced, in the chamber and done are out of the water."""
    assert set(Phase) - IN_WATER == {Phase.DRESSED, Phase.SURFACED, Phase.CHAMBER, Phase.DONE}
    assert phase_of(DiverState(ONE)) is Phase.DRESSED


def test_a_void_leaving_is_not_set_past_the_descent(risen) -> None:
    """Leaving again is a mark of its own; the void one keeps its place before the descent."""
    number = risen.marks()[-1].number
    risen.depth(40.0)
    risen.run(20)
    assert risen.phase() is Phase.ON_BOTTOM
    again = risen.marks()[-1].at
    refused = risen.act(AmendMark(ONE, number, after(again, 5), "later"))
    assert "order" in refused[0].reason
