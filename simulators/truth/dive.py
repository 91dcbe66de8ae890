"""The whole dive as one function of time: every diver's depth, hose and supply, every bank."""

from dataclasses import dataclass, replace

from simulators.truth.air_plant import Bank, Breathing, Regulator, drawn_from
from simulators.truth.hose import Hose
from simulators.truth.profile import Profile
from simulators.truth.sea import Heave, Sea


@dataclass(frozen=True, slots=True)
class DiverModel:
    """Everything that moves one diver's gauges.

    `moments` are the true instants of his dive (name, seconds), as the scenario's legs name them; `shifts`
    when he is shifted to another supply (seconds, supply), in the order of time.
    """

    name: str
    supply: str
    profile: Profile
    heave: Heave
    hose: Hose
    breathing: Breathing
    regulator: Regulator
    moments: tuple[tuple[str, float], ...] = ()
    shifts: tuple[tuple[float, str], ...] = ()

    def supply_at(self, at_s: float) -> str:
        """What he breathes from at an instant."""
        begun = [supply for from_s, supply in self.shifts if from_s <= at_s]
        return begun[-1] if begun else self.supply

    def uses(self) -> tuple[tuple[str, Breathing, Profile], ...]:
        """Each supply that he breathes from, with how and for how long."""
        ends = (*(from_s for from_s, _ in self.shifts), self.breathing.to_s)
        begins = ((self.breathing.from_s, self.supply), *self.shifts)
        return tuple(
            (supply, replace(self.breathing, from_s=from_s, to_s=max(from_s, to_s)), self.profile)
            for (from_s, supply), to_s in zip(begins, ends, strict=True)
        )


@dataclass(frozen=True, slots=True)
class DiverMoment:
    """One diver at one instant. `hose_fsw` is what stands at the upper end of his hose, waves and all."""

    name: str
    depth_fsw: float
    hose_fsw: float
    supply_psig: float


@dataclass(frozen=True, slots=True)
class BankMoment:
    """One bank at one instant."""

    supply: str
    pressure_psig: float


@dataclass(frozen=True, slots=True)
class Moment:
    """The truth at one instant, in milliseconds of the scenario; divers and banks in its order."""

    at_ms: int
    divers: tuple[DiverMoment, ...]
    banks: tuple[BankMoment, ...]


@dataclass(frozen=True, slots=True)
class Truth:
    """The dive that never happened: a pure function of time.

    A diver whose supply has no bank here breathes from a source that never falls.
    """

    sea: Sea
    divers: tuple[DiverModel, ...]
    banks: tuple[Bank, ...]

    def at(self, at_ms: int) -> Moment:
        """The truth at an instant."""
        at_s = at_ms / 1000.0
        users = [use for diver in self.divers for use in diver.uses()]
        banks = tuple(
            BankMoment(bank.supply, bank.pressure_psig(drawn_from(bank, users, at_s))) for bank in self.banks
        )
        pressures_psig = {bank.supply: bank.pressure_psig for bank in banks}
        divers = tuple(self._diver(diver, at_s, pressures_psig) for diver in self.divers)
        return Moment(at_ms, divers, banks)

    def _diver(self, diver: DiverModel, at_s: float, banks_psig: dict[str, float]) -> DiverMoment:
        planned_fsw = diver.profile.depth_fsw(at_s)
        heave_fsw = diver.heave.offset_fsw(at_s, planned_fsw)
        chop_fsw = self.sea.chop_fsw(at_s, planned_fsw)
        shown_fsw = diver.hose.shown_fsw(diver.profile, at_s)
        flow_scfm = diver.breathing.flow_scfm(diver.profile, at_s)
        bank_psig = banks_psig.get(diver.supply_at(at_s), float("inf"))
        return DiverMoment(
            diver.name,
            depth_fsw=max(planned_fsw + heave_fsw, 0.0),
            hose_fsw=max(shown_fsw + heave_fsw + chop_fsw, 0.0),
            supply_psig=diver.regulator.pressure_psig(at_s, flow_scfm, bank_psig),
        )
