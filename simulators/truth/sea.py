"""The sea as a gauge hose feels it: chop that dies out with depth, and the rise and fall of the diver."""

import math
from dataclasses import dataclass
from typing import Final

from simulators.chance import uniform

GRAVITY_FT_S2: Final = 9.80665 / 0.3048
"""Standard gravity in ft/s², from m/s² and the exact foot. NIST Special Publication 811 (2008), app. B.8."""

_FADE_IN_FSW: Final = 1.0
"""Depth over which the sea takes hold of a diver who enters the water. Own choice: it only avoids a jump."""

_CHOP: Final = ((0.25, 0.82), (0.5, 1.0), (0.25, 1.27))
"""Share of the height and ratio of the period of each wave in the chop. Own choice: never the same twice."""


def wave_length_ft(period_s: float) -> float:
    """Length in ft of a wave of this period in deep water: omega² = g k.

    Linear wave theory; US Army, Shore Protection Manual (1984), vol. II, table C-3 (L = 5.12 T²; the figure
    from memory, unverified).
    """
    return GRAVITY_FT_S2 * period_s**2 / math.tau


def pressure_share(depth_ft: float, length_ft: float) -> float:
    """Share of a wave's pressure that is left at a depth, in deep water: exp(-2 pi z / L).

    US Army, Shore Protection Manual (1984), vol. II, appendix C: the pressure response factor, its limit
    where the water is deeper than half a wave length.
    """
    return math.exp(-math.tau * depth_ft / length_ft)


@dataclass(frozen=True, slots=True)
class Sea:
    """Chop at the dive's place: crest-to-trough height in ft and mean period in s; no height, no chop."""

    wave_height_ft: float
    wave_period_s: float
    seed: int

    def chop_fsw(self, at_s: float, depth_fsw: float) -> float:
        """Pressure that the waves add at a depth, in fsw; never more than half the height."""
        if self.wave_height_ft == 0.0 or depth_fsw <= 0.0:
            return 0.0
        chop_ft = 0.0
        for wave, (share, ratio) in enumerate(_CHOP):
            period_s = self.wave_period_s * ratio
            phase = at_s / period_s + uniform(self.seed, "chop", wave)
            left = pressure_share(depth_fsw, wave_length_ft(period_s))
            chop_ft += share * self.wave_height_ft / 2.0 * left * math.sin(math.tau * phase)
        return chop_ft * _taken_hold(depth_fsw)


@dataclass(frozen=True, slots=True)
class Heave:
    """A diver's rise and fall about his profile: a stage in a seaway, or a man at work.

    `height_fsw` from the top to the bottom of it, `name` sets his phase apart from the other divers'.
    """

    height_fsw: float
    period_s: float
    seed: int
    name: str

    def offset_fsw(self, at_s: float, depth_fsw: float) -> float:
        """How much deeper than his profile he is, in fsw."""
        phase = at_s / self.period_s + uniform(self.seed, "heave", self.name)
        return self.height_fsw / 2.0 * math.sin(math.tau * phase) * _taken_hold(depth_fsw)


def _taken_hold(depth_fsw: float) -> float:
    return min(1.0, depth_fsw / _FADE_IN_FSW)
