"""Whether an outfit is whole: every part there, matched parts of one number, every part fit for use."""

from collections import Counter
from dataclasses import dataclass
from typing import Final

from station.prepare.duties import Blocker, Duty, item_blockers
from station.prepare.gear import Gear, GearKind, ItemState, OutfitKind
from station.prepare.sources import COMMON_PRACTICE


@dataclass(frozen=True, slots=True)
class OutfitRule:
    """What an outfit of a kind must hold, and which of its parts bear one number."""

    parts: tuple[GearKind, ...]
    matched: tuple[GearKind, ...]
    source: str


_HOSE_GROUP: Final = (GearKind.HOSE, GearKind.PNEUMO_HOSE, GearKind.LIFELINE, GearKind.VOICE_CABLE)

OUTFIT_RULES: Final[dict[OutfitKind, OutfitRule]] = {
    OutfitKind.DEEP_SEA: OutfitRule(
        (
            GearKind.HELMET,
            GearKind.BREASTPLATE,
            GearKind.STRAPS,
            GearKind.NON_RETURN_VALVE,
            GearKind.AIR_VALVE,
            GearKind.DRESS,
            GearKind.SHOES,
            GearKind.WEIGHTS,
            GearKind.KNIFE,
            *_HOSE_GROUP,
        ),
        (GearKind.HELMET, GearKind.BREASTPLATE, GearKind.STRAPS),
        f"parts: 46 CFR 197.346(b); one number on helmet, breastplate and straps: {COMMON_PRACTICE}",
    ),
    OutfitKind.FREE_FLOW: OutfitRule(
        (
            GearKind.HELMET,
            GearKind.NON_RETURN_VALVE,
            GearKind.HARNESS,
            GearKind.DRESS,
            GearKind.WEIGHTS,
            GearKind.KNIFE,
            *_HOSE_GROUP,
        ),
        (),
        "parts: 46 CFR 197.346(d)",
    ),
    OutfitKind.DEMAND: OutfitRule(
        (
            GearKind.HELMET,
            GearKind.NON_RETURN_VALVE,
            GearKind.HARNESS,
            GearKind.DRESS,
            GearKind.WEIGHTS,
            GearKind.KNIFE,
            GearKind.CYLINDER,
            *_HOSE_GROUP,
        ),
        (),
        "parts: 46 CFR 197.346(d); the diver's own cylinder: 46 CFR 197.432(e)(7)",
    ),
}
"""By the kind of the outfit."""


def outfit_blockers(gear: Gear, name: str, duties: tuple[Duty, ...], day: str) -> tuple[Blocker, ...]:
    """Everything that keeps an outfit from being ready today; empty when it is whole."""
    outfit = gear.outfit(name)
    if outfit is None:
        return (Blocker(f"outfit:{name}:unknown", f"there is no outfit {name!r} in the register"),)
    rule = OUTFIT_RULES[outfit.kind]
    parts = gear.parts(name)
    found = _missing(name, rule, parts) + _mismatched(name, rule, parts)
    return found + tuple(each for part in parts for each in item_blockers(part, duties, day))


def _missing(name: str, rule: OutfitRule, parts: tuple[ItemState, ...]) -> tuple[Blocker, ...]:
    counts = Counter(part.item.kind for part in parts)
    missing = tuple(
        Blocker(f"outfit:{name}:missing:{kind}", f"{name} has no {kind.replace('_', ' ')}", rule.source)
        for kind in rule.parts
        if not counts[kind]
    )
    # Two helmets in one outfit: nobody knows which one was inspected.
    doubled = tuple(
        Blocker(f"outfit:{name}:doubled:{kind}", f"{name} has {counts[kind]} of {kind.replace('_', ' ')}")
        for kind in rule.matched
        if counts[kind] > 1
    )
    return missing + doubled


def _mismatched(name: str, rule: OutfitRule, parts: tuple[ItemState, ...]) -> tuple[Blocker, ...]:
    of_a_set = [part.item for part in parts if part.item.kind in rule.matched]
    if len({item.matched for item in of_a_set}) <= 1 and all(item.matched for item in of_a_set):
        return ()
    numbers = ", ".join(f"{item.kind} {item.matched or 'no number'}" for item in of_a_set)
    return (
        Blocker(f"outfit:{name}:mismatch", f"{name}: parts of different numbers: {numbers}", rule.source),
    )
