"""The state of the station: frozen, plain, comparable; two equal states are the same watch.

Only what cannot be worked out again from the rest stands here: phase, times and plan are functions of the
effective marks (`station.core.timekeeping`), words and ages are made in `station.present`.
"""

from dataclasses import dataclass
from enum import StrEnum

from shared.arrivals import PortFaultKind
from shared.clock import EPOCH, Instant
from shared.gauges import Channel
from station.core.decompression.answers import Mode
from station.core.hose.trust import HoseState
from station.core.inputs import MarkKind, ReadBy, RowChoice
from station.core.settings import Settings


class Trust(StrEnum):
    """How far a number may be believed; apart from whether it is within its limits."""

    GOOD = "good"
    AT_LEAST = "at_least"  # the hose is unproven: he may be deeper
    SUSPECT = "suspect"
    STALE = "stale"  # not heard for three periods
    LOST = "lost"  # not heard for long, never heard, or the port is gone


@dataclass(frozen=True, slots=True)
class Sample:
    """One calibrated value in the channel's unit, with its instant."""

    at: Instant
    value: float


@dataclass(frozen=True, slots=True)
class Stir:
    """How a gauge's value moves. `since` is when it last changed, `value` what it has shown from then on.

    `turns` counts changes against the direction of the one before, the noise of a gauge that lives; `rose` is
    that direction, `finest` the smallest change, `longest_s` the longest time between two changes.
    """

    since: Instant
    value: float
    turns: int = 0
    rose: bool = False
    finest: float | None = None
    longest_s: float = 0.0


@dataclass(frozen=True, slots=True)
class GaugeState:
    """What is known of one gauge.

    `window` holds every sample of the last seconds, `slow` one filtered sample a second over the time
    that a trend needs; `shown` is the filtered value, None while the gauge is silent; `trend_per_min` is
    its robust slope in the channel's unit per minute, None where none can be told. `frozen`: it keeps sending
    one value where it should have moved.
    """

    name: str
    trust: Trust = Trust.LOST
    last: Sample | None = None
    window: tuple[Sample, ...] = ()
    shown: float | None = None
    slow: tuple[Sample, ...] = ()
    trend_per_min: float | None = None
    faults: int = 0
    last_fault: str = ""
    stir: Stir | None = None
    frozen: bool = False


@dataclass(frozen=True, slots=True)
class PortState:
    """What is known of one line: whether it is open, the frame still coming in, what was last wrong."""

    name: str
    open: bool = False
    since: Instant = EPOCH
    pending: bytes = b""
    fault: PortFaultKind | None = None
    detail: str = ""


@dataclass(frozen=True, slots=True)
class Mark:
    """A moment as it was first marked; never changed. `number` counts per station, `seq` is its arrival.

    `depth_fsw` is what the gauge showed at that instant, None where it is not known.
    """

    number: int
    seq: int
    dive: int
    kind: MarkKind
    at: Instant
    pressed_at: Instant
    by: str
    stop_fsw: float | None = None
    depth_fsw: float | None = None


@dataclass(frozen=True, slots=True)
class Amendment:
    """A later word on a mark: it was at `to`, where the gauge showed `depth_fsw`, or not at all (None)."""

    mark: int
    seq: int
    to: Instant | None
    reason: str
    by: str
    at: Instant
    depth_fsw: float | None = None


@dataclass(frozen=True, slots=True)
class Proposal:
    """A moment that the depth trace shows.

    One that `holds` stands among the effective marks until somebody marks it, and is kept for the whole
    dive, so that an undone mark leaves the clock where it was: a start, a working descent. The others are
    hints and end with the next mark.
    """

    kind: MarkKind
    at: Instant
    holds: bool = False


@dataclass(frozen=True, slots=True)
class LogEntry:
    """The last word of a kind (comms check, line pull, blow) with its instant; `text` as it was given."""

    at: Instant
    text: str = ""


@dataclass(frozen=True, slots=True)
class TypedDepth:
    """A depth in fsw that somebody read and typed: from a hand gauge, or by a sounding. Rule D9."""

    at: Instant
    depth_fsw: float
    read_by: ReadBy
    by: str


@dataclass(frozen=True, slots=True)
class TypedPressures:
    """The last pressures in psig that somebody typed of one diver's manifold, or one bank. Rule D9."""

    channel: Channel
    subject: str
    readings: tuple[Sample, ...]
    by: str


