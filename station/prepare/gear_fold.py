"""The gear register as a fold: what an entry does to it, or why it cannot be taken."""

from dataclasses import replace
from typing import assert_never

from station.prepare.days import is_day
from station.prepare.gear import Fault, Gear, ItemState, WorkDone
from station.prepare.gear_acts import (
    AddItem,
    AddOutfit,
    FindFault,
    FitPart,
    GearEntry,
    GearNote,
    RecordWork,
    Retire,
    SignBack,
    StrikeWork,
)
from station.prepare.refusal import Refusal

_DAY = slice(0, 10)
"""The day at the head of an RFC 3339 moment."""


def take_gear(gear: Gear, entry: GearEntry) -> Gear | Refusal:
    """The register after one entry, or why it is not taken."""
    if not entry.by.strip():
        return Refusal("an entry in the register needs a name")
    if not is_day(entry.utc[_DAY]):
        return Refusal(f"{entry.utc!r} is no moment such as 2031-05-02T08:14:07Z")
    match entry.act:
        case AddItem():
            return _added(gear, entry, entry.act)
        case AddOutfit(outfit):
            if not outfit.name.strip() or gear.outfit(outfit.name):
                return Refusal(f"an outfit {outfit.name!r} is there already, or the name is blank")
            return replace(gear, outfits=(*gear.outfits, outfit))
        case act:
            found = gear.find(act.serial)
            if found is None:
                return Refusal(f"the register has no item {act.serial!r}")
            if found.retired:
                return Refusal(f"{act.serial} is retired: {found.retired}")
            return _put(gear, _after(gear, found, entry))


def _added(gear: Gear, entry: GearEntry, act: AddItem) -> Gear | Refusal:
    item = act.item
    if not item.serial.strip():
        return Refusal(f"{item.title or item.kind}: a serial is needed")
    if gear.find(item.serial):
        return Refusal(f"serial {item.serial} is in the register already")
    if item.outfit and gear.outfit(item.outfit) is None:
        return Refusal(f"{item.serial}: there is no outfit {item.outfit!r}")
    return replace(gear, items=(*gear.items, ItemState(item, added=entry.utc[_DAY])))


def _put(gear: Gear, after: ItemState | Refusal) -> Gear | Refusal:
    if isinstance(after, Refusal):
        return after
    serial = after.item.serial
    items = tuple(after if each.item.serial == serial else each for each in gear.items)
    return replace(gear, items=items)


def _after(gear: Gear, state: ItemState, entry: GearEntry) -> ItemState | Refusal:
    match entry.act:
        case RecordWork():
            return _worked(state, entry, entry.act)
        case StrikeWork():
            return _struck(state, entry.act)
        case FindFault(what=what):
            return _with_fault(state, Fault(entry.uid, entry.utc[_DAY], entry.by, what))
        case SignBack():
            return _signed_back(state, entry, entry.act)
        case FitPart(outfit=outfit):
            if outfit and gear.outfit(outfit) is None:
                return Refusal(f"there is no outfit {outfit!r}")
            return replace(state, item=replace(state.item, outfit=outfit))
        case Retire(reason=reason):
            return (
                replace(state, retired=reason) if reason.strip() else Refusal("why it is retired is needed")
            )
        case GearNote(text=text):
            return state if text.strip() else Refusal("a note needs words")
        case AddItem() | AddOutfit():
            raise TypeError(f"{type(entry.act).__name__} is about no item yet")
        case _:
            assert_never(entry.act)


def _worked(state: ItemState, entry: GearEntry, act: RecordWork) -> ItemState | Refusal:
    blank = [name for name in ("who", "what") if not getattr(act, name).strip()]
    if blank:
        return Refusal(f"{act.serial}, {act.work}: {' and '.join(blank)} must be given")
    if not is_day(act.day):
        return Refusal(f"{act.serial}, {act.work}: {act.day!r} is no day such as 2031-03-02")
    if act.day > entry.utc[_DAY]:
        return Refusal(f"{act.serial}, {act.work}: {act.day} lies after the day of the entry")
    done = WorkDone(entry.uid, act.work, act.day, act.who, act.what, act.passed, act.certificate)
    after = replace(state, works=(*state.works, done))
    if act.passed:
        return after
    return _with_fault(after, Fault(entry.uid, act.day, act.who, f"{act.work} not passed: {act.what}"))


def _struck(state: ItemState, act: StrikeWork) -> ItemState | Refusal:
    if not act.reason.strip():
        return Refusal("why the entry is struck out is needed")
    kept = tuple(done for done in state.works if done.entry != act.entry)
    if len(kept) == len(state.works):
        return Refusal(f"{act.serial} has no test entered as {act.entry}")
    return replace(state, works=kept)


def _with_fault(state: ItemState, fault: Fault) -> ItemState | Refusal:
    if not fault.what.strip():
        return Refusal("what is wrong must be said")
    return replace(state, faults=(*state.faults, fault))


def _signed_back(state: ItemState, entry: GearEntry, act: SignBack) -> ItemState | Refusal:
    if not act.done.strip():
        return Refusal("what was done about the fault must be said")
    kept = tuple(fault for fault in state.faults if fault.entry != act.fault)
    if len(kept) == len(state.faults):
        return Refusal(f"{act.serial} has no open fault {act.fault}")
    repaired = entry.utc[_DAY] if act.repaired else state.repaired
    return replace(state, faults=kept, repaired=repaired)
