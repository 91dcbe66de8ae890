"""Every entry of the catalogue: raised after its dwell and not before, cleared beyond its dead band, in its
phases only, and acknowledged alone. An entry without a case here fails the walk.
"""

from collections.abc import Callable
from dataclasses import dataclass
from itertools import permutations

import pytest

from shared.arrivals import PortFault, PortFaultKind
from shared.gauges import Channel
from station.core.alarms.air_entries import AIR_ENTRIES
from station.core.alarms.catalogue import BY_ID, ENTRIES, About
from station.core.alarms.table_entries import TABLE_ENTRIES
from station.core.alarms.watched import STATION
from station.core.facts import AlarmChanged
from station.core.inputs import Acknowledge, MarkKind, NextDive, StationFactKind
from station.core.phase import IN_WATER, Phase
from station.core.state import Priority, Standing

ONE, TWO = "Diver 1", "Diver 2"
LS, RB, LB = MarkKind.LEFT_SURFACE, MarkKind.REACHED_BOTTOM, MarkKind.LEFT_BOTTOM
RAISED = (Standing.UNACKNOWLEDGED, Standing.ACKNOWLEDGED)


@dataclass(frozen=True)
class Case:
    """How one alarm comes and goes: tried in `phase`, beyond its limit, inside its dead band, well within.

    `lag_s` is how long filters and clocks need before the condition is true, at most.
    """

    phase: Phase
    beyond: Callable
    within: Callable
    between: Callable | None = None
    lag_s: float = 0.2


def _at_rate(fsw_min: float) -> Callable:
    def change(watch) -> None:
        begin = watch.diver().shown_fsw
        watch.depth(lambda t: begin + fsw_min / 60 * t)

    return change


def _depth(fsw: float) -> Callable:
    return lambda watch: watch.depth(fsw)


def _supply(psig: float) -> Callable:
    return lambda watch: watch.supply(psig)


def _falling(psi_min: float) -> Callable:
    def change(watch) -> None:
        begin = watch.gauge(Channel.SUPPLY).shown
        watch.supply(lambda t: begin - psi_min / 60 * t)

    return change


def _fact(kind: StationFactKind, value: float | None = None) -> Callable:
    return lambda watch: watch.fact(kind, value)


CASES = {
    "supply-below-minimum": Case(Phase.ON_BOTTOM, _supply(116.0), _supply(121.0), _supply(118.0), 2.0),
    "ascent-dangerous": Case(Phase.ON_BOTTOM, _at_rate(-70), _at_rate(0), _at_rate(-57), 6.5),
    "deeper-than-planned": Case(Phase.ON_BOTTOM, _depth(59.5), _depth(58.0), _depth(59.0), 6.0),
    "deep-after-surfacing": Case(Phase.SURFACED, _depth(3.2), _depth(1.5), _depth(2.5), 2.0),
    "log-not-durable": Case(
        Phase.ON_BOTTOM, _fact(StationFactKind.LOG_BEHIND, 2.5), _fact(StationFactKind.LOG_DURABLE)
    ),
    "copy-not-kept": Case(
        Phase.ON_BOTTOM, _fact(StationFactKind.COPY_LOST, 31.0), _fact(StationFactKind.COPY_KEPT)
    ),
    "windows-lost": Case(
        Phase.ON_BOTTOM, _fact(StationFactKind.PANELS_LOST), _fact(StationFactKind.PANELS_BACK)
    ),
    "no-sound": Case(Phase.ON_BOTTOM, _fact(StationFactKind.SOUND_LOST), _fact(StationFactKind.SOUND_BACK)),
    "depth-not-heard": Case(Phase.ON_BOTTOM, _depth(None), _depth(50.0), lag_s=1.2),
    "supply-not-heard": Case(Phase.ON_BOTTOM, _supply(None), _supply(150.0), lag_s=1.2),
    "supply-falling": Case(Phase.ON_BOTTOM, _falling(8.0), _falling(0.0), lag_s=60.0),
    "ascent-fast": Case(Phase.ON_BOTTOM, _at_rate(-45), _at_rate(0), _at_rate(-37), 6.5),
    "descent-fast": Case(Phase.DESCENDING, _at_rate(80), _at_rate(0), _at_rate(72), 6.5),
    "start-not-marked": Case(Phase.DRESSED, _depth(20.0), lambda watch: watch.mark(LS), lag_s=2.2),
    "descent-after-leaving": Case(Phase.ASCENDING, _depth(45.0), lambda watch: watch.mark(LB), lag_s=8.0),
    "surface-not-marked": Case(
        Phase.ASCENDING, _depth(0.5), lambda watch: watch.mark(MarkKind.REACHED_SURFACE), lag_s=2.5
    ),
}
BY_THE_CLOCK = {
    "watch-broken": _fact(StationFactKind.RESUMED, None),
    "clock-stepped": _fact(StationFactKind.CLOCK_STEPPED, -3600.0),
}
"""Told for a time and then over, whatever happens."""

