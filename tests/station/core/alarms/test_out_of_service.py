"""A gauge that is given up: its alarms stand out of service, and come back as soon as they can be known."""

import pytest

from shared.gauges import Channel
from station.core.alarms.aside import OF_A_GAUGE, RESTS_ON
from station.core.alarms.catalogue import BY_ID
from station.core.alarms.sounding import Pattern, sounding
from station.core.facts import Refused
from station.core.inputs import Acknowledge, BackInService, ManualPressure, MarkKind, OutOfService
from station.core.state import Standing

ONE = "Diver 1"
SHORT, SILENT = "supply-below-minimum", "supply-not-heard"
GAUGE = f"supply {ONE}"


@pytest.fixture(name="watch")
def _watch(new_watch):
    """Diver 1 short of air at 50 fsw, then his supply gauge dead: the emergency is held."""
    begun = new_watch(every_s=0.5, step_s=0.5, names=(ONE,))
    begun.run(2)
    begun.mark(MarkKind.LEFT_SURFACE)
    begun.depth(lambda t: min(50.0, t) + 0.1 * (round(2 * t) % 2))
    begun.run(53)
    begun.supply(90.0)
    begun.run(6)
    begun.supply(None)
    begun.run(10)
    assert begun.standing(SHORT) is Standing.UNACKNOWLEDGED
    assert begun.standing(SILENT) is Standing.UNACKNOWLEDGED
    return begun


def _give_up(watch) -> None:
    watch.act(OutOfService(GAUGE, "cable cut"), by="M. Ost")
    watch.run(0.5)


def test_a_dead_gauge_takes_what_it_holds_out_of_service(watch) -> None:
    """Silence and held emergency stand out of service with name and reason, and are not heard."""
    _give_up(watch)
    for entry in (SHORT, SILENT):
        assert watch.standing(entry) is Standing.OUT_OF_SERVICE
        assert (watch.alarm(entry).aside.by, watch.alarm(entry).aside.reason) == ("M. Ost", "cable cut")
    assert sounding(watch.state).pattern is Pattern.SILENT
    (refused,) = watch.act(Acknowledge(SHORT, ONE))
    assert isinstance(refused, Refused)


def test_a_typed_pressure_that_is_too_low_raises_the_emergency_anew(watch) -> None:
    """Read by hand it can be known again: below the minimum it is an emergency as ever."""
    _give_up(watch)
    watch.act(ManualPressure(Channel.SUPPLY, ONE, 90.0))
    watch.run(3)
    assert watch.standing(SHORT) is Standing.UNACKNOWLEDGED
    assert watch.standing(SILENT) is Standing.OUT_OF_SERVICE
    assert sounding(watch.state).pattern is Pattern.EMERGENCY


def test_a_typed_pressure_that_is_enough_ends_it_quietly(watch) -> None:
    """Above the minimum for its release, the emergency is over; it was known to be held by a dead gauge."""
    _give_up(watch)
    watch.act(ManualPressure(Channel.SUPPLY, ONE, 160.0))
    watch.run(7)
    assert watch.standing(SHORT) is Standing.NORMAL


def test_a_gauge_that_speaks_again_is_watched_though_it_is_out_of_service(watch) -> None:
    """What is heard is never hidden."""
    _give_up(watch)
    watch.supply(80.0)
    watch.run(4)
    assert watch.standing(SHORT) is Standing.UNACKNOWLEDGED


def test_back_in_service_all_is_raised_anew(watch) -> None:
    """Still dead and still held: both are to be seen again; a second press is refused."""
    _give_up(watch)
    watch.act(BackInService(GAUGE))
    watch.run(0.5)
    assert watch.standing(SHORT) is Standing.UNACKNOWLEDGED
    assert watch.standing(SILENT) is Standing.UNACKNOWLEDGED
    (refused,) = watch.act(BackInService(GAUGE))
    assert "not out of service" in refused.reason


def test_a_living_gauge_that_is_given_up_hides_no_emergency(new_watch) -> None:
    """Out of service while it speaks: what it says is watched."""
    watch = new_watch(every_s=0.5, step_s=0.5, names=(ONE,))
    watch.run(2)
    watch.act(OutOfService(GAUGE, "reads low, they say"))
    watch.mark(MarkKind.LEFT_SURFACE)
    watch.supply(20.0)
    watch.run(4)
    assert watch.standing(SHORT) is Standing.UNACKNOWLEDGED


def test_only_a_gauge_that_is_not_heard_takes_an_emergency_along(new_watch) -> None:
    """Blown up, then the gauge dead and given up; it speaks, no rate yet: the emergency is in sight again."""
    watch = new_watch(every_s=0.5, step_s=0.5, names=(ONE,))
    watch.run(2)
    watch.mark(MarkKind.LEFT_SURFACE)
    watch.depth(100.0)
    watch.run(14)
    watch.depth(lambda t: 100.0 - 1.25 * t)
    watch.run(14)
    assert watch.standing("ascent-dangerous") is Standing.UNACKNOWLEDGED
    watch.depth(None)
    watch.run(20)
    watch.act(OutOfService(f"depth {ONE}", "hose parted"))
    watch.run(1)
    assert watch.standing("ascent-dangerous") is Standing.OUT_OF_SERVICE
    watch.depth(60.0)
    watch.run(1)
    assert watch.diver().rate_fsw_min is None
    assert watch.standing("ascent-dangerous") is Standing.UNACKNOWLEDGED


def test_what_rests_on_a_gauge_is_in_the_catalogue() -> None:
    """A renamed alarm is noticed here."""
    assert RESTS_ON.keys() | OF_A_GAUGE.keys() <= BY_ID.keys()
