"""The thresholds of the shipped profiles against the law, each with its source beside it."""

from dataclasses import replace

import pytest

from station.checklists.shipped import load_profiles
from station.prepare.gear import GearKind, Work
from station.prepare.profile import Asked, Exposure, Profile, asks

PROFILES = {each.key: each for each in load_profiles()}
SHALLOW = Exposure(depth_fsw=50, bottom_min=20, outside_no_stop=False, stops_min=0, heavy_gear=False)


def _asked(profile: str, asked: Asked, dive: Exposure) -> bool:
    return asks(PROFILES[profile], asked, dive) is not None


# The greatest depth that asks for nothing, and the source of the rule.
DEPTHS = [
    ("osha", Asked.CHAMBER, 100, "29 CFR 1910.425(b)(2)"),
    ("osha", Asked.STANDBY, 100, "29 CFR 1910.425(c)(4)"),
    ("osha", Asked.TENDER_EACH, 100, "29 CFR 1910.425(c)(4)"),
    ("osha", Asked.RESERVE, 100, "29 CFR 1910.425(c)(4)(iv)"),
    ("osha", Asked.CARRIED_RESERVE, 100, "29 CFR 1910.425(c)(4)"),  # from memory, unverified
    ("osha", Asked.STAGE, 100, "29 CFR 1910.425(c)(4)"),  # from memory, unverified
    ("osha", Asked.NEAR_CHAMBER, 100, "29 CFR 1910.423(b)(2)"),
    ("uscg", Asked.RESERVE, 130, "46 CFR 197.432(e)(1)"),
    ("uscg", Asked.CHAMBER, 130, "46 CFR 197.432(e)(2)"),
    ("uscg", Asked.STAGE, 130, "46 CFR 197.432(e)(3)"),
    ("uscg", Asked.TENDER_EACH, 130, "46 CFR 197.432(e)(5)"),
    ("uscg", Asked.STANDBY, 130, "46 CFR 197.432(e)(6)"),
    ("uscg", Asked.CARRIED_RESERVE, 130, "46 CFR 197.432(e)(7)"),
    ("uscg", Asked.NEAR_CHAMBER, 130, "46 CFR 197.410(a)(8)"),  # from memory, unverified
]


@pytest.mark.parametrize(("profile", "asked", "depth_fsw", "source"), DEPTHS)
def test_deeper_than_the_figure_or_outside_no_stop(
    profile: str, asked: Asked, depth_fsw: float, source: str
) -> None:
    """Asked from a foot below the figure on; outside the no-stop limits at any depth."""
    at = replace(SHALLOW, depth_fsw=depth_fsw)
    assert not _asked(profile, asked, at)
    deeper = asks(PROFILES[profile], asked, replace(at, depth_fsw=depth_fsw + 1))
    assert deeper is not None
    assert deeper.source.startswith(source)
    assert _asked(profile, asked, replace(SHALLOW, outside_no_stop=True))


@pytest.mark.parametrize(
    ("profile", "depth_fsw", "bottom_min", "too_deep"),
    [
        ("osha", 190, 60, False),  # 29 CFR 1910.425(b)(1): not deeper than 190 fsw
        ("osha", 191, 31, True),
        ("osha", 220, 30, False),  # to 220 fsw with a bottom time of 30 min or less
        ("osha", 221, 30, True),
        ("uscg", 189, 60, False),  # 46 CFR 197.432(a): less than 190 fsw
        ("uscg", 190, 31, True),
        ("uscg", 190, 30, False),
        ("uscg", 220, 30, False),
        ("uscg", 221, 30, True),
        ("own", 190, 10, True),
    ],
)
def test_depth_limits(profile: str, depth_fsw: float, bottom_min: float, too_deep: bool) -> None:
    """To 190 in one law, less than 190 in the other; to 220 in both for thirty minutes."""
    dive = replace(SHALLOW, depth_fsw=depth_fsw, bottom_min=bottom_min)
    assert _asked(profile, Asked.DEPTH_LIMIT, dive) == too_deep


