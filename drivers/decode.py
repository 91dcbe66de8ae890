"""From the bytes of a line to the readings of its gauges: pure, nothing is opened and nothing waits."""

from drivers.formats import FORMATS
from drivers.formats.decoded import Decoded
from shared.arrivals import Received
from shared.gauges import Gauge


def hear(gauges: tuple[Gauge, ...], pending: bytes, arrival: Received) -> Decoded:
    """What `arrival` says of the gauges on its line, behind the bytes `pending` on that line.

    `gauges` may be all gauges of the station. A line without gauges says nothing. Raises ValueError when
    the gauges of one line differ in format: the station file was read without its check.
    """
    here = tuple(gauge for gauge in gauges if gauge.port == arrival.port)
    formats = {type(gauge.format) for gauge in here}
    if not formats:
        return Decoded()
    if len(formats) > 1:
        raise ValueError(f"{arrival.port}: more than one format on one line")
    return FORMATS[formats.pop()](here, pending, arrival)
