"""What the window of gauges and links draws, as frozen values: words already worded."""

from dataclasses import dataclass

from station.present.figure_looks import Sign


@dataclass(frozen=True, slots=True)
class GaugeLook:
    """One gauge: what it says now, how far it may be believed, what was wrong, when it was proved.

    `raw` is the reading before the calibration; `sign` the mark of the gravest alarm on it or of its trust,
    `due_sign` the mark of a calibration that is overdue.
    """

    name: str
    measures: str
    line: str
    value: str
    raw: str
    trust: str
    age: str
    period: str
    faults: str
    last_fault: str
    proved: str
    due: str
    sign: Sign | None = None
    due_sign: Sign | None = None


@dataclass(frozen=True, slots=True)
class LineLook:
    """One line to the gauges: open or not, since when, what was last wrong."""

    name: str
    standing: str
    detail: str
    sign: Sign | None = None


@dataclass(frozen=True, slots=True)
class HealthRow:
    """One thing that the station knows of itself."""

    caption: str
    value: str
    sign: Sign | None = None


@dataclass(frozen=True, slots=True)
class GaugesLook:
    """Every gauge, every line, the log and the station itself."""

    summary: str
    gauges: tuple[GaugeLook, ...]
    lines: tuple[LineLook, ...]
    health: tuple[HealthRow, ...]
