"""Modbus gauges: kinds, orders, scale, several on one bus, refusals, and a current behind a register."""

from dataclasses import replace

import pytest

from drivers.decode import hear
from drivers.formats import modbus
from drivers.formats.asking import is_answer, reply_bytes_of, request_of
from drivers.formats.decoded import Decoded
from shared.arrivals import Exchanged, Received
from shared.clock import Instant
from shared.gauges import (
    AsciiText,
    ByteOrder,
    Channel,
    Gauge,
    Loop,
    ModbusRegister,
    NumberKind,
    RegisterTable,
    WireUnit,
)
from shared.readings import LinkFaultKind
from shared.wire.modbus_numbers import words_of
from shared.wire.modbus_rtu import exception_reply, read_reply

AT = Instant(9)
LINE = "serial:///dev/ttyUSB0?baud=9600&parity=even"
HOLDING, INPUT = RegisterTable.HOLDING, RegisterTable.INPUT
FLOAT = ModbusRegister(1, HOLDING, 0, NumberKind.FLOAT32, WireUnit.PSI)
GOOD = read_reply(1, HOLDING, words_of(99.0, NumberKind.FLOAT32, ByteOrder.ABCD))


def gauge_of(wire: ModbusRegister, name: str = "supply-1") -> Gauge:
    """A supply gauge of this format."""
    return Gauge(name, Channel.SUPPLY, "Diver 1", LINE, wire, -15.0, 300.0)


def asked(wire: ModbusRegister, reply: bytes, *others: Gauge) -> Decoded:
    """What a reply says of the gauges of the bus when this one was asked."""
    return hear((gauge_of(wire), *others), b"", Exchanged(AT, LINE, AT, request_of(wire), reply))


@pytest.mark.parametrize("order", ByteOrder)
def test_every_order_of_a_float_is_read_as_it_was_set(order):
    """The same pressure in four orders; a wrong order gives no reading, and never one near zero."""
    for pressure_psi in (142.5, 123.456, 60.0, 7.25):
        reply = read_reply(1, HOLDING, words_of(pressure_psi, NumberKind.FLOAT32, order))
        (reading,) = asked(replace(FLOAT, order=order), reply).readings
        assert reading.value == pytest.approx(pressure_psi)
        for wrong in set(ByteOrder) - {order}:
            decoded = asked(replace(FLOAT, order=wrong), reply)
            assert (decoded.readings, len(decoded.faults)) == ((), 1)


def test_nothing_at_all_is_a_pressure():
    """A float of exactly zero is read; one a hair beside it is a sign of a wrong order."""
    assert [reading.value for reading in asked(FLOAT, read_reply(1, HOLDING, (0, 0))).readings] == [0.0]
    (fault,) = asked(FLOAT, read_reply(1, HOLDING, (0x0080, 0x0E43))).faults
    assert fault.detail == "supply-1: registers 00 80 0e 43 hold 1.2e-38: is the order of bytes right?"


def test_a_scale_and_an_offset_make_the_unit():
    """1425 tenths of a psi, 15 psi off."""
    wire = ModbusRegister(3, INPUT, 7, NumberKind.INT16, WireUnit.PSI, scale=0.1, offset=-15.0)
    (reading,) = asked(wire, read_reply(3, INPUT, (1425,))).readings
    assert (reading.value, reading.raw) == (pytest.approx(127.5), pytest.approx(127.5))
    (negative,) = asked(wire, read_reply(3, INPUT, (0xFFFF,))).faults
    assert negative.detail == "supply-1: -15.1 psi on the wire is -15.1 psig, outside -15 to 300 psig"


def test_a_current_behind_a_register():
    """12000 microampere are 12 mA, the middle of the span; 3000 are a broken wire."""
    wire = ModbusRegister(3, INPUT, 0, NumberKind.UINT16, WireUnit.PSI, scale=0.001, loop=Loop(0.0, 300.0))
    (reading,) = asked(wire, read_reply(3, INPUT, (12000,))).readings
    assert (reading.value, reading.raw) == (pytest.approx(150.0), pytest.approx(12.0))
    (fault,) = asked(wire, read_reply(3, INPUT, (3000,))).faults
    assert fault.kind is LinkFaultKind.GAUGE_FAULT


def test_a_reply_is_of_the_gauge_that_was_asked_alone():
    """Two registers of one device, one of another: the request tells whose the reply is."""
    second = gauge_of(replace(FLOAT, register=2), "supply-2")
    third = gauge_of(replace(FLOAT, device=2), "supply-3")
    decoded = asked(
        FLOAT, read_reply(1, HOLDING, words_of(99.0, NumberKind.FLOAT32, ByteOrder.ABCD)), second, third
    )
    assert [(reading.gauge, reading.value) for reading in decoded.readings] == [("supply-1", 99.0)]


@pytest.mark.parametrize(
    ("reply", "kind"),
    [
        (b"", LinkFaultKind.NO_REPLY),
        (exception_reply(1, HOLDING, 2), LinkFaultKind.REFUSED),
        (read_reply(2, HOLDING, (1, 2)), LinkFaultKind.GARBLED),
        (read_reply(1, HOLDING, (0x7FC0, 0)), LinkFaultKind.NOT_FINITE),
        (read_reply(1, HOLDING, (0x7F80, 0)), LinkFaultKind.NOT_FINITE),
        (read_reply(1, HOLDING, (0x447A, 0)), LinkFaultKind.OUT_OF_RANGE),
        (read_reply(1, HOLDING, (1, 2))[:-1] + b"\x00", LinkFaultKind.CHECKSUM),
    ],
)
def test_every_trouble_is_a_fault_of_the_gauge(reply, kind):
    """Silence, refusal, another device, no number, a thousand psi, a wrong CRC."""
    decoded = asked(FLOAT, reply, gauge_of(replace(FLOAT, register=2), "supply-2"))
    assert decoded.readings == ()
    assert [(fault.gauge, fault.kind) for fault in decoded.faults] == [("supply-1", kind)]


def test_bytes_around_an_answer_are_noted_beside_the_reading():
    """A glitch of the line driver costs nothing, but it is counted."""
    decoded = asked(FLOAT, b"\x00" + GOOD)
    assert [reading.value for reading in decoded.readings] == [99.0]
    assert [(fault.gauge, fault.detail) for fault in decoded.faults] == [("", "1 bytes around an answer")]


def test_what_the_reader_awaits():
    """A sound answer or a refusal ends the waiting; a cut or damaged one does not."""
    good = read_reply(1, HOLDING, (1, 2))
    assert is_answer(FLOAT, good)
    assert is_answer(FLOAT, exception_reply(1, HOLDING, 2))
    assert not is_answer(FLOAT, good[:-1])
    assert not is_answer(FLOAT, good[:-1] + b"\x00")
    assert reply_bytes_of(FLOAT) == 9


def test_mistakes_of_ours_are_loud():
    """Bytes without a request, and a gauge of another format, never reach this decoder."""
    with pytest.raises(TypeError, match="never speak by themselves"):
        modbus.hear((gauge_of(FLOAT),), b"", Received(AT, LINE, b"x"))
    text = replace(gauge_of(FLOAT), format=AsciiText("(?P<value>.)", WireUnit.PSI, poll="Q"))
    sound = read_reply(1, HOLDING, (1, 2))
    with pytest.raises(ValueError, match="not a request"):
        modbus.hear((text,), b"", Exchanged(AT, LINE, AT, b"Q\r", sound))
