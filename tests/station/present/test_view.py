"""From state to view: words, rounding, units, states of numbers, keys; and the way through the pipe."""

from dataclasses import replace

import pytest

from shared.clock import EPOCH, Instant, after
from shared.gauges import Channel, Gauge, NmeaXdr, XdrUnit
from station.caution import CAUTION
from station.core.alarms.catalogue import ENTRIES, About
from station.core.fold import initial_state
from station.core.inputs import MarkKind
from station.core.settings import DiverSettings, History, Role, Settings, SupplySettings, Units
from station.core.state import (
    AlarmState,
    DiverState,
    GaugeState,
    LogHealth,
    Mark,
    Sample,
    Standing,
    State,
    Trust,
)
from station.plain import canonical, parse
from station.present.looks import Flash, KeyState, MarkStyle, Mode, NumberState, Transport, View
from station.present.numbers import AIR_ALARMS, DEPTH_ALARMS, TIME_ALARMS
from station.present.status import LogLine
from station.present.view import view, view_from_plain, view_to_plain
from station.table_files import load_books

ONE, STANDBY = "Diver 1", "Standby"
BOOKS = load_books()
CLEAN = History("none")
UTC_EPOCH_NS = 1_935_532_800_000_000_000  # 2031-05-03T00:00:00Z
NOW_S = 3600.0
NOW = after(EPOCH, NOW_S)
IN_LOG = LogLine("a.dive", 10_000, 0.34)


def gauge(name: str, channel: Channel, subject: str) -> Gauge:
    """A gauge of this name."""
    return Gauge(name, channel, subject, f"line {name}", NmeaXdr(name, XdrUnit.BAR), 0, 3000)


def settings(units: Units = Units.US) -> Settings:
    """One diver with a plan, one standby, two banks."""
    return Settings(
        "Lock gate",
        "gate seal",
        "M. Ost",
        units,
        (
            DiverSettings(ONE, "T. Ask", Role.DIVER, "demand-helmet", "primary", 60.0, 40, "P. Lund", CLEAN),
            DiverSettings(
                STANDBY, "J. Holm", Role.STANDBY, "demand-helmet", "secondary", 60.0, 40, "", CLEAN
            ),
        ),
        (SupplySettings("primary", "Bank A"), SupplySettings("secondary", "Bank B")),
        (
            gauge("pneumo-1", Channel.DEPTH, ONE),
            gauge("supply-1", Channel.SUPPLY, ONE),
            gauge("bank-a", Channel.BANK, "primary"),
        ),
    )


def mark(number: int, kind: MarkKind, at_s: float, stop_fsw: float | None = None) -> Mark:
    """A mark of the tender, pressed when it happened."""
    at = after(EPOCH, at_s)
    return Mark(number, 100 * number, 1, kind, at, at, "P. Lund", stop_fsw)


LEFT = mark(1, MarkKind.LEFT_SURFACE, NOW_S - 620)
BOTTOM = mark(2, MarkKind.REACHED_BOTTOM, NOW_S - 560)
LEFT_BOTTOM = mark(3, MarkKind.LEFT_BOTTOM, NOW_S - 100)


def heard(name: str, value: float | None, trust: Trust = Trust.GOOD, age_s: float = 0.2) -> GaugeState:
    """A gauge as it was last heard."""
    if value is None:
        return GaugeState(name)
    shown = value if trust not in (Trust.STALE, Trust.LOST) else None
    return GaugeState(name, trust, Sample(after(NOW, -age_s), value), (), shown)


def watch(
    *,
    units: Units = Units.US,
    depth_fsw: float | None = 58.24,
    supply_psig: float | None = 148.0,
    trust: Trust = Trust.GOOD,
    age_s: float = 0.2,
    marks: tuple[Mark, ...] = (LEFT, BOTTOM),
    alarms: tuple[AlarmState, ...] = (),
    **of_diver: object,
) -> State:
    """A watch in which Diver 1 is where these figures say."""
    state = initial_state(settings(units), UTC_EPOCH_NS)
    shown = depth_fsw if trust not in (Trust.STALE, Trust.LOST) else None
    diver = replace(
        state.divers[0], marks=marks, shown_fsw=shown, deepest_fsw=58.9 if marks else None, rate_fsw_min=0.0
    )
    diver = replace(diver, **of_diver)
    gauges = (
        heard("pneumo-1", depth_fsw, trust, age_s),
        heard("supply-1", supply_psig, trust, age_s),
        heard("bank-a", 2110.0),
    )
    return replace(
        state, seq=5000, now=NOW, divers=(diver, state.divers[1]), gauges=gauges, alarms=alarms, ground="dusk"
    )


