"""Who breathes from what: a diver's post in the station file, and every shift since. Rule O2.

Diver-carried gas or the station's reserve in use ends the working interval: 29 CFR 1910.422(i)(4).
"""

from dataclasses import replace

from station.core.facts import Fact
from station.core.finding import diver_settings, supply_settings
from station.core.inputs import EMERGENCY_GAS, OperatorEvent, ShiftSupply
from station.core.marking import refused
from station.core.settings import SupplyRole
from station.core.state import DiverState, State, SupplyShift


def supply_in_use(state: State, diver: DiverState) -> str:
    """The name of the supply that a diver breathes from, or EMERGENCY_GAS."""
    return diver_settings(state, diver.name).supply if diver.shift is None else diver.shift.supply


def shift_supply(
    state: State, diver: DiverState, event: OperatorEvent, act: ShiftSupply
) -> tuple[DiverState, tuple[Fact, ...]]:
    """The diver on another supply, or the reason why not."""
    reason = _why_not(state, diver, act)
    if reason:
        return diver, refused(event, reason)
    return replace(diver, shift=SupplyShift(state.now, act.supply, act.reason, event.by)), ()


def _why_not(state: State, diver: DiverState, act: ShiftSupply) -> str:
    if not act.reason.strip():
        return "a shift needs a reason"
    if act.supply == supply_in_use(state, diver):
        return f"{diver.name} breathes from {act.supply} already"
    if act.supply == EMERGENCY_GAS:
        carries = diver_settings(state, diver.name).emergency_gas is not None
        return "" if carries else f"{diver.name} carries no emergency gas in the station file"
    if all(supply.name != act.supply for supply in state.settings.supplies):
        return f"there is no supply {act.supply!r} at this station"
    return ""


def is_on_reserve(state: State, diver: DiverState) -> bool:
    """Whether he was shifted from his post to his own cylinder, or to a secondary or reserve supply."""
    if diver.shift is None or diver.shift.supply == diver_settings(state, diver.name).supply:
        return False
    if diver.shift.supply == EMERGENCY_GAS:
        return True
    return supply_settings(state, diver.shift.supply).role is not SupplyRole.PRIMARY
