"""The fold itself: one input at a time, nothing skipped, nothing mutated, the same for the same inputs."""

import math
from dataclasses import fields, is_dataclass, replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shared.arrivals import PortFault, PortFaultKind
from shared.clock import EPOCH, Instant, after
from shared.gauges import Calibration, Channel
from shared.readings import Reading
from shared.units import NS_PER_S
from station.core.depth import depth_of
from station.core.fold import fold, initial_state
from station.core.inputs import (
    ConfigurationChanged,
    GaugesChanged,
    Heard,
    LimitsChanged,
    MarkKind,
    OperatorEvent,
    SetMark,
    StationFactKind,
    Tick,
)
from station.core.parameters import Parameters
from station.core.phase import Phase
from station.table_files import load_books

BOOKS = load_books()
ONE, TWO, STANDBY = "Diver 1", "Diver 2", "Standby"
LS, RB, LB, RS = (
    MarkKind.LEFT_SURFACE,
    MarkKind.REACHED_BOTTOM,
    MarkKind.LEFT_BOTTOM,
    MarkKind.REACHED_SURFACE,
)

KEPT_EVERY = 7


@pytest.mark.parametrize("seq", [0, 2, 99])
def test_an_arrival_that_does_not_follow_is_a_mistake(new_watch, seq) -> None:
    """A number left out or taken twice stops the fold loudly."""
    state = initial_state(new_watch().settings, 0)
    with pytest.raises(ValueError, match="does not follow"):
        fold(state, Tick(EPOCH), seq, BOOKS)


def test_a_kind_that_is_not_known_is_a_mistake(watch) -> None:
    """Nothing passes through unread."""
    with pytest.raises(AssertionError):
        fold(watch.state, Reading("x", EPOCH, 0.0, 0.0), watch.state.seq + 1, BOOKS)  # type: ignore[arg-type]


def test_a_reading_of_an_unknown_gauge_is_a_mistake(watch) -> None:
    """The decoder only names gauges of the station."""
    with pytest.raises(KeyError, match="nobody's"):
        watch.give(Heard(watch.now, "line", (Reading("nobody's", watch.now, 0.0, 0.0),), (), b""))


def test_time_never_runs_back(watch) -> None:
    """An older tick, reading or press is taken at the present instant."""
    now = watch.now
    watch.give(Tick(EPOCH))
    assert watch.now == now
    name = f"depth {ONE}"
    watch.give(Heard(EPOCH, f"line {name}", (Reading(name, EPOCH, 9.0, 9.0),), (), b""))
    assert watch.now == now
    window = watch.gauge(Channel.DEPTH).window
    assert [s.at for s in window] == sorted(s.at for s in window)


def test_a_stall_is_one_jump(on_bottom) -> None:
    """One tick carries twenty seconds: times have moved on, gauges are silent, nothing is made up."""
    before = on_bottom.times().bottom_s
    on_bottom.give(Tick(after(on_bottom.now, 20)))
    assert on_bottom.times().bottom_s == before + 20
    assert on_bottom.diver().shown_fsw is None
    on_bottom.run(10)
    assert on_bottom.diver().shown_fsw == 50.0


def test_an_open_frame_is_kept_for_its_line_only(watch) -> None:
    """Bytes of an unfinished frame stand with their port until it is opened anew."""
    line = f"line depth {ONE}"
    watch.give(Heard(watch.now, line, (), (), b"$PN"))
    assert {p.name for p in watch.state.ports if p.pending} == {line}
    watch.give(PortFault(watch.now, line, PortFaultKind.OPENED))
    assert not [p for p in watch.state.ports if p.pending]


def test_limits_are_put_in_force_from_now_on(on_bottom) -> None:
    """A changed section stands in the state and is used at the next tick."""
    on_bottom.give(
        ConfigurationChanged(on_bottom.now, "sup", LimitsChanged(replace(Parameters(), lost_after_s=60.0)))
    )
    on_bottom.depth(None)
    on_bottom.run(20)
    assert on_bottom.gauge(Channel.DEPTH).trust.value == "stale"


def test_a_new_calibration_mixes_with_no_old_sample(on_bottom) -> None:
    """Three fsw of zero are taken off: the window begins anew and shows no jump as a rate."""
    gauges = tuple(
        replace(g, calibration=Calibration(zero=3.0)) if g.name == f"depth {ONE}" else g
        for g in on_bottom.settings.gauges
    )
    on_bottom.give(ConfigurationChanged(on_bottom.now, "sup", GaugesChanged(gauges)))
    on_bottom.depth(47.0)
    on_bottom.run(3)
    assert on_bottom.diver().shown_fsw == 47.0
    assert on_bottom.diver().rate_fsw_min is None
    assert on_bottom.gauge(Channel.SUPPLY).shown == 150.0


