"""The depth profile: straight lines, exact areas and minima."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from simulators.truth.profile import Profile, Waypoint

DIVE = Profile.through(
    (Waypoint(60.0, 0.0), Waypoint(120.0, 60.0), Waypoint(300.0, 60.0), Waypoint(420.0, 0.0))
)

TIMES = st.floats(0.0, 5000.0)
PROFILES = st.lists(st.tuples(st.floats(0.0, 600.0), st.floats(0.0, 200.0)), min_size=1, max_size=8).map(
    lambda steps: Profile.through(
        tuple(Waypoint(sum(s for s, _ in steps[: n + 1]), depth) for n, (_, depth) in enumerate(steps))
    )
)


@pytest.mark.parametrize(
    ("at_s", "depth_fsw"), [(0, 0), (60, 0), (90, 30), (120, 60), (200, 60), (360, 30), (420, 0), (999, 0)]
)
def test_depth_runs_straight_between_waypoints(at_s: float, depth_fsw: float):
    """60 fsw/min down and 30 fsw/min up, as anybody works it out in his head."""
    assert DIVE.depth_fsw(at_s) == pytest.approx(depth_fsw)


def test_area_is_that_of_the_trapezium():
    """Descent 60 s x 30, bottom 180 s x 60, ascent 120 s x 30, nothing before and after."""
    assert DIVE.area_fsw_s(60.0) == 0.0
    assert DIVE.area_fsw_s(120.0) == pytest.approx(1800.0)
    assert DIVE.area_fsw_s(2000.0) == pytest.approx(1800.0 + 10800.0 + 3600.0)


def test_least_depth_takes_both_ends_and_the_waypoints_between():
    """From 90 s to 130 s the start is the shallowest; over the whole dive the surface is."""
    assert DIVE.least_fsw(90.0, 130.0) == pytest.approx(30.0)
    assert DIVE.least_fsw(130.0, 360.0) == pytest.approx(30.0)
    assert DIVE.least_fsw(130.0, 500.0) == 0.0
    valley = Profile.through((Waypoint(0.0, 50.0), Waypoint(10.0, 40.0), Waypoint(20.0, 50.0)))
    assert valley.least_fsw(0.0, 20.0) == 40.0


@pytest.mark.parametrize("waypoints", [(), (Waypoint(10.0, 0.0), Waypoint(9.0, 0.0))])
def test_no_waypoints_or_time_running_back_is_refused(waypoints: tuple[Waypoint, ...]):
    """A profile needs waypoints in the order of time."""
    with pytest.raises(ValueError, match="order of time"):
        Profile.through(waypoints)


@given(PROFILES, TIMES, TIMES)
def test_depth_never_leaves_the_waypoints_and_least_is_a_bound(
    profile: Profile, one_s: float, other_s: float
):
    """Interpolation adds no depth of its own; nothing between two instants is shallower than the least."""
    from_s, to_s = sorted((one_s, other_s))
    middle_fsw = profile.depth_fsw((from_s + to_s) / 2.0)
    assert min(profile.depths_fsw) - 1e-9 <= middle_fsw <= max(profile.depths_fsw) + 1e-9
    assert profile.least_fsw(from_s, to_s) <= middle_fsw + 1e-9


@given(PROFILES, TIMES)
def test_area_grows_by_the_depth(profile: Profile, at_s: float):
    """The area agrees with a sum over small steps."""
    steps = [profile.times_s[0] + at_s * step / 400.0 for step in range(401)]
    summed = sum((b - a) * (profile.depth_fsw(a) + profile.depth_fsw(b)) / 2.0 for a, b in pairwise(steps))
    widest_s = at_s / 400.0
    assert profile.area_fsw_s(steps[-1]) == pytest.approx(summed, rel=1e-6, abs=200.0 * widest_s * 8 + 1e-6)
