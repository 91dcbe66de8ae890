"""NMEA 0183 XDR: the transducer's name in a sentence picks the gauge, on lines that carry several."""

from typing import Final

from drivers.formats.decoded import Decoded, Measured, reading_of
from shared.arrivals import Received
from shared.clock import Instant
from shared.gauges import Gauge, XdrUnit
from shared.readings import LinkFault, LinkFaultKind, Reading
from shared.units import PASCAL_PER_BAR
from shared.wire.nmea0183 import FrameFault, Sentence, XdrGroup, decimal, feed, is_xdr, parse_xdr

PRESSURE: Final = "P"
"""The transducer type of a pressure. NMEA 0183 XDR update, 2019."""

LETTER_OF: Final = {XdrUnit.BAR: "B", XdrUnit.PASCAL: "P"}
"""Units of a pressure as an XDR sentence writes them. NMEA 0183 XDR update, 2019."""

_PASCAL_PER: Final = {XdrUnit.BAR: PASCAL_PER_BAR, XdrUnit.PASCAL: 1.0}


def hear(gauges: tuple[Gauge, ...], pending: bytes, arrival: Received) -> Decoded:
    """What the bytes of `arrival` say of the gauges on its line, behind the `pending` bytes.

    Sound sentences of other kinds, and groups of transducers that no gauge names, say nothing. Readings
    bear the instant of the arrival that completed their sentence.
    """
    found, still_pending = feed(pending, arrival.data)
    told = [item for frame in found for item in _told(gauges, arrival, frame)]
    return Decoded(
        tuple(item for item in told if isinstance(item, Reading)),
        tuple(item for item in told if isinstance(item, LinkFault)),
        still_pending,
    )


def _told(
    gauges: tuple[Gauge, ...], arrival: Received, frame: Sentence | FrameFault
) -> list[Reading | LinkFault]:
    if isinstance(frame, FrameFault):
        return [_line_fault(arrival, frame)]
    if not is_xdr(frame):
        return []
    groups = parse_xdr(frame)
    if isinstance(groups, FrameFault):
        return [_line_fault(arrival, groups)]
    told = (_of_gauge(gauge, arrival.at, groups, frame.data) for gauge in gauges)
    return [item for item in told if item is not None]


def _line_fault(arrival: Received, fault: FrameFault) -> LinkFault:
    return LinkFault(arrival.port, "", arrival.at, fault.kind, fault.detail, fault.data)


def _of_gauge(
    gauge: Gauge, at: Instant, groups: tuple[XdrGroup, ...], data: bytes
) -> Reading | LinkFault | None:
    """What one sentence says of one gauge; None when it does not name it."""
    named = [group for group in groups if group.name == gauge.format.transducer]
    pressures = [group for group in named if group.kind == PRESSURE]
    letter = LETTER_OF[gauge.format.unit]

    def fault(kind: LinkFaultKind, what: str) -> LinkFault:
        return LinkFault(gauge.port, gauge.name, at, kind, f"{gauge.name}: {what}", data)

    if not named:
        return None
    if not pressures:
        return fault(LinkFaultKind.WRONG_UNIT, f"type {named[0].kind!r} is no pressure ({PRESSURE!r})")
    if len(pressures) > 1:
        return fault(LinkFaultKind.GARBLED, f"{len(pressures)} pressures in one sentence")
    (group,) = pressures
    if group.unit != letter:
        return fault(LinkFaultKind.WRONG_UNIT, f"unit {group.unit!r}, the station file says {letter!r}")
    raw = decimal(group.text)
    if isinstance(raw, LinkFaultKind):
        return fault(raw, _WHY_NO_NUMBER[raw].format(group.text))
    pressure_pa = raw * _PASCAL_PER[gauge.format.unit]
    return reading_of(gauge, Measured(at, raw, gauge.format.unit.value, pressure_pa, data))


_WHY_NO_NUMBER: Final = {
    LinkFaultKind.NO_VALUE: "sends no value",
    LinkFaultKind.NOT_FINITE: "{!r} is not finite",
    LinkFaultKind.GARBLED: "{!r} is no decimal number",
}
