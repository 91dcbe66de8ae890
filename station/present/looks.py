"""Everything the windows draw, as frozen values: words already worded, numbers only for geometry.

Depths are in the unit that the station shows (`Scale.unit`), moments of the trace in seconds of station
time. A panel that gets one of these draws it and decides nothing; two equal looks need no repaint.
"""

from dataclasses import dataclass
from enum import StrEnum

from station.core.inputs import MarkKind
from station.core.state import Priority
from station.present.ascent_looks import AscentLook, Origin, RateLook
from station.present.choice_looks import ChoicesLook
from station.present.figure_looks import Flash, Number, NumberState, Sign
from station.present.gauge_looks import GaugesLook
from station.present.opinion_looks import OpinionLook

__all__ = ["AscentLook", "Flash", "Number", "NumberState", "Origin", "Sign"]


class Mode(StrEnum):
    """What the numbers come from."""

    LIVE = "live"
    REHEARSAL = "rehearsal"
    REPLAY = "replay"


class MarkStyle(StrEnum):
    """How the diver's mark is drawn on his sounding line."""

    SOLID = "solid"
    HOLLOW = "hollow"
    HATCHED = "hatched"
    GONE = "gone"


@dataclass(frozen=True, slots=True)
class Link:
    """One gauge in the top strip: its name, the age of its last reading, a sign when it is in trouble."""

    name: str
    age: str
    sign: Sign | None = None


@dataclass(frozen=True, slots=True)
class TopStrip:
    """Who, where, when, which links are heard, how safe the log is."""

    mode_word: str
    station: str
    job: str
    clock: str
    clock_caption: str
    clock_detail: str
    links: tuple[Link, ...]
    log_caption: str
    log_value: str
    log_sign: Sign | None = None


@dataclass(frozen=True, slots=True)
class AlarmLine:
    """One row of the alarm strip. `id`, `subject` and `occurrence` name it when it is acknowledged.

    `first_out`: it came before all others of its subject that wait with it.
    """

    id: str
    subject: str
    sign: Sign
    word: str
    who: str
    what: str
    action: str
    age: str
    to_acknowledge: bool
    occurrence: int = 0
    first_out: bool = False


@dataclass(frozen=True, slots=True)
class AlarmStrip:
    """Every alarm that is not at rest, worst first; what is said when none is.

    `aside` tells of each gauge that is out of service.
    """

    lines: tuple[AlarmLine, ...]
    calm: str
    calm_detail: str
    sound: str
    aside: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Scale:
    """The one depth scale of all sounding lines of the station, from 0 to `end`."""

    unit: str
    end: float
    tick_step: float
    numeral_step: float


@dataclass(frozen=True, slots=True)
class Rung:
    """A stop on the sounding line; `due` now, or what the next row would cost."""

    depth: float
    minutes: str
    due: bool


@dataclass(frozen=True, slots=True)
class Tail:
    """Where the diver will be in one minute, against the band in which that is right."""

    to: float
    band_from: float
    band_to: float


@dataclass(frozen=True, slots=True)
class SoundingLine:
    """A diver against his water. None is not known; `at_least` draws the chevrons downward."""

    plan: float | None
    mark: float | None
    style: MarkStyle
    at_least: bool = False
    maximum: float | None = None
    rungs: tuple[Rung, ...] = ()
    tail: Tail | None = None


@dataclass(frozen=True, slots=True)
class Sentence:
    """What is due next: the act, then what it rests on or costs. `lead` is bold, `detail` plain."""

    head: str
    lead: str
    detail: str


@dataclass(frozen=True, slots=True)
class TraceFrame:
    """The frame of a depth-time trace: span and ticks in seconds of station time, depth to `deepest`.

    `plan` is the planned profile, as corners of (seconds, depth); `now_s` None when it is not known.
    """

    start_s: float
    end_s: float
    now_s: float | None
    ticks: tuple[tuple[float, str], ...]
    deepest: float
    numeral_step: float
    plan: tuple[tuple[float, float], ...] = ()


