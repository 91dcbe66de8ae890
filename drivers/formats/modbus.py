"""Modbus RTU: the request that was sent says which gauges a reply is of, for the reply does not.

A float read in a wrong order of its bytes is often a huge number, which the range refuses, and often a
number so near to nothing that it would pass for 0 fsw: such a one is refused here.
"""

from typing import Final

from drivers.formats.asking import request_of
from drivers.formats.decoded import Decoded, Sent, Told, decoded, fault_of, line_fault, reading_of
from shared.arrivals import Exchanged, Received
from shared.gauges import Gauge, ModbusRegister, NumberKind
from shared.readings import LinkFaultKind
from shared.wire.frame_fault import FrameFault
from shared.wire.modbus_numbers import number_in
from shared.wire.modbus_rtu import Registers, registers_in

LEAST_FLOAT: Final = 1e-20
"""A float nearer to zero than this, and not zero, was never measured: own choice. Sums of a gauge's numbers
differ by 1e-8 of them at least, for a float of 32 bits has 24 bits of precision."""


def hear(gauges: tuple[Gauge, ...], pending: bytes, arrival: Received | Exchanged) -> Decoded:
    """What a reply says of the gauges that were asked. Raises TypeError for bytes without a request."""
    del pending
    if isinstance(arrival, Received):
        raise TypeError(f"{arrival.port}: Modbus gauges never speak by themselves")
    asked = tuple(gauge for gauge in gauges if request_of(gauge.format) == arrival.request)
    if not asked:
        return Decoded()
    found = registers_in(arrival.request, arrival.reply)
    if isinstance(found, FrameFault):
        return decoded(
            fault_of(gauge, arrival.at, found.kind, found.detail, arrival.reply) for gauge in asked
        )
    return decoded((*(_of_gauge(gauge, arrival, found) for gauge in asked), *_strays(arrival, found)))


def _strays(arrival: Exchanged, found: Registers) -> list[Told]:
    if not found.stray:
        return []
    detail = f"{len(found.stray)} bytes around an answer"
    stray = FrameFault(LinkFaultKind.GARBLED, detail, arrival.reply)
    return [line_fault(arrival.port, arrival.at, stray)]


def _of_gauge(gauge: Gauge, arrival: Exchanged, found: Registers) -> Told:
    wire = gauge.format
    if not isinstance(wire, ModbusRegister):
        raise TypeError(f"{gauge.name}: {type(wire).__name__} is no register")
    number = number_in(found.words, wire.number, wire.order)
    if isinstance(number, LinkFaultKind):
        what = f"registers {found.data[3:-2].hex(' ')} hold no finite number"
        return fault_of(gauge, arrival.at, number, what, found.data)
    if wire.number is NumberKind.FLOAT32 and 0.0 < abs(number) < LEAST_FLOAT:
        what = f"registers {found.data[3:-2].hex(' ')} hold {number:.1e}: is the order of bytes right?"
        return fault_of(gauge, arrival.at, LinkFaultKind.GARBLED, what, found.data)
    return reading_of(
        gauge, Sent(arrival.at, wire.scale * number + wire.offset, wire.unit, found.data, wire.loop)
    )
