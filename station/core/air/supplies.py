"""The air board: what each supply still gives, against what bringing everybody up would take. Rules G3 to G6.

Each supply is judged by itself, never summed. A primary must bring up those who breathe from it; a secondary
or a reserve everybody in the water, from the worst moment. The standby is counted in full on the supply of
his post, and the profile's reserve on top.
"""

from dataclasses import dataclass, replace

from shared.clock import Instant, after
from shared.gauges import Channel
from shared.units import S_PER_MIN
from station.core.air.ascents import AirAscent, ascent_now
from station.core.air.bank import Content, content_of, least_bank_psig, volume_tank_scf
from station.core.air.breathing import supply_in_use
from station.core.air.endurance import Endurance, LeftBy, endurance, lines_cross_min
from station.core.air.equipment import EQUIPMENT, minimum_manifold_psig
from station.core.air.flow import CONSUMPTION, flow_scfm
from station.core.air.need import Breathing, SupplyNeed, at_worst_moment, standby_breathing, supply_need
from station.core.air.reserve import RESERVES
from station.core.air.rounding import minutes_up
from station.core.air.supply import fall_psi_min, required_at_fsw
from station.core.books import Books
from station.core.depth import table_fsw_of
from station.core.finding import diver_settings
from station.core.known_depth import present_known
from station.core.phase import IN_WATER, Phase
from station.core.settings import Role, SupplyKind, SupplyRole, SupplySettings
from station.core.state import DiverState, State
from station.core.timekeeping import phase_of
from station.core.typed import Pressure, pressure_of

NOT_KNOWN = Endurance(None, None, None, None)
"""How long a supply lasts when nothing is known of it, or nobody is in the water."""


@dataclass(frozen=True, slots=True)
class InWater:
    """One diver in the water, as air sees him: what he breathes from, where he is, how he comes up.

    `lead_s` is how long the team needs until he leaves the bottom; 0 when he has left it.
    """

    diver: DiverState
    supply: str
    acfm: float
    depth_fsw: float
    ascent: AirAscent
    lead_s: float
    minimum_psig: float | None

    @property
    def flow_scfm(self) -> float:
        """What he uses where he is."""
        return flow_scfm(self.depth_fsw, self.acfm)

    @property
    def up_s(self) -> float:
        """Seconds from the call to the surface."""
        return self.lead_s + self.ascent.seconds

    @property
    def breathing(self) -> Breathing:
        """What he still breathes if he is called now."""
        return Breathing(self.diver.name, self.acfm, self.depth_fsw, self.lead_s, self.ascent.legs)


@dataclass(frozen=True, slots=True)
class SupplyAir:
    """One supply. Pressures in psig, air in scf; None is not known, or nobody is in the water.

    `breathing` are those in the water who breathe from it, `posts` all whose supply it now is. `content`
    counts down to `least_psig`; `left` is how long that lasts at the present use (where nobody breathes from
    it, for those whom it would bring up), `needed_min` how long it takes to bring them up if they are called
    now, `covers_until` when the two meet. `need` is what bringing up takes, standby and reserve included.
    """

    settings: SupplySettings
    pressure: Pressure
    falls_psi_min: float | None
    breathing: tuple[str, ...]
    posts: tuple[str, ...]
    least_psig: float | None = None
    flow_scfm: float = 0.0
    content: Content | None = None
    left: Endurance = NOT_KNOWN
    needed_min: int | None = None
    need: SupplyNeed | None = None
    covers_until: Instant | None = None

    @property
    def usable_scf(self) -> float | None:
        """The air that can still be drawn from it."""
        return None if self.content is None else self.content.usable_scf

    @property
    def is_enough(self) -> bool | None:
        """Whether it holds what bringing up takes; None where that cannot be told."""
        usable = self.usable_scf
        return None if usable is None or self.need is None else usable >= self.need.total_scf


@dataclass(frozen=True, slots=True)
class Air:
    """The air of the station: its supplies in the order of the settings, and who is in the water."""

    supplies: tuple[SupplyAir, ...]
    in_water: tuple[InWater, ...]

    @property
    def up_s(self) -> float | None:
        """Seconds from the call until everybody is at the surface; None with nobody in the water."""
        return max((one.up_s for one in self.in_water), default=None)

    def supply(self, name: str) -> SupplyAir:
        """One supply. Raises KeyError when there is none of that name."""
        for supply in self.supplies:
            if supply.settings.name == name:
                return supply
        raise KeyError(name)


def air_of(state: State, books: Books) -> Air:
    """The air of the station at the state's instant: a pure function of state and tables."""
    phases = [(diver, phase_of(diver)) for diver in state.divers]
    inside = (_in_water(state, diver, phase, books) for diver, phase in phases if phase in IN_WATER)
    in_water = tuple(one for one in inside if one is not None)
    ready = tuple(diver for diver, phase in phases if phase is Phase.DRESSED)
    supplies = (_supply_air(state, supply, in_water, ready) for supply in state.settings.supplies)
    return Air(tuple(supplies), in_water)


