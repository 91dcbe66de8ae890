"""The closed set of arrivals: everything that can change the state, and nothing else.

`shared.arrivals` holds what lines bring; here stand the clock's tick, what people say, what the station
finds out about itself, and a section of the configuration that is put in force.
"""

from dataclasses import dataclass
from enum import StrEnum

from shared.arrivals import Exchanged, PortFault, Received
from shared.clock import Instant
from shared.gauges import Channel, Gauge
from shared.readings import LinkFault, Reading
from station.core.decompression.answers import Mode
from station.core.parameters import Parameters


@dataclass(frozen=True, slots=True)
class Tick:
    """Station time has reached `at`; ten a second."""

    at: Instant


class MarkKind(StrEnum):
    """The moments that the tender marks. USN Diving Manual Rev 4, p. 9-3 and fig. 9-1."""

    LEFT_SURFACE = "left_surface"
    REACHED_BOTTOM = "reached_bottom"
    LEFT_BOTTOM = "left_bottom"
    REACHED_STOP = "reached_stop"
    LEFT_STOP = "left_stop"
    REACHED_SURFACE = "reached_surface"
    ON_OXYGEN = "on_oxygen"  # confirmed, everybody of the stage
    OFF_OXYGEN = "off_oxygen"
    REACHED_CHAMBER = "reached_chamber"  # 50 fsw in the chamber
    LEFT_CHAMBER = "left_chamber"  # the last depth in the chamber


@dataclass(frozen=True, slots=True)
class SetMark:
    """A moment of a dive is marked, `back_s` seconds before the press. `stop_fsw` goes with stops only."""

    diver: str
    dive: int
    kind: MarkKind
    stop_fsw: float | None = None
    back_s: int = 0


@dataclass(frozen=True, slots=True)
class UndoMark:
    """The mark with number `mark` did not happen; the first entry stays readable."""

    diver: str
    mark: int
    reason: str


@dataclass(frozen=True, slots=True)
class AmendMark:
    """The mark with number `mark` happened at another instant; the first entry stays readable."""

    diver: str
    mark: int
    to: Instant
    reason: str


@dataclass(frozen=True, slots=True)
class HoseBlown:
    """The diver's pneumofathometer hose was blown and the valve closed."""

    diver: str


@dataclass(frozen=True, slots=True)
class VoiceAnswered:
    """The diver was called and answered rightly."""

    diver: str


@dataclass(frozen=True, slots=True)
class NoAnswer:
    """The diver was called and did not answer rightly: ends his working interval."""

    diver: str


@dataclass(frozen=True, slots=True)
class AsksToComeUp:
    """The diver asks to come up: ends his working interval."""

    diver: str


@dataclass(frozen=True, slots=True)
class LinePull:
    """A line-pull signal, as pulls in groups ("2-1"); `from_diver` says who gave it."""

    diver: str
    pulls: str
    from_diver: bool


@dataclass(frozen=True, slots=True)
class PlanDive:
    """The dive that is planned next for this diver: depth as it enters the table, bottom time."""

    diver: str
    depth_fsw: float
    bottom_min: int


@dataclass(frozen=True, slots=True)
class NextDive:
    """The diver is dressed for a further dive: his last one is done."""

    diver: str


@dataclass(frozen=True, slots=True)
class EnterHistory:
    """What the diver brings along from dives that this watch has not seen.

    `group` is the repetitive group in which he surfaced, "none" when he brings nothing along, "not given"
    when the tables gave none. He surfaced `interval_s` ago or at `surfaced_utc` (RFC 3339); with neither
    the group is the one in which he begins his dive.
    """

    diver: str
    group: str
    interval_s: int | None = None
    surfaced_utc: str | None = None


@dataclass(frozen=True, slots=True)
class ChooseMode:
    """The supervisor takes another way of decompressing. Rule S8; after the first stop rules X2 and X3."""

    diver: str
    mode: Mode
    reason: str


class RowChoice(StrEnum):
    """Which row the supervisor takes."""

    NORMAL = "normal"
    NEXT_LONGER = "next_longer"
    NEXT_DEEPER = "next_deeper"


@dataclass(frozen=True, slots=True)
class ChooseRow:
    """The supervisor takes a stricter row, or goes back to the normal one."""

    diver: str
    row: RowChoice
    reason: str


@dataclass(frozen=True, slots=True)
class ChooseCold:
    """The dive is cold or strenuous, or is not: rule S7, the next longer time."""

    diver: str
    cold: bool
    reason: str


@dataclass(frozen=True, slots=True)
class BindDivers:
    """Divers on one stage come up by one schedule: deepest depth, longest time, largest residual time."""

    divers: tuple[str, ...]
    reason: str


@dataclass(frozen=True, slots=True)
class PartDivers:
    """The bound divers come up each by his own schedule again."""

    reason: str


class ReadBy(StrEnum):
    """How a depth that somebody types was found. Rule D9."""

    HAND_GAUGE = "hand_gauge"  # an analogue pneumofathometer gauge: the correction is still to be added
    SOUNDING = "sounding"  # lead line, or the umbilical's marks where the supervisor declares them a depth


@dataclass(frozen=True, slots=True)
class ManualDepth:
    """A depth read by a person, in fsw. Rule D9."""

    diver: str
    depth_fsw: float
    read_by: ReadBy = ReadBy.HAND_GAUGE


@dataclass(frozen=True, slots=True)
class ManualPressure:
    """A pressure read by a person: of a diver's manifold (SUPPLY) or of a supply's bank (BANK). Rule D9."""

    channel: Channel
    subject: str
    pressure_psig: float


