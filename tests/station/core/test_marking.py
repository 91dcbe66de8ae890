"""The operator's word: taken, or refused with a reason that the window can show; nothing is lost."""

import math

import pytest

from shared.clock import EPOCH, after
from station.core.facts import MarkAmended, MarkTaken, Refused
from station.core.inputs import (
    Acknowledge,
    AmendMark,
    AsksToComeUp,
    ChooseGround,
    HoseBlown,
    LinePull,
    MarkKind,
    NextDive,
    NoAnswer,
    PlanDive,
    Remark,
    SetMark,
    UndoMark,
    VoiceAnswered,
)
from station.core.phase import Phase
from station.core.state import LogEntry, Sample

ONE, TWO = "Diver 1", "Diver 2"
LS, RB, LB = MarkKind.LEFT_SURFACE, MarkKind.REACHED_BOTTOM, MarkKind.LEFT_BOTTOM
AT, OFF, RS = MarkKind.REACHED_STOP, MarkKind.LEFT_STOP, MarkKind.REACHED_SURFACE


def _reason(facts) -> str:
    (fact,) = facts
    assert isinstance(fact, Refused)
    return fact.reason


def test_a_mark_is_taken_with_its_author_and_its_instant(watch) -> None:
    """Number, author, press and moment stand in the mark, and a fact tells of it."""
    watch.act(SetMark(ONE, 1, LS, back_s=0), by="K. Strand")
    mark = watch.marks()[0]
    assert (mark.number, mark.by, mark.at, mark.pressed_at, mark.seq) == (
        1,
        "K. Strand",
        watch.now,
        watch.now,
        watch.state.seq,
    )
    assert MarkTaken(ONE, mark) in watch.facts


@pytest.mark.parametrize("back_s", [15, 30, 60])
def test_a_mark_is_set_back_with_one_press(new_watch, back_s) -> None:
    """The moment lies before the press, the press itself is kept."""
    watch = new_watch(start_s=100.0)
    watch.mark(LS, back=back_s)
    assert watch.marks()[0].at == after(EPOCH, 100 - back_s)
    assert watch.marks()[0].pressed_at == watch.now


@pytest.mark.parametrize("kind", [LS, RB, LB, RS])
def test_a_double_press_is_refused_and_changes_nothing(on_bottom, kind) -> None:
    """Pressed twice, at one window or two, with or without having seen the first: one mark."""
    if kind is LB or kind is RS:
        on_bottom.mark(kind, seen=0)
    before = on_bottom.marks()
    assert "no place" in _reason(on_bottom.mark(kind, seen=0))
    assert on_bottom.marks() == before


@pytest.mark.parametrize(
    ("kind", "stop", "back", "words"),
    [
        (AT, 20.0, 0, "no place while Diver 1 is on bottom"),
        (OFF, 20.0, 0, "no place while Diver 1 is on bottom"),
        (LB, None, 7, "set back by one of"),
        (LB, None, 60, "would stand before reached_bottom"),
    ],
)
def test_what_has_no_place_is_refused_with_its_reason(on_bottom, kind, stop, back, words) -> None:
    """The reason says what is in the way."""
    assert words in _reason(on_bottom.mark(kind, stop=stop, back=back))


@pytest.mark.parametrize("stop", [None, 0.0, -10.0, math.nan, math.inf])
def test_a_stop_needs_its_depth(on_bottom, stop) -> None:
    """A stop without a depth, or with one that is none, is refused."""
    on_bottom.mark(LB)
    assert "depth of the stop" in _reason(on_bottom.mark(AT, stop=stop))


def test_a_mark_of_another_dive_is_refused(watch) -> None:
    """A window that still shows the dive before cannot mark in this one."""
    assert "not the present one (1)" in _reason(watch.act(SetMark(ONE, 2, LS)))


def test_a_mark_before_the_log_is_refused(new_watch) -> None:
    """Ten seconds after the beginning nothing can have happened a minute ago."""
    watch = new_watch(start_s=10.0)
    assert "before the log began" in _reason(watch.mark(LS, back=60))


def test_an_unknown_diver_is_refused(watch) -> None:
    """A name that the station does not know is told back."""
    assert "'Diver 9'" in _reason(watch.act(HoseBlown("Diver 9")))


def test_stops_are_marked_in_their_order(on_bottom) -> None:
    """The next stop ends the one before; the same again, a deeper one, or leaving another is refused."""
    on_bottom.mark(LB)
    on_bottom.mark(AT, stop=30.0)
    assert "marked already" in _reason(on_bottom.mark(AT, stop=30.0))
    assert "marked already" in _reason(on_bottom.mark(AT, stop=40.0))
    on_bottom.mark(AT, stop=20.0)
    assert "at the stop at 20 fsw, not at 30" in _reason(on_bottom.mark(OFF, stop=30.0))
    on_bottom.mark(OFF, stop=20.0)
    assert on_bottom.phase() is Phase.ASCENDING


