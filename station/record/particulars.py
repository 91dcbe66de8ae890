"""Particulars: what a record must hold and no gauge tells. They are written down as remarks in the log.

A remark such as "Visibility: 3 ft" is the particular `visibility`. The last word holds, earlier ones stay
readable. "not known" at the head of a value, with its reason behind a comma, states a gap: it is no value.
A remark about a diver is a particular of his dive, one about the station of every dive of the log.
"""

from dataclasses import dataclass
from pathlib import Path
from typing import Final

from shared.toml_file import read_toml
from station.record.model import Entry, Told

GAP_WORDS: Final = "not known"
"""How a value begins that states a gap."""

LONGEST_LABEL: Final = 40
"""A remark whose first colon stands further on is plain words. Own choice."""


@dataclass(frozen=True, slots=True)
class Particular:
    """One particular: its stored name, what a remark calls it, what is to be written."""

    key: str
    label: str
    what: str


PARTICULARS: Final[tuple[Particular, ...]] = (
    Particular("contractor", "Contractor", "the diving contractor's name and address"),
    Particular("person_in_charge", "Person in charge", "who is in charge of the whole operation"),
    Particular("supervisor", "Supervisor", "the diving supervisor"),
    Particular("place", "Place", "where the dive was made"),
    Particular("vessel", "Vessel", "the vessel or installation that was dived from"),
    Particular("work", "Work", "what was done"),
    Particular("weather", "Weather", "the surface: wind, sea, air"),
    Particular("visibility", "Visibility", "how far one sees under water"),
    Particular("water_temperature", "Water temperature", "under water"),
    Particular("current", "Current", "under water"),
    Particular("code", "Code of practice", "the approved code that the project follows"),
    Particular("emergency", "Emergency support", "what stands ready: chamber, doctor, transport"),
    Particular("last_exposure", "Last exposure", "repetitive group, or hours since the last dive, or none"),
    Particular("gas", "Breathing gas", "where it is not air"),
    Particular("checked_well", "Checked well", "how the diver was after the dive, asked by whom"),
    Particular("incidents", "Incidents", "what went wrong, or none"),
    Particular("injury", "Injury", "injury or illness, hours unfit for work"),
    Particular("defects", "Defects", "defects of plant found, or none"),
    Particular("deviation", "Deviation", "from which rule, why, what was put right"),
    Particular("dcs", "Decompression sickness", "suspected, or none"),
    Particular("symptoms", "Symptoms", "what, at which depth, when they began"),
    Particular("onset", "Onset", "day of the first symptom, as 2031-05-02"),
    Particular("treatment", "Treatment", "what was done and what came of it"),
    Particular("assessment", "Decompression assessment", "day and place of the written assessment"),
)
"""Every particular, in the order in which a record tells them."""

BY_KEY: Final = {one.key: one for one in PARTICULARS}
_BY_LABEL: Final = {one.label.casefold(): one.key for one in PARTICULARS}


def told_in(text: str) -> tuple[str, str] | None:
    """The particular in a remark, as key and value; None where the remark is plain words."""
    label, colon, value = text.partition(":")
    if not colon or len(label) > LONGEST_LABEL or not value.strip():
        return None
    key = _BY_LABEL.get(" ".join(label.split()).casefold())
    return None if key is None else (key, value.strip())


def told_by(entries: tuple[Entry, ...]) -> tuple[Told, ...]:
    """The particulars among what was done at the windows."""
    found = []
    for entry in entries:
        text = entry.details.get("text")
        if entry.kind == "remark" and not entry.refused and isinstance(text, str):
            told = told_in(text)
            if told is not None:
                found.append(Told(*told, entry.at, entry.by, entry.seq))
    return tuple(found)


def read_particulars(path: Path) -> tuple[Told, ...]:
    """Particulars written after the dive in a TOML file, `key = "value"`. Raises FileFault.

    They are no part of the log: a record marks them as added when it was written.
    """
    top = read_toml(path)
    by = top.text("added_by")
    keys = [key for key in top.present() if key in BY_KEY]
    found = tuple(Told(key, top.text(key), None, by, None) for key in keys)
    top.finish()
    return found


def states_gap(value: str) -> bool:
    """Whether a value says only that it is not known, and why."""
    return value.strip().casefold().startswith(GAP_WORDS)


def holding(told: tuple[Told, ...]) -> dict[str, Told]:
    """The last word on each particular."""
    return {one.key: one for one in told}
