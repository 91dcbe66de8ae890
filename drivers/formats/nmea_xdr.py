"""NMEA 0183 XDR: the transducer's name in a sentence picks the gauge, on lines that carry several."""

from dataclasses import dataclass
from typing import Final

from drivers.formats.decoded import Sent, Told, fault_of, no_number, reading_of
from shared.clock import Instant
from shared.gauges import Gauge, Loop, NmeaGeneric, NmeaXdr, WireUnit, XdrUnit
from shared.readings import LinkFaultKind
from shared.wire.nmea0183 import XdrGroup, decimal

PRESSURE: Final = "P"
GENERIC: Final = "G"
"""Transducer types. NMEA 0183 XDR update, 2019."""

LETTER_OF: Final = {XdrUnit.BAR: "B", XdrUnit.PASCAL: "P"}
"""Units of a pressure as an XDR sentence writes them. NMEA 0183 XDR update, 2019."""

_UNIT_OF: Final = {XdrUnit.BAR: WireUnit.BAR, XdrUnit.PASCAL: WireUnit.PASCAL}
_NAMED: Final = {PRESSURE: "pressure", GENERIC: "generic value"}


@dataclass(frozen=True, slots=True)
class _Wanted:
    """The one group of a sentence that a gauge reads."""

    transducer: str
    kind: str
    letter: str
    unit: WireUnit
    loop: Loop | None = None


def pressure(
    gauge: Gauge, wire: NmeaXdr, at: Instant, groups: tuple[XdrGroup, ...], data: bytes
) -> Told | None:
    """What a sentence says of a gauge that sends a pressure; None when it does not name it."""
    wanted = _Wanted(wire.transducer, PRESSURE, LETTER_OF[wire.unit], _UNIT_OF[wire.unit])
    return _of_gauge(gauge, wanted, at, groups, data)


def generic(
    gauge: Gauge, wire: NmeaGeneric, at: Instant, groups: tuple[XdrGroup, ...], data: bytes
) -> Told | None:
    """What a sentence says of a gauge that sends a generic value; None when it does not name it."""
    wanted = _Wanted(wire.transducer, GENERIC, wire.letter, wire.unit, wire.loop)
    return _of_gauge(gauge, wanted, at, groups, data)


def _of_gauge(
    gauge: Gauge, wanted: _Wanted, at: Instant, groups: tuple[XdrGroup, ...], data: bytes
) -> Told | None:
    named = [group for group in groups if group.name == wanted.transducer]
    fitting = [group for group in named if group.kind == wanted.kind]
    kind = _NAMED[wanted.kind]
    if not named:
        return None
    if not fitting:
        what = f"type {named[0].kind!r} is no {kind} ({wanted.kind!r})"
        return fault_of(gauge, at, LinkFaultKind.WRONG_UNIT, what, data)
    if len(fitting) > 1:
        what = f"{len(fitting)} {kind}s in one sentence"
        return fault_of(gauge, at, LinkFaultKind.GARBLED, what, data)
    (group,) = fitting
    if group.unit != wanted.letter:
        what = f"unit {group.unit!r}, the station file says {wanted.letter!r}"
        return fault_of(gauge, at, LinkFaultKind.WRONG_UNIT, what, data)
    number = decimal(group.text)
    if isinstance(number, LinkFaultKind):
        return no_number(gauge, at, number, group.text, data)
    return reading_of(gauge, Sent(at, number, wanted.unit, data, wanted.loop))
