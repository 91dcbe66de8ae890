"""What the gear register knows: items with their history in short, and the outfits they are parts of."""

from dataclasses import dataclass
from enum import StrEnum
from typing import Final


class GearKind(StrEnum):
    """What an item is. Parts of the outfits after 46 CFR 197.346; the rest is the plant behind them."""

    HELMET = "helmet"
    BREASTPLATE = "breastplate"
    STRAPS = "straps"
    DRESS = "dress"
    HARNESS = "harness"
    WEIGHTS = "weights"
    SHOES = "shoes"
    KNIFE = "knife"
    HOSE = "hose"
    PNEUMO_HOSE = "pneumo_hose"
    LIFELINE = "lifeline"
    VOICE_CABLE = "voice_cable"
    NON_RETURN_VALVE = "non_return_valve"
    AIR_VALVE = "air_valve"
    RELIEF_VALVE = "relief_valve"
    CYLINDER = "cylinder"
    GAUGE = "gauge"
    CLOCK = "clock"
    COMPRESSOR = "compressor"
    VOLUME_TANK = "volume_tank"
    BANK = "bank"
    CHAMBER = "chamber"
    CHAMBER_PIPING = "chamber_piping"
    STAGE = "stage"
    VOICE_SET = "voice_set"
    FIRST_AID = "first_aid"


class OutfitKind(StrEnum):
    """Which outfit a diver wears."""

    DEEP_SEA = "deep_sea"
    FREE_FLOW = "free_flow"
    DEMAND = "demand"


class Work(StrEnum):
    """What is done to an item and falls due again."""

    CALIBRATION = "calibration"
    PRESSURE_TEST = "pressure_test"
    TENSILE_TEST = "tensile_test"
    EXAMINATION = "examination"
    LEAK_TEST = "leak_test"
    AIR_SAMPLE = "air_sample"
    CHECK = "check"
    SERVICE = "service"


STATION: Final = "station"
"""The use of gear that every dive of the station hangs on."""


@dataclass(frozen=True, slots=True)
class Item:
    """One piece of gear. `matched` is the number that it shares with the parts it belongs to.

    `for_use` is the diver whom a gauge or cylinder outside an outfit serves, or `STATION` for what serves
    them all (compressor, bank, clock); empty: a part of an outfit, or in the store.
    """

    serial: str
    kind: GearKind
    title: str
    outfit: str = ""
    matched: str = ""
    for_use: str = ""
    rated_psig: float | None = None


@dataclass(frozen=True, slots=True)
class WorkDone:
    """A test or service as it was entered: `entry` names the entry, so that it can be struck out."""

    entry: str
    work: Work
    day: str
    who: str
    what: str
    passed: bool
    certificate: str = ""


@dataclass(frozen=True, slots=True)
class Fault:
    """Something wrong with an item; it is out of service while one is open."""

    entry: str
    day: str
    who: str
    what: str


@dataclass(frozen=True, slots=True)
class ItemState:
    """An item with all that counts of its history; the history itself stays in the register.

    `repaired` is the day of the last repair, which makes some tests due again.
    """

    item: Item
    added: str
    works: tuple[WorkDone, ...] = ()
    faults: tuple[Fault, ...] = ()
    repaired: str = ""
    retired: str = ""


@dataclass(frozen=True, slots=True)
class Outfit:
    """An outfit by its name; its parts are the items that name it."""

    name: str
    kind: OutfitKind


@dataclass(frozen=True, slots=True)
class Gear:
    """All gear of the register as it stands now."""

    items: tuple[ItemState, ...] = ()
    outfits: tuple[Outfit, ...] = ()

    def find(self, serial: str) -> ItemState | None:
        """The item of this serial, None when the register has none."""
        return next((each for each in self.items if each.item.serial == serial), None)

    def outfit(self, name: str) -> Outfit | None:
        """The outfit of this name, None when the register has none."""
        return next((each for each in self.outfits if each.name == name), None)

    def serving(self, use: str) -> tuple[ItemState, ...]:
        """The items outside an outfit that serve a diver, or the station, and are not retired."""
        return tuple(each for each in self.items if each.item.for_use == use and not each.retired)

    def parts(self, outfit: str) -> tuple[ItemState, ...]:
        """The parts of an outfit that are not retired."""
        return tuple(each for each in self.items if each.item.outfit == outfit and not each.retired)
