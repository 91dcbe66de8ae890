"""Text for paper and files: entries as sentences, foreign text made harmless, names of files.

Text from a log may be anything. It is never formatted, interpreted or obeyed: what would move a cursor,
turn the writing round or start a formula stands as what it is, and what is too long says so.
"""

import unicodedata
from typing import Final

from shared.clock import Instant
from station.core.settings import Units
from station.present.figures import depth_text
from station.record.model import Entry, MarkMade, Record

LONGEST_TEXT: Final = 2000
"""Characters of one remark that a page or a table shows; JSON and the log hold all. Own choice."""

LONGEST_NAME: Final = 60
"""Characters of a name within the name of a file. Own choice."""

_HIDDEN: Final = frozenset({"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"})
"""Unicode categories that are not seen, or that change how the rest is seen."""

_FORMULA: Final = ("=", "+", "-", "@", "\t", "\r")
"""How a cell begins that a spreadsheet would take for a formula. Common practice, no source."""


def shown(text: str, longest: int = LONGEST_TEXT) -> str:
    """Foreign text on one line as it can be seen; a hidden character as its number, the rest cut and told."""
    more = len(text) - longest
    seen = "".join(_seen(letter) for letter in text[:longest])
    return seen if more <= 0 else f"{seen} [{more} more characters in the log]"


def _seen(letter: str) -> str:
    if letter in "\n\t":
        return " "
    return f"<U+{ord(letter):04X}>" if unicodedata.category(letter) in _HIDDEN else letter


def cell(text: str) -> str:
    """Foreign text for a table: what would be taken for a formula stands behind an apostrophe."""
    seen = shown(text)
    return f"'{seen}" if seen.startswith(_FORMULA) else seen


def slug(name: str) -> str:
    """A name as part of a file's name: letters, digits and hyphens, never empty, never long."""
    kept = "".join(letter if letter.isalnum() else "-" for letter in name.lower()[: 4 * LONGEST_NAME])
    joined = "-".join(part for part in kept.split("-") if part)
    return joined[:LONGEST_NAME].strip("-") or "unnamed"


def stem_of(record: Record) -> str:
    """How the files of a record are called: station, day, and the beginning of the log's head digest."""
    day = record.utc(Instant(0)).strftime("%Y-%m-%d")
    return f"{slug(record.settings.station)}-{day}-{record.integrity.head[:8]}"


def utc_text(record: Record, at: Instant | None) -> str | None:
    """UTC as RFC 3339 to the tenth of a second, None where there is no instant."""
    if at is None:
        return None
    moment = record.utc(at)
    return f"{moment:%Y-%m-%dT%H:%M:%S}.{moment.microsecond // 100_000}Z"


def clock_text(record: Record, at: Instant | None) -> str:
    """The time of day in UTC; nothing where there is no instant."""
    return "" if at is None else f"{record.utc(at):%H:%M:%S}"


def mark_words(mark: MarkMade) -> str:
    """What a mark is called."""
    name = mark.kind.replace("_", " ").capitalize()
    return name if mark.stop_fsw is None else f"{name} {mark.stop_fsw:g} fsw"


def told_elsewhere(entry: Entry) -> bool:
    """Whether a record tells of an entry among its marks, corrections and alarms already."""
    return not entry.refused and entry.kind in TOLD_ELSEWHERE


TOLD_ELSEWHERE: Final = frozenset({"set_mark", "undo_mark", "amend_mark", "acknowledge"})
"""Entries that are marks, corrections and acknowledgements when they are taken."""


def entry_words(entry: Entry, units: Units) -> str:
    """What was done, in a sentence."""
    said = _said(entry, units)
    return f"{said} (not taken: {shown(entry.refused)})" if entry.refused else said


def _said(entry: Entry, units: Units) -> str:
    told = entry.details
    match entry.kind:
        case "remark":
            return shown(str(told.get("text", "")))
        case "line_pull":
            giver = "from the diver" if told.get("from_diver") else "to the diver"
            return f"line pull {shown(str(told.get('pulls', '')))} {giver}"
        case "plan_dive":
            depth = told.get("depth_fsw")
            to = depth_text(depth, units) if isinstance(depth, float) else "?"
            return f"planned: {to}, {told.get('bottom_min')} min"
        case "hose_blown" | "voice_answered" | "no_answer" | "asks_to_come_up" | "next_dive":
            return entry.kind.replace("_", " ")
        case _:
            rest = "; ".join(f"{key} {value}" for key, value in told.items() if value not in (None, ""))
            return shown(f"{entry.kind.replace('_', ' ')}{': ' if rest else ''}{rest}")
