"""The pneumofathometer hose: what stands at its upper end, which is the diver's depth only while it is full.

Water squeezes the air in a hose that is not blown again after a descent, so the gauge reads shallow; a
diver who rises spills air from the open end and the gauge reads right. USN Diving Manual Rev 4, p. 8-35.
"""

import math
from dataclasses import dataclass

from shared.units import FSW_PER_ATMOSPHERE
from simulators.truth.profile import Profile


def shown_rise_fsw(true_rise_fsw: float, full_at_fsw: float, hose_ft: float) -> float:
    """How much a hose shows of a descent since it was last full, in fsw.

    Boyle's law in a hose that hangs straight: the air that filled it at `full_at_fsw` stands under the
    pressure r higher, and water fills L r / (33 + b + r) ft of it; so d = r + L r / (33 + b + r). Own
    derivation. A hose of no length shows everything.
    """
    absolute_fsw = FSW_PER_ATMOSPHERE + full_at_fsw
    half = (absolute_fsw + hose_ft - true_rise_fsw) / 2.0
    return math.sqrt(half * half + true_rise_fsw * absolute_fsw) - half


@dataclass(frozen=True, slots=True)
class Blow:
    """The hose's valve is open between two instants: the flow makes the gauge read deep by `flow_fsw`."""

    from_s: float
    to_s: float
    flow_fsw: float


@dataclass(frozen=True, slots=True)
class Hose:
    """A pneumofathometer hose of `length_ft`, its blows in the order of time, full of air at the start.

    A gauge needs `settle_s` (time constant) to follow the flow, when the valve opens and when it closes.
    """

    length_ft: float
    blows: tuple[Blow, ...]
    settle_s: float

    def shown_fsw(self, profile: Profile, at_s: float) -> float:
        """Pressure at the upper end in fsw: the diver's depth when the hose is full and nothing flows.

        The profile alone squeezes the hose: waves and heave are told by the caller and pass unsqueezed,
        which is the worse case for whoever must filter them out.
        """
        return self._settled_fsw(profile, at_s) + self._flow_fsw(at_s)

    def _settled_fsw(self, profile: Profile, at_s: float) -> float:
        depth_fsw = profile.depth_fsw(at_s)
        begun = [blow for blow in self.blows if blow.from_s <= at_s]
        closed_s = begun[-1].to_s if begun else 0.0
        if at_s <= closed_s:
            return depth_fsw
        full_at_fsw = profile.least_fsw(closed_s, at_s)
        return full_at_fsw + shown_rise_fsw(depth_fsw - full_at_fsw, full_at_fsw, self.length_ft)

    def _flow_fsw(self, at_s: float) -> float:
        return sum(blow.flow_fsw * self._risen(blow, at_s) for blow in self.blows)

    def _risen(self, blow: Blow, at_s: float) -> float:
        """Share of the flow's extra pressure that stands at an instant."""
        if at_s <= blow.from_s:
            return 0.0
        risen = -math.expm1(-(min(at_s, blow.to_s) - blow.from_s) / self.settle_s)
        return risen * math.exp(-max(at_s - blow.to_s, 0.0) / self.settle_s)
