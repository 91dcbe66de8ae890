"""Simulated lines on sockets of this machine."""

import socket
from collections.abc import Iterator
from contextlib import closing

import pytest

from simulators.lines import LineTrouble
from simulators.socket_lines import SocketLines

PORT = "rehearsal://PNEUMO"


@pytest.fixture
def lines() -> Iterator[SocketLines]:
    """Lines with little patience, taken up after the test."""
    with closing(SocketLines(patience_s=0.2)) as laid:
        yield laid


def _connect(address: str) -> socket.socket:
    host, _, number = address.removeprefix("socket://").partition(":")
    reader = socket.create_connection((host, int(number)), timeout=5.0)
    reader.settimeout(5.0)
    return reader


def _say_three_times(lines: SocketLines) -> None:
    for _ in range(3):
        lines.write(PORT, b"x")


def _read(reader: socket.socket, wanted: int) -> bytes:
    got = b""
    while len(got) < wanted and (piece := reader.recv(wanted - len(got))):
        got += piece
    return got


def test_bytes_come_through_once_the_reader_is_taken_in(lines: SocketLines):
    """All 256 values, in order."""
    with closing(_connect(lines.lay(PORT))) as reader:
        lines.opened(PORT)
        lines.write(PORT, bytes(range(256)))
        assert _read(reader, 256) == bytes(range(256))


def test_only_this_machine_can_open_a_line(lines: SocketLines):
    """The address is that of the loopback."""
    assert lines.lay(PORT).startswith("socket://127.0.0.1:")


def test_a_pulled_cable_is_the_end_for_its_reader_and_for_the_next(lines: SocketLines):
    """Reading finds the end, and connecting again is refused."""
    address = lines.lay(PORT)
    with closing(_connect(address)) as reader:
        lines.opened(PORT)
        lines.pull(PORT)
        assert reader.recv(100) == b""
    with pytest.raises(ConnectionRefusedError):
        _connect(address)


def test_a_restored_line_speaks_at_its_new_address(lines: SocketLines):
    """The number may be another; what is said at it is heard."""
    lines.lay(PORT)
    lines.pull(PORT)
    with closing(_connect(lines.lay(PORT))) as reader:
        lines.opened(PORT)
        lines.write(PORT, b"back\r\n")
        assert _read(reader, 6) == b"back\r\n"


def test_a_reader_may_open_the_line_again(lines: SocketLines):
    """The later connection is the one that is spoken to; the one before finds the end."""
    address = lines.lay(PORT)
    with closing(_connect(address)) as first:
        lines.opened(PORT)
        with closing(_connect(address)) as second:
            lines.opened(PORT)
            lines.write(PORT, b"twice")
            assert first.recv(100) == b""
            assert _read(second, 5) == b"twice"


def test_a_line_that_nobody_opened_cannot_be_spoken_on(lines: SocketLines):
    """Neither before a connection nor on the word of somebody who has not connected."""
    lines.lay(PORT)
    with pytest.raises(LineTrouble, match="rehearsal://PNEUMO: nobody has opened it"):
        lines.write(PORT, b"x")
    with pytest.raises(LineTrouble, match="rehearsal://PNEUMO: said to be open, but nobody has connected"):
        lines.opened(PORT)


def test_a_line_that_nobody_reads_is_an_error(lines: SocketLines):
    """The message names the line and what is left."""
    with closing(_connect(lines.lay(PORT))):
        lines.opened(PORT)
        with pytest.raises(LineTrouble, match=r"PNEUMO: \d+ of 100000000 bytes .* buffer is full"):
            lines.write(PORT, b"8" * 100_000_000)


def test_a_reader_that_has_gone_is_an_error_that_names_the_line(lines: SocketLines):
    """Writing to nobody is noticed at the latest when the system has told us."""
    reader = _connect(lines.lay(PORT))
    lines.opened(PORT)
    reader.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, b"\1\0\0\0\0\0\0\0")
    reader.close()
    with pytest.raises(LineTrouble, match="rehearsal://PNEUMO: "):
        _say_three_times(lines)


def test_lines_that_are_not_there_or_twice_are_errors(lines: SocketLines):
    """Each says which."""
    for use in (lines.pull, lines.opened):
        with pytest.raises(LineTrouble, match="no such line"):
            use(PORT)
    lines.lay(PORT)
    with pytest.raises(LineTrouble, match="already laid"):
        lines.lay(PORT)