def test_a_stale_press_does_not_take_back_the_leaving(on_bottom) -> None:
    """Reached bottom pressed at a window that has not seen left bottom would void it: refused."""
    seen = on_bottom.state.seq
    on_bottom.mark(LB)
    assert "another window" in _reason(on_bottom.mark(RB, seen=seen))
    on_bottom.mark(RB)
    assert on_bottom.phase() is Phase.ON_BOTTOM


def test_two_windows_correct_one_mark_only_once(on_bottom) -> None:
    """The later word must have seen the earlier one."""
    seen = on_bottom.state.seq
    on_bottom.act(AmendMark(ONE, 2, on_bottom.now, "saw it late"), seen=seen)
    assert "another window" in _reason(on_bottom.act(AmendMark(ONE, 2, on_bottom.now, "no"), seen=seen))
    assert "another window" in _reason(on_bottom.undo(2, seen=seen))
    on_bottom.undo(2)
    assert [m.kind for m in on_bottom.marks()] == [LS]


@pytest.mark.parametrize("reason", ["", "  "])
def test_a_correction_needs_a_reason(on_bottom, reason) -> None:
    """Nothing is corrected silently."""
    assert "reason" in _reason(on_bottom.act(UndoMark(ONE, 1, reason)))
    assert "reason" in _reason(on_bottom.act(AmendMark(ONE, 1, on_bottom.now, reason)))


def test_the_first_mark_stays_readable(on_bottom) -> None:
    """An amendment is a further word; the mark itself is never changed."""
    first = on_bottom.diver().marks
    facts = on_bottom.act(AmendMark(ONE, 2, after(on_bottom.now, -5), "stopwatch"))
    assert isinstance(facts[0], MarkAmended)
    assert on_bottom.diver().marks == first
    assert on_bottom.marks()[1].at == after(first[1].at, -5)
    on_bottom.undo(2)
    assert on_bottom.diver().marks == first


@pytest.mark.parametrize("to_s", [-1.0, 1.0, 9999.0])
def test_an_amendment_keeps_the_order_and_the_past(on_bottom, to_s) -> None:
    """Before the mark before, after the one after, in the future: refused."""
    on_bottom.mark(LB)
    ls, rb, lb = on_bottom.marks()
    to = after(ls.at, to_s) if to_s < 0 else after(lb.at, to_s)
    assert "order" in _reason(on_bottom.act(AmendMark(ONE, rb.number, to, "stopwatch")))


def test_an_unknown_or_undone_mark_takes_no_word(on_bottom) -> None:
    """Only a mark that holds in the present dive can be corrected."""
    on_bottom.undo(2)
    assert "no mark 2" in _reason(on_bottom.undo(2))
    assert "no mark 0" in _reason(on_bottom.undo(0))
    assert "no mark 77" in _reason(on_bottom.act(AmendMark(ONE, 77, on_bottom.now, "x")))
    assert "not set" in _reason(on_bottom.act(AmendMark(ONE, 0, on_bottom.now, "x")))


def test_a_bottom_left_undone_and_marked_anew_finds_its_place_before_the_stops(on_bottom) -> None:
    """Undone under later stops, pressed again and set to its time: the stops hold again."""
    on_bottom.mark(LB)
    left = on_bottom.now
    on_bottom.depth(lambda t: max(30.0, 50 - t))
    on_bottom.run(20)
    on_bottom.depth(30.0)
    on_bottom.mark(AT, stop=30.0)
    on_bottom.run(20)
    on_bottom.mark(OFF, stop=30.0)
    on_bottom.undo(3)
    assert on_bottom.phase() is Phase.ON_BOTTOM
    on_bottom.mark(LB)
    on_bottom.act(AmendMark(ONE, 6, left, "undone by mistake"))
    assert [m.kind for m in on_bottom.marks()] == [LS, RB, LB, AT, OFF]
    assert on_bottom.phase() is Phase.ASCENDING
    assert on_bottom.times().left_bottom == left


def test_a_mark_before_what_only_the_trace_shows_is_refused(watch) -> None:
    """The presumed start stands like a mark: nothing of the dive lies before it."""
    watch.run(100)
    watch.depth(20.0)
    watch.run(20)
    assert "the trace shows it" in _reason(watch.mark(RB, back=60))


def test_a_dive_does_not_begin_in_the_one_before(on_bottom) -> None:
    """Left surface set back into the dive before is refused."""
    on_bottom.mark(RS)
    on_bottom.act(NextDive(ONE))
    on_bottom.run(10)
    assert "dive 1" in _reason(on_bottom.mark(LS, back=30))


def test_the_next_dive_needs_the_surface(on_bottom) -> None:
    """Pressed in the water, or twice, it is refused."""
    assert "not reached the surface" in _reason(on_bottom.act(NextDive(ONE)))
    on_bottom.mark(RS)
    on_bottom.act(NextDive(ONE))
    assert (on_bottom.phase(), on_bottom.diver().dive) == (Phase.DRESSED, 2)
    assert "not reached the surface" in _reason(on_bottom.act(NextDive(ONE)))


