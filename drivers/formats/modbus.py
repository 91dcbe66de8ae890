"""Modbus RTU: the request that was sent says which gauges a reply is of, for the reply does not."""

from drivers.formats.asking import request_of
from drivers.formats.decoded import Decoded, Sent, Told, decoded, fault_of, line_fault, reading_of
from shared.arrivals import Exchanged, Received
from shared.gauges import Gauge, ModbusRegister
from shared.readings import LinkFaultKind
from shared.wire.frame_fault import FrameFault
from shared.wire.modbus_numbers import number_in
from shared.wire.modbus_rtu import Registers, registers_in


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
    return reading_of(
        gauge, Sent(arrival.at, wire.scale * number + wire.offset, wire.unit, found.data, wire.loop)
    )
