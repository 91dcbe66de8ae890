"""The header of a log: which station, program and tables, when, and what the divers bring along."""

import sqlite3
from dataclasses import dataclass, field
from typing import Final

from station.caution import CAUTION
from station.core.settings import Settings
from station.plain import canonical, parse, record_from_plain, record_to_plain

SCHEMA: Final = 1
"""The version of the log's layout that this program writes."""


@dataclass(frozen=True, slots=True)
class CarryOver:
    """What a diver brings from the log before: his group and when he reached the surface, None if unknown."""

    diver: str
    group: str | None
    surfaced_utc_ns: int | None


@dataclass(frozen=True, slots=True)
class Header:
    """What is settled before the first arrival.

    `mode` is live or rehearsal. `station_file` is the text of the station file, `settings` what was read
    from it. `tables` names the edition of the decompression tables. `utc_epoch_ns` is UTC at the epoch of
    station time in nanoseconds since 1970, a label. `boot_id` tells the run of the computer that station
    time counts in. `head_before` is the head of the chain of the log before, in hexadecimal, "" if none.
    """

    program: str
    mode: str
    station_file: str
    settings: Settings
    tables: str
    utc_epoch_ns: int
    boot_id: str
    carry_over: tuple[CarryOver, ...] = ()
    head_before: str = ""
    caution: str = CAUTION
    schema: int = SCHEMA
    sqlite: str = field(default=sqlite3.sqlite_version)


def header_text(header: Header) -> bytes:
    """The header as it is stored."""
    return canonical(record_to_plain(header))


def header_of(text: bytes) -> Header:
    """The header that `header_text` wrote. Raises ValueError that names what is wrong and where."""
    return record_from_plain(parse(text), Header)