def _in_water(state: State, diver: DiverState, phase: Phase, books: Books) -> InWater | None:
    """None where no depth is known of him at all."""
    settings, p = diver_settings(state, diver.name), state.settings.parameters
    gauge_fsw = present_known(diver, settings.hose_ft)
    if gauge_fsw is None:
        gauge_fsw = diver.deepest_fsw if diver.deepest_fsw is not None else diver.planned_depth_fsw
    if gauge_fsw is None:
        return None
    depth_fsw = table_fsw_of(gauge_fsw, p.gauge_rounding_fsw) or gauge_fsw
    at_fsw = required_at_fsw(state, diver.name)
    on_bottom = phase in (Phase.DESCENDING, Phase.ON_BOTTOM)
    return InWater(
        diver,
        supply_in_use(state, diver),
        CONSUMPTION[settings.equipment].acfm,
        depth_fsw,
        ascent_now(state, diver, books, gauge_fsw),
        float(state.settings.order_lead_s) if on_bottom else 0.0,
        None if at_fsw is None else minimum_manifold_psig(EQUIPMENT[settings.equipment], at_fsw),
    )


def _supply_air(
    state: State, supply: SupplySettings, in_water: tuple[InWater, ...], ready: tuple[DiverState, ...]
) -> SupplyAir:
    pressure = pressure_of(state, Channel.BANK, supply.name)
    users = tuple(one for one in in_water if one.supply == supply.name)
    posts = tuple(diver.name for diver in state.divers if supply_in_use(state, diver) == supply.name)
    found = SupplyAir(
        supply,
        pressure,
        fall_psi_min(pressure, state.settings.parameters.least_fall_psi_min),
        tuple(one.diver.name for one in users),
        posts,
    )
    bound = in_water if supply.role is not SupplyRole.PRIMARY else users
    minima = [one.minimum_psig for one in bound]
    if not bound or any(minimum is None for minimum in minima):
        return found
    least = least_of(supply.kind, max(minimum for minimum in minima if minimum is not None))
    return _weighed(state, replace(found, least_psig=least), bound, users or bound, ready)


def least_of(kind: SupplyKind, manifold_minimum_psig: float) -> float:
    """The pressure down to which a supply counts: a volume tank feeds the manifold directly. Rules G4, G5."""
    return manifold_minimum_psig if kind is SupplyKind.COMPRESSOR else least_bank_psig(manifold_minimum_psig)


def _weighed(
    state: State,
    found: SupplyAir,
    bound: tuple[InWater, ...],
    users: tuple[InWater, ...],
    ready: tuple[DiverState, ...],
) -> SupplyAir:
    """The supply with what it still gives, and what bringing up those bound to it takes."""
    least, psig = found.least_psig or 0.0, found.pressure.psig
    content = supply_content(found.settings, psig, least)
    flow = sum(one.flow_scfm for one in users)
    usable = None if content is None else content.usable_scf
    falls = found.falls_psi_min if found.breathing else None
    left = endurance(psig, least, falls, usable, flow)
    needed_min = minutes_up(max(one.up_s for one in bound))
    crosses = None if left.left_min is None else lines_cross_min(left.left_min, needed_min)
    return replace(
        found,
        flow_scfm=flow,
        content=content,
        left=left,
        needed_min=needed_min,
        need=_need(state, found.settings, bound, ready),
        covers_until=None if crosses is None else after(state.now, crosses * S_PER_MIN),
    )


def supply_content(supply: SupplySettings, psig: float | None, least_psig: float) -> Content | None:
    """The air in a supply down to its least pressure; None where pressure or volume is not known."""
    if psig is None or supply.volume_cuft is None:
        return None
    if supply.kind is SupplyKind.COMPRESSOR:
        tank = volume_tank_scf(supply.volume_cuft, psig, least_psig)
        return Content(tank, None, tank)
    return content_of(supply.volume_cuft, psig, least_psig, supply.temperature_f)


def _need(
    state: State, supply: SupplySettings, bound: tuple[InWater, ...], ready: tuple[DiverState, ...]
) -> SupplyNeed:
    breathing = tuple(one.breathing for one in bound)
    if supply.role is not SupplyRole.PRIMARY:
        breathing = at_worst_moment(breathing)
    for diver in ready:
        settings = diver_settings(state, diver.name)
        if settings.role is Role.STANDBY and supply_in_use(state, diver) == supply.name:
            acfm = CONSUMPTION[settings.equipment].acfm
            breathing = (*breathing, standby_breathing(breathing, diver.name, acfm))
    return supply_need(breathing, RESERVES[state.settings.rules])


def counts_down(supply: SupplyAir) -> bool:
    """Whether its minutes run: somebody breathes from it, and a compressor's tank is seen to fall."""
    if not supply.breathing:
        return False
    falling = supply.left.left_by is LeftBy.MEASURED or supply.left.measured_min is not None
    return supply.settings.kind is SupplyKind.BANK or falling
