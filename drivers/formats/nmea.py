"""NMEA 0183: one decoder for all its formats, so that one line may carry several of them."""

from drivers.formats import nmea_fields, nmea_xdr
from drivers.formats.decoded import Decoded, Told, decoded, line_fault
from shared.arrivals import Exchanged, Received
from shared.clock import Instant
from shared.gauges import Gauge, NmeaDepth, NmeaGeneric, NmeaProprietary, NmeaXdr
from shared.wire.frame_fault import FrameFault
from shared.wire.nmea0183 import Sentence, XdrGroup, feed, is_xdr, parse_xdr


def hear(gauges: tuple[Gauge, ...], pending: bytes, arrival: Received | Exchanged) -> Decoded:
    """What the bytes of `arrival` say of the gauges on its line, behind the `pending` bytes.

    Sound sentences of other kinds, and groups of transducers that no gauge names, say nothing. Readings
    bear the instant of the arrival that completed their sentence. Raises TypeError for an exchange: these
    gauges are not polled.
    """
    if isinstance(arrival, Exchanged):
        raise TypeError(f"{arrival.port}: NMEA 0183 gauges are never asked")
    found, still_pending = feed(pending, arrival.data)
    return decoded((item for frame in found for item in _told(gauges, arrival, frame)), still_pending)


def _told(gauges: tuple[Gauge, ...], arrival: Received, frame: Sentence | FrameFault) -> list[Told]:
    if isinstance(frame, FrameFault):
        return [line_fault(arrival.port, arrival.at, frame)]
    groups = parse_xdr(frame) if is_xdr(frame) else ()
    if isinstance(groups, FrameFault):
        return [line_fault(arrival.port, arrival.at, groups)]
    told = (_of_gauge(gauge, arrival.at, frame, groups) for gauge in gauges)
    return [item for item in told if item is not None]


def _of_gauge(gauge: Gauge, at: Instant, frame: Sentence, groups: tuple[XdrGroup, ...]) -> Told | None:
    """What one sentence says of one gauge; None when it does not name it."""
    match gauge.format:
        case NmeaXdr() as wire:
            return nmea_xdr.pressure(gauge, wire, at, groups, frame.data)
        case NmeaGeneric() as wire:
            return nmea_xdr.generic(gauge, wire, at, groups, frame.data)
        case NmeaProprietary() as wire:
            return nmea_fields.proprietary(gauge, wire, at, frame)
        case NmeaDepth() as wire:
            return nmea_fields.depth(gauge, wire, at, frame)
        case other:
            raise TypeError(f"{gauge.name}: {type(other).__name__} is no format of NMEA 0183")
