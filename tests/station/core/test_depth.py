"""Depth: latency and noise of the filter, what sets the deepest, the correction and the table depth."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shared.clock import EPOCH, after
from shared.gauges import Channel
from station.core.depth import TABLED_DEPTHS_FSW, depth_of
from station.core.inputs import MarkKind
from station.core.robust import binned, kept, last_until, middle, since, slope_per_min
from station.core.state import Sample, Trust
from station.core.tables.lookup import table_depth_fsw

ONE, STANDBY = "Diver 1", "Standby"

# USN Diving Manual Rev 4 Change A: p. 14-3 Table 14-1 (250), p. 9-12 (152); bands: study notes on Rev 6/7
GAUGE_TO_CORRECTED = [
    (250, 254),
    (152, 154),
    (0, 1),
    (100, 101),
    (101, 103),
    (200, 202),
    (201, 205),
    (300, 304),
]
SHOWN_LATENCY_S = 1.1
RATE_LATENCY_S = 3.6
WAVE_FSW = 0.5
WAVE_LEFT_FSW = 0.3


@pytest.fixture(name="watch")
def _watch(new_watch):
    """A calm watch whose gauges speak ten times a second."""
    begun = new_watch()
    begun.run(2)
    return begun


@pytest.mark.parametrize(("gauge_fsw", "corrected_fsw"), GAUGE_TO_CORRECTED)
def test_correction_is_added_to_what_is_shown(watch, gauge_fsw, corrected_fsw) -> None:
    """The corrected depth is the filtered reading and the printed correction of its band."""
    watch.depth(float(gauge_fsw))
    watch.run(5)
    assert depth_of(watch.state, ONE).gauge_fsw == gauge_fsw
    assert depth_of(watch.state, ONE).corrected_fsw == corrected_fsw


def test_maximum_enters_the_table_and_the_present_depth_does_not(on_bottom) -> None:
    """152 on the gauge is 154 and enters 160, also when he is higher since (USN Rev 4, p. 9-12)."""
    on_bottom.depth(152.0)
    on_bottom.run(12)
    on_bottom.depth(40.0)
    on_bottom.run(12)
    depth = depth_of(on_bottom.state, ONE)
    assert (depth.max_fsw, depth.table_fsw, depth.corrected_fsw) == (154.0, 160, 41.0)


@pytest.mark.parametrize(
    ("gauge_fsw", "table_fsw"), [(100, 110), (59, 60), (59.2, 60), (59.21, 70), (152, 160)]
)
def test_table_depth_is_never_interpolated(on_bottom, gauge_fsw, table_fsw) -> None:
    """The tabled depth equal or next deeper; 100 + 1 enters 110 (USN Rev 4, p. 9-12)."""
    on_bottom.depth(float(gauge_fsw))
    on_bottom.run(12)
    assert depth_of(on_bottom.state, ONE).table_fsw == table_fsw


def test_beyond_the_printed_corrections_there_is_no_figure(on_bottom) -> None:
    """401 on the gauge has no correction: the reading is shown, nothing is made of it."""
    on_bottom.depth(401.0)
    on_bottom.run(12)
    depth = depth_of(on_bottom.state, ONE)
    assert (depth.gauge_fsw, depth.corrected_fsw, depth.max_fsw, depth.table_fsw) == (401.0, None, None, None)


def test_deeper_than_the_tables_there_is_no_table_depth(on_bottom) -> None:
    """305 is deeper than any tabled depth: none is named."""
    on_bottom.depth(301.0)
    on_bottom.run(12)
    assert depth_of(on_bottom.state, ONE).max_fsw == 308.0
    assert depth_of(on_bottom.state, ONE).table_fsw is None
    assert TABLED_DEPTHS_FSW[-1] == 300


def test_a_depth_of_zero_is_a_depth(watch) -> None:
    """0.0 on the gauge is shown, filtered and corrected like any other number."""
    depth = depth_of(watch.state, ONE)
    assert (depth.gauge_fsw, depth.corrected_fsw, depth.last_fsw) == (0.0, 1.0, 0.0)
    assert depth.trust is Trust.GOOD


@pytest.mark.parametrize("fsw_per_s", [0.5, 1.25, -0.5, -1.0])
def test_a_ramp_is_shown_with_a_latency_of_about_a_second(on_bottom, fsw_per_s) -> None:
    """At 30, 60 and 75 fsw/min the shown depth trails the gauge by no more than 1.1 s, and never leads."""
    on_bottom.depth(lambda t: 50 + fsw_per_s * t)
    on_bottom.run(20)
    trails_s = (50 + fsw_per_s * 20 - depth_of(on_bottom.state, ONE).gauge_fsw) / fsw_per_s
    assert 0 <= trails_s <= SHOWN_LATENCY_S


@pytest.mark.parametrize("fsw_min", [30.0, 75.0, -30.0, -60.0])
def test_a_rate_is_told_exactly_on_a_ramp(on_bottom, fsw_min) -> None:
    """A steady ramp gives its own rate, positive downward."""
    on_bottom.depth(lambda t: 50 + fsw_min / 60 * t)
    on_bottom.run(12)
    assert depth_of(on_bottom.state, ONE).rate_fsw_min == pytest.approx(fsw_min, abs=0.01)


@pytest.mark.parametrize("fsw_min", [75.0, -60.0])
def test_half_of_a_new_rate_is_told_within_its_latency(on_bottom, fsw_min) -> None:
    """After a sudden start the rate has passed half of the true one within 3.6 s."""
    on_bottom.depth(lambda t: 50 + fsw_min / 60 * t)
    on_bottom.run(RATE_LATENCY_S)
    assert abs(depth_of(on_bottom.state, ONE).rate_fsw_min) > abs(fsw_min) / 2


@pytest.mark.parametrize("period_s", [3.0, 4.0, 5.0])
@pytest.mark.parametrize("every_s", [0.1, 0.5, 1.0])
def test_a_wave_does_not_set_the_deepest(new_watch, period_s, every_s) -> None:
    """Half a foot of wave at 3 to 5 s adds at most 0.3 fsw to the deepest, whatever the gauge's period."""
    watch = new_watch(every_s=every_s)
    watch.mark(MarkKind.LEFT_SURFACE)
    watch.depth(lambda t: 50 + WAVE_FSW * math.sin(2 * math.pi * t / period_s + 0.4))
    watch.run(90)
    assert watch.diver().deepest_fsw <= 50 + WAVE_LEFT_FSW


