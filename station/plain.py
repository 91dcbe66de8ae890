"""Values as plain JSON and back, under names of our own: what the log, the panels' pipe and scripts carry.

A stored name is a word chosen here, never the path of a class: a class may move, an old log stays readable.
Members of a closed set carry their name under a key of the set ("arrival", "act", "fact"); enums stand by
their value, instants as whole nanoseconds, bytes as text of their Latin-1 characters, tuples as lists.
The kinds that come tens of times a second stand as short lists: ["tick", at], ["received", at, port, data].
Whatever is not exactly such a value is refused with ValueError, which says what is wrong and where ("$" is
the whole). A key that has a default may be left out, so that a later version can add one.
"""

import json
from collections.abc import Mapping
from typing import Any, Final, TypeVar, cast

from cattrs import Converter

from shared.arrivals import Exchanged, PortFault, Received
from shared.clock import Instant
from shared.gauges import (
    AsciiText,
    Format,
    ModbusRegister,
    NmeaDepth,
    NmeaGeneric,
    NmeaProprietary,
    NmeaXdr,
)
from station.conversion import bytes_of, strict_converter, structured, teach, within
from station.core.facts import (
    AlarmChanged,
    AlarmEscalated,
    BlowSeen,
    Fact,
    MarkAmended,
    MarkProposed,
    MarkTaken,
    PhaseChanged,
    PlanChanged,
    Refused,
    TrustChanged,
)
from station.core.inputs import (
    Acknowledge,
    Act,
    AmendMark,
    Arrival,
    AsksToComeUp,
    BackInService,
    BindDivers,
    ChooseCold,
    ChooseGround,
    ChooseMode,
    ChooseRow,
    CommsKey,
    ConfigurationChanged,
    EnterHistory,
    GaugesChanged,
    HoseBlown,
    LimitsChanged,
    LinePull,
    ManualDepth,
    ManualPressure,
    NextDive,
    NoAnswer,
    OperatorEvent,
    OutOfService,
    PartDivers,
    PlanDive,
    Remark,
    Section,
    SetMark,
    SetVolume,
    Shelve,
    ShiftSupply,
    Silence,
    SoundTest,
    StationFact,
    Tick,
    UndoMark,
    Unshelve,
    VoiceAnswered,
)
from station.core.settings import Settings
from station.core.state import State

Plain = None | bool | int | float | str | list["Plain"] | dict[str, "Plain"]
"""What JSON can hold."""

ACTS: Final[dict[str, type]] = {
    "set_mark": SetMark,
    "undo_mark": UndoMark,
    "amend_mark": AmendMark,
    "hose_blown": HoseBlown,
    "voice_answered": VoiceAnswered,
    "no_answer": NoAnswer,
    "asks_to_come_up": AsksToComeUp,
    "line_pull": LinePull,
    "plan_dive": PlanDive,
    "next_dive": NextDive,
    "enter_history": EnterHistory,
    "choose_mode": ChooseMode,
    "choose_row": ChooseRow,
    "choose_cold": ChooseCold,
    "bind_divers": BindDivers,
    "part_divers": PartDivers,
    "manual_depth": ManualDepth,
    "manual_pressure": ManualPressure,
    "shift_supply": ShiftSupply,
    "acknowledge": Acknowledge,
    "shelve": Shelve,
    "unshelve": Unshelve,
    "out_of_service": OutOfService,
    "back_in_service": BackInService,
    "silence": Silence,
    "sound_test": SoundTest,
    "set_volume": SetVolume,
    "comms_key": CommsKey,
    "remark": Remark,
    "choose_ground": ChooseGround,
}
"""What an operator can do, by its stored name."""

FACTS: Final[dict[str, type]] = {
    "mark_taken": MarkTaken,
    "mark_amended": MarkAmended,
    "refused": Refused,
    "mark_proposed": MarkProposed,
    "phase_changed": PhaseChanged,
    "trust_changed": TrustChanged,
    "alarm_changed": AlarmChanged,
    "alarm_escalated": AlarmEscalated,
    "plan_changed": PlanChanged,
    "blow_seen": BlowSeen,
}
"""What the fold finds out, by its stored name."""

ARRIVALS: Final[dict[str, type]] = {
    "port_fault": PortFault,
    "operator_event": OperatorEvent,
    "station_fact": StationFact,
    "configuration_changed": ConfigurationChanged,
}
"""The seldom kinds of arrival, by their stored name; the frequent ones are lists (`FREQUENT`)."""

FREQUENT: Final[dict[str, type]] = {"tick": Tick, "received": Received, "exchanged": Exchanged}
"""The kinds of arrival that are packed as lists, by the word that begins the list."""

FORMATS: Final[dict[str, type]] = {
    "nmea-xdr": NmeaXdr,
    "nmea-generic": NmeaGeneric,
    "nmea-proprietary": NmeaProprietary,
    "nmea-dpt": NmeaDepth,
    "ascii": AsciiText,
    "modbus": ModbusRegister,
}
"""The wire formats, by the word that the station file uses."""

