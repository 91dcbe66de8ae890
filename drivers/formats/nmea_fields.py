"""NMEA 0183 sentences read by the place of a field: proprietary ones, and DPT where it is mapped.

`DPT` tells the metres of water under a transducer, its first field. That is a diver's depth only where the
transducer hangs so that it is; the station file has to say so, and nothing here reads it otherwise. The
offset in its second field is not added: what it is measured from differs.
"""

from typing import Final

from drivers.formats.decoded import Sent, Told, bad_status, fault_of, no_number, reading_of
from shared.clock import Instant
from shared.gauges import Gauge, NmeaDepth, NmeaProprietary, WireUnit
from shared.readings import LinkFaultKind
from shared.wire.nmea0183 import Sentence, decimal

DEPTH_SENTENCE: Final = "DPT"
"""Depth of water. NMEA 0183 version 3.01."""


def proprietary(gauge: Gauge, wire: NmeaProprietary, at: Instant, frame: Sentence) -> Told | None:
    """What a sentence says of a gauge read by field; None when it is another's."""
    if frame.address != wire.address or (wire.name_field and _field(frame, wire.name_field) != wire.name):
        return None
    if wire.status_field:
        found = bad_status(wire.statuses, _field(frame, wire.status_field) or "")
        if found is not None:
            return fault_of(gauge, at, *found, frame.data)
    unit = _field(frame, wire.unit_field)
    if wire.unit_field and unit != wire.unit_text:
        what = f"unit {unit or ''!r}, the station file says {wire.unit_text!r}"
        return fault_of(gauge, at, LinkFaultKind.WRONG_UNIT, what, frame.data)
    text = _field(frame, wire.field)
    if text is None:
        what = f"no field {wire.field} among {len(frame.fields)}"
        return fault_of(gauge, at, LinkFaultKind.GARBLED, what, frame.data)
    number = decimal(text)
    if isinstance(number, LinkFaultKind):
        return no_number(gauge, at, number, text, frame.data)
    return reading_of(gauge, Sent(at, number, wire.unit, frame.data, wire.loop))


def depth(gauge: Gauge, wire: NmeaDepth, at: Instant, frame: Sentence) -> Told | None:
    """What a DPT sentence of the talker says; a metre of water is taken for a metre of sea water."""
    if frame.address != wire.talker + DEPTH_SENTENCE:
        return None
    text = frame.fields[0] if frame.fields else ""
    number = decimal(text)
    if isinstance(number, LinkFaultKind):
        return no_number(gauge, at, number, text, frame.data)
    return reading_of(gauge, Sent(at, number, WireUnit.MSW, frame.data))


def _field(frame: Sentence, place: int) -> str | None:
    return frame.fields[place - 1] if 1 <= place <= len(frame.fields) else None
