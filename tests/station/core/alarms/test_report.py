"""The alarm report after a dive: counts, answers, chatter, floods, over literal facts."""

from hypothesis import given
from hypothesis import strategies as st

from shared.clock import EPOCH, Instant, after
from station.core.alarms.report import alarm_report, floods
from station.core.facts import AlarmChanged, AlarmEscalated
from station.core.inputs import Acknowledge, StationFactKind
from station.core.state import Priority, Span, Standing

HOUR = after(EPOCH, 3600)


def _at(at_s: float) -> Instant:
    return after(EPOCH, at_s)


def _fact(at_s, standing, name="ascent-fast", priority=Priority.WARNING) -> AlarmChanged:
    return AlarmChanged(_at(at_s), name, "Diver 1", priority, standing, None, None)


RAISED, SEEN = Standing.UNACKNOWLEDGED, Standing.ACKNOWLEDGED
RETURNED, NORMAL, SHELVED = Standing.RETURNED, Standing.NORMAL, Standing.SHELVED


def test_counts_and_answers_by_priority() -> None:
    """Raises are counted by priority; the time to acknowledge has a median and a longest."""
    facts = [
        _fact(10, RAISED), _fact(14, SEEN), _fact(20, NORMAL),
        _fact(100, RAISED), _fact(102, RETURNED), _fact(120, NORMAL),
        _fact(200, RAISED),
        _fact(300, RAISED, "row-soon", Priority.CAUTION), _fact(310, NORMAL, "row-soon", Priority.CAUTION),
        AlarmEscalated(_at(500), "ascent-fast", "Diver 1", Priority.ALARM),
        _fact(600, SHELVED),
    ]  # fmt: skip
    report = alarm_report(facts, EPOCH, HOUR)
    assert dict(report.counts) == {
        Priority.EMERGENCY: 0, Priority.ALARM: 0, Priority.WARNING: 3, Priority.CAUTION: 1,
    }  # fmt: skip
    assert report.per_hour == 3.0
    (warnings,) = (answer for answer in report.answers if answer.priority is Priority.WARNING)
    assert (warnings.seen, warnings.not_seen, warnings.median_s, warnings.longest_s) == (2, 1, 12.0, 20.0)
    assert (report.escalated, report.put_aside) == (1, 1)
    assert (report.chattering, report.stale, report.floods) == ((), (), ())


def test_three_raises_in_a_minute_chatter_and_two_do_not() -> None:
    """The third within sixty seconds of the first makes it chatter."""
    close = [fact for at in (0, 30, 60) for fact in (_fact(at, RAISED), _fact(at + 5, RETURNED))]
    apart = [fact for at in (0, 31, 61) for fact in (_fact(at, RAISED), _fact(at + 5, RETURNED))]
    assert alarm_report(close, EPOCH, HOUR).chattering == (("ascent-fast", "Diver 1"),)
    assert alarm_report(apart, EPOCH, HOUR).chattering == ()


def test_what_stands_for_more_than_a_day_is_stale() -> None:
    """Raised and never cleared for longer than a day; a day exactly is none."""
    facts = [_fact(0, RAISED), _fact(5, SEEN)]
    assert alarm_report(facts, EPOCH, _at(86_400)).stale == ()
    assert alarm_report(facts, EPOCH, _at(86_401)).stale == (("ascent-fast", "Diver 1"),)


def test_a_flood_has_its_span_and_its_most() -> None:
    """Eleven raises ten seconds apart: it begins with the eleventh and ends when four are left."""
    raised = [_at(10 * number) for number in range(11)]
    (flood,) = floods(raised, HOUR)
    assert (flood.span, flood.most) == (Span(_at(100), _at(600 + 60)), 11)
    (open_flood,) = floods(raised, _at(120))
    assert open_flood.span == Span(_at(100))
    assert floods(raised[:10], HOUR) == ()


@given(st.lists(st.integers(0, 3_000), max_size=60))
def test_floods_follow_each_other_and_never_overlap(seconds) -> None:
    """Whatever comes: floods stand in order, each with more than ten raises at its worst."""
    found = floods(sorted(_at(each) for each in seconds), _at(10_000))
    assert all(flood.most > 10 and flood.span.end is not None for flood in found)
    ends = [edge for flood in found for edge in (flood.span.start, flood.span.end)]
    assert ends == sorted(ends)


def test_the_facts_of_a_watch_give_its_report(new_watch) -> None:
    """From the fold itself: one alarm raised, seen after three seconds, cleared; nothing outside the span."""
    watch = new_watch(every_s=0.5, step_s=0.5)
    watch.run(2)
    watch.fact(StationFactKind.LOG_FAILED)
    watch.run(3.5)
    watch.act(Acknowledge("log-not-durable", "Station"))
    watch.fact(StationFactKind.LOG_DURABLE)
    watch.run(10)
    report = alarm_report(watch.facts, EPOCH, watch.now)
    assert dict(report.counts)[Priority.ALARM] == 1
    assert report.answers[1].longest_s == 3.0
    assert dict(alarm_report(watch.facts, watch.now, HOUR).counts)[Priority.ALARM] == 0
