"""One file per wire format, and the catalogue of them."""

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Final

from drivers.formats import nmea_xdr
from drivers.formats.decoded import Decoded
from shared.arrivals import Received
from shared.gauges import Format, Gauge, NmeaXdr

Decoder = Callable[[tuple[Gauge, ...], bytes, Received], Decoded]
"""Gauges of one line, all of one format; bytes pending; bytes that came."""

FORMATS: Final[Mapping[type[Format], Decoder]] = MappingProxyType({NmeaXdr: nmea_xdr.hear})
"""Every wire format that a station file may name, with its decoder."""
