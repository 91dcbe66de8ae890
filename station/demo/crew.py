"""The demo as acts and entries: what a first day at the invented lock begins with."""

from importlib.resources import files
from typing import Final

from station.checklists.shipped import load_checklists, load_codes, load_profiles
from station.prepare.acts import BringLists, DeskAct, WearOutfit
from station.prepare.gear_acts import GearEntry
from station.prepare.locks import PlaceLock
from station.prepare.people import PersonEntry
from station.prepare.plan import DivePlan, Emergency, Hazard, SetPlan
from station.prepare.profile import Asked, ChooseProfile, Exposure
from station.prepare.signals import BringCode
from station.prepare.team import Assign, Post, Seat
from station.register.exchange import read_gear, read_people

DEMO_DAY: Final = "2031-05-02"
DEMO_UTC: Final = f"{DEMO_DAY}T06:00:00Z"
STOREKEEPER: Final = "P. Rusk"
SUPERVISOR: Final = "K. Dahlin"
DIVER: Final = "Diver 1"
STANDBY: Final = "Standby"


def demo_gear() -> tuple[GearEntry, ...]:
    """The entries of the demo's gear register."""
    return read_gear("gear.toml", _text("gear.toml"), DEMO_UTC, STOREKEEPER)


def demo_people() -> tuple[PersonEntry, ...]:
    """The entries of the demo's register of people."""
    return read_people("crew.toml", _text("crew.toml"), DEMO_UTC, STOREKEEPER)


def demo_acts(profile: str = "own") -> tuple[DeskAct, ...]:
    """What the demo's supervisor does before anybody touches a list: people, outfits, plan, rules, locks."""
    chosen = next(each for each in load_profiles() if each.key == profile)
    seats = (
        Seat(Post.SUPERVISOR, SUPERVISOR),
        Seat(Post.DIVER, "T. Osk", DIVER),
        Seat(Post.TENDER, "P. Rusk", DIVER),
        Seat(Post.TENDER, "H. Brask", DIVER),
        Seat(Post.STANDBY, "J. Lindal", STANDBY),
        Seat(Post.LOG_KEEPER, "A. Morl"),
    )
    return (
        ChooseProfile(chosen),
        BringLists(load_checklists()),
        BringCode(load_codes()[0]),
        *(Assign(seat) for seat in seats),
        WearOutfit(DIVER, "Outfit A"),
        WearOutfit(STANDBY, "Outfit S"),
        SetPlan(demo_plan(tuple(seat.person for seat in seats))),
        PlaceLock("T-17", Hazard.GATE, "upper gate, both leaves", SUPERVISOR),
        PlaceLock("T-18", Hazard.INTAKE, "filling culvert", SUPERVISOR),
    )


def demo_plan(briefed: tuple[str, ...]) -> DivePlan:
    """The plan of the demo's first dive: a look at the sill of an invented lock gate."""
    return DivePlan(
        diver=DIVER,
        dive=1,
        site="Sennebrook Lock, gate 3 (invented)",
        purpose="look at the sill plate, measure the gap",
        water="fresh, 9 C, sees 3 ft, no current with the culvert shut, silt bottom",
        weather="dry, wind west 8 kn",
        mode="air in the water",
        schedule="60/30, no stop",
        contingencies=("70/30, no stop", "60/40, no stop"),
        air_plan="compressor, secondary bank of 6; figures on the air board",
        exposure=Exposure(depth_fsw=60, bottom_min=30, outside_no_stop=False, stops_min=0, heavy_gear=True),
        emergency=Emergency(
            numbers=("lock keeper 11 (invented)", "rescue 00 (invented)"),
            medical_officer="Dr. Vesterholt, 12 (invented)",
            chamber="Sennebrook harbour clinic (invented), 25 min by road",
            evacuation="van at the gate, driver H. Brask",
        ),
        hazards=(Hazard.GATE, Hazard.INTAKE),
        provided=(Asked.RESERVE, Asked.SPARE_HOSE),
        briefed=briefed,
    )


def _text(name: str) -> str:
    return files("station.demo").joinpath(name).read_text(encoding="utf-8")
