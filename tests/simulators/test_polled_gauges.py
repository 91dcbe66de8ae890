"""Simulated gauges that are asked: they answer what is for them, and keep silent otherwise."""

import pytest

from shared.gauges import RegisterTable
from shared.wire.modbus_rtu import exception_reply, read_reply, read_request, sealed
from simulators.polled import RegisterGauge, TextGauge

HOLDING, INPUT = RegisterTable.HOLDING, RegisterTable.INPUT
GAUGE = RegisterGauge(1, {(HOLDING, 0): 7, (HOLDING, 1): 8, (INPUT, 0): 9})


def test_registers_of_both_tables_are_given():
    """Holding and input registers are two tables; several come in one answer."""
    assert GAUGE.answer(read_request(1, HOLDING, 0, 2)) == read_reply(1, HOLDING, (7, 8))
    assert GAUGE.answer(read_request(1, INPUT, 0, 1)) == read_reply(1, INPUT, (9,))


def test_a_register_that_is_not_there_is_refused():
    """Exception 2, as a device does."""
    assert GAUGE.answer(read_request(1, INPUT, 0, 2)) == exception_reply(1, INPUT, 2)


@pytest.mark.parametrize(
    "request_bytes",
    [
        read_request(2, HOLDING, 0, 1),
        read_request(1, HOLDING, 0, 1)[:-1],
        read_request(1, HOLDING, 0, 1)[:-1] + b"\x00",
        sealed(bytes((1, 6, 0, 0, 0, 1))),
        b"",
    ],
)
def test_what_is_damaged_or_for_another_is_passed_over(request_bytes):
    """Another device, a cut frame, a wrong checksum, a function that is none of these: silence."""
    assert GAUGE.answer(request_bytes) == b""


def test_a_text_gauge_knows_its_polls():
    """An unknown poll is not even repeated."""
    gauge = TextGauge({b"PV\r": b"-0025\r"}, echo=True)
    assert gauge.answer(b"PV\r") == b"PV\r-0025\r"
    assert gauge.answer(b"PX\r") == b""
