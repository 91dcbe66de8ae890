"""Following the trace: each point told once, a gap kept as a gap."""

from dataclasses import replace

from shared.clock import EPOCH, after
from station.core.fold import initial_state
from station.core.settings import DiverSettings, Role, Settings, Units
from station.core.state import Sample, State
from station.present.trace import TraceFollower


def state_with(*seconds: float, units: Units = Units.US) -> State:
    """A diver whose history holds these seconds, at 33 fsw."""
    settings = Settings(
        "Lock gate", "seal", "M. Ost", units,
        (DiverSettings("Diver 1", "T. Ask", Role.DIVER, "demand-helmet", "primary"),), (), (),
    )  # fmt: skip
    state = initial_state(settings, 0)
    history = tuple(Sample(after(EPOCH, second), 33.0) for second in seconds)
    return replace(state, divers=(replace(state.divers[0], history=history),))


def test_each_point_is_told_once():
    """The news of the next state are the points after those already told."""
    follower = TraceFollower()
    assert follower.news(state_with(1, 2)) == {"Diver 1": [(1.0, 33.0), (2.0, 33.0)]}
    assert follower.news(state_with(1, 2)) == {}
    assert follower.news(state_with(1, 2, 3)) == {"Diver 1": [(3.0, 33.0)]}
    assert follower.news(state_with(2, 3, 4)) == {"Diver 1": [(4.0, 33.0)]}


def test_a_gap_is_not_bridged():
    """Between two samples five seconds apart stands a point without a depth."""
    follower = TraceFollower()
    follower.news(state_with(1, 2))
    assert follower.news(state_with(1, 2, 7)) == {"Diver 1": [(3.0, None), (7.0, 33.0)]}


def test_points_are_in_the_shown_unit():
    """33 fsw are 10.1 msw."""
    assert TraceFollower().news(state_with(1, units=Units.METRIC)) == {"Diver 1": [(1.0, 10.1)]}