@dataclass(frozen=True, slots=True)
class Fact:
    """A caption and its value, one above the other or side by side."""

    caption: str
    value: str


class KeyState(StrEnum):
    """How an event key stands."""

    OPEN = "open"  # may be pressed
    NEXT = "next"  # may be pressed, and is the one that comes next
    MARKING = "marking"  # pressed, not yet in the log
    DONE = "done"  # marked and in the log
    SHUT = "shut"  # has no place in this phase


@dataclass(frozen=True, slots=True)
class EventKey:
    """One large key of the timekeeper. `act` names what it marks; `stop` goes with marks of stops, in fsw."""

    act: str
    title: str
    detail: str
    state: KeyState
    stop_fsw: float | None = None


@dataclass(frozen=True, slots=True)
class Shift:
    """A moment that the last mark may be set to: `to_ns` of station time, and its words."""

    to_ns: int
    title: str
    detail: str


@dataclass(frozen=True, slots=True)
class LastMark:
    """The mark made last; `number` names it when it is undone or set to another time."""

    number: int
    title: str
    detail: str
    shifts: tuple[Shift, ...]


@dataclass(frozen=True, slots=True)
class Timekeeping:
    """A diver at the timekeeper's window."""

    dive: int
    status: str
    status_detail: str
    clock: Number
    next_key: EventKey | None
    marks: tuple[EventKey, ...]
    others: tuple[EventKey, ...]
    late: tuple[tuple[int, str], ...]
    last: LastMark | None


@dataclass(frozen=True, slots=True)
class DiverLook:
    """One diver. `short` are the facts that stand in the narrow column of a standby diver.

    `ascent` is there from leaving the bottom on, `rate` on his way up; `origins` answer "where from?" for
    every computed figure; `choices` is what may be chosen or told of him; `opinion` is there in
    a replay only.
    """

    name: str
    person: str
    phase: str
    standby: bool
    line: SoundingLine
    depth: Number
    time: Number
    air: Number
    sentence: Sentence
    trace: TraceFrame
    short: tuple[Fact, ...]
    keeping: Timekeeping
    ascent: AscentLook | None = None
    origins: tuple[Origin, ...] = ()
    rate: RateLook | None = None
    choices: ChoicesLook | None = None
    opinion: OpinionLook | None = None


@dataclass(frozen=True, slots=True)
class BankLook:
    """One supply of the air board. `full`, `needed` are shares of the bar from 0 to 1, None unknown."""

    title: str
    role: str
    pressure: Number
    minutes: Number
    note: str
    note_detail: str
    full: float | None = None
    needed: float | None = None


@dataclass(frozen=True, slots=True)
class AirBoard:
    """The air of the station."""

    detail: str
    banks: tuple[BankLook, ...]
    facts: tuple[Fact, ...]
    sentence: Sentence


@dataclass(frozen=True, slots=True)
class Transport:
    """How a replay stands: `at` and the alarms as shares of the whole, 0 to 1."""

    playing: bool
    speed: float
    at: float
    ticks: tuple[tuple[float, str], ...]
    alarms: tuple[tuple[float, Priority], ...]
    recorded: str
    file: str
    whole: str


@dataclass(frozen=True, slots=True)
class View:
    """The whole watch as the windows draw it. `seq` is the state it shows, acts carry it back."""

    seq: int
    mode: Mode
    ground: str
    top: TopStrip
    alarms: AlarmStrip
    scale: Scale
    divers: tuple[DiverLook, ...]
    people: tuple[Fact, ...]
    air: AirBoard
    caution: str
    notice: str = ""
    transport: Transport | None = None
    gauges: GaugesLook | None = None


MARK_ACTS: frozenset[str] = frozenset(kind.value for kind in MarkKind)
"""The names of the acts that are marks."""