def seen(state: State, log: LogLine = IN_LOG, **more: object) -> View:
    """The view of a live watch."""
    return view(state, Mode.LIVE, log, BOOKS, **more)


def alarm(name: str, standing: Standing = Standing.UNACKNOWLEDGED, subject: str = ONE) -> AlarmState:
    """An alarm that has stood for seven seconds."""
    return AlarmState(name, subject, standing, after(NOW, -7), measured=109.0, limit=117.0)


def test_the_three_numbers_of_a_good_watch():
    """Depth to a tenth, bottom time as it runs, margin with its sign; each with its unit."""
    diver = seen(watch()).divers[0]
    assert (diver.depth.value, diver.depth.unit, diver.depth.state) == ("58.2", "fsw", NumberState.GOOD)
    assert diver.depth.detail == "deepest 58.9, table depth 60"
    assert (diver.time.caption, diver.time.value, diver.time.unit) == ("Bottom time", "10:20", "min")
    assert diver.time.detail == "counts as 11 min"
    assert diver.air.value[0] == "+"
    assert diver.air.detail.startswith("supply 148, minimum ")
    assert diver.phase == "On the bottom"
    assert diver.depth.sign is diver.time.sign is diver.air.sign is None


def test_metric_shows_msw_and_bar():
    """The core stays in fsw and psi; windows of a metric station show msw and bar, tenths of both."""
    shown = seen(watch(units=Units.METRIC))
    diver = shown.divers[0]
    assert (diver.depth.value, diver.depth.unit) == ("17.9", "msw")
    assert diver.air.unit == "bar"
    assert diver.air.detail.startswith("supply 10.2")
    assert shown.scale.unit == "msw"
    assert diver.line.mark == pytest.approx(17.9)
    assert shown.air.banks[0].pressure.unit == "bar"


def test_a_margin_that_is_gone_has_a_true_minus():
    """Not a hyphen: the sign is as wide as the plus."""
    assert seen(watch(supply_psig=100.0)).divers[0].air.value[0] == "−"


def test_a_stale_depth_shows_no_digits_but_its_age_and_the_last_value():
    """Dashes, the age in the caption, the last value to be struck through, a mark where he was last seen."""
    diver = seen(watch(trust=Trust.STALE, age_s=4.0)).divers[0]
    assert (diver.depth.value, diver.depth.state) == ("", NumberState.STALE)
    assert (diver.depth.caption, diver.depth.detail, diver.depth.struck) == (
        "Depth, 4 s old",
        "last read",
        "58.2",
    )
    assert diver.depth.sign is not None
    assert diver.line.style is MarkStyle.HATCHED
    assert diver.air.value == ""


def test_a_lost_depth_says_since_when():
    """The hour and minute of the last reading; the mark on the line is gone."""
    diver = seen(watch(trust=Trust.LOST, age_s=120.0)).divers[0]
    assert diver.depth.caption == "Depth lost"
    assert diver.depth.detail == "since 00:58, last"
    assert diver.line.style is MarkStyle.GONE


def test_a_gauge_never_heard_shows_no_value_at_all():
    """No figure is made up: no digits, nothing struck through."""
    diver = seen(watch(depth_fsw=None, supply_psig=None)).divers[0]
    assert (diver.depth.value, diver.depth.struck, diver.depth.detail) == ("", "", "never heard")
    assert (diver.air.value, diver.air.struck) == ("", "")
    assert diver.line.mark is None


def test_at_least_is_said_and_drawn():
    """An unproven hose: the caption says it, the mark is hollow with chevrons downward."""
    diver = seen(watch(trust=Trust.AT_LEAST)).divers[0]
    assert (diver.depth.caption, diver.depth.value) == ("Depth at least", "58.2")
    assert diver.line.style is MarkStyle.HOLLOW
    assert diver.line.at_least


def test_every_alarm_of_a_diver_stands_at_one_number():
    """The catalogue grows; an alarm without a number would not be seen where it belongs."""
    sets = (DEPTH_ALARMS, TIME_ALARMS, AIR_ALARMS)
    for entry in ENTRIES:
        if entry.about is About.DIVER:
            assert sum(entry.id in ids for ids in sets) == 1, entry.id


