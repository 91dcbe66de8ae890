"""Verdicts: whether what is there is enough, and the figures that say so. Rules G5, R-28."""

from dataclasses import dataclass

from station.core.air.need import SupplyNeed


@dataclass(frozen=True, slots=True)
class Reason:
    """One thing that was judged, as pieces of a sentence: what, how much there is, how much is needed.

    `measured` is None when it is not known, and then the thing is not held to be enough.
    """

    what: str
    measured: float | None
    needed: float
    unit: str

    @property
    def holds(self) -> bool:
        """Whether there is as much as needed."""
        return self.measured is not None and self.measured >= self.needed


@dataclass(frozen=True, slots=True)
class Verdict:
    """A supply, a hose or a compressor judged by itself, with everything that was looked at."""

    subject: str
    reasons: tuple[Reason, ...]

    @property
    def enough(self) -> bool:
        """Whether everything holds; nothing looked at is not enough."""
        return bool(self.reasons) and all(reason.holds for reason in self.reasons)

    @property
    def short(self) -> tuple[Reason, ...]:
        """What does not hold."""
        return tuple(reason for reason in self.reasons if not reason.holds)


def judge_supply(
    supply: str,
    available_scf: float | None,
    need: SupplyNeed,
    pressure_psig: float | None,
    least_psig: float,
) -> Verdict:
    """One supply judged by itself: air for all who breathe from it, and pressure to feed the manifold.

    Rule G5. Source: USN Diving Manual Rev 4 Change A, p. 6-28, 8-18 [P].
    """
    return Verdict(
        supply,
        (
            Reason("air in the supply", available_scf, need.total_scf, "scf"),
            Reason("pressure in the supply", pressure_psig, least_psig, "psig"),
        ),
    )


def judge_compressor(
    name: str,
    rated_scfm: float | None,
    rated_psig: float | None,
    need_scfm: float,
    manifold_minimum_psig: float,
) -> Verdict:
    """A compressor judged by its plate: flow and pressure, both.

    Rule G5; its endurance is `bank.volume_tank_scf`. The plate is for 70 F, 14.7 psia and 36 % humidity.
    Source: USN Diving Manual Rev 4 Change A, p. 8-19 [P].
    """
    return Verdict(
        name,
        (
            Reason("flow of the compressor", rated_scfm, need_scfm, "scfm"),
            Reason("pressure of the compressor", rated_psig, manifold_minimum_psig, "psig"),
        ),
    )
