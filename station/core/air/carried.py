"""The cylinder that a diver carries: how long it lasts where he is, and what it should hold. Rule G7."""

from dataclasses import dataclass

from station.core.air.emergency_gas import (
    FLOODABLE_CUFT_OF,
    EmergencyEndurance,
    EmergencyNeed,
    emergency_endurance,
    emergency_need,
)
from station.core.air.flow import CONSUMPTION
from station.core.depth import table_fsw_of
from station.core.finding import diver_settings
from station.core.known_depth import present_known
from station.core.settings import EmergencyGas
from station.core.state import DiverState, State


@dataclass(frozen=True, slots=True)
class Carried:
    """A diver's emergency gas at the depth where he is taken to be, on deck at the planned depth.

    The pressure is what was told before the dive: nobody reads it from the surface.
    """

    gas: EmergencyGas
    depth_fsw: float
    endurance: EmergencyEndurance
    need: EmergencyNeed


def carried_by(state: State, diver: DiverState) -> Carried | None:
    """The emergency gas of a diver; None where he carries none, or no depth is known or planned."""
    settings, p = diver_settings(state, diver.name), state.settings.parameters
    gas = settings.emergency_gas
    gauge_fsw = present_known(diver, settings.hose_ft)
    at_fsw = None if gauge_fsw is None else table_fsw_of(gauge_fsw, p.gauge_rounding_fsw)
    if at_fsw is None or at_fsw <= p.in_water_fsw:
        at_fsw = diver.planned_depth_fsw
    if gas is None or at_fsw is None:
        return None
    volume, acfm = FLOODABLE_CUFT_OF[gas.cylinder], CONSUMPTION[settings.equipment].acfm
    return Carried(
        gas,
        at_fsw,
        emergency_endurance(gas.pressure_psig, at_fsw, volume, acfm, regulator_psi=gas.regulator_psi),
        emergency_need(at_fsw, p.back_to_stage_s, volume, acfm, regulator_psi=gas.regulator_psi),
    )