@dataclass(frozen=True, slots=True)
class SupplyShift:
    """The diver was shifted to another supply."""

    at: Instant
    supply: str
    reason: str
    by: str


@dataclass(frozen=True, slots=True)
class Hidden:
    """What an unproven hose can have hidden: reading `reading_fsw` he was no deeper than `bound_fsw`."""

    reading_fsw: float
    bound_fsw: float


@dataclass(frozen=True, slots=True)
class PastDive:
    """A dive that is over: what it leaves for the next one. Rules N1, N2, N5.

    `group` is the one that he surfaced in, None where the tables give none. `surfaced_at` may lie before the
    log; None: the group is the one that he begins the next dive in. `max_fsw` and `bottom_s` are as they
    entered the table, delays included, and `group_before` as well; not known of a dive made elsewhere.
    """

    group: str | None
    surfaced_at: Instant | None
    max_fsw: float | None = None
    bottom_s: int | None = None
    group_before: str | None = None
    exceptional: bool = False


@dataclass(frozen=True, slots=True)
class ModeShift:
    """The supervisor takes another way of decompressing while the diver comes up. Rules X2, X3."""

    seq: int
    dive: int
    at: Instant
    mode: Mode
    reason: str


@dataclass(frozen=True, slots=True)
class Span:
    """A time that began, and ended unless it still runs."""

    start: Instant
    end: Instant | None = None


@dataclass(frozen=True, slots=True)
class DiverState:
    """One diver: his marks, what the trace says of his depth, what was last heard of him.

    Depths are gauge depths in fsw: `shown_fsw` filtered over a moment, `steady_fsw` the median of ten
    seconds; `deepest_read_fsw` the highest of those in this dive, and `deepest_fsw` the deepest that the
    tables must take: while the hose is unproven its bound, and what was typed, are in it (rules D6, D9).
    `counted_fsw` is the last steady one that was a depth: while air flows in the hose none is.
    `rate_fsw_min` is positive downward. None is not known. `history` holds one shown depth a second, for the
    stage depth of a late mark; `deeper_50_at` and `deeper_40_at` are when he was last shown deeper than 50
    and 40 fsw. `risen_at` is since when he is above the stop that he is at, `away` the times for which he was
    that for long (rule A7).

    `hose` is what is known of his hose, None where his gauge stands at none; `proven_below` that it was
    proven in the water in this dive; `hidden` the most that it can have hidden since it was last proven;
    `blow_seen` a blow that the trace shows and nobody has confirmed;
    `gauges_differ` that his two depth gauges do not agree.
    `typed` is the last depth that was typed, `shift` the last shift to another supply in this dive.

    `past` are the dives that he brings along, `history_known` says that somebody has told them; `mode`, `row`
    and `cold` are how the supervisor enters the tables, `shifts` what he changed while the diver came up.
    """

    name: str
    dive: int = 1
    planned_depth_fsw: float | None = None
    planned_bottom_min: int | None = None
    marks: tuple[Mark, ...] = ()
    amendments: tuple[Amendment, ...] = ()
    proposals: tuple[Proposal, ...] = ()
    shown_fsw: float | None = None
    steady_fsw: float | None = None
    rate_fsw_min: float | None = None
    deepest_fsw: float | None = None
    history: tuple[Sample, ...] = ()
    blown: Sample | None = None
    voice: LogEntry | None = None
    no_answer: LogEntry | None = None
    asked_up: LogEntry | None = None
    line_pull: LogEntry | None = None
    past: tuple[PastDive, ...] = ()
    history_known: bool = False
    mode: Mode = Mode.AIR
    shifts: tuple[ModeShift, ...] = ()
    row: RowChoice = RowChoice.NORMAL
    cold: bool = False
    deeper_50_at: Instant | None = None
    deeper_40_at: Instant | None = None
    deepest_read_fsw: float | None = None
    counted_fsw: float | None = None
    hose: HoseState | None = None
    proven_below: bool = False
    hidden: Hidden | None = None
    gauges_differ: bool = False
    blow_seen: Instant | None = None
    typed: TypedDepth | None = None
    shift: SupplyShift | None = None
    risen_at: Instant | None = None
    away: tuple[Span, ...] = ()


class Priority(StrEnum):
    """Alarm priorities. IMO MSC.302(87), section 5."""

    EMERGENCY = "emergency"
    ALARM = "alarm"
    WARNING = "warning"
    CAUTION = "caution"