@dataclass(frozen=True, slots=True)
class ShiftSupply:
    """The diver breathes from another supply from now on; EMERGENCY_GAS is the cylinder that he carries."""

    diver: str
    supply: str
    reason: str


EMERGENCY_GAS = "emergency gas"
"""The name under which a diver is shifted to the cylinder that he carries."""


@dataclass(frozen=True, slots=True)
class Acknowledge:
    """The alarm `alarm` on `subject` has been seen.

    `occurrence` is the one that the window showed; None: whichever stood in the state that it had seen.
    """

    alarm: str
    subject: str
    occurrence: int | None = None


@dataclass(frozen=True, slots=True)
class Shelve:
    """The alarm is put away for a few minutes; it comes back by itself."""

    alarm: str
    subject: str
    minutes: int
    reason: str


@dataclass(frozen=True, slots=True)
class Unshelve:
    """The shelved alarm is taken back at once."""

    alarm: str
    subject: str


@dataclass(frozen=True, slots=True)
class OutOfService:
    """The gauge is given up and read by hand: its own alarms, and what cannot be known without it, are put
    out of service. While it is heard its limits are watched all the same.
    """

    gauge: str
    reason: str


@dataclass(frozen=True, slots=True)
class BackInService:
    """The gauge is in service again."""

    gauge: str


@dataclass(frozen=True, slots=True)
class Silence:
    """The horn is silenced for a while; nothing is acknowledged by it."""


@dataclass(frozen=True, slots=True)
class SoundTest:
    """The horn is tried: every pattern once."""


@dataclass(frozen=True, slots=True)
class SetVolume:
    """The horn is made louder or softer, in steps; never below the floor."""

    step: int


@dataclass(frozen=True, slots=True)
class CommsKey:
    """The key of the divers' telephone is pressed or let go: the horn drops while it is held."""

    down: bool


@dataclass(frozen=True, slots=True)
class Remark:
    """Words for the log; `diver` is empty when they are about the station."""

    diver: str
    text: str


@dataclass(frozen=True, slots=True)
class ChooseGround:
    """The windows are put on another ground: day, dusk or night."""

    ground: str


AsideAct = Shelve | Unshelve | OutOfService | BackInService
"""What puts an alarm aside or takes it back."""

SoundAct = Silence | SoundTest | SetVolume | CommsKey
"""What is done to the horn."""

Act = (
    SetMark
    | UndoMark
    | AmendMark
    | HoseBlown
    | VoiceAnswered
    | NoAnswer
    | AsksToComeUp
    | LinePull
    | PlanDive
    | NextDive
    | EnterHistory
    | ChooseMode
    | ChooseRow
    | ChooseCold
    | BindDivers
    | PartDivers
    | ManualDepth
    | ManualPressure
    | ShiftSupply
    | Acknowledge
    | Shelve
    | Unshelve
    | OutOfService
    | BackInService
    | Silence
    | SoundTest
    | SetVolume
    | CommsKey
    | Remark
    | ChooseGround
)


@dataclass(frozen=True, slots=True)
class OperatorEvent:
    """Somebody did something at a window that had seen the state numbered `seen_seq`."""

    at: Instant
    by: str
    seen_seq: int
    act: Act


class StationFactKind(StrEnum):
    """What the station can find out about itself."""

    STARTED = "started"  # detail: program version and host facts
    RESUMED = "resumed"  # value: gap in seconds by the wall clock; None when it is unknown
    LOG_BEHIND = "log_behind"  # value: seconds since the oldest record not yet committed
    LOG_DURABLE = "log_durable"  # the log has caught up
    LOG_FAILED = "log_failed"  # detail: what the system said; the station goes on in memory
    CLOCK_STEPPED = "clock_stepped"  # value: seconds by which UTC jumped against station time
    PANELS_LOST = "panels_lost"  # the windows' process ended by itself
    PANELS_BACK = "panels_back"
    SOUND_LOST = "sound_lost"  # detail: why no horn can be heard
    SOUND_BACK = "sound_back"  # detail: the device
    COPY_LOST = "copy_lost"  # value: seconds that the copy of the log is behind; detail: why
    COPY_KEPT = "copy_kept"  # the copy of the log has caught up
    FINISHED = "finished"  # the log is closed in good order


@dataclass(frozen=True, slots=True)
class StationFact:
    """Something that the station found out about itself."""

    at: Instant
    kind: StationFactKind
    value: float | None = None
    detail: str = ""


@dataclass(frozen=True, slots=True)
class LimitsChanged:
    """The section of limits and windows, whole."""

    parameters: Parameters


@dataclass(frozen=True, slots=True)
class GaugesChanged:
    """The section of gauges with their calibration, whole; names and order stay as they were."""

    gauges: tuple[Gauge, ...]


Section = LimitsChanged | GaugesChanged


@dataclass(frozen=True, slots=True)
class ConfigurationChanged:
    """A whole section of the configuration is put in force."""

    at: Instant
    by: str
    section: Section


Arrival = Received | Exchanged | PortFault | Tick | OperatorEvent | StationFact | ConfigurationChanged
"""What the pump takes, numbers, and hands to the log."""


@dataclass(frozen=True, slots=True)
class Heard:
    """What the decoder made of one `Received` or `Exchanged`: readings, faults, and the frame still open."""

    at: Instant
    port: str
    readings: tuple[Reading, ...]
    faults: tuple[LinkFault, ...]
    pending: bytes


Input = Heard | PortFault | Tick | OperatorEvent | StationFact | ConfigurationChanged
"""What the fold takes: arrivals, with bytes already decoded."""
