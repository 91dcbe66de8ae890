"""The catalogue of wire formats. Formats that may stand on one line share a decoder."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from drivers.formats import ascii_text, modbus, nmea
from drivers.formats.decoded import Decoder
from shared.gauges import (
    AsciiText,
    Format,
    ModbusRegister,
    NmeaDepth,
    NmeaGeneric,
    NmeaProprietary,
    NmeaXdr,
)

FORMATS: Final[Mapping[type[Format], Decoder]] = MappingProxyType(
    {
        NmeaXdr: nmea.hear,
        NmeaGeneric: nmea.hear,
        NmeaProprietary: nmea.hear,
        NmeaDepth: nmea.hear,
        AsciiText: ascii_text.hear,
        ModbusRegister: modbus.hear,
    }
)
"""Every wire format that a station file may name, with its decoder."""