@pytest.mark.parametrize(("period_s", "most_fsw_min"), [(3.0, 9.0), (4.0, 13.0), (5.0, 25.0)])
def test_a_wave_makes_a_rate_below_every_limit(on_bottom, period_s, most_fsw_min) -> None:
    """Half a foot of wave shows up as a rate below the 40 fsw/min limit of an ascent by a margin."""
    on_bottom.depth(lambda t: 50 + WAVE_FSW * math.sin(2 * math.pi * t / period_s))
    rates = []
    for _ in range(300):
        on_bottom.run(0.1)
        rates.append(abs(depth_of(on_bottom.state, ONE).rate_fsw_min))
    assert max(rates[70:]) <= most_fsw_min


def test_an_excursion_of_six_seconds_sets_the_deepest(on_bottom) -> None:
    """Six seconds at 55 are a depth of the dive: the 10-s median is that of the excursion."""
    on_bottom.depth(55.0)
    on_bottom.run(6)
    on_bottom.depth(50.0)
    on_bottom.run(20)
    assert on_bottom.diver().deepest_fsw == 55.0


def test_an_excursion_of_four_seconds_does_not(on_bottom) -> None:
    """Four seconds of air flowing in the hose are less than half of the window."""
    on_bottom.depth(70.0)
    on_bottom.run(4)
    on_bottom.depth(50.0)
    on_bottom.run(20)
    assert on_bottom.diver().deepest_fsw == 50.0


def test_single_spikes_are_not_seen_at_all(on_bottom) -> None:
    """One bad sample a second moves neither the shown depth nor the deepest, nor makes a rate."""
    on_bottom.depth(lambda t: 300.0 if round(t * 10) % 10 == 0 else 50.0)
    for _ in range(100):
        on_bottom.run(0.1)
        assert depth_of(on_bottom.state, ONE).gauge_fsw == 50.0
    assert on_bottom.diver().deepest_fsw == 50.0
    assert depth_of(on_bottom.state, ONE).rate_fsw_min == pytest.approx(0.0, abs=1e-6)


def test_a_silent_gauge_leaves_no_number_but_its_last_and_its_age(on_bottom) -> None:
    """Stale: no depth, no rate; the last reading with its age stays, and so does the deepest."""
    on_bottom.depth(None)
    on_bottom.run(2)
    depth = depth_of(on_bottom.state, ONE)
    assert (depth.gauge_fsw, depth.rate_fsw_min, depth.corrected_fsw) == (None, None, None)
    assert (depth.last_fsw, depth.max_fsw) == (50.0, 51.0)
    assert depth.age_s == pytest.approx(2.0)


def test_a_late_reading_leaves_the_number_until_it_is_stale(new_watch) -> None:
    """A gauge of one reading a second that misses two keeps its number: it is stale after three periods."""
    watch = new_watch(every_s=1.0)
    watch.depth(12.0)
    watch.run(10)
    while watch.gauge(Channel.DEPTH).last.at < watch.now:
        watch.run(0.1)
    watch.depth(None)
    watch.run(3)
    assert depth_of(watch.state, ONE).trust is Trust.GOOD
    assert depth_of(watch.state, ONE).gauge_fsw == 12.0


