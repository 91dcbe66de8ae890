"""A dive as it was dived, by the model: how far below its limit each tension was on leaving a stop."""

from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from shared.units import S_PER_MIN

from .constants import HALF_TIMES_MIN, OXYGEN_IN_AIR, OXYGEN_IN_OXYGEN
from .kinetics import held, surface_tension_fsw, surroundings
from .schedules import limits_fsw


@dataclass(frozen=True, slots=True)
class ProfilePoint:
    """Depth at a second of the dive, and whether oxygen was breathed from here on."""

    at_s: float
    depth_fsw: float
    oxygen: bool = False


@dataclass(frozen=True, slots=True)
class Slack:
    """Least room below the limits, in fsw, on leaving for a depth; negative is above a limit."""

    at_s: float
    next_fsw: float
    slack_fsw: float
    half_time_min: float


def slacks(points: tuple[ProfilePoint, ...], leaving: tuple[tuple[float, float], ...]) -> tuple[Slack, ...]:
    """The model along a profile of a diver who came clean to it; `leaving` are instants and next depths.

    Between two points the mean depth counts, so points stand a second or a foot apart. Instants between two
    points count as the later one. Marked advisory wherever it is shown.
    """
    tension = np.full((1, len(HALF_TIMES_MIN)), surface_tension_fsw())
    asked = sorted(leaving)
    found: list[Slack] = []
    for before, after in pairwise(points):
        share = OXYGEN_IN_OXYGEN if before.oxygen else OXYGEN_IN_AIR
        around = surroundings(np.full(1, (before.depth_fsw + after.depth_fsw) / 2), share)
        tension = held(tension, around, np.full(1, (after.at_s - before.at_s) / S_PER_MIN))
        while asked and asked[0][0] <= after.at_s:
            at_s, next_fsw = asked.pop(0)
            room = limits_fsw(next_fsw) - tension[0]
            least = int(room.argmin())
            found.append(Slack(at_s, next_fsw, float(room[least]), HALF_TIMES_MIN[least]))
    return tuple(found)