@pytest.mark.parametrize("profile", ["osha", "uscg", "own"])
def test_a_bell_beyond_120_minutes_in_the_water_but_not_in_heavy_gear(profile: str) -> None:
    """29 CFR 1910.425(b)(3); 46 CFR 197.432(e)(4)."""
    at = replace(SHALLOW, outside_no_stop=True, stops_min=120)
    assert not _asked(profile, Asked.BELL, at)
    assert _asked(profile, Asked.BELL, replace(at, stops_min=121))
    assert not _asked(profile, Asked.BELL, replace(at, stops_min=121, heavy_gear=True))


def test_heavy_gear_carries_no_reserve_but_needs_a_spare_hose() -> None:
    """46 CFR 197.432(e)(7), 197.346(c)."""
    heavy = replace(SHALLOW, depth_fsw=140, heavy_gear=True)
    assert not _asked("uscg", Asked.CARRIED_RESERVE, heavy)
    assert _asked("uscg", Asked.SPARE_HOSE, heavy)
    assert not _asked("uscg", Asked.SPARE_HOSE, replace(heavy, heavy_gear=False))


@pytest.mark.parametrize("profile", ["osha", "uscg", "own"])
def test_the_hour_by_the_chamber(profile: str) -> None:
    """29 CFR 1910.423(b)(2): one hour."""
    rule = asks(PROFILES[profile], Asked.NEAR_CHAMBER, replace(SHALLOW, outside_no_stop=True))
    assert rule is not None
    assert rule.wait_min == 60


@pytest.mark.parametrize(
    ("profile", "work", "kind", "months"),
    [
        ("osha", Work.CALIBRATION, GearKind.GAUGE, 6),  # 29 CFR 1910.430(g)(2)
        ("osha", Work.PRESSURE_TEST, GearKind.HOSE, 12),  # 29 CFR 1910.430(c)(1)(iii)
        ("osha", Work.AIR_SAMPLE, GearKind.COMPRESSOR, 6),  # 29 CFR 1910.430(b)(4), from memory, unverified
        ("uscg", Work.CALIBRATION, GearKind.GAUGE, 6),  # 46 CFR 197.458(a)
        ("uscg", Work.CALIBRATION, GearKind.CLOCK, 6),  # 46 CFR 197.458(a)
        ("uscg", Work.PRESSURE_TEST, GearKind.HOSE, 24),  # 46 CFR 197.456(a)(1)
        ("uscg", Work.TENSILE_TEST, GearKind.HOSE, None),  # 46 CFR 197.456(a)(2)
        ("uscg", Work.EXAMINATION, GearKind.VOLUME_TANK, 12),  # 46 CFR 197.462(b)
        ("uscg", Work.LEAK_TEST, GearKind.CHAMBER, 36),  # 46 CFR 197.462(c)(2)
        ("uscg", Work.PRESSURE_TEST, GearKind.CHAMBER_PIPING, 36),  # 46 CFR 197.462(c)(1)
    ],
)
def test_intervals_of_tests(profile: str, work: Work, kind: GearKind, months: int | None) -> None:
    """Each interval as the law gives it, and tested again after repair."""
    (duty,) = [each for each in PROFILES[profile].duties if each.work is work and kind in each.kinds]
    assert duty.every_months == months
    assert duty.after_repair


@pytest.mark.parametrize("profile", PROFILES.values(), ids=lambda each: each.key)
def test_every_rule_says_what_it_asks_and_where_from(profile: Profile) -> None:
    """Words and source on every row; the profile is versioned, and the law stands above it."""
    assert profile.version >= 1
    assert "law" in profile.stands_above.lower()
    for row in (*profile.thresholds, *profile.duties):
        assert row.says
        assert row.source


def test_the_own_rules_are_never_laxer_than_either_law() -> None:
    """The example of own rules asks in heavy gear for whatever both laws ask for."""
    for depth_fsw in range(10, 230, 10):
        for outside in (False, True):
            dive = replace(SHALLOW, depth_fsw=depth_fsw, outside_no_stop=outside, heavy_gear=True)
            for asked in Asked:
                if _asked("osha", asked, dive) and _asked("uscg", asked, dive):
                    assert _asked("own", asked, dive), (asked, depth_fsw, outside)