@pytest.mark.parametrize(
    "change", [{"name": "x"}, {"port": "x"}, {"subject": TWO}, {"channel": Channel.BANK}]
)
def test_a_change_of_gauges_keeps_who_they_are(watch, change) -> None:
    """Names, lines, subjects and channels are those of the watch: else the state would lie."""
    first, *others = watch.settings.gauges
    with pytest.raises(ValueError, match="keeps their names"):
        watch.give(ConfigurationChanged(watch.now, "sup", GaugesChanged((replace(first, **change), *others))))


def test_a_resumed_watch_knows_its_gap_and_opens_its_lines(on_bottom) -> None:
    """The gap ends now and began so long ago; lines are shut, depth is unknown until heard, times go on."""
    bottom_s = on_bottom.times().bottom_s
    on_bottom.give(Tick(after(on_bottom.now, 240)))
    on_bottom.fact(StationFactKind.RESUMED, 240.0)
    (gap,) = on_bottom.state.gaps
    assert (gap.known, gap.end - gap.start, gap.end) == (True, 240 * NS_PER_S, on_bottom.now)
    assert not any(p.open for p in on_bottom.state.ports)
    on_bottom.run(1)
    assert on_bottom.diver().shown_fsw is None
    for each in on_bottom.settings.gauges:
        on_bottom.give(PortFault(on_bottom.now, each.port, PortFaultKind.OPENED))
    on_bottom.run(12)
    assert on_bottom.times().bottom_s == bottom_s + 253
    assert on_bottom.diver().shown_fsw == 50.0
    assert on_bottom.diver().deepest_fsw == 50.0


def test_a_gap_of_unknown_length_is_said_to_be_unknown(on_bottom) -> None:
    """The wall clock stands behind: no figure is made of it."""
    on_bottom.fact(StationFactKind.RESUMED, None)
    assert [gap.known for gap in on_bottom.state.gaps] == [False]


def test_log_health_follows_what_is_found(watch) -> None:
    """Behind since when, failed with what the system said, durable again; zero seconds are seconds."""
    watch.fact(StationFactKind.LOG_BEHIND, 3.0)
    assert watch.state.log.behind_since == after(watch.now, -3)
    watch.fact(StationFactKind.LOG_FAILED, None, "disk full")
    assert (watch.state.log.failed, watch.state.log.behind_since) == ("disk full", after(watch.now, -3))
    watch.fact(StationFactKind.LOG_DURABLE)
    assert (watch.state.log.failed, watch.state.log.behind_since) == ("", None)
    watch.fact(StationFactKind.CLOCK_STEPPED, 0.0)
    assert watch.state.clock_stepped.value == 0.0


@pytest.mark.parametrize("kind", [StationFactKind.STARTED, StationFactKind.FINISHED])
def test_beginning_and_end_change_nothing_watched(watch, kind) -> None:
    """They stand in the log, not in the watch."""
    before = watch.state
    watch.fact(kind, None, "0.1")
    assert replace(watch.state, seq=before.seq) == before


def _shape(value: object) -> object:
    """A deep copy in other types, to compare with later."""
    if is_dataclass(value) and not isinstance(value, type):
        named = [f.name for f in fields(value) if f.name != "settings"]
        return type(value).__name__, tuple(_shape(getattr(value, name)) for name in named)
    if isinstance(value, tuple):
        return tuple(_shape(each) for each in value)
    assert isinstance(value, str | int | float | bytes | None), type(value)
    assert not isinstance(value, float) or math.isfinite(value)
    return value


def _a_dive(watch) -> None:
    watch.run(3)
    watch.mark(LS)
    watch.depth(lambda t: min(40.0, t))
    watch.supply(lambda t: 150 - t / 4)
    watch.run(60)
    watch.mark(RB)
    watch.supply(None)
    watch.run(10)
    watch.mark(LB, back=15)
    watch.undo(3)
    watch.mark(LB)
    watch.depth(lambda t: max(0.0, 40 - t))
    watch.run(60)
    watch.mark(RS)


def test_no_state_is_ever_changed_and_all_are_plain(new_watch) -> None:
    """A state of a dive is the same after the dive as when it was made: frozen, plain, finite."""
    watch = new_watch(every_s=1.0, step_s=1.0, names=(ONE, STANDBY))
    _a_dive(watch)
    state, seen = initial_state(watch.settings, 0), []
    for arrived in watch.inputs:
        if state.seq % KEPT_EVERY == 0:
            seen.append((state, _shape(state)))
        state, _ = fold(state, arrived, state.seq + 1, BOOKS)
    assert all(_shape(kept) == shape for kept, shape in seen)


def _again(inputs, station):
    state, facts = initial_state(station, 0), []
    for arrived in inputs:
        state, found = fold(state, arrived, state.seq + 1, BOOKS)
        facts.extend(found)
    return state, facts