ELSEWHERE = {entry.id for entry in (*AIR_ENTRIES, *TABLE_ENTRIES)}
"""Need a hose, banks or faults of their own: tests/station/core/alarms/test_air_and_hose_alarms.py; or a dive
by the tables: tests/station/core/by_table/test_table_alarms.py."""

TOLD_FOR_S = 300


@pytest.fixture(name="watch")
def _watch(new_watch):
    """A calm watch with one diver, whose gauges speak ten times a second."""
    begun = new_watch(names=(ONE,))
    begun.run(12)
    return begun


def _bring(watch, phase: Phase) -> None:
    """Take diver 1 into a phase, marks and gauge agreeing, and let everything come to rest."""
    if phase is Phase.DRESSED:
        return
    watch.mark(LS)
    depth = 10.0 if phase is Phase.DESCENDING else 50.0
    watch.values[f"depth {ONE}"] = None
    watch.run(12)
    watch.depth(depth)
    watch.run(12)
    if phase is not Phase.DESCENDING:
        watch.mark(RB)
    if phase in (Phase.ASCENDING, Phase.AT_STOP, Phase.SURFACED):
        watch.mark(LB)
        watch.depth(None)
        watch.run(12)
        watch.depth(30.0)
        watch.run(12)
    if phase is Phase.AT_STOP:
        watch.mark(MarkKind.REACHED_STOP, stop=30.0)
    if phase is Phase.SURFACED:
        watch.depth(0.0)
        watch.mark(MarkKind.REACHED_SURFACE)
        watch.run(12)
    assert watch.phase() is phase


def _subject(entry: str) -> str:
    return STATION if BY_ID[entry].about is About.STATION else ONE


def _raised_at(watch, entry: str, most_s: float) -> float:
    """Seconds until it is raised."""
    for step in range(round(most_s * 10) + 1):
        if watch.standing(entry, _subject(entry)) in RAISED:
            return step / 10
        watch.run(0.1)
    raise AssertionError(f"{entry} was not raised within {most_s} s")


def test_every_entry_has_a_case() -> None:
    """A further alarm is tested the day it is added."""
    assert CASES.keys() | BY_THE_CLOCK.keys() | ELSEWHERE == BY_ID.keys()
    assert len(BY_ID) == len(ENTRIES)


@pytest.mark.parametrize("entry", CASES)
def test_raised_after_its_dwell_and_not_before(watch, entry) -> None:
    """The condition must hold for the dwell; filters may add their latency, nothing may take away."""
    case = CASES[entry]
    _bring(watch, case.phase)
    assert watch.standing(entry, _subject(entry)) not in RAISED
    before = watch.alarm(entry, _subject(entry))
    case.beyond(watch)
    took_s = _raised_at(watch, entry, BY_ID[entry].dwell_s + case.lag_s)
    assert took_s >= BY_ID[entry].dwell_s
    alarm = watch.alarm(entry, _subject(entry))
    assert (alarm.since, alarm.occurrence) == (watch.now, 1 if before is None else before.occurrence + 1)


