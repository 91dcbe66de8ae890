"""Which gauges may stand on one line together, and which of them would read the same thing."""

from shared.gauges import AsciiText, Format, Gauge, ModbusRegister, NmeaDepth, NmeaProprietary, is_polled
from shared.wire.modbus_numbers import WORDS_IN

REHEARSAL_SCHEME = "rehearsal://"
"""How the address of a line begins that a rehearsal provides."""


def why_not_together(one: Format, other: Format) -> str | None:
    """Why two gauges cannot share a line, None when they can."""
    if _speech(one) != _speech(other):
        return f"{_speech(one)} and {_speech(other)} cannot share a line"
    if is_polled(one) != is_polled(other):
        return "a gauge that is polled and one that speaks by itself cannot share a line"
    if isinstance(one, AsciiText) and isinstance(other, AsciiText) and one.poll == other.poll:
        if one.ending is not other.ending:
            return "gauges of one line, or one poll, end their lines alike"
        if one.poll and (one.echo, one.poll_ending) != (other.echo, other.poll_ending):
            return "gauges of one poll have one echo and one poll_ending"
    return None


def _speech(wire: Format) -> str:
    if isinstance(wire, ModbusRegister):
        return "Modbus"
    return "ASCII" if isinstance(wire, AsciiText) else "NMEA 0183"


def same_thing(one: Format, other: Format) -> str | None:
    """What two gauges of one line would both read, None when each has its own."""
    match one, other:
        case ModbusRegister(), ModbusRegister():
            return _same_registers(one, other)
        case AsciiText(), AsciiText():
            alike = (one.poll, one.pattern) == (other.poll, other.pattern)
            return f"pattern {one.pattern!r}" if alike else None
        case NmeaProprietary(), NmeaProprietary():
            alike = _place(one) == _place(other)
            return f"field {one.field} of {one.address}" if alike else None
        case NmeaDepth(), NmeaDepth():
            return f"talker {one.talker!r}" if one.talker == other.talker else None
        case _:
            name = getattr(one, "transducer", None)
            alike = name is not None and name == getattr(other, "transducer", None)
            return f"transducer {name!r}" if alike else None


def _place(wire: NmeaProprietary) -> tuple[str, int, str, int]:
    return wire.address, wire.name_field, wire.name, wire.field


def _same_registers(one: ModbusRegister, other: ModbusRegister) -> str | None:
    apart = (
        (one.device, one.table) != (other.device, other.table)
        or one.register + WORDS_IN[one.number] <= other.register
        or other.register + WORDS_IN[other.number] <= one.register
    )
    return None if apart else f"{one.table.value} register {one.register} of device {one.device}"


def why_not_rehearsed(gauge: Gauge) -> str | None:
    """Why a gauge cannot be rehearsed, None when it can or is not to be."""
    if is_polled(gauge.format) and gauge.port.startswith(REHEARSAL_SCHEME):
        return "a polled gauge lives on real lines only: those of a rehearsal speak and are never asked"
    return None
