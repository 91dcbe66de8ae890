"""What a decoder makes of bytes, and how a number on the wire becomes a reading of its gauge."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from math import isfinite
from typing import Final

from shared.arrivals import Exchanged, Received
from shared.clock import Instant
from shared.gauges import UNIT_OF, Channel, Gauge, Loop, Meaning, Status, WireUnit
from shared.readings import LinkFault, LinkFaultKind, Reading
from shared.units import (
    PASCAL_PER_BAR,
    PASCAL_PER_FSW,
    PASCAL_PER_KILOPASCAL,
    PASCAL_PER_MEGAPASCAL,
    PASCAL_PER_MSW,
    PASCAL_PER_PSI,
)
from shared.wire import current_loop
from shared.wire.frame_fault import FrameFault

PASCAL_IN: Final = {
    WireUnit.BAR: PASCAL_PER_BAR,
    WireUnit.PASCAL: 1.0,
    WireUnit.KILOPASCAL: PASCAL_PER_KILOPASCAL,
    WireUnit.MEGAPASCAL: PASCAL_PER_MEGAPASCAL,
    WireUnit.PSI: PASCAL_PER_PSI,
    WireUnit.FSW: PASCAL_PER_FSW,
    WireUnit.MSW: PASCAL_PER_MSW,
}
"""Every unit of the wire as a pressure."""

_CHANNEL_UNIT: Final = {
    Channel.DEPTH: WireUnit.FSW,
    Channel.SUPPLY: WireUnit.PSI,
    Channel.BANK: WireUnit.PSI,
}


@dataclass(frozen=True, slots=True)
class Decoded:
    """Readings and faults in the order of their bytes, and the bytes of the frame still open."""

    readings: tuple[Reading, ...] = ()
    faults: tuple[LinkFault, ...] = ()
    pending: bytes = b""


Decoder = Callable[[tuple[Gauge, ...], bytes, Received | Exchanged], Decoded]
"""Gauges of one line that one decoder serves; bytes pending; bytes that came."""

Told = Reading | LinkFault


def decoded(told: Iterable[Told], pending: bytes = b"") -> Decoded:
    """Readings and faults, parted."""
    items = tuple(told)
    return Decoded(
        tuple(item for item in items if isinstance(item, Reading)),
        tuple(item for item in items if isinstance(item, LinkFault)),
        pending,
    )


@dataclass(frozen=True, slots=True)
class Sent:
    """A number as it stood on the wire, in `unit` or, with a `loop`, in mA, and the frame that held it."""

    at: Instant
    number: float
    unit: WireUnit
    data: bytes
    loop: Loop | None = None


def reading_of(gauge: Gauge, sent: Sent) -> Told:
    """The calibrated reading in the unit of the gauge's channel, or a fault outside the gauge's range."""
    if sent.loop is None:
        return _ranged(gauge, sent, sent.number, sent.unit.value)
    behind = current_loop.loop_value(sent.loop, sent.number)
    if isinstance(behind, LinkFaultKind):
        what = f"{sent.number:g} mA is {_LOOP_WORDS[behind]}"
        return fault_of(gauge, sent.at, behind, what, sent.data)
    return _ranged(gauge, sent, behind, current_loop.UNIT)


_LOOP_WORDS: Final = {
    LinkFaultKind.GAUGE_FAULT: (
        f"the current of a broken gauge or wire: {current_loop.FAILED_LOW_MA:g} mA or less, "
        f"{current_loop.FAILED_HIGH_MA:g} mA or more"
    ),
    LinkFaultKind.OUT_OF_RANGE: (
        f"outside {current_loop.VALID_LOW_MA:g} to {current_loop.VALID_HIGH_MA:g} mA"
    ),
}


def _ranged(gauge: Gauge, sent: Sent, on_wire: float, unit: str) -> Told:
    calibration = gauge.calibration
    value = (_in_channel_unit(gauge.channel, on_wire, sent.unit) - calibration.zero) * calibration.span
    if isfinite(value) and gauge.low <= value <= gauge.high:
        return Reading(gauge.name, sent.at, value, sent.number)
    shown = UNIT_OF[gauge.channel]
    what = (
        f"{sent.number:g} {unit} on the wire is {value:.1f} {shown}, "
        f"outside {gauge.low:g} to {gauge.high:g} {shown}"
    )
    return fault_of(gauge, sent.at, LinkFaultKind.OUT_OF_RANGE, what, sent.data)


def _in_channel_unit(channel: Channel, value: float, unit: WireUnit) -> float:
    """A value that is in the channel's unit already stays as it is, to the last bit."""
    wanted = _CHANNEL_UNIT[channel]
    return value if unit is wanted else value * PASCAL_IN[unit] / PASCAL_IN[wanted]


def fault_of(gauge: Gauge, at: Instant, kind: LinkFaultKind, what: str, data: bytes) -> LinkFault:
    """A fault of one gauge; it is named first."""
    return LinkFault(gauge.port, gauge.name, at, kind, f"{gauge.name}: {what}", data)


def line_fault(port: str, at: Instant, fault: FrameFault) -> LinkFault:
    """A fault that cannot say whose it is."""
    return LinkFault(port, "", at, fault.kind, fault.detail, fault.data)


def no_number(gauge: Gauge, at: Instant, kind: LinkFaultKind, text: str, data: bytes) -> LinkFault:
    """The fault of a field that holds no number."""
    return fault_of(gauge, at, kind, _WHY_NO_NUMBER[kind].format(text), data)


_WHY_NO_NUMBER: Final = {
    LinkFaultKind.NO_VALUE: "sends no value",
    LinkFaultKind.NOT_FINITE: "{!r} is not finite",
    LinkFaultKind.GARBLED: "{!r} is no decimal number",
}


def bad_status(statuses: tuple[Status, ...], word: str) -> tuple[LinkFaultKind, str] | None:
    """What a status word has against the value beside it; None when it is good."""
    meaning = next((status.meaning for status in statuses if status.word == word), None)
    match meaning:
        case Meaning.GOOD:
            return None
        case Meaning.NO_VALUE:
            return LinkFaultKind.NO_VALUE, f"says {word!r}: it has no value"
        case Meaning.OUT_OF_RANGE:
            return LinkFaultKind.OUT_OF_RANGE, f"says {word!r}: outside its range"
        case Meaning.FAULT:
            return LinkFaultKind.GAUGE_FAULT, f"says {word!r}: it is broken"
        case None:
            return LinkFaultKind.GAUGE_FAULT, f"says {word!r}, which the station file does not know"