@pytest.mark.parametrize("entry", [e for e in CASES if BY_ID[e].dwell_s >= 2])
def test_what_lasts_for_less_than_the_dwell_raises_nothing(watch, entry) -> None:
    """Beyond the limit until just before the dwell is over, then within again: never raised."""
    case = CASES[entry]
    _bring(watch, case.phase)
    case.beyond(watch)
    for _ in range(round((case.lag_s + BY_ID[entry].dwell_s) * 10)):
        watch.run(0.1)
        alarm = watch.alarm(entry)
        met_since = None if alarm is None else alarm.met_since
        if met_since is not None and watch.now - met_since >= (BY_ID[entry].dwell_s - 1.6) * 1e9:
            break
    if entry in ("start-not-marked", "descent-after-leaving", "surface-not-marked"):
        case.within(watch)
    else:
        watch.values = {**watch.values, f"depth {ONE}": None, f"supply {ONE}": None}
    watch.run(30)
    assert watch.standing(entry) is Standing.NORMAL


@pytest.mark.parametrize("entry", CASES)
def test_cleared_beyond_its_dead_band_after_its_release(watch, entry) -> None:
    """Inside the dead band it stands; beyond it for the release it is returned, not before."""
    case, subject = CASES[entry], _subject(entry)
    _bring(watch, case.phase)
    case.beyond(watch)
    _raised_at(watch, entry, BY_ID[entry].dwell_s + case.lag_s)
    if case.between is not None:
        case.between(watch)
        watch.run(BY_ID[entry].release_s + 8)
        assert watch.standing(entry, subject) in RAISED
    case.within(watch)
    begin = watch.now
    for _ in range(round((BY_ID[entry].release_s + 75) * 10)):
        if watch.standing(entry, subject) not in RAISED:
            break
        watch.run(0.1)
    assert watch.standing(entry, subject) is Standing.RETURNED
    assert watch.now - begin >= BY_ID[entry].release_s * 1e9


@pytest.mark.parametrize("entry", BY_THE_CLOCK)
def test_what_happened_once_is_told_for_a_time(watch, entry) -> None:
    """Raised at the next tick, returned when it has been told for long enough."""
    BY_THE_CLOCK[entry](watch)
    for each in watch.settings.gauges:
        watch.values[each.name] = None
    watch.run(0.1)
    assert watch.standing(entry, STATION) is Standing.UNACKNOWLEDGED
    watch.run(TOLD_FOR_S - 1, step_s=1.0)
    assert watch.standing(entry, STATION) is Standing.UNACKNOWLEDGED
    watch.run(3, step_s=1.0)
    assert watch.standing(entry, STATION) is Standing.RETURNED


def test_a_gap_of_known_length_is_no_alarm(watch) -> None:
    """The wall clock could tell how long the station was off watch, also when that was no time at all."""
    watch.fact(StationFactKind.RESUMED, 0.0)
    watch.run(1)
    assert watch.standing("watch-broken", STATION) is Standing.NORMAL
    assert watch.state.gaps[-1].known


OUTSIDE = [
    (entry.id, phase)
    for entry in ENTRIES
    if entry.about is About.DIVER and entry.id not in ELSEWHERE
    for phase in (Phase.DRESSED, Phase.DESCENDING, Phase.ON_BOTTOM, Phase.ASCENDING, Phase.SURFACED)
    if phase not in entry.phases
]


@pytest.mark.parametrize(("entry", "phase"), OUTSIDE)
def test_outside_its_phases_nothing_is_raised(watch, entry, phase) -> None:
    """The condition of the gauge alone does not make an alarm where the diver is not."""
    _bring(watch, phase)
    if entry not in ("start-not-marked", "descent-after-leaving", "surface-not-marked"):
        before = watch.alarm(entry)
        CASES[entry].beyond(watch)
        watch.run(3.0 if entry == "deep-after-surfacing" else 1.5)
        if watch.phase() is phase:
            assert watch.alarm(entry) == before


