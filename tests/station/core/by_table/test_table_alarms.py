"""Every alarm by the tables: raised when its condition holds, gone when it does not; none without a case."""

import pytest

from station.core.alarms.table_entries import TABLE_ENTRIES
from station.core.decompression.answers import Mode
from station.core.inputs import EnterHistory, MarkKind, PlanDive
from station.core.state import Standing

ONE = "Diver 1"
RAISED = (Standing.UNACKNOWLEDGED, Standing.ACKNOWLEDGED)


def _on_stop(dive) -> None:
    dive.down(57.0, 100 * 60)
    dive.leave()
    dive.go_to(20.0, 74)
    dive.mark(MarkKind.REACHED_STOP, 20)


def _to_interval(dive, seconds: int) -> None:
    dive.mode(Mode.CHAMBER)
    dive.down(97.0, 90 * 60)
    dive.leave()
    dive.stop(40.0, 114, dive.stops()[0][1])
    dive.up(60)
    dive.run(seconds - 60)


def _in_time(dive) -> None:
    dive.mark(MarkKind.REACHED_CHAMBER)
    dive.run(1)


def over_plan(dive):
    """The plan was twenty minutes; a second later it is passed, with a longer plan it is not."""
    dive.act(PlanDive(ONE, 60.0, 20))
    dive.down(57.0, 20 * 60)
    yield
    dive.run(1)
    yield
    dive.act(PlanDive(ONE, 60.0, 30))
    dive.run(1)


def row_soon(dive):
    """A row is warned of two minutes before it is due, and no longer when it has come."""
    dive.down(57.0, 78 * 60 - 1)
    dive.run(0)
    yield
    dive.run(2)
    yield
    dive.run(125)


def beyond_table(dive):
    """No row is long enough; with a start that was marked too early there is one again."""
    dive.watch.supply(280.0)
    dive.down(185.0, 20 * 60)
    yield
    dive.down_longer(2 * 3600)
    dive.run(16)
    yield
    dive.down_longer(20 * 60)


def history(dive):
    """Taken back to nothing told: asked for; told: gone."""
    dive.down(57.0, 600)
    yield
    dive.forget()
    dive.run(12)
    yield
    dive.act(EnterHistory(ONE, "none"))
    dive.run(1)


def early(dive):
    """A stop left with minutes to go, and gone back to."""
    _on_stop(dive)
    yield
    dive.run(60)
    dive.mark(MarkKind.LEFT_STOP, 20)
    dive.run(1)
    yield
    dive.mark(MarkKind.REACHED_STOP, 20)
    dive.run(1)


def above(dive):
    """Two feet above the stop for ten seconds; back on its level for five."""
    _on_stop(dive)
    dive.run(60)
    yield
    dive.go_to(18.0, 2)
    dive.run(14)
    yield
    dive.go_to(20.0, 2)
    dive.run(10)


def overstayed(dive):
    """A minute is ignored, a second more is told, leaving ends it."""
    _on_stop(dive)
    dive.run(42 * 60 + 60)
    yield
    dive.run(1)
    yield
    dive.mark(MarkKind.LEFT_STOP, 20)
    dive.run(1)


def late(dive):
    """Held on the way: a minute is ignored, a second more is told, the stop ends it."""
    dive.down(57.0, 100 * 60)
    dive.leave()
    dive.run(74 + 60)
    yield
    dive.run(1)
    yield
    dive.mark(MarkKind.REACHED_STOP, 20)
    dive.run(1)


def deep_on_oxygen(dive):
    """On oxygen at 36 fsw; up to 30 it is over."""
    dive.mode(Mode.AIR_OXYGEN)
    dive.down(117.0, 60 * 60)
    dive.leave()
    dive.go_to(30.0, 174)
    dive.mark(MarkKind.REACHED_STOP, 30)
    dive.mark(MarkKind.ON_OXYGEN)
    dive.run(5)
    yield
    dive.go_to(36.0, 3)
    dive.run(8)
    yield
    dive.go_to(30.0, 3)
    dive.run(10)


def missed(dive):
    """At the surface with the stop due; the wrong press taken back, it is due again."""
    _on_stop(dive)
    dive.run(60)
    yield
    dive.mark(MarkKind.REACHED_SURFACE)
    dive.run(1)
    yield
    dive.watch.undo(dive.diver().marks[-1].number)
    dive.run(1)


def four(dive):
    """A minute before the interval is over."""
    _to_interval(dive, 239)
    yield
    dive.run(1)
    yield
    _in_time(dive)


def five(dive):
    """At 5:00 all is as planned, a second later it is not."""
    _to_interval(dive, 300)
    yield
    dive.run(1)
    yield
    _in_time(dive)


def seven(dive):
    """At 7:00 half a period more, a second later it is for the medical officer."""
    _to_interval(dive, 420)
    yield
    dive.run(1)
    yield
    _in_time(dive)


CASES = {
    "bottom-over-plan": over_plan,
    "row-soon": row_soon,
    "beyond-table": beyond_table,
    "history-not-entered": history,
    "stop-left-early": early,
    "above-stop": above,
    "stop-overstayed": overstayed,
    "late-on-the-way": late,
    "oxygen-too-deep": deep_on_oxygen,
    "missed-stop": missed,
    "interval-over-four": four,
    "interval-over-five": five,
    "interval-over-seven": seven,
}


def test_every_alarm_by_the_tables_has_a_case() -> None:
    """A further one is tested the day it is added."""
    assert CASES.keys() == {entry.id for entry in TABLE_ENTRIES}


@pytest.mark.parametrize("name", CASES)
def test_an_alarm_comes_and_goes_with_its_condition(dive, name: str) -> None:
    """Not before, then raised, then no more; acknowledged it would be at rest."""
    moments = CASES[name](dive)
    next(moments)
    before = dive.watch.standing(name)
    next(moments)
    raised = dive.watch.standing(name)
    for _ in moments:
        raise AssertionError("a case has two pauses")
    assert (before, raised) == (Standing.NORMAL, Standing.UNACKNOWLEDGED)
    assert dive.watch.standing(name) not in RAISED
