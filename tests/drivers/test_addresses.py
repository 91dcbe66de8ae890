"""Addresses of lines are read strictly, and a wrong one says all that is wrong."""

from contextlib import suppress

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drivers.addresses import (
    Address,
    AddressFault,
    Parity,
    RehearsalAddress,
    SerialAddress,
    SocketAddress,
    parse_address,
)


@pytest.mark.parametrize(
    ("text", "address"),
    [
        ("serial:///dev/ttyUSB0?baud=9600", SerialAddress("/dev/ttyUSB0", 9600)),
        ("serial:///dev/pts/7", SerialAddress("/dev/pts/7", 4800, Parity.NONE, 8, 1)),
        (
            "serial://COM3?baud=19200&parity=even&bytesize=7&stopbits=2",
            SerialAddress("COM3", 19200, Parity.EVEN, 7, 2),
        ),
        (
            "serial:///dev/serial/by-id/usb-Some%20Maker-if00",
            SerialAddress("/dev/serial/by-id/usb-Some Maker-if00"),
        ),
        ("socket://127.0.0.1:4001", SocketAddress("127.0.0.1", 4001)),
        ("socket://[::1]:4001", SocketAddress("::1", 4001)),
        ("socket://gauges.local:80", SocketAddress("gauges.local", 80)),
    ],
)
def test_addresses_are_read(text, address):
    """Serial lines and sockets, with what is left out filled in."""
    assert parse_address(text) == address


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("/dev/ttyUSB0", "must begin with serial:// or socket://"),
        ("", "must begin with"),
        ("http://host:80", "must begin with"),
        ("serial://", "no device"),
        ("serial:///", "no device"),
        ("serial:///dev/x?9600", "unknown setting '9600', known are baud"),
        ("serial:///dev/x?baud=9601", "baud '9601' is none of 300, 600"),
        ("serial:///dev/x?baud=", "baud '' is none of"),
        ("serial:///dev/x?parity=N", "parity 'N' is none of none, even, odd"),
        ("serial:///dev/x?speed=9600", "unknown setting 'speed', known are baud, parity, bytesize, stopbits"),
        ("serial:///dev/x?baud=9600&baud=4800", "baud is given more than once"),
        ("serial:///dev/x#1", "nothing may stand behind #"),
        ("serial:///dev/x%00y", "no device"),
        ("serial:///dev/my port", "no blanks"),
        ("serial:///dev/x\n", "no blanks or control characters"),
        ("socket://host", "must be socket://host:port"),
        ("socket://:4001", "must be socket://host:port"),
        ("socket://host:99999", "Port out of range"),
        ("socket://host:x", "could not be cast"),
        ("socket://host:1/path", "nothing but host and port"),
        ("socket://me@host:1", "nothing but host and port"),
        ("socket://[::1:4001", "Invalid IPv6"),
        ("rehearsal://pneumo", "only in a rehearsal"),
    ],
)
def test_wrong_addresses_say_why(text, words):
    """The message holds the address and the reason."""
    with pytest.raises(AddressFault) as caught:
        parse_address(text)
    assert words in str(caught.value)
    assert repr(text) in str(caught.value)


def test_everything_wrong_with_a_serial_address_is_told_at_once():
    """Two wrong settings need one reading of the message."""
    with pytest.raises(AddressFault, match=r"baud '1' is none of .*; stopbits '3' is none of 1, 2"):
        parse_address("serial:///dev/x?baud=1&stopbits=3")


def test_rehearsal_lines_are_addresses_where_they_are_asked_for():
    """A rehearsal's line has a name and nothing else."""
    assert parse_address("rehearsal://pneumo", rehearsal=True) == RehearsalAddress("pneumo")
    for text in ("rehearsal://", "rehearsal://a/b", "rehearsal://a?x=1"):
        with pytest.raises(AddressFault, match="must be rehearsal://NAME"):
            parse_address(text, rehearsal=True)


@given(
    st.one_of(
        st.text(max_size=30),
        st.text(max_size=20).map("serial://".__add__),
        st.text().map("socket://".__add__),
    )
)
def test_any_text_is_an_address_or_a_fault(text):
    """Nothing that a person may type breaks the reader."""
    with suppress(AddressFault):
        assert isinstance(parse_address(text, rehearsal=True), Address)
