"""How far a gauge is believed: heard, late, lost, back again, never heard, line gone."""

import pytest

from shared.arrivals import PortFault, PortFaultKind
from shared.gauges import Channel
from shared.readings import LinkFault, LinkFaultKind
from station.core.facts import TrustChanged
from station.core.state import Trust

ONE = "Diver 1"
NAME = f"depth {ONE}"
LINE = f"line {NAME}"


# Period in s, stale after more than, lost after more than: max(3 periods, 1 s), max(5 s, 6 periods).
@pytest.mark.parametrize(
    ("every_s", "stale_s", "lost_s"), [(0.1, 1.0, 5.0), (0.5, 1.5, 5.0), (1.0, 3.0, 6.0), (2.0, 6.0, 12.0)]
)
def test_silence_makes_stale_and_then_lost(new_watch, every_s, stale_s, lost_s) -> None:
    """At the limit it is still believed; past it no more."""
    watch = new_watch(every_s=every_s)
    watch.run(8)
    last = watch.gauge(Channel.DEPTH).last.at
    watch.depth(None)
    watch.run(lost_s + 2)
    changed = [f for f in watch.facts if isinstance(f, TrustChanged) and f.gauge == NAME and f.at > last]
    assert [f.trust for f in changed] == [Trust.STALE, Trust.LOST]
    assert (changed[0].at - last) / 1e9 == pytest.approx(stale_s + 0.1, abs=0.01)
    assert (changed[1].at - last) / 1e9 == pytest.approx(lost_s + 0.1, abs=0.01)


def test_one_reading_brings_a_gauge_back(watch) -> None:
    """Lost, then heard: good at once, with a number; what needs a window waits for it."""
    watch.depth(None)
    watch.run(20)
    watch.depth(7.0)
    watch.run(1)
    assert watch.gauge(Channel.DEPTH).trust is Trust.GOOD
    assert watch.diver().shown_fsw == 7.0
    assert watch.diver().rate_fsw_min is None


def test_a_gauge_never_heard_is_lost_and_has_no_age(new_watch) -> None:
    """Nothing is shown for it, ever."""
    watch = new_watch()
    watch.depth(None)
    watch.run(3)
    heard = watch.gauge(Channel.DEPTH)
    assert (heard.trust, heard.last, heard.shown) == (Trust.LOST, None, None)


@pytest.mark.parametrize("kind", [k for k in PortFaultKind if k is not PortFaultKind.OPENED])
def test_a_line_that_is_gone_is_lost_at_once(watch, kind) -> None:
    """Whatever befell the line, its gauge is not believed from the next tick on; the others are."""
    watch.give(PortFault(watch.now, LINE, kind, "pulled"))
    watch.depth(None)
    watch.run(0.5)
    assert watch.gauge(Channel.DEPTH).trust is Trust.LOST
    assert watch.gauge(Channel.SUPPLY).trust is Trust.GOOD
    port = next(p for p in watch.state.ports if p.name == LINE)
    assert (port.open, port.fault, port.detail) == (False, kind, "pulled")


def test_a_fault_told_again_stands_since_it_was_first_told(watch) -> None:
    """Each try to open the line tells the same fault: since when it stands does not move."""
    began = watch.now
    for _ in range(3):
        watch.give(PortFault(watch.now, LINE, PortFaultKind.MISSING))
        watch.run(5)
    port = next(p for p in watch.state.ports if p.name == LINE)
    assert port.since == began
    watch.give(PortFault(watch.now, LINE, PortFaultKind.OPENED))
    port = next(p for p in watch.state.ports if p.name == LINE)
    assert (port.open, port.fault, port.since, port.pending) == (True, None, watch.now, b"")


def test_faults_are_counted_for_the_gauge_they_are_of(watch) -> None:
    """With a gauge's name only that one; without, every gauge of the line; no number changes."""
    watch.fault(LinkFault(LINE, NAME, watch.now, LinkFaultKind.CHECKSUM, "is 4F"))
    watch.fault(LinkFault(LINE, "", watch.now, LinkFaultKind.GARBLED, "3 bytes"))
    heard = watch.gauge(Channel.DEPTH)
    assert (heard.faults, heard.last_fault) == (2, "garbled: 3 bytes")
    assert watch.gauge(Channel.SUPPLY).faults == 0
    assert heard.trust is Trust.GOOD