def test_the_divers_do_not_touch_each_other(on_bottom) -> None:
    """Marks of one leave the other dressed; numbers count for the station."""
    on_bottom.mark(LS, TWO)
    assert [m.number for m in on_bottom.marks(TWO)] == [3]
    assert on_bottom.phase(TWO) is Phase.DESCENDING
    assert [m.number for m in on_bottom.marks(ONE)] == [1, 2]


@pytest.mark.parametrize(
    ("depth_fsw", "bottom_min"), [(0.0, 10), (-1.0, 10), (math.nan, 10), (math.inf, 10), (60.0, 0)]
)
def test_a_plan_needs_figures_above_zero(watch, depth_fsw, bottom_min) -> None:
    """A plan without a depth or a time, or with a number that is none, is refused."""
    assert "above zero" in _reason(watch.act(PlanDive(ONE, depth_fsw, bottom_min)))
    assert watch.diver().planned_depth_fsw == 60.0


def test_a_plan_is_put_in_force(watch) -> None:
    """Depth and bottom time of the next dive of one diver."""
    watch.act(PlanDive(ONE, 45.0, 30))
    assert (watch.diver().planned_depth_fsw, watch.diver().planned_bottom_min) == (45.0, 30)
    assert watch.diver(TWO).planned_depth_fsw == 60.0


def test_the_last_word_of_each_kind_stands_with_its_instant(watch) -> None:
    """Voice, no answer, asks to come up, line pulls and the blow with the depth at which it was."""
    watch.depth(2.0)
    watch.run(5)
    for act in (
        VoiceAnswered(ONE),
        NoAnswer(ONE),
        AsksToComeUp(ONE),
        LinePull(ONE, "2-1", True),
        HoseBlown(ONE),
    ):
        assert watch.act(act) == ()
    diver, now = watch.diver(), watch.now
    assert diver.voice == diver.no_answer == diver.asked_up == LogEntry(now)
    assert diver.line_pull == LogEntry(now, "2-1 by diver")
    assert diver.blown == Sample(now, 2.0)


def test_a_blow_under_a_silent_gauge_stands_at_the_last_depth_known(on_bottom) -> None:
    """The gauge is silent: the blow is kept with the last depth, never with zero."""
    on_bottom.depth(None)
    on_bottom.run(10)
    on_bottom.act(HoseBlown(ONE))
    assert on_bottom.diver().blown.value == 50.0


def test_grounds_and_remarks(watch) -> None:
    """The ground is one of three; a remark is for the log alone."""
    watch.act(ChooseGround("night"))
    assert watch.state.ground == "night"
    assert "no ground 'pink'" in _reason(watch.act(ChooseGround("pink")))
    before = watch.state
    assert watch.act(Remark("", "fog")) == ()
    assert watch.state.divers is before.divers


def test_what_does_not_wait_cannot_be_acknowledged(watch) -> None:
    """No such alarm: said, and nothing changed."""
    assert "no alarm ascent-fast of Diver 1" in _reason(watch.act(Acknowledge("ascent-fast", ONE)))


def test_on_oxygen_the_stop_is_still_the_stop(on_bottom):
    """The mark of what he breathes has no depth: leaving another stop than his, or his again, is refused."""
    on_bottom.mark(MarkKind.LEFT_BOTTOM)
    on_bottom.mark(MarkKind.REACHED_STOP, stop=30.0)
    on_bottom.mark(MarkKind.ON_OXYGEN)
    assert isinstance(on_bottom.mark(MarkKind.LEFT_STOP, stop=20.0)[0], Refused)
    assert isinstance(on_bottom.mark(MarkKind.REACHED_STOP, stop=30.0)[0], Refused)
    assert isinstance(on_bottom.mark(MarkKind.LEFT_STOP, stop=30.0)[0], MarkTaken)


def test_oxygen_is_put_on_and_taken_off_in_turn(on_bottom):
    """A second press for on oxygen marks nothing, nor one for off that was never on; each says why."""
    on_bottom.mark(MarkKind.LEFT_BOTTOM)
    on_bottom.mark(MarkKind.REACHED_STOP, stop=30.0)
    never_on = on_bottom.mark(MarkKind.OFF_OXYGEN)[0]
    assert isinstance(never_on, Refused)
    assert "not on oxygen" in never_on.reason
    on_bottom.mark(MarkKind.ON_OXYGEN)
    again = on_bottom.mark(MarkKind.ON_OXYGEN)[0]
    assert isinstance(again, Refused)
    assert "already" in again.reason
    assert isinstance(on_bottom.mark(MarkKind.OFF_OXYGEN)[0], MarkTaken)
    assert isinstance(on_bottom.mark(MarkKind.ON_OXYGEN)[0], MarkTaken)
