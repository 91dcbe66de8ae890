"""The keys of the status that tell of hose and air; see `station.present.status`."""

from typing import Any

from station.core.air.carried import carried_by
from station.core.air.supplies import Air, SupplyAir
from station.core.depth import Depth
from station.core.pairing import pair_of
from station.core.state import DiverState, State
from station.core.typed import typed_age_s
from station.present.sentences import utc_text

Keys = dict[str, Any]


def _rounded(value: float | None, digits: int) -> float | None:
    return None if value is None else round(value, digits) + 0.0


def depth_status(state: State, diver: DiverState, depth: Depth) -> Keys:
    """The further keys of a depth.

    `at_least_fsw` is the reading while the hose is unproven and `bound_fsw` what it cannot hide more than,
    null where nothing bounds it; `max_by` says what the maximum rests on: gauge, bound or plan. `typed_fsw`
    is the last depth that somebody typed, `other_fsw` what a second gauge shows.
    """
    pair = pair_of(state, state.gauges, diver, state.now)
    at_least = depth.trust.value == "at_least"
    return {
        "at_least_fsw": _rounded(depth.gauge_fsw, 2) if at_least else None,
        "bound_fsw": _rounded(depth.bound_fsw, 2),
        "max_by": depth.max_by.value,
        "deepest_read_fsw": _rounded(diver.deepest_read_fsw, 2),
        "other_fsw": None if pair is None else _rounded(pair.check_fsw, 2),
        "typed_fsw": None if diver.typed is None else _rounded(diver.typed.depth_fsw, 1),
        "typed_by": None if diver.typed is None else diver.typed.read_by.value,
        "typed_age_s": _rounded(typed_age_s(state, diver), 1),
    }


def hose_status(state: State, diver: DiverState) -> Keys | None:
    """A diver's hose: how far it is believed and why not, when it was blown and what it settled at.

    Null where his gauge stands at no hose. `blow_seen_at` is a blow that nobody has confirmed.
    """
    hose = diver.hose
    if hose is None:
        return None
    return {
        "state": hose.trust.value,
        "why": None if hose.why is None else hose.why.value,
        "blown_at": None if hose.blown_at is None else utc_text(state, hose.blown_at),
        "blown_fsw": _rounded(hose.blown_fsw, 2),
        "blow_seen_at": None if diver.blow_seen is None else utc_text(state, diver.blow_seen),
    }


def air_status(state: State, air: Air) -> list[Keys]:
    """Every supply: what it has, how long it lasts and by what, how long coming up takes.

    `needed_min`, `needed_scf` and what follows are null while nobody is in the water.
    """
    return [_supply(state, supply) for supply in air.supplies]


def _supply(state: State, supply: SupplyAir) -> Keys:
    settings, left, need = supply.settings, supply.left, supply.need
    covers = supply.covers_until
    return {
        "name": settings.name,
        "title": settings.title,
        "kind": settings.kind.value,
        "role": settings.role.value,
        "pressure_psig": _rounded(supply.pressure.psig, 0),
        "typed": supply.pressure.typed,
        "falls_psi_min": _rounded(supply.falls_psi_min, 1),
        "least_psig": _rounded(supply.least_psig, 1),
        "breathing": list(supply.breathing),
        "left_min": left.left_min,
        "left_by": None if left.left_by is None else left.left_by.value,
        "left_measured_min": left.measured_min,
        "left_computed_min": left.computed_min,
        "needed_min": supply.needed_min,
        "usable_scf": _rounded(supply.usable_scf, 0),
        "needed_scf": None if need is None else need.total_scf,
        "reserve_scf": None if need is None else _rounded(need.reserve_scf, 0),
        "enough": supply.is_enough,
        "covers_until_utc": None if covers is None else utc_text(state, covers),
        "trust": supply.pressure.trust.value,
    }


def emergency_status(state: State, diver: DiverState) -> Keys | None:
    """The cylinder that a diver carries, and how long it lasts at `depth_fsw`; null where he carries none."""
    carried = carried_by(state, diver)
    if carried is None:
        return None
    return {
        "cylinder": carried.gas.cylinder,
        "pressure_psig": _rounded(carried.gas.pressure_psig, 0),
        "depth_fsw": _rounded(carried.depth_fsw, 1),
        "left_min": carried.endurance.minutes,
        "required_psig": _rounded(carried.need.required_psig, 0),
    }