@pytest.mark.parametrize(
    ("standing", "flash"), [(Standing.UNACKNOWLEDGED, Flash.FAST), (Standing.ACKNOWLEDGED, Flash.STEADY)]
)
def test_an_alarm_heads_its_number_and_flashes_until_it_is_seen(standing: Standing, flash: Flash):
    """The mark at the air margin, the short detail, the row with what to do."""
    shown = seen(watch(alarms=(alarm("supply-below-minimum", standing),)))
    sign = shown.divers[0].air.sign
    assert sign is not None
    assert sign.flash is flash
    assert "supply" not in shown.divers[0].air.detail
    row = shown.alarms.lines[0]
    assert (row.word, row.who, row.age) == ("EMERGENCY", ONE, "7 s")
    assert row.what.startswith("air 109 psi")
    assert row.action
    assert row.to_acknowledge is (standing is Standing.UNACKNOWLEDGED)


def test_an_alarm_that_ended_by_itself_flashes_slowly_and_leaves_its_number():
    """It still waits to be seen; the number is calm again."""
    shown = seen(watch(alarms=(alarm("supply-below-minimum", Standing.RETURNED),)))
    row = shown.alarms.lines[0]
    assert row.sign.flash is Flash.SLOW
    assert row.to_acknowledge
    assert shown.divers[0].air.sign is None


def test_the_gravest_alarm_stands_first():
    """Whatever came first."""
    shown = seen(watch(alarms=(alarm("ascent-fast"), alarm("supply-below-minimum"))))
    assert [row.word for row in shown.alarms.lines] == ["EMERGENCY", "WARNING"]


def test_the_clock_of_each_phase():
    """Before, below, coming up, at a stop, up again: the caption says what runs."""
    at_stop = mark(4, MarkKind.REACHED_STOP, NOW_S - 40, 20.0)
    up = mark(5, MarkKind.REACHED_SURFACE, NOW_S - 5)
    assert seen(watch(marks=())).divers[0].time.state is NumberState.NONE
    ascending = seen(watch(marks=(LEFT, BOTTOM, LEFT_BOTTOM))).divers[0].time
    assert (ascending.caption, ascending.value) == ("Since left bottom", "1:40")
    assert ascending.detail == "bottom time 9 min"
    stop = seen(watch(marks=(LEFT, BOTTOM, LEFT_BOTTOM, at_stop))).divers[0]
    assert (stop.phase, stop.time.caption, stop.time.value) == ("Stop at 20 fsw", "At 20 fsw", "0:40")
    surfaced = seen(watch(marks=(LEFT, BOTTOM, LEFT_BOTTOM, up))).divers[0].time
    assert (surfaced.caption, surfaced.value) == ("At the surface", "0:05")


def test_what_is_next_and_what_is_done():
    """On the bottom: two marks done, leaving it is next, a stop has no place, the surface is open."""
    keeping = seen(watch()).divers[0].keeping
    states = {key.act: key.state for key in keeping.marks}
    assert states["left_surface"] is KeyState.DONE
    assert states["reached_bottom"] is KeyState.DONE
    assert states["left_bottom"] is KeyState.NEXT
    assert states["reached_stop"] is states["left_stop"] is KeyState.SHUT
    assert states["reached_surface"] is KeyState.OPEN
    assert keeping.next_key is not None
    assert (keeping.next_key.act, keeping.next_key.state) == ("left_bottom", KeyState.NEXT)
    assert keeping.late == ((15, "15 s ago"), (30, "30 s ago"), (60, "60 s ago"))


def test_a_mark_is_marking_until_the_log_has_it():
    """The log is committed up to 150: the second mark (200) waits, and no further mark is offered."""
    keeping = seen(watch(), LogLine("a.dive", 150, 0.1)).divers[0].keeping
    states = {key.act: key.state for key in keeping.marks}
    assert states["left_surface"] is KeyState.DONE
    assert states["reached_bottom"] is KeyState.MARKING
    assert keeping.next_key is not None
    assert keeping.next_key.state is KeyState.MARKING
    assert keeping.last is not None
    assert "marking" in keeping.last.detail


