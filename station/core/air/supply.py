"""A diver's supply: measured pressure, the minimum it must have, the margin between them. Rules G1, G2."""

from dataclasses import dataclass

from shared.gauges import Channel
from station.core.air.breathing import supply_in_use
from station.core.air.equipment import EQUIPMENT, minimum_manifold_psig
from station.core.depth import table_fsw_of
from station.core.finding import diver_named, diver_settings
from station.core.known_depth import present_known
from station.core.phase import Phase
from station.core.state import State, Trust
from station.core.timekeeping import phase_of
from station.core.typed import Pressure, pressure_of

_LEFT = frozenset({Phase.ASCENDING, Phase.AT_STOP, Phase.SURFACED, Phase.CHAMBER, Phase.DONE})
"""The bottom is left: nothing deeper than the present depth lies ahead."""


@dataclass(frozen=True, slots=True)
class Supply:
    """What a diver breathes from. Pressures in psig, margin in psi; None is not known.

    `falls_psi_min` is the fall of the pressure per minute when it is falling, `margin_left_min` the
    minutes until the margin is gone at that fall. `typed`: somebody read the pressure and typed it.
    """

    source: str
    pressure_psig: float | None
    required_psig: float | None
    margin_psi: float | None
    trust: Trust
    age_s: float | None
    last_psig: float | None
    falls_psi_min: float | None
    margin_left_min: float | None
    typed: bool = False


@dataclass(frozen=True, slots=True)
class Bank:
    """One supply's store of air; pressure in psig, None when it is not known."""

    name: str
    title: str
    pressure_psig: float | None
    trust: Trust
    age_s: float | None


def required_at_fsw(state: State, diver_name: str) -> float | None:
    """The table depth in fsw that the minimum pressure is worked for. Rule G2.

    Until the bottom is left: the deepest of planned, maximum and present depth, because that pressure is
    what protects a diver who falls (USN Diving Manual Rev 4, p. 8-27). Then the present depth; while the
    gauge is silent, the last one known. Whole fsw, as in rule D2: the bands of the dress are printed so, and
    a hundredth over one must not cost a band. None when a depth is beyond the printed corrections.
    """
    diver = diver_named(state, diver_name)
    tolerance_fsw = state.settings.parameters.gauge_rounding_fsw
    left = phase_of(diver) in _LEFT
    present_fsw = present_known(diver, diver_settings(state, diver_name).hose_ft)
    gauge_fsw = _deepest_of(present_fsw, None if left else diver.deepest_fsw)
    if gauge_fsw is None:
        return None if left else diver.planned_depth_fsw
    at_fsw = table_fsw_of(gauge_fsw, tolerance_fsw)
    return at_fsw if left or at_fsw is None else _deepest_of(at_fsw, diver.planned_depth_fsw)


def _deepest_of(*depths_fsw: float | None) -> float | None:
    return max((depth for depth in depths_fsw if depth is not None), default=None)


def supply_of(state: State, diver_name: str) -> Supply:
    """The supply of a diver at the state's instant. Raises KeyError for a diver that is not there."""
    settings = diver_settings(state, diver_name)
    pressure = pressure_of(state, Channel.SUPPLY, diver_name)
    at_fsw = required_at_fsw(state, diver_name)
    required = None if at_fsw is None else minimum_manifold_psig(EQUIPMENT[settings.equipment], at_fsw)
    margin = None if pressure.psig is None or required is None else pressure.psig - required
    falls = fall_psi_min(pressure, state.settings.parameters.least_fall_psi_min)
    return Supply(
        supply_in_use(state, diver_named(state, diver_name)),
        pressure.psig,
        required,
        margin,
        pressure.trust,
        pressure.age_s,
        pressure.last_psig,
        falls,
        None if falls is None or margin is None else max(margin, 0.0) / falls,
        pressure.typed,
    )


def fall_psi_min(pressure: Pressure, least_psi_min: float) -> float | None:
    """The fall of a pressure per minute, None while it is not falling by more than the noise of its gauge."""
    trend = pressure.trend_psi_min
    return -trend if trend is not None and -trend >= least_psi_min else None


def banks_of(state: State) -> tuple[Bank, ...]:
    """Every supply of the station with what its bank shows, in the order of the settings."""
    return tuple(_bank(state, supply.name, supply.title) for supply in state.settings.supplies)


def _bank(state: State, name: str, title: str) -> Bank:
    pressure = pressure_of(state, Channel.BANK, name)
    return Bank(name, title, pressure.psig, pressure.trust, pressure.age_s)