@pytest.mark.parametrize("every_s", [1.0, 2.0, 5.0])
def test_a_slow_gauge_has_a_rate_and_a_steady_depth(new_watch, every_s) -> None:
    """The windows grow with the period, so that a slow gauge is followed as well, only later."""
    watch = new_watch(every_s=every_s)
    watch.mark(MarkKind.LEFT_SURFACE)
    watch.depth(lambda t: 0.5 * t)
    watch.run(60)
    for _ in range(50):
        watch.run(0.1)
        assert depth_of(watch.state, ONE).rate_fsw_min is not None
    watch.depth(32.5)
    watch.run(40)
    assert depth_of(watch.state, ONE).rate_fsw_min == pytest.approx(0.0, abs=0.01)
    assert watch.diver().deepest_fsw == 32.5


def test_no_rate_and_no_steady_depth_before_the_window_is_filled(new_watch) -> None:
    """Right after the first reading there is a depth, and nothing that needs a window."""
    watch = new_watch()
    watch.depth(20.0)
    watch.run(3)
    assert watch.diver().shown_fsw == 20.0
    assert watch.diver().rate_fsw_min is None
    assert watch.diver().steady_fsw is None


def test_a_gauge_tried_before_the_dive_leaves_no_deepest(watch) -> None:
    """A gauge lowered to 40 fsw and back on deck is no depth of the dive that follows."""
    watch.depth(40.0)
    watch.run(15)
    assert watch.diver().deepest_fsw == 40.0
    watch.depth(0.0)
    watch.run(15)
    assert watch.diver().deepest_fsw is None
    watch.mark(MarkKind.LEFT_SURFACE)
    watch.depth(10.0)
    watch.run(15)
    assert watch.diver().deepest_fsw == 10.0


def test_a_diver_without_a_gauge_has_no_depth_and_that_is_said(new_watch) -> None:
    """Nothing is made up for a diver whom no gauge measures."""
    watch = new_watch()
    settings = watch.settings
    lonely = tuple(g for g in settings.gauges if g.subject != STANDBY)
    bare = type(watch)(type(settings)(**{**_fields(settings), "gauges": lonely}))
    bare.run(5)
    depth = depth_of(bare.state, STANDBY)
    assert (depth.gauge_fsw, depth.trust, depth.age_s) == (None, Trust.LOST, None)


def _fields(settings) -> dict:
    return {name: getattr(settings, name) for name in type(settings).__slots__}


def test_an_unknown_diver_is_a_mistake() -> None:
    """Asking for the depth of somebody who is not there is a loud error."""
    with pytest.raises(KeyError, match="nobody"):
        raise_for_nobody()


def raise_for_nobody() -> None:
    from station.core.finding import diver_named  # noqa: PLC0415
    from station.core.fold import initial_state  # noqa: PLC0415
    from station.core.settings import Settings, Units  # noqa: PLC0415

    diver_named(initial_state(Settings("s", "j", "p", Units.US, (), (), ()), 0), "nobody")


@given(st.floats(0, 300))
def test_table_depth_is_at_or_below_the_depth_and_the_next_one(depth_fsw) -> None:
    """No tabled depth lies between a depth and its table depth."""
    table_fsw = table_depth_fsw(depth_fsw, TABLED_DEPTHS_FSW)
    assert table_fsw is not None
    assert depth_fsw <= table_fsw
    assert not any(depth_fsw <= tabled < table_fsw for tabled in TABLED_DEPTHS_FSW)


def _samples(values) -> tuple[Sample, ...]:
    return tuple(Sample(after(EPOCH, i / 10), value) for i, value in enumerate(values))


@given(st.lists(st.floats(-1e4, 1e4), min_size=1, max_size=30))
def test_the_middle_is_the_median(values) -> None:
    """The fast median is that of the definition: as many values above as below."""
    from statistics import median  # noqa: PLC0415

    assert middle(values) == pytest.approx(median(values))


@given(st.floats(-100, 100), st.floats(-100, 100), st.integers(3, 60))
def test_the_slope_of_a_line_is_its_slope(slope_min, at_start, count) -> None:
    """Bins or not, points on a line give the line's slope."""
    window = _samples(at_start + slope_min / 600 * i for i in range(count))
    assert slope_per_min(binned(window, 0.2)) == pytest.approx(slope_min, abs=1e-6)


def test_one_outlier_does_not_turn_a_slope() -> None:
    """Theil and Sen: of twelve points one may be wild."""
    points = [(i / 2, i * 0.25) for i in range(12)]
    points[7] = (3.5, 400.0)
    assert slope_per_min(points) == pytest.approx(30.0, abs=1e-6)


def test_windows_of_nothing() -> None:
    """No samples: no bins, no slope, nothing kept."""
    assert binned((), 0.5) == []
    assert slope_per_min([]) is None
    assert kept((), after(EPOCH, 5), 1.0) == ()
    assert last_until((), EPOCH) is None


def test_window_edges() -> None:
    """The last second leaves out the sample that is exactly a second old; since takes its own instant."""
    window = _samples(range(21))
    now = window[-1].at
    assert [s.value for s in kept(window, now, 1.0)] == list(range(11, 21))
    assert since(window, window[20].at) == window[20:]
    assert last_until(window, window[3].at) == window[3]