def test_the_same_inputs_give_the_same_state_and_facts(new_watch) -> None:
    """A replay is the dive."""
    watch = new_watch(every_s=0.5, step_s=0.5)
    _a_dive(watch)
    assert _again(watch.inputs, watch.settings) == (watch.state, watch.facts)


def test_the_order_of_divers_does_not_matter(new_watch) -> None:
    """The same dive at a station that lists its divers the other way round."""
    one, other = (
        new_watch(every_s=0.5, step_s=0.5, names=names)
        for names in ((ONE, TWO, STANDBY), (STANDBY, TWO, ONE))
    )
    _a_dive(one)
    _a_dive(other)
    for name in (ONE, TWO, STANDBY):
        assert replace(one.diver(name), marks=()) == replace(other.diver(name), marks=())
        assert one.times(name) == other.times(name)
    assert {(a.id, a.subject, a.standing, a.since) for a in one.state.alarms} == {
        (a.id, a.subject, a.standing, a.since) for a in other.state.alarms
    }


@settings(max_examples=5, deadline=None)
@given(st.integers(1, 10**6))
def test_a_shifted_origin_shifts_everything_and_nothing_else(new_watch, shift_s) -> None:
    """All instants later by so many seconds: the same depths, phases, alarms and spans."""
    one, other = (new_watch(every_s=0.5, step_s=0.5, names=(ONE,), start_s=s) for s in (100, 100 + shift_s))
    _a_dive(one)
    _a_dive(other)
    ns = shift_s * NS_PER_S
    assert _figures(one) == _figures(other)
    assert [m.at + ns for m in one.marks()] == [m.at for m in other.marks()]
    assert [(a.id, a.since + ns, a.standing) for a in one.state.alarms] == [
        (a.id, a.since, a.standing) for a in other.state.alarms
    ]


def _figures(watch):
    diver, times = watch.diver(), watch.times()
    return (
        diver.shown_fsw,
        diver.steady_fsw,
        diver.rate_fsw_min,
        diver.deepest_fsw,
        watch.phase(),
        times.bottom_s,
        depth_of(watch.state, ONE).age_s,
        len(watch.facts),
    )


def test_an_idle_gauge_more_changes_nothing(new_watch) -> None:
    """A gauge of somebody else's that only talks along leaves the dive as it is."""
    plain = new_watch(every_s=0.5, step_s=0.5, names=(ONE,))
    extra = replace(plain.settings.gauges[-1], name="bank spare", subject="spare", port="line bank spare")
    more = new_watch(every_s=0.5, step_s=0.5, names=(ONE,), more=(extra,))
    _a_dive(plain)
    _a_dive(more)
    strip = {"marks": (), "amendments": ()}
    assert replace(plain.diver(), **strip) == replace(more.diver(), **strip)
    assert [(m.kind, m.at) for m in plain.marks()] == [(m.kind, m.at) for m in more.marks()]
    assert [replace(a, occurrence=0, raised_seq=0) for a in plain.state.alarms] == [
        replace(a, occurrence=0, raised_seq=0) for a in more.state.alarms
    ]


def test_half_the_ticks_give_the_same_dive(new_watch) -> None:
    """Ticks twice as far apart: the same marks, times and phases, the deepest within a tenth of an fsw."""
    one, other = (new_watch(every_s=0.2, step_s=step_s, names=(ONE,)) for step_s in (0.2, 0.4))
    for watch in (one, other):
        watch.depth(lambda t: min(40.0, 0.5 * t) + 0.3 * math.sin(2.0 * t))
        watch.run(120)
        watch.mark(LS)
        watch.mark(RB)
        watch.run(20)
    assert abs(one.times().left_surface - other.times().left_surface) <= NS_PER_S
    assert one.phase() is other.phase() is Phase.ON_BOTTOM
    assert abs(one.times().bottom_s - other.times().bottom_s) <= 1
    assert one.diver().deepest_fsw == pytest.approx(other.diver().deepest_fsw, abs=0.1)


def test_a_press_that_is_older_than_the_state_keeps_its_own_time(watch) -> None:
    """The queue was long: the moment is that of the press."""
    watch.run(10)
    pressed = Instant(watch.now - 2 * NS_PER_S)
    watch.give(OperatorEvent(pressed, "tender", watch.state.seq, SetMark(ONE, 1, LS)))
    assert watch.marks()[0].at == pressed


def test_whole_seconds_are_counted_by_ticks_alone(watch):
    """A reading stamped with the instant of a second does not complete it: the tick of that instant does."""
    state = watch.state
    heard = Heard(after(state.now, 0.5), "", (), (), b"")
    before_tick, _ = fold(state, heard, state.seq + 1, BOOKS)
    assert before_tick.ticked == state.ticked
    ticked, _ = fold(before_tick, Tick(before_tick.now), before_tick.seq + 1, BOOKS)
    assert ticked.ticked == before_tick.now
