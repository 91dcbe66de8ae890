"""Registers as files for other hands: the whole history as JSON, a gear list or a crew list as TOML.

`read_history` takes back what `write_history` wrote, entry for entry. `read_gear` and `read_people` take
lists that people write by hand; each becomes entries whose uid comes from their words, so that bringing a
list twice adds nothing. All that is wrong with a file is told at once.
"""

from hashlib import sha256
from pathlib import Path
from typing import Final, TypeVar, cast

from shared.toml_file import Section, parse_toml
from station.checklists.reading import words
from station.plain import Plain, canonical, parse
from station.prepare.gear import Gear, GearKind, Item, Outfit, OutfitKind, Work
from station.prepare.gear_acts import AddItem, AddOutfit, FindFault, GearAct, GearEntry, RecordWork
from station.prepare.people import AddPerson, Fit, PersonAct, PersonEntry, Qualification, Qualify, Skill
from station.register.codec import from_plain, to_plain
from station.register.fault import RegisterFault

SCHEMA: Final = "overbottom-register-history/1"

MOST_RATED_PSIG: Final = 20_000.0
"""No item is rated higher; a slip of the finger is told of. Own choice."""

E = TypeVar("E", GearEntry, PersonEntry)


def write_history(entries: tuple[GearEntry, ...] | tuple[PersonEntry, ...]) -> str:
    """Every entry of a register as JSON text, in order."""
    plain: Plain = {"schema": SCHEMA, "entries": [to_plain(entry) for entry in entries]}
    return canonical(plain).decode() + "\n"


def read_history(path: Path, text: str, kind: type[E]) -> tuple[E, ...]:
    """The entries that `write_history` wrote. Raises RegisterFault with every reason."""
    try:
        plain = parse(text)
    except ValueError as error:
        raise RegisterFault(path, (f"not JSON: {error}",)) from error
    if not isinstance(plain, dict) or plain.get("schema") != SCHEMA:
        raise RegisterFault(path, (f"is no history of a register ({SCHEMA})",))
    rows = plain.get("entries")
    if not isinstance(rows, list):
        raise RegisterFault(path, ("entries: an array is needed",))
    entries: list[E] = []
    reasons: list[str] = []
    for place, row in enumerate(rows, 1):
        try:
            entries.append(cast(E, from_plain(row, kind)))
        except ValueError as error:
            reasons.append(f"entry {place}: {error}")
    if reasons:
        raise RegisterFault(path, tuple(reasons))
    return tuple(entries)


def read_gear(path: str, text: str, utc: str, by: str) -> tuple[GearEntry, ...]:
    """The entries of a gear list in TOML. Raises FileFault with every problem."""
    top = parse_toml(path, text)
    acts: list[GearAct] = []
    names = [_outfit(each, acts) for each in top.tables("outfit")]
    _complain_of_twins(top.tables("outfit"), "name", names)
    sections = top.tables("item", least=1)
    serials = [_item(each, names, acts) for each in sections]
    _complain_of_twins(sections, "serial", serials)
    top.finish()
    return tuple(GearEntry(uid, utc, by, act) for uid, act in _named(acts))


def _outfit(section: Section, acts: list[GearAct]) -> str:
    outfit = Outfit(section.text("name"), section.choice("kind", OutfitKind))
    acts.append(AddOutfit(outfit))
    return outfit.name


def _item(section: Section, outfits: list[str], acts: list[GearAct]) -> str:
    outfit = section.text("outfit", "")
    if outfit and outfit not in outfits:
        section.complain("outfit", f"no [[outfit]] is named {outfit!r}")
    item = Item(
        serial=section.text("serial"),
        kind=section.choice("kind", GearKind),
        title=section.text("title"),
        outfit=outfit,
        matched=section.text("matched", ""),
        for_use=section.text("for_use", ""),
        rated_psig=section.number("rated_psig", 0.0, MOST_RATED_PSIG) if section.has("rated_psig") else None,
    )
    acts.append(AddItem(item))
    acts.extend(_work(each, item.serial) for each in section.tables("work"))
    acts.extend(FindFault(item.serial, fault) for fault in section.texts("faults", ()))
    return item.serial


def _work(section: Section, serial: str) -> RecordWork:
    return RecordWork(
        serial=serial,
        work=section.choice("work", Work),
        day=section.day("day"),
        who=section.text("who"),
        what=section.text("what"),
        passed=section.flag("passed", default=True),
        certificate=section.text("certificate", ""),
    )


def read_people(path: str, text: str, utc: str, by: str) -> tuple[PersonEntry, ...]:
    """The entries of a crew list in TOML. Raises FileFault with every problem."""
    top = parse_toml(path, text)
    acts: list[PersonAct] = []
    sections = top.tables("person", least=1)
    names = [_person(section, acts) for section in sections]
    _complain_of_twins(sections, "name", names)
    top.finish()
    return tuple(PersonEntry(uid, utc, by, act) for uid, act in _named(acts))


def _complain_of_twins(sections: tuple[Section, ...], key: str, values: list[str]) -> None:
    for place, (section, value) in enumerate(zip(sections, values, strict=True)):
        if value and value in values[:place]:
            section.complain(key, f"{value} stands twice")


def _person(section: Section, acts: list[PersonAct]) -> str:
    name = section.text("name")
    acts.append(AddPerson(name))
    skills = words(section, "can", Skill, ())
    until = section.day("qualified_until") if section.has("qualified_until") else ""
    certificate = section.text("certificate", "")
    acts.extend(Qualify(name, Qualification(skill, until, certificate)) for skill in skills)
    if section.has("fit_until"):
        acts.append(Fit(name, section.day("fit_until"), section.text("doctor")))
    return name


A = TypeVar("A")


def _named(acts: list[A]) -> list[tuple[str, A]]:
    """Each act under a uid of its own words; the same words twice are the same entry."""
    named = [("list:" + sha256(canonical(to_plain(act))).hexdigest(), act) for act in acts]
    return list(dict(named).items())


def write_gear(gear: Gear) -> str:
    """The gear as it stands as a list that `read_gear` takes; what is retired is left out."""
    lines = ["# The gear as it stands. The history is in the register and in its JSON.", ""]
    for outfit in gear.outfits:
        lines += ["[[outfit]]", *_pairs({"name": outfit.name, "kind": outfit.kind.value}), ""]
    for state in gear.items:
        if state.retired:
            continue
        item = state.item
        texts = {"serial": item.serial, "kind": item.kind.value, "title": item.title, "outfit": item.outfit}
        lines += ["[[item]]", *_pairs({**texts, "matched": item.matched, "for_use": item.for_use})]
        lines += [] if item.rated_psig is None else [f"rated_psig = {item.rated_psig!r}"]
        own = {done.entry for done in state.works if not done.passed}
        faults = [_text(fault.what) for fault in state.faults if fault.entry not in own]
        lines += [f"faults = [{', '.join(faults)}]"] if faults else []
        for done in state.works:
            texts = {"work": done.work.value, "who": done.who, "what": done.what}
            lines += ["[[item.work]]", f"day = {done.day}", f"passed = {str(done.passed).lower()}"]
            lines += _pairs({**texts, "certificate": done.certificate})
        lines.append("")
    return "\n".join(lines)


def _pairs(texts: dict[str, str]) -> list[str]:
    return [f"{key} = {_text(value)}" for key, value in texts.items() if value]


def _text(value: str) -> str:
    """A basic string of TOML; JSON's escapes are among those that TOML knows."""
    return canonical(value).decode().replace("\x7f", "\\u007f")
