"""Air: what a diver breathes, how a bank falls by it, and what pressure stands at his manifold."""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from shared.units import FSW_PER_ATMOSPHERE, S_PER_MIN
from simulators.truth.profile import Profile

PSI_PER_ATMOSPHERE: Final = 14.7
"""One atmosphere in psi as the handbook rounds it. USN Diving Manual Rev 4, p. 7-14: V = FV N P / 14.7."""


def flow_scfm(depth_fsw: float, acfm: float, divers: int = 1) -> float:
    """Free air in scfm that divers at a depth breathe: (D + 33) / 33 x acfm x divers.

    USN Diving Manual Rev 4, p. 7-14.
    """
    return (depth_fsw + FSW_PER_ATMOSPHERE) / FSW_PER_ATMOSPHERE * acfm * divers


@dataclass(frozen=True, slots=True)
class Breathing:
    """How a diver breathes from his supply from `from_s` to `to_s`: `acfm` on the average, in breaths.

    `pulse` is the share of the flow that comes in breaths and not smoothed by hose and tank: 0 is an even
    flow, 1 the bare demand valve. Phase 0 is the beginning of a breath in.
    """

    acfm: float
    breaths_per_min: float
    pulse: float
    from_s: float
    to_s: float

    def drawn_scf(self, profile: Profile, at_s: float) -> float:
        """Free air drawn up to an instant, in scf; breaths are averaged out."""
        start_s, end_s = self.from_s, min(max(at_s, self.from_s), self.to_s)
        depth_fsw_s = profile.area_fsw_s(end_s) - profile.area_fsw_s(start_s)
        return (depth_fsw_s / FSW_PER_ATMOSPHERE + (end_s - start_s)) * self.acfm / S_PER_MIN

    def flow_scfm(self, profile: Profile, at_s: float) -> float:
        """Flow at an instant, with the breath, in scfm.

        A breath in is half a sine and a breath out draws nothing, so the peak is pi times the mean.
        """
        if not self.from_s <= at_s < self.to_s:
            return 0.0
        turn = at_s * self.breaths_per_min / S_PER_MIN
        breath = math.pi * max(0.0, math.sin(math.tau * turn))
        return flow_scfm(profile.depth_fsw(at_s), self.acfm) * (1.0 - self.pulse + self.pulse * breath)


@dataclass(frozen=True, slots=True)
class Leak:
    """Air that is lost from a bank between two instants, at an even flow."""

    from_s: float
    to_s: float
    scfm: float

    def lost_scf(self, at_s: float) -> float:
        """Free air that was lost up to an instant."""
        return max(min(at_s, self.to_s) - self.from_s, 0.0) / S_PER_MIN * self.scfm


@dataclass(frozen=True, slots=True)
class Bank:
    """Flasks that feed one supply: contents fall with what is drawn and lost, at an even temperature."""

    supply: str
    start_psig: float
    flasks: int
    floodable_cuft: float
    leaks: tuple[Leak, ...] = ()

    def pressure_psig(self, drawn_scf: float) -> float:
        """Pressure after so much free air was drawn, never below an empty bank.

        USN Diving Manual Rev 4, p. 7-14: V = FV x N x P / 14.7.
        """
        fall_psi = drawn_scf * PSI_PER_ATMOSPHERE / (self.flasks * self.floodable_cuft)
        return max(self.start_psig - fall_psi, 0.0)


@dataclass(frozen=True, slots=True)
class Sag:
    """The supply falls by `drop_psi` within `fall_s`, stays so for `hold_s`, is back `recover_s` later."""

    from_s: float
    fall_s: float
    hold_s: float
    recover_s: float
    drop_psi: float

    def fall_psi(self, at_s: float) -> float:
        """How far the supply has fallen at an instant, in psi."""
        since_s = at_s - self.from_s
        back_s = self.fall_s + self.hold_s + self.recover_s - since_s
        if since_s <= 0.0 or back_s <= 0.0:
            return 0.0
        return self.drop_psi * min(1.0, _share(since_s, self.fall_s), _share(back_s, self.recover_s))


def _share(part_s: float, whole_s: float) -> float:
    """`part_s` of `whole_s`; all of it where there is no whole."""
    return part_s / whole_s if whole_s > 0.0 else 1.0


@dataclass(frozen=True, slots=True)
class Regulator:
    """What feeds a diver's manifold: its set pressure, how far flow pulls it down, and when it sags."""

    set_psig: float
    droop_psi_per_scfm: float
    sags: tuple[Sag, ...]

    def pressure_psig(self, at_s: float, flow_scfm: float, bank_psig: float) -> float:
        """Pressure at the manifold: never above what the bank has, never below nothing."""
        sagged_psi = sum(sag.fall_psi(at_s) for sag in self.sags)
        regulated_psig = self.set_psig - self.droop_psi_per_scfm * flow_scfm - sagged_psi
        return max(0.0, min(regulated_psig, bank_psig))


def drawn_from(bank: Bank, users: Iterable[tuple[str, Breathing, Profile]], at_s: float) -> float:
    """Free air that all users (supply, breathing, profile) of a bank have drawn up to an instant, in scf.

    What leaks is drawn as well.
    """
    drawn_scf = sum(
        breathing.drawn_scf(profile, at_s) for supply, breathing, profile in users if supply == bank.supply
    )
    return drawn_scf + sum(leak.lost_scf(at_s) for leak in bank.leaks)