def test_a_stop_is_left_by_its_own_depth():
    """The key that leaves a stop carries the stop that was reached."""
    at_stop = mark(4, MarkKind.REACHED_STOP, NOW_S - 40, 20.0)
    keeping = seen(watch(marks=(LEFT, BOTTOM, LEFT_BOTTOM, at_stop))).divers[0].keeping
    assert keeping.next_key is not None
    assert (keeping.next_key.act, keeping.next_key.stop_fsw) == ("left_stop", 20.0)
    assert keeping.next_key.title == "Left 20 fsw"


def test_the_last_mark_can_be_moved_but_not_into_the_future():
    """Earlier by 60, 30, 15 s; later only as far as now."""
    last = seen(watch(marks=(LEFT, mark(2, MarkKind.REACHED_BOTTOM, NOW_S - 20)))).divers[0].keeping.last
    assert last is not None
    assert last.title == "Reached bottom, 00:59:40"
    assert [shift.title for shift in last.shifts] == [
        "60 s earlier", "30 s earlier", "15 s earlier", "15 s later",
    ]  # fmt: skip
    assert last.shifts[0].detail == "00:58:40"
    assert Instant(last.shifts[-1].to_ns) <= NOW


def test_a_surfaced_diver_is_dressed_again():
    """No mark is next; his next dive is."""
    up = mark(5, MarkKind.REACHED_SURFACE, NOW_S - 5)
    next_key = seen(watch(marks=(LEFT, BOTTOM, LEFT_BOTTOM, up))).divers[0].keeping.next_key
    assert next_key is not None
    assert next_key.act == "next_dive"


def test_the_scale_is_common_and_grows_with_the_deepest():
    """A tenth below the deepest plan; ten below a diver who is deeper than that."""
    assert seen(watch()).scale.end == pytest.approx(66.0)
    assert seen(watch(depth_fsw=90.0, deepest_fsw=90.0)).scale.end == pytest.approx(100.0)


@pytest.mark.parametrize(
    ("rate_fsw_min", "to", "band"), [(-30.0, 28.0, (38.2, 18.2)), (60.0, 118.0, (58.2, 133.2))]
)
def test_the_tail_shows_one_minute_ahead_against_what_is_permitted(rate_fsw_min, to, band):
    """Up: 20 to 40 a minute; down: up to 75."""
    tail = seen(watch(rate_fsw_min=rate_fsw_min)).divers[0].line.tail
    assert tail is not None
    assert tail.to == to
    assert (tail.band_from, tail.band_to) == pytest.approx(band)


def test_a_slow_drift_and_a_diver_at_the_surface_have_no_tail():
    """Two feet a minute is noise; a tail ends at the surface."""
    assert seen(watch(rate_fsw_min=-2.0)).divers[0].line.tail is None
    tail = seen(watch(depth_fsw=10.0, rate_fsw_min=-30.0)).divers[0].line.tail
    assert tail is not None
    assert (tail.to, tail.band_from, tail.band_to) == (0.0, 0.0, 0.0)


def test_a_standby_who_goes_in_is_a_diver():
    """Narrow while he stands by; in the water he has the numbers of every diver."""
    state = watch()
    assert [diver.standby for diver in seen(state).divers] == [False, True]
    gone = replace(state.divers[1], marks=(LEFT,))
    assert [diver.standby for diver in seen(replace(state, divers=(state.divers[0], gone))).divers] == [
        False,
        False,
    ]


def test_the_frame_of_the_trace_holds_the_dive_and_stands_still():
    """From before he left to past the plan; the next second moves now, and nothing else."""
    state = watch()
    frame = seen(state).divers[0].trace
    left_s = NOW_S - 620
    assert frame.start_s < left_s < frame.now_s < frame.end_s
    assert frame.end_s >= left_s + 40 * 60
    assert frame.plan[0] == (left_s, 0.0)
    assert all(frame.start_s <= at_s <= frame.end_s for at_s, _ in frame.ticks)
    assert all(text[2] == ":" for _, text in frame.ticks)
    later = seen(replace(state, now=after(NOW, 1))).divers[0].trace
    assert replace(later, now_s=frame.now_s) == frame


