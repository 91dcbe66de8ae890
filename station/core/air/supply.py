"""A diver's supply: measured pressure, the minimum it must have, the margin between them. Rules G1, G2."""

from dataclasses import dataclass

from shared.gauges import Channel
from station.core.air.equipment import EQUIPMENT, minimum_manifold_psig
from station.core.depth import table_fsw_of
from station.core.finding import diver_named, diver_settings, gauge_of, gauge_state
from station.core.phase import Phase
from station.core.state import DiverState, GaugeState, State, Trust
from station.core.timekeeping import phase_of
from station.core.trust import age_s

_LEFT = frozenset({Phase.ASCENDING, Phase.AT_STOP, Phase.SURFACED, Phase.CHAMBER, Phase.DONE})
"""The bottom is left: nothing deeper than the present depth lies ahead."""


@dataclass(frozen=True, slots=True)
class Supply:
    """What a diver breathes from. Pressures in psig, margin in psi; None is not known.

    `falls_psi_min` is the fall of the pressure per minute when it is falling, `margin_left_min` the
    minutes until the margin is gone at that fall.
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
    gauge_fsw = _deepest_of(_present_fsw(diver), None if left else diver.deepest_fsw)
    if gauge_fsw is None:
        return None if left else diver.planned_depth_fsw
    at_fsw = table_fsw_of(gauge_fsw, tolerance_fsw)
    return at_fsw if left or at_fsw is None else _deepest_of(at_fsw, diver.planned_depth_fsw)


def _present_fsw(diver: DiverState) -> float | None:
    """The steady depth, for air flowing in the hose must not cost a band; else the last that is known."""
    if diver.steady_fsw is not None:
        return diver.steady_fsw
    if diver.shown_fsw is not None:
        return diver.shown_fsw
    return diver.history[-1].value if diver.history else None


def _deepest_of(*depths_fsw: float | None) -> float | None:
    return max((depth for depth in depths_fsw if depth is not None), default=None)


def supply_of(state: State, diver_name: str) -> Supply:
    """The supply of a diver at the state's instant. Raises KeyError for a diver that is not there."""
    settings = diver_settings(state, diver_name)
    gauge = gauge_of(state, Channel.SUPPLY, diver_name)
    heard = GaugeState("") if gauge is None else gauge_state(state, gauge.name)
    at_fsw = required_at_fsw(state, diver_name)
    required = None if at_fsw is None else minimum_manifold_psig(EQUIPMENT[settings.equipment], at_fsw)
    margin = None if heard.shown is None or required is None else heard.shown - required
    falls = _fall(heard, state.settings.parameters.least_fall_psi_min)
    return Supply(
        settings.supply,
        heard.shown,
        required,
        margin,
        heard.trust,
        age_s(heard, state.now),
        None if heard.last is None else heard.last.value,
        falls,
        None if falls is None or margin is None else max(margin, 0.0) / falls,
    )


def _fall(heard: GaugeState, least_psi_min: float) -> float | None:
    trend = heard.trend_per_min
    return -trend if trend is not None and -trend >= least_psi_min else None


def banks_of(state: State) -> tuple[Bank, ...]:
    """Every supply of the station with what its bank shows, in the order of the settings."""
    return tuple(_bank(state, supply.name, supply.title) for supply in state.settings.supplies)


def _bank(state: State, name: str, title: str) -> Bank:
    gauge = gauge_of(state, Channel.BANK, name)
    heard = GaugeState("") if gauge is None else gauge_state(state, gauge.name)
    return Bank(name, title, heard.shown, heard.trust, age_s(heard, state.now))
