"""Reads what the tables need from a station file.

[station]   tables (a table set that comes with the program), order_lead_s, altitude_ft, gauges_zeroed,
            chamber, oxygen, medical_officer; all may be left out
[[diver]]   history = { group = "C", surfaced = 2031-05-02T05:10:00Z }; group may be "none" or "not given".
            Left out: nobody has told what he brings along, and the station asks
"""

from collections.abc import Collection, Mapping
from datetime import UTC
from typing import Any, Final

from shared.toml_file import Section
from station.core.by_table.history import why_no_history
from station.core.decompression.parameters import ALTITUDE_HIGHEST_FT
from station.core.settings import DEFAULT_TABLES, History

LONGEST_LEAD_S: Final = 600
"""No team needs longer from the order to leaving the bottom: keeps a slip of the pen out, own choice."""


def read_tables(station: Section, known: Collection[str]) -> dict[str, Any]:
    """The keys of [station] that the tables need, by the names of `Settings`."""
    return {
        "tables": station.one_of("tables", known, DEFAULT_TABLES),
        "order_lead_s": station.integer("order_lead_s", 0, LONGEST_LEAD_S, 60),
        "altitude_ft": station.number("altitude_ft", 0.0, float(ALTITUDE_HIGHEST_FT), 0.0),
        "gauges_zeroed": station.flag("gauges_zeroed", True),
        "chamber": station.flag("chamber", False),
        "oxygen": station.flag("oxygen", False),
        "medical_officer": station.text("medical_officer", ""),
    }


def read_history(diver: Section, groups: Mapping[str, tuple[str, ...]], tables: str) -> History | None:
    """What a diver brings along; None where the file does not say."""
    if not diver.has("history"):
        return None
    told = diver.table("history")
    group = told.text("group")
    reason = why_no_history(group, groups.get(tables, ()))
    if group and reason:
        told.complain("group", reason)
    surfaced = told.moment("surfaced").astimezone(UTC) if told.has("surfaced") else None
    return History(group, None if surfaced is None else surfaced.isoformat())
