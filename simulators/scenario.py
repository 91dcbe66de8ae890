"""A scenario: one dive that never happened, its gear, its faults, and what people press in it."""

from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from shared.conductor import SLICE_MS
from simulators.gauges import Instrument
from simulators.line_faults import LineFault
from simulators.truth.dive import Truth

PORT_SCHEME: Final = "rehearsal://"
"""A station file names a simulated line so: rehearsal://LINE."""

BITS_PER_BYTE: Final = 10
"""Start bit, eight data bits, stop bit: NMEA 0183, section 2; an asynchronous line without parity."""


@dataclass(frozen=True, slots=True)
class Line:
    """One serial line and its speed."""

    name: str
    baud: int

    @property
    def port(self) -> str:
        """The address by which a station file names the line."""
        return f"{PORT_SCHEME}{self.name}"

    @property
    def bytes_per_slice(self) -> int:
        """How many bytes the line can carry in one slice of station time."""
        return self.baud * SLICE_MS // (BITS_PER_BYTE * 1000)


@dataclass(frozen=True, slots=True)
class Press:
    """Somebody presses something at the end of a slice: plain JSON as the station reads it, with "by"."""

    at_ms: int
    act: dict[str, Any]


@dataclass(frozen=True, slots=True)
class Picture:
    """A moment that is worth a picture."""

    at_ms: int
    name: str


@dataclass(frozen=True, slots=True)
class Scenario:
    """Everything that a rehearsal needs; read it with `simulators.scenario_file.read_scenario`.

    `name` is the file's, without its ending. `starts_utc` is ISO text; the dive runs from 0 to `end_ms`.
    The seed is already at work in `truth`.
    """

    name: str
    title: str
    purpose: str
    seed: int
    starts_utc: str
    end_ms: int
    station_file: Path
    truth: Truth
    lines: tuple[Line, ...]
    instruments: tuple[Instrument, ...]
    faults: tuple[LineFault, ...]
    presses: tuple[Press, ...]
    pictures: tuple[Picture, ...]