def test_entries_apply_where_they_are_meant() -> None:
    """Silence is told always, what endangers a diver in the water, the surface after it."""
    of_tables = {entry.id for entry in TABLE_ENTRIES}
    of_divers = [entry for entry in ENTRIES if entry.about is About.DIVER and entry.id not in of_tables]
    phases = {entry.id: entry.phases for entry in of_divers}
    always = {name for name, where in phases.items() if where == frozenset(Phase)}
    assert always == {"depth-not-heard", "supply-not-heard", "start-not-marked"}
    assert phases["deep-after-surfacing"] == {Phase.SURFACED}
    assert all(
        where == IN_WATER for name, where in phases.items() if name not in always | {"deep-after-surfacing"}
    )


def test_leaving_its_phase_clears_an_alarm(watch) -> None:
    """Supply short in the water; surfaced, it returns after its release and waits to be seen."""
    _bring(watch, Phase.ON_BOTTOM)
    watch.supply(90.0)
    watch.run(8)
    watch.mark(MarkKind.REACHED_SURFACE)
    watch.run(6)
    assert watch.standing("supply-below-minimum") is Standing.RETURNED


def test_a_silent_gauge_holds_the_alarm_that_it_raised(watch) -> None:
    """Short of air, then the gauge falls silent: the emergency stands, and so does the silence."""
    _bring(watch, Phase.ON_BOTTOM)
    watch.supply(90.0)
    watch.run(8)
    watch.supply(None)
    watch.run(60)
    assert watch.standing("supply-below-minimum") is Standing.UNACKNOWLEDGED
    assert watch.standing("supply-not-heard") is Standing.UNACKNOWLEDGED


def test_a_flickering_gauge_makes_no_dwell_out_of_pieces(watch) -> None:
    """Short for a second, unknown, short for a second: never for two in one go."""
    _bring(watch, Phase.ON_BOTTOM)
    entry = "supply-below-minimum"
    watch.supply(90.0)
    watch.run(2.0)
    watch.supply(None)
    watch.run(8)
    assert watch.standing(entry) in (Standing.NORMAL, Standing.UNACKNOWLEDGED)
    assert watch.alarm(entry) is None or watch.alarm(entry).met_since is None


def test_a_gauge_not_yet_heard_has_its_time_at_the_start(new_watch) -> None:
    """No alarm for a gauge before it could have spoken; after its time it is raised, with no age."""
    watch = new_watch(names=(ONE,), every_s=1.0)
    watch.depth(None)
    watch.run(2.9)
    assert watch.standing("depth-not-heard") is Standing.NORMAL
    watch.run(0.3)
    assert watch.standing("depth-not-heard") is Standing.UNACKNOWLEDGED
    assert watch.alarm("depth-not-heard").measured is None
    assert watch.standing("supply-not-heard") is Standing.NORMAL


def test_a_standby_is_watched_by_his_own_dive(new_watch) -> None:
    """Dressed, his supply gauge may show anything; sent in, he is watched like any diver."""
    watch = new_watch()
    watch.supply(20.0, "Standby")
    watch.run(10)
    assert watch.standing("supply-below-minimum", "Standby") is Standing.NORMAL
    watch.mark(LS, "Standby")
    watch.run(3)
    assert watch.standing("supply-below-minimum", "Standby") is Standing.UNACKNOWLEDGED
    assert watch.standing("supply-below-minimum", ONE) is Standing.NORMAL


def test_without_a_plan_no_depth_is_deeper_than_planned(new_watch) -> None:
    """No plan, no limit."""
    watch = new_watch(names=(ONE,), plan_fsw=None)
    watch.run(5)
    _bring(watch, Phase.ON_BOTTOM)
    assert watch.standing("deeper-than-planned") is Standing.NORMAL