class Standing(StrEnum):
    """Alarm states. ISA-18.2-2016 / IEC 62682."""

    NORMAL = "normal"
    UNACKNOWLEDGED = "unacknowledged"
    ACKNOWLEDGED = "acknowledged"
    RETURNED = "returned"  # back to normal, not acknowledged
    SHELVED = "shelved"
    OUT_OF_SERVICE = "out_of_service"


@dataclass(frozen=True, slots=True)
class Aside:
    """Why an alarm is shelved, until an instant, or out of service (None), and how it stands beneath."""

    beneath: Standing
    reason: str
    by: str
    at: Instant
    until: Instant | None


@dataclass(frozen=True, slots=True)
class AlarmState:
    """One catalogue entry on one subject; kept only while it is not at rest.

    `since` is the instant of the raise; `met_since` and `clear_since` run the dwell and the release.
    `measured` and `limit` are the figures of its sentence, in the unit of its catalogue entry.
    `raised_seq` is the arrival that raised this occurrence: a window that has not seen it cannot acknowledge
    it. `first_out`: nothing else of its subject waited to be seen when it came. `escalated_at`: a warning
    that nobody saw for too long.
    """

    id: str
    subject: str
    standing: Standing = Standing.NORMAL
    since: Instant | None = None
    met_since: Instant | None = None
    clear_since: Instant | None = None
    measured: float | None = None
    limit: float | None = None
    occurrence: int = 0
    raised_seq: int = 0
    first_out: bool = False
    escalated_at: Instant | None = None
    aside: Aside | None = None


VOLUME_AT_START = 8
"""Step of the horn's volume at the beginning of a watch; the steps are in `station.core.alarms.numbers`."""


class SoundOutput(StrEnum):
    """Whether the horn can be heard, as far as the station can tell."""

    OFF = "off"  # this run has no horn
    GOOD = "good"
    LOST = "lost"  # there should be one and there is none


@dataclass(frozen=True, slots=True)
class SoundState:
    """What people and devices have done to the horn.

    `silenced_at`: what sounded then is silent for a while. `tested_at` is the last test, `key_since` since
    when the comms key is held. `detail` is what the device is called, or what is wrong with it.
    """

    output: SoundOutput = SoundOutput.OFF
    detail: str = ""
    volume: int = VOLUME_AT_START
    silenced_at: Instant | None = None
    tested_at: Instant | None = None
    key_since: Instant | None = None


@dataclass(frozen=True, slots=True)
class OutGauge:
    """A gauge that is out of service: it is read by hand."""

    gauge: str
    reason: str
    by: str
    at: Instant


@dataclass(frozen=True, slots=True)
class Raise:
    """An alarm of a subject was raised: counted for floods."""

    at: Instant
    subject: str


@dataclass(frozen=True, slots=True)
class LogHealth:
    """What the station knows of its own log; None when it is durable."""

    behind_since: Instant | None = None
    failed: str = ""


@dataclass(frozen=True, slots=True)
class Gap:
    """The station was not on watch between two instants; `known` when the wall clock could tell how long."""

    start: Instant
    end: Instant
    known: bool


@dataclass(frozen=True, slots=True)
class State:
    """The whole watch after the arrival numbered `seq`.

    `ticked` is the instant of the last tick: whole seconds are counted by it. `utc_epoch_ns` is UTC at the
    epoch, in nanoseconds since 1970: a label, nothing computes with it. Tuples stand in the order of the
    settings. `bound` are the divers who come up by one schedule. `raises` are those of the last minutes,
    `flooded` the subjects with too many of them. `copy_lost_since`: the copy of the log is not kept since.
    """

    settings: Settings
    utc_epoch_ns: int
    seq: int = 0
    now: Instant = EPOCH
    ticked: Instant = EPOCH
    ports: tuple[PortState, ...] = ()
    gauges: tuple[GaugeState, ...] = ()
    divers: tuple[DiverState, ...] = ()
    alarms: tuple[AlarmState, ...] = ()
    log: LogHealth = LogHealth()
    gaps: tuple[Gap, ...] = ()
    clock_stepped: Sample | None = None
    panels_lost: bool = False
    ground: str = "day"
    marks_made: int = 0
    typed: tuple[TypedPressures, ...] = ()
    bound: tuple[str, ...] = ()
    sound: SoundState = SoundState()
    out_of_service: tuple[OutGauge, ...] = ()
    raises: tuple[Raise, ...] = ()
    flooded: tuple[str, ...] = ()
    copy_lost_since: Instant | None = None