SECTIONS: Final[dict[str, type]] = {"limits": LimitsChanged, "gauges": GaugesChanged}
"""The sections of the configuration that can be changed on watch, by their stored name."""

_T = TypeVar("_T")


def _no_constant(name: str) -> float:
    raise ValueError(f"{name} is not a number that a log can hold")


_DECODER: Final = json.JSONDecoder(parse_constant=_no_constant)
_ENCODER: Final = json.JSONEncoder(
    sort_keys=True, separators=(",", ":"), ensure_ascii=False, allow_nan=False, check_circular=False
)


def canonical(plain: Plain) -> bytes:
    """The one way to write plain JSON: keys sorted, no spaces, UTF-8.

    A lone surrogate (text that the system could not decode) stands as its JSON escape. Raises ValueError
    for a number that is not finite, TypeError for a value that is not plain.
    """
    return _ENCODER.encode(plain).encode("utf-8", "backslashreplace")


def parse(text: str | bytes) -> Plain:
    """The plain value of a JSON text. Raises ValueError, also for NaN, Infinity and endless nesting."""
    try:
        return cast(Plain, _DECODER.decode(text if isinstance(text, str) else text.decode()))
    except RecursionError as error:
        raise ValueError("JSON nested too deeply") from error


def arrival_to_plain(arrival: Arrival) -> Plain:
    """An arrival as plain JSON."""
    match arrival:
        case Tick(at):
            return ["tick", at]
        case Received(at, port, data):
            return ["received", at, port, data.decode("latin-1")]
        case Exchanged(at, port, asked_at, request, reply):
            return ["exchanged", at, port, asked_at, request.decode("latin-1"), reply.decode("latin-1")]
        case _:
            return _to_plain(arrival, ARRIVALS)


def arrival_from_plain(plain: Plain) -> Arrival:
    """The arrival that `arrival_to_plain` wrote."""
    match plain:
        case ["tick", int(at)] if at.__class__ is int:
            return Tick(Instant(within(at)))
        case ["received", int(at), str(port), str(data)] if at.__class__ is int:
            return Received(Instant(within(at)), port, bytes_of(data))
        case ["exchanged", int(at), str(port), int(asked_at), str(request), str(reply)] if (
            at.__class__ is int and asked_at.__class__ is int
        ):
            asked = Instant(within(asked_at))
            return Exchanged(Instant(within(at)), port, asked, bytes_of(request), bytes_of(reply))
        case list():
            raise ValueError(f"not a packed arrival: {str(plain)[:200]}")
        case _:
            return cast(Arrival, _from_plain(plain, Arrival))


def act_to_plain(act: Act) -> Plain:
    """An operator's act as plain JSON: {"act": name, ...}."""
    return _to_plain(act, ACTS)


def act_from_plain(plain: Plain) -> Act:
    """The act that `act_to_plain`, a window or a script wrote."""
    return cast(Act, _from_plain(plain, Act))


def fact_to_plain(fact: Fact) -> Plain:
    """A fact as plain JSON: {"fact": name, ...}."""
    return _to_plain(fact, FACTS)


def fact_from_plain(plain: Plain) -> Fact:
    """The fact that `fact_to_plain` wrote."""
    return cast(Fact, _from_plain(plain, Fact))


def state_to_plain(state: State) -> Plain:
    """The whole state as plain JSON."""
    return cast(Plain, _CONVERTER.unstructure(state, State))


def state_from_plain(plain: Plain) -> State:
    """The state that `state_to_plain` wrote."""
    return cast(State, _from_plain(plain, State))


def settings_to_plain(settings: Settings) -> Plain:
    """The settings as plain JSON."""
    return cast(Plain, _CONVERTER.unstructure(settings, Settings))


def settings_from_plain(plain: Plain) -> Settings:
    """The settings that `settings_to_plain` wrote."""
    return cast(Settings, _from_plain(plain, Settings))


def record_to_plain(record: object) -> Plain:
    """Any other frozen dataclass of such fields (a log's header) as plain JSON."""
    return cast(Plain, _CONVERTER.unstructure(record))


def record_from_plain(plain: Plain, kind: type[_T]) -> _T:
    """The record of this kind that `record_to_plain` wrote."""
    return cast(_T, _from_plain(plain, kind))


def _to_plain(value: object, names: Mapping[str, type]) -> Plain:
    if type(value) not in names.values():
        raise ValueError(f"{type(value).__name__} has no stored name among {', '.join(names)}")
    return cast(Plain, _CONVERTER.unstructure(value))


def _from_plain(plain: Plain, kind: Any) -> object:  # noqa: ANN401 - a class or a union of classes
    return structured(_CONVERTER, plain, kind)


def _taught() -> Converter:
    converter = strict_converter()
    teach(converter, Format, FORMATS, "kind")
    teach(converter, Section, SECTIONS, "section")
    teach(converter, Act, ACTS, "act")
    teach(converter, Fact, FACTS, "fact")
    teach(converter, Arrival, ARRIVALS, "arrival")
    return converter


_CONVERTER: Final = _taught()
