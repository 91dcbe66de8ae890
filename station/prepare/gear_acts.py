"""What people enter in the gear register; nothing entered is ever changed, only struck out by a later act."""

from dataclasses import dataclass

from station.prepare.gear import Gear, Item, Outfit, Work


@dataclass(frozen=True, slots=True)
class AddItem:
    """A piece of gear comes into the register."""

    item: Item


@dataclass(frozen=True, slots=True)
class AddOutfit:
    """An outfit is made up; parts are fitted to it afterwards."""

    outfit: Outfit


@dataclass(frozen=True, slots=True)
class RecordWork:
    """A test or service was done on `day` by `who`; one that did not pass is a fault as well."""

    serial: str
    work: Work
    day: str
    who: str
    what: str
    passed: bool
    certificate: str = ""


@dataclass(frozen=True, slots=True)
class StrikeWork:
    """The entry of a test was wrong and no longer counts; it stays readable."""

    serial: str
    entry: str
    reason: str


@dataclass(frozen=True, slots=True)
class FindFault:
    """Something is wrong with an item: out of service from now on."""

    serial: str
    what: str


@dataclass(frozen=True, slots=True)
class SignBack:
    """A fault is put right; `repaired` says that the item was opened or mended, not only looked at."""

    serial: str
    fault: str
    done: str
    repaired: bool


@dataclass(frozen=True, slots=True)
class FitPart:
    """An item becomes a part of an outfit, or of none."""

    serial: str
    outfit: str


@dataclass(frozen=True, slots=True)
class Retire:
    """An item is taken out of use for good."""

    serial: str
    reason: str


@dataclass(frozen=True, slots=True)
class GearNote:
    """Words on an item for its history."""

    serial: str
    text: str


GearAct = AddItem | AddOutfit | RecordWork | StrikeWork | FindFault | SignBack | FitPart | Retire | GearNote

GEAR_ACTS: dict[str, type] = {
    "add_item": AddItem,
    "add_outfit": AddOutfit,
    "record_work": RecordWork,
    "strike_work": StrikeWork,
    "find_fault": FindFault,
    "sign_back": SignBack,
    "fit_part": FitPart,
    "retire": Retire,
    "gear_note": GearNote,
}
"""The acts by their stored names."""


@dataclass(frozen=True, slots=True)
class GearEntry:
    """An act in the register: `uid` names it for ever, so that bringing it twice adds nothing.

    `utc` is when it was entered (RFC 3339), `by` who entered it.
    """

    uid: str
    utc: str
    by: str
    act: GearAct


@dataclass(frozen=True, slots=True)
class BringGear:
    """The register as it stands is laid on the desk: the watch's record can be replayed without the file."""

    gear: Gear
