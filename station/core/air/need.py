"""Need: the air that divers must still be given, from now to the surface. Rule G5."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from station.core.air.flow import flow_scfm
from station.core.air.reserve import Reserve
from station.core.air.rounding import minutes_up, up


@dataclass(frozen=True, slots=True)
class AscentLeg:
    """One piece of an ascent: travel between two depths, or a stop where both are the same."""

    from_fsw: float
    to_fsw: float
    seconds: float


@dataclass(frozen=True, slots=True)
class Breathing:
    """What one diver is still to do on a supply: so long on the bottom at a depth, then the ascent."""

    name: str
    acfm: float
    depth_fsw: float
    bottom_s: float
    ascent: tuple[AscentLeg, ...]


@dataclass(frozen=True, slots=True)
class AirNeed:
    """One diver's need in scf."""

    name: str
    bottom_scf: float
    travel_scf: float
    stops_scf: float

    @property
    def ascent_scf(self) -> float:
        """Air for travel and stops."""
        return self.travel_scf + self.stops_scf

    @property
    def total_scf(self) -> float:
        """Air for all that is left."""
        return self.bottom_scf + self.ascent_scf


@dataclass(frozen=True, slots=True)
class SupplyNeed:
    """What one supply must give: each diver's need, the reserve, and their sum in whole scf, up."""

    divers: tuple[AirNeed, ...]
    reserve_scf: float
    total_scf: int


def leg_scf(leg: AscentLeg, acfm: float) -> float:
    """Air for one leg in scf: whole minutes, up, at its average depth.

    Rule G5. Source: USN Diving Manual Rev 4 Change A, p. 8-3: ascent of 6:20 from 190 fsw is 7 min at 95 fsw
    [P]; the same rounding for every leg [own].
    """
    average_fsw = (leg.from_fsw + leg.to_fsw) / 2
    return flow_scfm(average_fsw, acfm) * minutes_up(leg.seconds)


def bottom_scf(depth_fsw: float, acfm: float, bottom_s: float) -> float:
    """Air for the bottom in scf: the time up to the next whole minute, at its depth.

    Rule G5. Source: USN Diving Manual Rev 4 Change A, p. 8-2, 8-3 [P].
    """
    return flow_scfm(depth_fsw, acfm) * minutes_up(bottom_s)


def air_need(diver: Breathing) -> AirNeed:
    """One diver's need: bottom, ascent at average depth, each stop at its depth.

    Rule G5. Source: USN Diving Manual Rev 4 Change A, p. 8-2, 8-3 [P].
    """
    stops = [leg for leg in diver.ascent if leg.from_fsw == leg.to_fsw]
    travel = [leg for leg in diver.ascent if leg.from_fsw != leg.to_fsw]
    return AirNeed(
        diver.name,
        bottom_scf(diver.depth_fsw, diver.acfm, diver.bottom_s),
        sum((leg_scf(leg, diver.acfm) for leg in travel), 0.0),
        sum((leg_scf(leg, diver.acfm) for leg in stops), 0.0),
    )


def ascent_min(ascent: Iterable[AscentLeg]) -> int:
    """Minutes to bring a diver up by these legs, up."""
    return minutes_up(sum(leg.seconds for leg in ascent))


def standby_breathing(divers: Sequence[Breathing], name: str, acfm: float) -> Breathing:
    """The standby diver, counted in full from now: he does what the neediest diver has still to do.

    Rule G5. Source: USN Diving Manual Rev 4 Change A, p. 8-18: his reserve is extra to the working divers
    [P]; "in full" [own]. Raises ValueError when nobody dives.
    """
    if not divers:
        raise ValueError("no diver in the water: nothing that a standby would be sent to")
    neediest = max(divers, key=lambda diver: air_need(replace(diver, acfm=acfm)).total_scf)
    return replace(neediest, name=name, acfm=acfm)


def at_worst_moment(divers: Iterable[Breathing]) -> tuple[Breathing, ...]:
    """The divers when the primary fails at the worst moment: bottom time used up, the whole ascent to come.

    Rule G5: from there the secondary must bring everybody up. Source: USN Diving Manual Rev 4 Change A,
    p. 8-18 [P].
    """
    return tuple(replace(diver, bottom_s=0.0) for diver in divers)


def supply_need(divers: Sequence[Breathing], reserve: Reserve) -> SupplyNeed:
    """What one supply must give to every diver who breathes from it, with the profile's reserve.

    Rule G5: each supply by itself, never summed. The reserve is so many minutes for each diver at his depth.
    Source: USN Diving Manual Rev 4 Change A, p. 8-18 [P].
    """
    needs = tuple(air_need(diver) for diver in divers)
    reserve_scf = sum((flow_scfm(diver.depth_fsw, diver.acfm) * reserve.extra_min for diver in divers), 0.0)
    total_scf = sum((need.total_scf for need in needs), reserve_scf)
    return SupplyNeed(needs, reserve_scf, up(total_scf))