def test_deeper_than_the_corrections_is_deeper_than_planned(watch) -> None:
    """401 on the gauge has no corrected depth and is all the same deeper than 60."""
    _bring(watch, Phase.ON_BOTTOM)
    watch.depth(401.0)
    watch.run(10)
    assert watch.standing("deeper-than-planned") is Standing.UNACKNOWLEDGED


def _all_raised(new_watch):
    """As many alarms at once as can be."""
    watch = new_watch()
    watch.run(12)
    _bring(watch, Phase.ON_BOTTOM)
    for change in BY_THE_CLOCK.values():
        change(watch)
    for each in watch.settings.gauges:
        watch.give(PortFault(watch.now, each.port, PortFaultKind.OPENED))
    watch.fact(StationFactKind.LOG_FAILED, None, "disk full")
    watch.fact(StationFactKind.PANELS_LOST)
    watch.supply(None, TWO)
    watch.supply(None, "Standby")
    watch.supply(100.0)
    watch.depth(70.0)
    watch.run(15)
    return watch


def test_acknowledging_one_leaves_the_others(new_watch) -> None:
    """For every ordered pair of standing alarms: the one is seen, the other stands as it stood."""
    watch = _all_raised(new_watch)
    standing = [a for a in watch.state.alarms if a.standing is Standing.UNACKNOWLEDGED]
    assert len(standing) >= 7
    for one, other in permutations(standing, 2):
        before = watch.state
        watch.act(Acknowledge(one.id, one.subject))
        assert watch.standing(one.id, one.subject) is Standing.ACKNOWLEDGED
        assert watch.alarm(other.id, other.subject) == other
        watch.state = before


def test_an_acknowledged_alarm_stays_until_it_clears_and_comes_again_anew(watch) -> None:
    """Seen: steady. Cleared: gone. Again: unacknowledged, counted as another occurrence."""
    entry = "supply-below-minimum"
    _bring(watch, Phase.ON_BOTTOM)
    watch.supply(100.0)
    watch.run(6)
    (fact,) = watch.act(Acknowledge(entry, ONE))
    assert isinstance(fact, AlarmChanged)
    assert (fact.standing, fact.priority) == (Standing.ACKNOWLEDGED, Priority.EMERGENCY)
    watch.run(10)
    assert watch.standing(entry) is Standing.ACKNOWLEDGED
    watch.supply(150.0)
    watch.run(10)
    assert watch.standing(entry) is Standing.NORMAL
    watch.supply(100.0)
    watch.run(6)
    assert watch.standing(entry) is Standing.UNACKNOWLEDGED
    assert watch.alarm(entry).occurrence == 2


def test_a_returned_alarm_waits_to_be_seen_and_can_come_again(watch) -> None:
    """Returned unseen it stays; raised again it is a further occurrence; seen after that it is gone."""
    entry = "supply-below-minimum"
    _bring(watch, Phase.ON_BOTTOM)
    for occurrence in (1, 2):
        watch.supply(100.0)
        watch.run(6)
        assert watch.alarm(entry).occurrence == occurrence
        watch.supply(150.0)
        watch.run(10)
        assert watch.standing(entry) is Standing.RETURNED
    watch.act(Acknowledge(entry, ONE))
    assert watch.standing(entry) is Standing.NORMAL


def test_figures_are_those_of_the_sentence(watch) -> None:
    """Measured and limit are kept up while it stands."""
    _bring(watch, Phase.ON_BOTTOM)
    watch.supply(100.0)
    watch.run(6)
    watch.supply(95.0)
    watch.run(6)
    alarm = watch.alarm("supply-below-minimum")
    assert (alarm.measured, alarm.limit) == (95.0, pytest.approx(116.7))


def test_a_further_dive_is_watched_anew(watch) -> None:
    """After the surface and the next dive, a diver on deck raises nothing of the water."""
    _bring(watch, Phase.SURFACED)
    watch.act(NextDive(ONE))
    watch.supply(0.0)
    watch.run(10)
    assert watch.standing("supply-below-minimum") is Standing.NORMAL
