"""The air of a planned dive: need by phase, supplies with reasons, what to set and to carry."""

import json
from dataclasses import replace

import pytest

from station.core.air.planned import AirAsked, HosePlan, air_plan
from station.core.decompression.answers import Gas
from station.core.decompression.legs import Leg, What
from station.core.settings import SupplyKind, SupplyRole, SupplySettings

BANK = SupplySettings("primary", "Bank A", volume_cuft=6.48)
UP = (
    Leg(98, 20, 0, 156, Gas.AIR, What.TRAVEL, ""),
    Leg(20, 20, 156, 336, Gas.OXYGEN, What.STOP, ""),
    Leg(20, 0, 336, 376, Gas.AIR, What.TRAVEL, ""),
    Leg(0, 50, 376, 400, Gas.OXYGEN, What.COMPRESSION, ""),
)
ASKED = AirAsked(99.0, 1790.0, UP, "demand-helmet", ((BANK, 2150.0),))


def test_need_is_told_by_phase():
    """Bottom 30 min at 4 ata: 168 scf; travel 3 min at 59 and 1 at 10; the stop as air, no chamber."""
    need = air_plan(ASKED)["need"]
    assert need["bottom_scf"] == pytest.approx(4 * 1.4 * 30, abs=0.1)
    assert need["travel_scf"] == pytest.approx(1.4 * (3 * 92 / 33 + 43 / 33), abs=0.1)
    assert need["stops_scf"] == pytest.approx(1.4 * 3 * 53 / 33, abs=0.1)


def test_each_supply_is_judged_by_itself_with_reasons():
    """A bank that holds enough, one that does not, and one whose pressure nobody knows."""
    supplies = ((BANK, 2150.0), (BANK, 700.0), (BANK, None))
    full, low, unknown = air_plan(replace(ASKED, supplies=supplies))["supplies"]
    assert (full["enough"], low["enough"], unknown["enough"]) == (True, False, False)
    assert [reason["holds"] for reason in low["reasons"]] == [False, True]
    assert full["least_psig"] == pytest.approx(99 * 0.445 + 135 + 200, abs=0.1)
    # 4 flasks of 1.62: the handbook's content down to the least pressure (USN Diving Manual Rev 4, p. 7-14).
    assert full["usable_scf"] <= 6.48 * (2150 - full["least_psig"]) / 14.7


def test_a_secondary_is_judged_from_the_worst_moment():
    """Bottom time used up: only the ascents; a compressor by its tank, without the 200 psi of a flask."""
    secondary = SupplySettings("b", "B", SupplyKind.COMPRESSOR, SupplyRole.SECONDARY, 12.0)
    plan = air_plan(replace(ASKED, supplies=((BANK, 2150.0), (secondary, 250.0))))
    primary, other = plan["supplies"]
    assert other["needed_scf"] < primary["needed_scf"]
    assert other["least_psig"] == pytest.approx(99 * 0.445 + 135, abs=0.1)
    hour = air_plan(replace(ASKED, rules="46 CFR 197"))["supplies"][0]
    assert hour["reserve_scf"] == pytest.approx(2 * 60 * 4 * 1.4, abs=0.1)


def test_settings_hoses_and_cylinder():
    """The over-bottom band changes at 60; a hose is rated for 100 psi over the depth; no stop is passed."""
    plan = air_plan(replace(ASKED, cylinder="72", hoses=(HosePlan("umbilical", 100.0, 600.0),)))
    assert {row["depth_fsw"]: row["over_bottom_psi"] for row in plan["settings"]}[60.0] == 90
    assert plan["settings"][-1]["over_bottom_psi"] == 135
    assert plan["hoses"][0]["enough"] is False
    assert plan["emergency_gas"]["required_psig"] % 100 == 0
    assert plan["emergency_gas"]["needed_psig"] <= plan["emergency_gas"]["required_psig"]
    assert json.loads(json.dumps(plan)) == plan


def test_deeper_than_the_dress_goes_nothing_is_judged():
    """At 191 fsw no pressure is printed for a demand helmet: no verdict, not a good one."""
    supply = air_plan(replace(ASKED, depth_fsw=191.0))["supplies"][0]
    assert (supply["enough"], supply["least_psig"]) == (None, None)
