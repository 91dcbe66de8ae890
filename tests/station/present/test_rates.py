"""The tail and the rate guide: shown when a diver moves, steady while only the waves do."""

from dataclasses import replace
from math import pi, sin

import pytest

from shared.clock import EPOCH, after
from station.core.fold import initial_state
from station.core.inputs import MarkKind
from station.core.settings import DiverSettings, History, Role, Settings, SupplySettings, Units
from station.core.state import Mark, Sample, State
from station.present.rates import TAIL_FROM_STEADY_FSW_MIN, rate_look, tail_of

NOW_S = 1000
NAME = "Diver 1"


def mark(number: int, kind: MarkKind, at_s: int, stop_fsw: float | None = None) -> Mark:
    """A mark of this moment."""
    at = after(EPOCH, at_s)
    return Mark(number, number, 1, kind, at, at, "P. Lund", stop_fsw)


ON_BOTTOM = (mark(1, MarkKind.LEFT_SURFACE, 100), mark(2, MarkKind.REACHED_BOTTOM, 160))
ASCENDING = (*ON_BOTTOM, mark(3, MarkKind.LEFT_BOTTOM, 900))
AT_STOP = (*ASCENDING, mark(4, MarkKind.REACHED_STOP, 950, 20.0))


def watch(marks: tuple[Mark, ...], depths_fsw: tuple[float, ...], units: Units = Units.US) -> State:
    """A watch whose diver was shown at these depths, one a second, the last one now."""
    diver = DiverSettings(NAME, "T. Ask", Role.DIVER, "demand-helmet", "bank", 60.0, 40, "", History("none"))
    settings = Settings("Gate", "seal", "M. Ost", units, (diver,), (SupplySettings("bank", "Bank A"),), ())
    state = initial_state(settings, 0)
    start_s = NOW_S - len(depths_fsw) + 1
    history = tuple(Sample(after(EPOCH, start_s + at), fsw) for at, fsw in enumerate(depths_fsw))
    shown = replace(state.divers[0], marks=marks, history=history, shown_fsw=depths_fsw[-1])
    return replace(state, now=after(EPOCH, NOW_S), divers=(shown,))


def tail(marks: tuple[Mark, ...], depths_fsw: tuple[float, ...], rate_fsw_min: float | None):
    """The tail of that diver at this rate."""
    state = watch(marks, depths_fsw)
    return tail_of(state, state.divers[0], depths_fsw[-1], rate_fsw_min)


@pytest.mark.parametrize("marks", [ON_BOTTOM, AT_STOP], ids=["bottom", "stop"])
@pytest.mark.parametrize("period_s", [4, 6, 8])
def test_waves_do_not_make_a_tail_blink(marks, period_s):
    """A foot of swell at any moment of its wave, with the rate that six seconds of it give: no tail."""
    for phase in range(24):
        depths = tuple(58 + 0.5 * sin(2 * pi * (at / period_s + phase / 24)) for at in range(30))
        rate_fsw_min = (depths[-1] - depths[-7]) * 10
        assert tail(marks, depths, rate_fsw_min) is None


@pytest.mark.parametrize("marks", [ON_BOTTOM, AT_STOP], ids=["bottom", "stop"])
def test_a_diver_who_leaves_has_his_tail_in_four_seconds(marks):
    """At 30 fsw a minute, before anybody marks it."""
    rise = tuple(58 - 0.5 * max(0, at - 25) for at in range(30))
    shown = tail(marks, rise, -30.0)
    assert shown is not None
    assert shown.to == pytest.approx(round(rise[-1] - 30))


def test_a_rate_against_the_movement_shows_no_tail():
    """He has sunk over twelve seconds; one that turns upward for a moment is a wave."""
    sinking = tuple(58 + 0.2 * at for at in range(30))
    assert tail(ON_BOTTOM, sinking, -12.0) is None
    assert tail(ON_BOTTOM, sinking, 12.0) is not None


def test_on_the_bottom_the_threshold_itself_shows_none():
    """Above it, not at it; without twelve seconds of history the rate alone decides."""
    assert tail(ON_BOTTOM, (58.0,), TAIL_FROM_STEADY_FSW_MIN) is None
    assert tail(ON_BOTTOM, (58.0,), TAIL_FROM_STEADY_FSW_MIN + 0.1) is not None


@pytest.mark.parametrize(("rate_fsw_min", "shown"), [(-2.0, False), (-2.1, True), (2.1, True), (None, False)])
def test_on_his_way_a_tail_stands_above_two(rate_fsw_min, shown):
    """Coming up he is watched closely: no damping."""
    assert (tail(ASCENDING, (40.0,) * 30, rate_fsw_min) is not None) is shown


@pytest.mark.parametrize(
    ("rate_fsw_min", "words", "at"),
    [(-28.4, "Up 28 fsw a minute", 28), (0.2, "Held", 0), (3.0, "Down 3 fsw a minute", -3)],
)
def test_the_guide_says_how_fast_he_comes_up(rate_fsw_min, words, at):
    """In whole feet a minute, against 20 to 40."""
    state = watch(ASCENDING, (40.0,))
    look = rate_look(state, replace(state.divers[0], rate_fsw_min=rate_fsw_min))
    assert look is not None
    assert (look.words, look.at) == (words, at)
    assert (look.least, look.most, look.end) == (20, 40, 60)


def test_the_guide_stands_only_on_the_way_up():
    """Neither on the bottom nor at a stop; without a rate it says so; in msw where the station shows them."""
    for marks in (ON_BOTTOM, AT_STOP):
        state = watch(marks, (40.0,))
        assert rate_look(state, state.divers[0]) is None
    state = watch(ASCENDING, (40.0,))
    unknown = rate_look(state, replace(state.divers[0], rate_fsw_min=None))
    assert unknown is not None
    assert (unknown.words, unknown.at) == ("Rate not known", None)
    metric = watch(ASCENDING, (40.0,), Units.METRIC)
    shown = rate_look(metric, replace(metric.divers[0], rate_fsw_min=-30.0))
    assert shown is not None
    assert (shown.words, shown.right) == ("Up 9 msw a minute", "right: 6 to 12")
