"""The air of a dive that is planned: need by phase, each supply against it, what to set, what to carry.

Rules G1 to G7, R-28. A pure function for the plan's `air` key; the ascent comes as the plan has it.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from station.core.air.ascents import air_legs
from station.core.air.emergency_gas import FLOODABLE_CUFT_OF, emergency_need
from station.core.air.equipment import EQUIPMENT, minimum_manifold_psig
from station.core.air.flow import CONSUMPTION, flow_scfm
from station.core.air.hose_rating import judge_hose
from station.core.air.need import Breathing, air_need, at_worst_moment, standby_breathing, supply_need
from station.core.air.numbers import ASCENT_RATE_FSW_MIN, EMERGENCY_REGULATOR_PSI
from station.core.air.reserve import RESERVES
from station.core.air.setting import settings_to
from station.core.air.supplies import least_of, supply_content
from station.core.air.verdict import Verdict, judge_supply
from station.core.decompression.legs import Leg
from station.core.settings import SupplyRole, SupplySettings

Json = dict[str, object]


@dataclass(frozen=True, slots=True)
class HosePlan:
    """A breathing hose as its plate says; None is not known."""

    name: str
    working_psig: float | None
    burst_psig: float | None


@dataclass(frozen=True, slots=True)
class AirAsked:
    """What an air plan is asked for.

    `depth_fsw` as it enters the table, `bottom_s` and `ascent` as planned, `divers` how many dive together
    in `equipment`; `supplies` each with its pressure in psig. `cylinder` is the size that each carries,
    `back_s` how long he needs at depth to get back to the stage.
    """

    depth_fsw: float
    bottom_s: float
    ascent: tuple[Leg, ...]
    equipment: str
    supplies: tuple[tuple[SupplySettings, float | None], ...]
    divers: int = 1
    standby: bool = True
    rules: str = "USN"
    cylinder: str | None = None
    back_s: float = 120.0
    hoses: tuple[HosePlan, ...] = ()


def air_plan(asked: AirAsked) -> Json:
    """The air of a planned dive as the `air` key of a plan; figures that have no source are null."""
    acfm = CONSUMPTION[asked.equipment].acfm
    legs = air_legs(asked.ascent)
    divers = tuple(
        Breathing(f"diver {place}", acfm, asked.depth_fsw, asked.bottom_s, legs)
        for place in range(1, asked.divers + 1)
    )
    manifold = minimum_manifold_psig(EQUIPMENT[asked.equipment], asked.depth_fsw)
    return {
        "equipment": asked.equipment,
        "acfm": acfm,
        "flow_scfm": round(flow_scfm(asked.depth_fsw, acfm, asked.divers), 2),
        "rules": asked.rules,
        "need": _need(divers[0]),
        "settings": [
            {
                "depth_fsw": row.depth_fsw,
                "over_bottom_psi": row.over_bottom_psi,
                "normal_psig": _rounded(row.normal_psig),
                "minimum_psig": _rounded(row.minimum_psig),
            }
            for row in settings_to(EQUIPMENT[asked.equipment], asked.depth_fsw)
        ],
        "supplies": [_supply(asked, each, psig, divers, manifold) for each, psig in asked.supplies],
        "emergency_gas": _emergency(asked, acfm),
        "hoses": [_hose(asked, hose, manifold) for hose in asked.hoses],
    }


def _need(diver: Breathing) -> Json:
    """What one diver needs, by phase."""
    need = air_need(diver)
    return {
        "bottom_scf": round(need.bottom_scf, 1),
        "travel_scf": round(need.travel_scf, 1),
        "stops_scf": round(need.stops_scf, 1),
        "total_scf": round(need.total_scf, 1),
    }


def _supply(
    asked: AirAsked,
    supply: SupplySettings,
    psig: float | None,
    divers: Sequence[Breathing],
    manifold_psig: float | None,
) -> Json:
    """One supply judged by itself; without a manifold minimum nothing can be judged."""
    bound = tuple(divers) if supply.role is SupplyRole.PRIMARY else at_worst_moment(divers)
    if asked.standby:
        bound = (*bound, standby_breathing(bound, "standby", divers[0].acfm))
    need = supply_need(bound, RESERVES[asked.rules])
    told: Json = {
        "name": supply.name,
        "role": supply.role.value,
        "kind": supply.kind.value,
        "pressure_psig": psig,
        "needed_scf": need.total_scf,
        "reserve_scf": round(need.reserve_scf, 1),
    }
    if manifold_psig is None:
        return {**told, "least_psig": None, "usable_scf": None, "enough": None, "reasons": []}
    least = least_of(supply.kind, manifold_psig)
    content = supply_content(supply, psig, least)
    usable = None if content is None else content.usable_scf
    verdict = judge_supply(supply.name, usable, need, psig, least)
    return {**told, "least_psig": round(least, 1), "usable_scf": _rounded(usable), **_verdict(verdict)}


def _emergency(asked: AirAsked, acfm: float) -> Json | None:
    """What the carried cylinder must hold to get its diver to the first stop, or to the surface."""
    if asked.cylinder is None:
        return None
    stops = [leg.from_fsw for leg in asked.ascent if leg.from_fsw == leg.to_fsw]
    need = emergency_need(
        asked.depth_fsw,
        asked.back_s,
        FLOODABLE_CUFT_OF[asked.cylinder],
        acfm,
        first_stop_fsw=max(stops, default=0.0),
    )
    return {
        "cylinder": asked.cylinder,
        "back_s": asked.back_s,
        "regulator_psi": EMERGENCY_REGULATOR_PSI,
        "ascent_fsw_min": ASCENT_RATE_FSW_MIN,
        "total_scf": round(need.total_scf, 2),
        "needed_psig": round(need.needed_psig, 1),
        "required_psig": need.required_psig,
    }


def _hose(asked: AirAsked, hose: HosePlan, manifold_psig: float | None) -> Json:
    verdict = judge_hose(hose.name, hose.working_psig, hose.burst_psig, manifold_psig or 0.0, asked.depth_fsw)
    return {"name": hose.name, **_verdict(verdict)}


def _verdict(verdict: Verdict) -> Json:
    return {
        "enough": verdict.enough,
        "reasons": [
            {
                "what": reason.what,
                "measured": _rounded(reason.measured),
                "needed": _rounded(reason.needed),
                "unit": reason.unit,
                "holds": reason.holds,
            }
            for reason in verdict.reasons
        ],
    }


def _rounded(value: float | None) -> float | None:
    return None if value is None else round(value, 1)
