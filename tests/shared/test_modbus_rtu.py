"""Modbus RTU: literal frames come out and in; nothing damaged is taken; nothing writes."""

import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shared.gauges import RegisterTable
from shared.readings import LinkFaultKind
from shared.wire.frame_fault import FrameFault
from shared.wire.modbus_rtu import (
    FUNCTION_OF,
    Registers,
    crc,
    exception_reply,
    read_reply,
    read_request,
    registers_in,
    reply_bytes,
    sealed,
)

REFUSED = LinkFaultKind.REFUSED
HOLDING, INPUT = RegisterTable.HOLDING, RegisterTable.INPUT
VECTORS = (Path(__file__).parents[1] / "data" / "wire" / "modbus_rtu.txt").read_text().splitlines()
ONE, FOURTH, ONE_REPLY, TWO, TWO_REPLY = (bytes.fromhex(line.split(maxsplit=1)[1]) for line in VECTORS)
SOURCES = [
    path
    for room in ("shared", "drivers", "simulators", "station")
    for path in (Path(__file__).parents[2] / room).rglob("*.py")
]


def test_the_crc_has_its_check_value():
    """CRC-16/MODBUS of the text 123456789 is 4B37, by its published parameters."""
    assert crc(b"123456789") == 0x4B37


def test_requests_are_the_literal_ones():
    """Device 1, holding registers 0, 4, and two from 0 on."""
    assert read_request(1, HOLDING, 0, 1) == ONE
    assert read_request(1, HOLDING, 4, 1) == FOURTH
    assert read_request(1, HOLDING, 0, 2) == TWO


def test_replies_are_the_literal_ones():
    """Both ways: 219 in one register, 42F6 E979 in two."""
    assert registers_in(ONE, ONE_REPLY) == Registers((219,), ONE_REPLY, b"")
    assert registers_in(TWO, TWO_REPLY) == Registers((0x42F6, 0xE979), TWO_REPLY, b"")
    assert read_reply(1, HOLDING, (219,)) == ONE_REPLY
    assert read_reply(1, HOLDING, (0x42F6, 0xE979)) == TWO_REPLY
    assert len(TWO_REPLY) == reply_bytes(2)


def test_only_functions_that_read_exist():
    """03 and 04 are all there is; a request of ours never bears another."""
    assert FUNCTION_OF == {HOLDING: 3, INPUT: 4}
    for table in RegisterTable:
        assert read_request(9, table, 0, 1)[1] in {3, 4}


@pytest.mark.parametrize("number", [0x05, 0x06, 0x0F, 0x10, 0x15, 0x16, 0x17])
def test_no_request_that_writes_is_taken(number):
    """A frame of a function that writes is none of ours, even when it is sound."""
    with pytest.raises(ValueError, match="not a request to read"):
        registers_in(sealed(bytes((1, number, 0, 0, 0, 1))), b"")


def test_the_code_base_knows_no_function_that_writes():
    """Neither a name nor a function code of a Modbus write stands in any source."""
    names = re.compile(
        r"write_(single|multiple|coil|register)|(coil|register)s?_write|mask_write", re.IGNORECASE
    )
    codes = re.compile(r"\b0[xX](05|06|0[fF]|10|15|16|17)\b")
    assert len(SOURCES) > 50
    for path in SOURCES:
        text = path.read_text("utf-8")
        assert not names.search(text), path
        if "modbus" in path.name or path.name in {"polled.py", "asking.py", "polling.py", "turns.py"}:
            assert not codes.search(text), path


@pytest.mark.parametrize(
    ("device", "register", "words"),
    [(0, 0, 1), (248, 0, 1), (1, -1, 1), (1, 65535, 2), (1, 0, 0), (1, 0, 126)],
)
def test_a_read_that_cannot_be_is_a_mistake_of_ours(device, register, words):
    """Broadcast, addresses beyond 247, registers beyond the last: refused before anything is sent."""
    with pytest.raises(ValueError, match=r"no such read|do not exist"):
        read_request(device, HOLDING, register, words)


@pytest.mark.parametrize(
    ("reply", "kind", "words"),
    [
        (b"", LinkFaultKind.NO_REPLY, "device 1 does not answer"),
        (TWO_REPLY[:-1], LinkFaultKind.GARBLED, "8 of 9 bytes of an answer"),
        (TWO_REPLY[:-1] + b"\x0c", LinkFaultKind.CHECKSUM, "CRC 0C80, but its bytes give 0B80"),
        (read_reply(2, HOLDING, (1, 2)), LinkFaultKind.GARBLED, "an answer of device 2, asked was 1"),
        (read_reply(1, INPUT, (1, 2)), LinkFaultKind.GARBLED, "an answer of function 4, asked was 3"),
        (ONE_REPLY, LinkFaultKind.GARBLED, "an answer of 2 bytes, asked was 4"),
        (
            exception_reply(1, HOLDING, 2),
            LinkFaultKind.REFUSED,
            "device 1 refuses, 2: it has no such register",
        ),
        (
            exception_reply(1, HOLDING, 99),
            LinkFaultKind.REFUSED,
            "device 1 refuses, 99: for a reason of its own",
        ),
        (exception_reply(1, HOLDING, 2)[:-1], LinkFaultKind.GARBLED, "4 of 5 bytes of an answer"),
        (b"\x01", LinkFaultKind.GARBLED, "1 of 9 bytes of an answer"),
        (TWO, LinkFaultKind.NO_REPLY, "device 1 does not answer"),
    ],
)
def test_what_is_no_answer_says_why(reply, kind, words):
    """Silence, cut frames, wrong checksums, other devices, functions and lengths, refusals: each by name."""
    assert registers_in(TWO, reply) == FrameFault(kind, words, reply)


def test_a_line_that_hears_itself_gives_its_answer():
    """Our own request before the answer is taken off and is no stray."""
    assert registers_in(TWO, TWO + TWO_REPLY) == Registers((0x42F6, 0xE979), TWO_REPLY, b"")


def test_bytes_around_an_answer_are_told():
    """A glitch of the line before or behind costs nothing but a note."""
    assert registers_in(TWO, b"\x00" + TWO_REPLY + b"\xff") == Registers(
        (0x42F6, 0xE979), TWO_REPLY, b"\x00\xff"
    )


@given(
    device=st.integers(1, 247),
    table=st.sampled_from(RegisterTable),
    words=st.lists(st.integers(0, 65535), min_size=1, max_size=125),
    register=st.integers(0, 65000),
)
def test_what_a_device_sends_is_what_is_read(device, table, words, register):
    """Any registers come back as they were."""
    request = read_request(device, table, register, len(words))
    found = registers_in(request, read_reply(device, table, tuple(words)))
    assert isinstance(found, Registers)
    assert found.words == tuple(words)


@given(st.binary(max_size=300))
def test_noise_is_never_an_answer(noise):
    """Bytes that hold no sound frame give a fault that carries them, whatever they are."""
    found = registers_in(TWO, noise)
    assert isinstance(found, FrameFault)
    assert found.data == noise
