"""A horn's relay on a serial line: which addresses carry one, and what a line without signals says."""

import os
import pty

import pytest

from drivers.addresses import AddressFault
from drivers.horn_line import horn_address, open_horn
from shared.ports import PortTrouble


@pytest.mark.posix
@pytest.mark.parametrize("signal", ["rts", "dtr"])
def test_a_pseudo_terminal_has_no_signals_and_says_so(signal) -> None:
    """It opens, and the first setting is refused with the signal and the system's words (ENOTTY)."""
    master, slave = pty.openpty()
    try:
        line = open_horn(f"serial://{os.ttyname(slave)}", signal)
        with pytest.raises(PortTrouble, match=f"cannot set {signal}"):
            line.set(True)
        line.close()
    finally:
        os.close(master)
        os.close(slave)


def test_a_line_that_is_not_there_is_told() -> None:
    """As any port: with the address and why."""
    with pytest.raises(PortTrouble, match="no-such-line"):
        open_horn("serial:///dev/no-such-line", "rts")


@pytest.mark.parametrize("text", ["socket://192.0.2.1:4001", "rehearsal://horn", "COM3"])
def test_only_a_serial_line_carries_a_horn(text) -> None:
    """A socket has no signals, a rehearsal none that may leave the computer."""
    with pytest.raises(AddressFault):
        horn_address(text)
    with pytest.raises(PortTrouble):
        open_horn(text, "rts")
