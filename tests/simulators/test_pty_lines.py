"""Simulated lines on real pseudo-terminals, read as a port would read them."""

import os
import select
import termios
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from pathlib import Path

import pytest

pytestmark = pytest.mark.posix

pytest.importorskip("termios", reason="pseudo-terminals are POSIX")

from simulators.lines import LineTrouble  # noqa: E402
from simulators.pty_lines import PtyLines  # noqa: E402

PORT = "rehearsal://PNEUMO"


@pytest.fixture
def lines() -> Iterator[PtyLines]:
    """Lines without patience, taken up after the test."""
    with closing(PtyLines(patience_s=0.0)) as laid:
        yield laid


def _open(address: str) -> int:
    """The slave as a reader opens it, by the path in its address."""
    return os.open(address.removeprefix("serial://"), os.O_RDWR | os.O_NOCTTY | os.O_NONBLOCK)


def _read(slave: int, wanted: int) -> bytes:
    """As many bytes as wanted, or those that came before the line went quiet."""
    got = b""
    while len(got) < wanted and select.select([slave], [], [], 5.0)[0]:
        got += os.read(slave, wanted - len(got))
    return got


def test_bytes_come_through_as_they_were_written(lines: PtyLines):
    """All 256 values, line ends and control bytes too: the slave is raw before anybody opens it."""
    address = lines.lay(PORT)
    slave = _open(address)
    every = bytes(range(256)) * 2 + b"$YXXDR\r\n"
    lines.write(PORT, every)
    assert _read(slave, len(every)) == every
    os.close(slave)


def test_the_slave_neither_echoes_nor_cooks(lines: PtyLines):
    """What a reader writes does not come back to it."""
    slave = _open(lines.lay(PORT))
    input_modes, output_modes, _, local_modes, *_ = termios.tcgetattr(slave)
    assert not local_modes & (termios.ECHO | termios.ICANON | termios.ISIG)
    assert not input_modes & (termios.ICRNL | termios.IXON)
    assert not output_modes & termios.OPOST
    os.close(slave)


def test_a_line_is_published_in_a_private_folder(lines: PtyLines):
    """The symlink bears the line's name, and nobody else may enter its folder."""
    link = Path(lines.lay(PORT).removeprefix("serial://"))
    assert link.is_symlink()
    assert link.name == "PNEUMO"
    assert link.parent.stat().st_mode & 0o077 == 0


def test_a_pulled_cable_is_noticed_by_its_reader_and_its_symlink_is_gone(lines: PtyLines):
    """Reading fails or finds the end, as with an adapter that was unplugged."""
    address = lines.lay(PORT)
    slave = _open(address)
    lines.pull(PORT)
    try:
        rest = os.read(slave, 100)
    except OSError:
        rest = b""
    assert rest == b""
    with pytest.raises(FileNotFoundError):
        _open(address)
    os.close(slave)


def test_a_restored_line_speaks_behind_the_same_symlink(lines: PtyLines):
    """Whatever number it got, the address is the one before."""
    before = lines.lay(PORT)
    lines.pull(PORT)
    after = lines.lay(PORT)
    assert after == before
    slave = _open(after)
    lines.write(PORT, b"back\r\n")
    assert _read(slave, 6) == b"back\r\n"
    os.close(slave)


def test_a_line_that_nobody_reads_is_an_error_and_nothing_is_dropped_in_silence(lines: PtyLines):
    """The message names the line and what is left, and all that was written can still be read."""
    slave = _open(lines.lay(PORT))
    with pytest.raises(
        LineTrouble, match=r"rehearsal://PNEUMO: (\d+) of 1000000 bytes .* buffer is full"
    ) as told:
        lines.write(PORT, b"8" * 1_000_000)
    left = int(str(told.value).split()[1])
    assert _read(slave, 1_000_000 - left) == b"8" * (1_000_000 - left)
    os.close(slave)


def test_a_write_larger_than_the_buffer_goes_through_when_somebody_reads():
    """In as many pieces as it takes, in order."""
    with closing(PtyLines(patience_s=30.0)) as lines:
        slave = _open(lines.lay(PORT))
        whole = bytes(count % 251 for count in range(60_000))
        with ThreadPoolExecutor(1) as other:
            heard = other.submit(_read, slave, len(whole))
            lines.write(PORT, whole)
            assert heard.result(timeout=30.0) == whole
        os.close(slave)


def test_a_line_that_is_not_there_cannot_be_used(lines: PtyLines):
    """Writing on, opening or pulling a line that was pulled or never laid is an error that names it."""
    for use in (lines.pull, lines.opened, lambda port: lines.write(port, b"x")):
        with pytest.raises(LineTrouble, match="rehearsal://PNEUMO: no such line, or its cable is pulled"):
            use(PORT)


def test_a_line_is_not_laid_twice(lines: PtyLines):
    """The one that is there would be lost."""
    lines.lay(PORT)
    with pytest.raises(LineTrouble, match="already laid"):
        lines.lay(PORT)


def test_closing_takes_everything_up():
    """No symlink, no folder and no descriptor stays behind."""
    before = set(Path("/dev/fd").iterdir())
    lines = PtyLines()
    link = Path(lines.lay(PORT).removeprefix("serial://"))
    lines.lay("rehearsal://SUPPLY")
    lines.close()
    assert not link.parent.exists()
    assert set(Path("/dev/fd").iterdir()) == before