def test_the_strip_says_how_safe_the_log_is():
    """Seconds since the last commit; a log that fails or lags says so with an ALARM's mark."""
    assert seen(watch()).top.log_value == "0.3 s ago"
    failed = seen(replace(watch(), log=LogHealth(failed="disk full"))).top
    assert (failed.log_value, failed.log_sign is not None) == ("not written", True)
    behind = seen(replace(watch(), log=LogHealth(behind_since=after(NOW, -12)))).top
    assert behind.log_value == "12 s behind"


def test_the_links_tell_their_age():
    """Tenths of a second while heard, a mark when not, "never" when never."""
    links = seen(watch(trust=Trust.LOST, age_s=14.0)).top.links
    assert [(link.name, link.age, link.sign is None) for link in links] == [
        ("pneumo-1", "14 s", False), ("supply-1", "14 s", False), ("bank-a", "0.2 s", True),
    ]  # fmt: skip
    assert seen(watch(depth_fsw=None)).top.links[0].age == "never"


def test_modes_say_what_they_are():
    """LIVE shows the job; a rehearsal and a replay say that they are not live."""
    assert seen(watch()).top.mode_word == "LIVE"
    rehearsed = view(watch(), Mode.REHEARSAL, IN_LOG, BOOKS)
    assert (rehearsed.top.mode_word, rehearsed.top.job) == ("REHEARSAL", "Simulated, not live")
    transport = Transport(True, 4.0, 0.5, (), (), "recorded", "a", "whole, 10 records")
    replayed = view(watch(), Mode.REPLAY, LogLine("a", 0, None), BOOKS, transport=transport)
    assert replayed.top.job == "Recorded 3 May 2031, not live"
    assert replayed.top.log_value == "whole, 10 records"
    # A replay's marks are in its log, whatever is committed elsewhere.
    assert replayed.divers[0].keeping.marks[1].state is KeyState.DONE


def test_the_air_board_shows_no_minutes_that_nobody_worked_out():
    """Pressure and its share of the gauge; without a volume and a fall no minutes, and it says so."""
    primary, secondary = seen(watch()).air.banks
    assert (primary.title, primary.role, primary.pressure.value) == ("Bank A", "on line, to Diver 1", "2110")
    assert primary.full == pytest.approx(2110 / 3000, abs=0.001)
    assert primary.minutes.state is NumberState.NONE
    assert primary.note_detail == "content not known"
    assert (secondary.pressure.value, secondary.pressure.caption) == ("", "Pressure")
    assert (secondary.pressure.detail, secondary.note) == ("no gauge", "volume not told")


def test_the_caution_stands_in_every_view():
    """And so does the ground, and the number of the state."""
    shown = seen(watch(), notice="left stop has no place")
    assert shown.caution == CAUTION
    assert (shown.seq, shown.ground, shown.notice) == (5000, "dusk", "left stop has no place")


@pytest.mark.parametrize(
    "state",
    [
        watch(),
        watch(units=Units.METRIC, trust=Trust.LOST, age_s=20.0, alarms=(alarm("depth-not-heard"),)),
        watch(depth_fsw=None, supply_psig=None, marks=()),
        watch(rate_fsw_min=-30.0, blown=Sample(EPOCH, 54.0)),
    ],
)
def test_a_view_comes_through_the_pipe_unchanged(state: State):
    """Plain JSON and back gives an equal view."""
    transport = Transport(False, 1.0, 0.25, ((0.5, "10:00"),), (), "recorded", "a", "whole")
    for shown in (seen(state), view(state, Mode.REPLAY, IN_LOG, BOOKS, transport=transport)):
        assert view_from_plain(parse(canonical(view_to_plain(shown)))) == shown


def test_a_view_that_is_none_is_refused():
    """With what is missing."""
    with pytest.raises(ValueError, match="mode"):
        view_from_plain({"seq": 1})


def test_the_same_second_gives_the_same_view():
    """Noise below what is shown repaints nothing: equal looks of two near states."""
    one, other = seen(watch(depth_fsw=58.21)), seen(watch(depth_fsw=58.24))
    assert one.divers[0] == other.divers[0]


def test_a_diver_without_gauges_or_plan_is_still_shown():
    """No plan, no gauge: dashes, and a scale all the same."""
    state = watch()
    bare = replace(state.divers[1], planned_depth_fsw=None, planned_bottom_min=None)
    diver = seen(replace(state, divers=(state.divers[0], bare))).divers[1]
    assert isinstance(bare, DiverState)
    assert diver.depth.value == ""
    assert diver.line.plan is None
