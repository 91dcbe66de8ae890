"""The states of an alarm, by their table (ISA-18.2-2016 / IEC 62682): from, event, to, and what is heard."""

from collections.abc import Callable
from dataclasses import dataclass

import pytest

from station.core.alarms.sounding import Pattern, sounding
from station.core.alarms.watched import STATION
from station.core.facts import Refused
from station.core.inputs import Acknowledge, MarkKind, OutOfService, Shelve, StationFactKind, Unshelve
from station.core.state import Standing

ONE = "Diver 1"
SHORT = "supply-below-minimum"
UNSEEN, SEEN, RETURNED = Standing.UNACKNOWLEDGED, Standing.ACKNOWLEDGED, Standing.RETURNED
NORMAL, SHELVED, OUT = Standing.NORMAL, Standing.SHELVED, Standing.OUT_OF_SERVICE


@dataclass(frozen=True)
class Alarm:
    """One alarm to move through its states: how its condition comes and goes, how it sounds."""

    id: str
    subject: str
    raised: Callable
    cleared: Callable
    pattern: Pattern
    sounds_returned: bool = False


def _short(watch) -> None:
    watch.supply(90.0)
    watch.run(4)


def _living(value: float) -> Callable:
    """A gauge that lives: a hair up and down, or it would be taken for frozen."""
    return lambda t: value + 0.1 * (round(t * 2) % 2)


def _fed(watch) -> None:
    watch.supply(_living(150.0))
    watch.run(8)


def _told(kind: StationFactKind, run_s: float) -> Callable:
    def change(watch) -> None:
        watch.fact(kind)
        watch.run(run_s)

    return change


def _silent(watch) -> None:
    watch.depth(None, "Diver 2")
    watch.run(3)


def _heard(watch) -> None:
    watch.depth(0.0, "Diver 2")
    watch.run(4)


EMERGENCY = Alarm(SHORT, ONE, _short, _fed, Pattern.EMERGENCY, sounds_returned=True)
LOG = Alarm(
    "log-not-durable",
    STATION,
    _told(StationFactKind.LOG_FAILED, 0.5),
    _told(StationFactKind.LOG_DURABLE, 6),
    Pattern.ALARM,
)
WARNING = Alarm("depth-not-heard", "Diver 2", _silent, _heard, Pattern.WARNING)
ALARMS = [EMERGENCY, LOG, WARNING]
each = pytest.mark.parametrize("alarm", ALARMS, ids=lambda alarm: alarm.pattern.value)
each_shelved = pytest.mark.parametrize("alarm", [LOG, WARNING], ids=lambda alarm: alarm.pattern.value)


@pytest.fixture(name="watch")
def _watch(new_watch):
    """Diver 1 in the water, everything calm."""
    begun = new_watch(every_s=0.5, step_s=0.5)
    begun.supply(_living(150.0))
    begun.depth(_living(0.2))
    begun.run(2)
    begun.mark(MarkKind.LEFT_SURFACE)
    begun.run(2)
    return begun


def _ack(watch, alarm: Alarm, **more):
    return watch.act(Acknowledge(alarm.id, alarm.subject), **more)


def _is(watch, alarm: Alarm, standing: Standing, pattern: Pattern) -> None:
    assert watch.standing(alarm.id, alarm.subject) is standing
    assert sounding(watch.state).pattern is pattern


def _reason(facts) -> str:
    (fact,) = facts
    assert isinstance(fact, Refused)
    return fact.reason


@each
def test_normal_raised_seen_cleared(watch, alarm) -> None:
    """Normal, unacknowledged with sound, acknowledged and silent, normal again."""
    _is(watch, alarm, NORMAL, Pattern.SILENT)
    alarm.raised(watch)
    _is(watch, alarm, UNSEEN, alarm.pattern)
    _ack(watch, alarm)
    _is(watch, alarm, SEEN, Pattern.SILENT)
    alarm.cleared(watch)
    _is(watch, alarm, NORMAL, Pattern.SILENT)


@each
def test_cleared_unseen_waits_and_sounds_only_where_it_endangered_life(watch, alarm) -> None:
    """Returned: an emergency sounds until it is seen, the others fall silent and wait to be seen."""
    alarm.raised(watch)
    alarm.cleared(watch)
    _is(watch, alarm, RETURNED, alarm.pattern if alarm.sounds_returned else Pattern.SILENT)
    _ack(watch, alarm)
    _is(watch, alarm, NORMAL, Pattern.SILENT)


@each
def test_returned_and_raised_again_is_another_occurrence(watch, alarm) -> None:
    """It sounds anew, and a press for the one before is not taken."""
    alarm.raised(watch)
    alarm.cleared(watch)
    old = watch.state.seq
    alarm.raised(watch)
    _is(watch, alarm, UNSEEN, alarm.pattern)
    assert "come again" in _reason(_ack(watch, alarm, seen=old))
    assert "come again" in _reason(watch.act(Acknowledge(alarm.id, alarm.subject, occurrence=1)))
    _is(watch, alarm, UNSEEN, alarm.pattern)
    watch.act(Acknowledge(alarm.id, alarm.subject, occurrence=2))
    _is(watch, alarm, SEEN, Pattern.SILENT)


