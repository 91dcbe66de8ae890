"""First-out and floods: which came first, and when there are too many."""

from dataclasses import replace

from shared.clock import after
from station.core.alarms.announcing import announced
from station.core.alarms.watched import STATION
from station.core.inputs import Acknowledge, MarkKind, StationFactKind
from station.core.state import AlarmState, Standing

ONE, TWO = "Diver 1", "Diver 2"


def test_the_first_of_a_subject_is_marked_until_all_are_seen(new_watch) -> None:
    """Silence first, then short of air: the silence came first, also after the other was seen."""
    watch = new_watch(every_s=0.5, step_s=0.5)
    watch.run(2)
    watch.mark(MarkKind.LEFT_SURFACE)
    watch.depth(None)
    watch.run(3)
    watch.supply(None)
    watch.run(3)
    first, second = watch.alarm("depth-not-heard"), watch.alarm("supply-not-heard")
    assert (first.first_out, second.first_out) == (True, False)
    watch.fact(StationFactKind.LOG_FAILED)
    watch.run(0.5)
    assert watch.alarm("log-not-durable", STATION).first_out
    watch.act(Acknowledge("depth-not-heard", ONE))
    watch.run(0.5)
    assert watch.alarm("depth-not-heard").first_out
    watch.act(Acknowledge("supply-not-heard", ONE))
    watch.supply(150.0)
    watch.run(4)
    watch.supply(None)
    watch.run(4)
    assert watch.alarm("supply-not-heard").first_out


def test_an_alarm_that_comes_again_unseen_is_still_the_first(new_watch) -> None:
    """Alone it came, alone it comes again: it does not stand behind itself."""
    watch = new_watch(every_s=0.5, step_s=0.5)
    watch.run(2)
    for occurrence in (1, 2):
        watch.depth(None)
        watch.run(3)
        alarm = watch.alarm("depth-not-heard")
        assert (alarm.occurrence, alarm.first_out) == (occurrence, True)
        watch.depth(0.0)
        watch.run(3)


def _flapping(state, number: int, now):
    """The state after the silence of diver 2 was raised for the nth time."""
    alarm = AlarmState("depth-not-heard", TWO, Standing.UNACKNOWLEDGED, since=now, occurrence=number)
    before = {(each.id, each.subject): each for each in state.alarms}
    return announced(replace(state, now=now), before, (alarm,))[0]


def test_a_flood_begins_above_ten_in_ten_minutes_and_ends_below_five(new_watch) -> None:
    """Ten raises are none, eleven are; it lasts until fewer than five stand in the last ten minutes."""
    watch = new_watch(every_s=0.5, step_s=0.5)
    state, begin = watch.state, watch.now
    for number in range(1, 12):
        assert state.flooded == ()
        state = _flapping(state, number, after(begin, number))
    assert state.flooded == (TWO,)
    kept = state.alarms
    before = {(each.id, each.subject): each for each in kept}
    for gone_s in range(601, 612):
        state, _ = announced(replace(state, now=after(begin, gone_s)), before, kept)
        left = len(state.raises)
        assert left == 11 - (gone_s - 600)
        assert state.flooded == ((TWO,) if left >= 5 else ())
