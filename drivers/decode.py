"""From the bytes of a line to the readings of its gauges: pure, nothing is opened and nothing waits."""

from drivers.formats import FORMATS
from drivers.formats.decoded import Decoded, Decoder, decoded, line_fault
from shared.arrivals import Exchanged, Received
from shared.gauges import Gauge, is_polled
from shared.readings import LinkFaultKind
from shared.wire.frame_fault import FrameFault


def hear(gauges: tuple[Gauge, ...], pending: bytes, arrival: Received | Exchanged) -> Decoded:
    """What `arrival` says of the gauges on its line, behind the bytes `pending` on that line.

    `gauges` may be all gauges of the station. A line without gauges says nothing. Bytes that come on a
    polled line without a request, such as an answer that is too late, are a fault and never a reading.
    Raises ValueError when the gauges of one line cannot share it: the station file was read without its
    check.
    """
    here = tuple(gauge for gauge in gauges if gauge.port == arrival.port)
    if not here:
        return Decoded()
    decode, polled = _decoder(arrival.port, here)
    if isinstance(arrival, Received) and polled:
        detail = f"{len(arrival.data)} bytes that nobody asked for"
        unasked = FrameFault(LinkFaultKind.GARBLED, detail, arrival.data)
        return decoded([line_fault(arrival.port, arrival.at, unasked)])
    if isinstance(arrival, Exchanged) and not polled:
        raise ValueError(f"{arrival.port}: an exchange on a line that is not polled")
    return decode(here, pending, arrival)


def _decoder(port: str, here: tuple[Gauge, ...]) -> tuple[Decoder, bool]:
    """The one decoder of the gauges of a line, and whether they are polled."""
    known = [FORMATS.get(type(gauge.format)) for gauge in here]
    ways = {(decoder, is_polled(gauge.format)) for decoder, gauge in zip(known, here, strict=True)}
    decoder, polled = ways.pop()
    if ways or decoder is None:
        raise ValueError(f"{port}: more than one format on one line, or an unknown one")
    return decoder, polled