def test_a_graver_alarm_of_the_same_condition_is_to_be_seen_though_the_lesser_was(new_watch) -> None:
    """Ascent of 45 seen, then of 70: the lesser stands as seen, the graver sounds."""
    watch = new_watch(every_s=0.5, step_s=0.5)
    watch.run(2)
    watch.mark(MarkKind.LEFT_SURFACE)
    watch.depth(100.0)
    watch.run(14)
    for entry in ("descent-fast", "deeper-than-planned", "ascent-fast", "ascent-dangerous"):
        watch.act(Acknowledge(entry, ONE))
    watch.depth(lambda t: 100.0 - 0.8 * t)
    watch.run(14)
    watch.act(Acknowledge("ascent-fast", ONE))
    assert watch.standing("ascent-dangerous") is NORMAL
    begin = watch.diver().shown_fsw
    watch.depth(lambda t: begin - 1.25 * t)
    watch.run(12)
    assert watch.standing("ascent-fast") is SEEN
    assert watch.standing("ascent-dangerous") is UNSEEN
    assert sounding(watch.state).pattern is Pattern.EMERGENCY


@each_shelved
@pytest.mark.parametrize("was", [UNSEEN, SEEN, RETURNED])
def test_shelved_from_any_state_is_silent_and_comes_back_by_itself(watch, alarm, was) -> None:
    """Put away with reason and time; over, it stands as it then stands: still raised, it sounds anew."""
    alarm.raised(watch)
    if was is SEEN:
        _ack(watch, alarm)
    if was is RETURNED:
        alarm.cleared(watch)
    (fact,) = watch.act(Shelve(alarm.id, alarm.subject, 2, "cable is being mended"))
    assert fact.standing is SHELVED
    _is(watch, alarm, SHELVED, Pattern.SILENT)
    aside = watch.alarm(alarm.id, alarm.subject).aside
    assert (aside.reason, aside.by, aside.until) == (
        "cable is being mended",
        "tender",
        watch.now + 120 * 10**9,
    )
    watch.run(119)
    _is(watch, alarm, SHELVED, Pattern.SILENT)
    watch.run(1.5)
    over = NORMAL if was is RETURNED else UNSEEN
    _is(watch, alarm, over, Pattern.SILENT if was is RETURNED else alarm.pattern)


@each_shelved
def test_unshelved_at_once(watch, alarm) -> None:
    """Taken back before its time; what is not shelved cannot be."""
    alarm.raised(watch)
    assert "is shelved" in _reason(watch.act(Unshelve(alarm.id, alarm.subject)))
    watch.act(Shelve(alarm.id, alarm.subject, 15, "known"))
    watch.act(Unshelve(alarm.id, alarm.subject))
    watch.run(0.5)
    _is(watch, alarm, UNSEEN, alarm.pattern)
    assert watch.alarm(alarm.id, alarm.subject).occurrence == 2


@each_shelved
def test_what_clears_on_the_shelf_is_gone_and_what_comes_there_is_heard_afterwards(watch, alarm) -> None:
    """An alarm is watched on beneath its shelf."""
    alarm.raised(watch)
    watch.act(Shelve(alarm.id, alarm.subject, 1, "known"))
    alarm.cleared(watch)
    watch.run(60)
    _is(watch, alarm, NORMAL, Pattern.SILENT)
    watch.act(Shelve(alarm.id, alarm.subject, 1, "known"))
    alarm.raised(watch)
    _is(watch, alarm, SHELVED, Pattern.SILENT)
    watch.run(60)
    _is(watch, alarm, UNSEEN, alarm.pattern)


REFUSED = [
    (Shelve(SHORT, ONE, 5, "noise"), "never shelved"),
    (Shelve("log-not-durable", STATION, 16, "noise"), "1 to 15 minutes, not 16"),
    (Shelve("log-not-durable", STATION, 0, "noise"), "1 to 15 minutes, not 0"),
    (Shelve("log-not-durable", STATION, 5, "  "), "needs a reason"),
    (Shelve("windows-lost", STATION, 5, "noise"), "has come that could be shelved"),
    (Shelve("no such alarm", STATION, 5, "noise"), "has come that could be shelved"),
    (OutOfService("no such gauge", "dead"), "no gauge"),
    (OutOfService("depth Diver 1", ""), "needs a reason"),
]


@pytest.mark.parametrize(("act", "why"), REFUSED)
def test_what_cannot_be_put_aside_is_refused_with_its_reason(watch, act, why) -> None:
    """No emergency, not longer than a quarter of an hour, not without a reason; nothing changes."""
    EMERGENCY.raised(watch)
    LOG.raised(watch)
    before = watch.state.alarms
    assert why in _reason(watch.act(act))
    assert watch.state.alarms == before


def test_a_shelf_is_not_lengthened(watch) -> None:
    """A second shelving on top of the first is refused: it ends when it was said to end."""
    LOG.raised(watch)
    watch.act(Shelve(LOG.id, STATION, 5, "known"))
    assert "already" in _reason(watch.act(Shelve(LOG.id, STATION, 15, "longer")))


def test_a_caution_asks_for_no_acknowledgement_and_makes_no_sound(new_watch) -> None:
    """Raised, it stands silent; it cannot be acknowledged; cleared, it is gone."""
    watch = new_watch(every_s=0.5, step_s=0.5, names=(ONE,))
    watch.depth(None)
    watch.mark(MarkKind.LEFT_SURFACE)
    watch.run(100)
    watch.act(Acknowledge("depth-not-heard", ONE))
    assert watch.standing("reading-due") is UNSEEN
    assert sounding(watch.state).pattern is Pattern.SILENT
    assert "waits to be seen" in _reason(watch.act(Acknowledge("reading-due", ONE)))
    watch.depth(20.0)
    watch.run(20)
    assert watch.standing("reading-due") is NORMAL
