"""A diver's depth over time, straight from waypoint to waypoint, with what follows from it exactly."""

from bisect import bisect_right
from dataclasses import dataclass
from itertools import accumulate, pairwise


@dataclass(frozen=True, slots=True)
class Waypoint:
    """The diver is at `depth_fsw` at `at_s` seconds of the scenario."""

    at_s: float
    depth_fsw: float


@dataclass(frozen=True, slots=True)
class Profile:
    """Depth in fsw over seconds of the scenario; before the first waypoint and after the last it rests.

    `areas_fsw_s` is the area under the line up to each waypoint. Build it with `through`.
    """

    times_s: tuple[float, ...]
    depths_fsw: tuple[float, ...]
    areas_fsw_s: tuple[float, ...]

    @classmethod
    def through(cls, waypoints: tuple[Waypoint, ...]) -> "Profile":
        """The profile through waypoints. Raises ValueError when they are none or run back in time."""
        if not waypoints or any(later.at_s < earlier.at_s for earlier, later in pairwise(waypoints)):
            raise ValueError(f"waypoints must be given, and in the order of time: {waypoints!r}")
        steps = ((b.at_s - a.at_s) * (a.depth_fsw + b.depth_fsw) / 2.0 for a, b in pairwise(waypoints))
        return cls(
            tuple(waypoint.at_s for waypoint in waypoints),
            tuple(waypoint.depth_fsw for waypoint in waypoints),
            tuple(accumulate(steps, initial=0.0)),
        )

    def depth_fsw(self, at_s: float) -> float:
        """Depth at an instant."""
        before = bisect_right(self.times_s, at_s) - 1
        if before < 0:
            return self.depths_fsw[0]
        if before + 1 == len(self.times_s):
            return self.depths_fsw[-1]
        share = (at_s - self.times_s[before]) / (self.times_s[before + 1] - self.times_s[before])
        return self.depths_fsw[before] + share * (self.depths_fsw[before + 1] - self.depths_fsw[before])

    def area_fsw_s(self, to_s: float) -> float:
        """Depth summed over time from the first waypoint to an instant (negative before it), in fsw s."""
        before = max(bisect_right(self.times_s, to_s) - 1, 0)
        mean_fsw = (self.depths_fsw[before] + self.depth_fsw(to_s)) / 2.0
        return self.areas_fsw_s[before] + mean_fsw * (to_s - self.times_s[before])

    def least_fsw(self, from_s: float, to_s: float) -> float:
        """The shallowest depth between two instants, both included."""
        first, last = bisect_right(self.times_s, from_s), bisect_right(self.times_s, to_s)
        return min(self.depth_fsw(from_s), self.depth_fsw(to_s), *self.depths_fsw[first:last])
