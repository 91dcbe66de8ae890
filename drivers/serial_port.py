"""Serial lines of this computer: the only file that knows pyserial.

Opening is exclusive and throws away what the line had buffered. Modem lines are never asked for: a
pseudo-terminal has none; only the relay of a horn has one set.
A line that goes away shows itself by SerialException from a read, by a plain
OSError from a count of waiting bytes, or by a terminal error from a setting: all become PortTrouble.
Only the thread that reads a port closes it: closing under a blocking read ends in a TypeError.
"""

import errno
import os
import sys
from dataclasses import dataclass
from enum import StrEnum
from math import ceil
from pathlib import Path
from threading import Lock
from typing import Final

import serial
from serial.tools import list_ports as enumerated

from drivers.addresses import Parity, SerialAddress
from shared.arrivals import PortFaultKind
from shared.ports import PortTrouble

if sys.platform == "win32":
    _LINE_ERRORS: tuple[type[Exception], ...] = (serial.SerialException, OSError)
else:
    import termios

    _LINE_ERRORS = (serial.SerialException, OSError, termios.error)

WRITE_TIMEOUT_S: Final = 1.0
"""A line that takes no bytes for so long is gone: own choice."""

STEP_S: Final = 0.05
"""Timeout of one read of the line: own choice, so that silence on a polled line is known soon. It is set
once, at the opening: pyserial sets up the whole line anew for a new timeout, which a pseudo-terminal with
parity refuses."""

BY_ID: Final = Path("/dev/serial/by-id")
"""Where Linux names serial adapters by maker and serial number, whatever socket they are put in."""

_PARITY_OF: Final = {
    Parity.NONE: serial.PARITY_NONE,
    Parity.EVEN: serial.PARITY_EVEN,
    Parity.ODD: serial.PARITY_ODD,
}
_KIND_OF: Final = {
    errno.EACCES: PortFaultKind.DENIED,
    errno.EPERM: PortFaultKind.DENIED,
    errno.EBUSY: PortFaultKind.BUSY,
    errno.EAGAIN: PortFaultKind.BUSY,
}


class SerialPort:
    """An open serial line."""

    def __init__(self, name: str, line: serial.Serial) -> None:
        self._name = name
        self._line = line
        self._cancelled = False
        self._closing = Lock()

    def read(self, timeout_s: float) -> bytes:
        """Everything that has come, or b"" when nothing came in time or the read was cancelled.

        The time is rounded up to whole steps of `STEP_S`; with 0 only what waits is taken.
        """
        try:
            for _ in range(ceil(timeout_s / STEP_S)):
                data: bytes = self._line.read(max(1, self._line.in_waiting))
                if data or self._cancelled:
                    self._cancelled = False
                    return data + self._rest() if data else data
            return self._line.read(self._line.in_waiting)
        except _LINE_ERRORS as error:
            raise self._gone(error) from error

    def _rest(self) -> bytes:
        """What came along with the first byte; a line that is gone by now says so at the next read."""
        try:
            waiting = self._line.in_waiting
            return self._line.read(waiting) if waiting else b""
        except _LINE_ERRORS:
            return b""

    def write(self, data: bytes) -> None:
        """Send all of `data`. Raises PortTrouble when the line is gone or takes no more."""
        try:
            self._line.write(data)
        except _LINE_ERRORS as error:
            raise self._gone(error) from error

    def cancel(self) -> None:
        """Make a blocking read of another thread return at once; harmless on a closed port."""
        with self._closing:
            if self._line.is_open:
                self._cancelled = True
                self._line.cancel_read()

    def close(self) -> None:
        """Give the line back."""
        with self._closing:
            self._line.close()

    def _gone(self, error: Exception) -> PortTrouble:
        return PortTrouble(self._name, PortFaultKind.GONE, str(error))


def open_serial(name: str, address: SerialAddress) -> SerialPort:
    """The line at `address`, exclusively ours. Raises PortTrouble that bears `name`."""
    try:
        line = serial.Serial(
            address.device,
            address.baud,
            bytesize=address.data_bits,
            parity=_PARITY_OF[address.parity],
            stopbits=address.stop_bits,
            timeout=STEP_S,
            write_timeout=WRITE_TIMEOUT_S,
            exclusive=True,
        )
    except _LINE_ERRORS as error:
        raise PortTrouble(name, _why_not_open(error), _told(error)) from error
    return SerialPort(name, line)


class LineSignal(StrEnum):
    """A modem line that this end sets; a relay can hang on either."""

    RTS = "rts"
    DTR = "dtr"


class SignalLine:
    """A serial line of which only one modem line is used, as a switch."""

    def __init__(self, name: str, line: serial.Serial, signal: LineSignal) -> None:
        self._name = name
        self._line = line
        self._signal = signal

    def set(self, on: bool) -> None:
        """Set the signal or take it back. Raises PortTrouble: a pseudo-terminal, for one, has none."""
        try:
            setattr(self._line, self._signal.value, on)
        except _LINE_ERRORS as error:
            detail = f"cannot set {self._signal.value}: {_told(error)}"
            raise PortTrouble(self._name, PortFaultKind.GONE, detail) from error

    def close(self) -> None:
        """Give the line back; the system drops its signals."""
        self._line.close()


def open_signal(name: str, address: SerialAddress, signal: LineSignal) -> SignalLine:
    """The line at `address` as a switch, off and exclusively ours. Raises PortTrouble.

    Many systems set both signals for an instant at the opening: a relay may click once.
    """
    try:
        line = serial.Serial(None, address.baud, exclusive=True)
        line.port = address.device
        line.rts = line.dtr = False
        line.open()
    except _LINE_ERRORS as error:
        raise PortTrouble(name, _why_not_open(error), _told(error)) from error
    return SignalLine(name, line, signal)


def _why_not_open(error: Exception) -> PortFaultKind:
    if "PermissionError" in str(error):  # Windows: pyserial gives no number, and a port in use is "denied"
        return PortFaultKind.BUSY
    return _KIND_OF.get(getattr(error, "errno", None) or 0, PortFaultKind.MISSING)


def _told(error: Exception) -> str:
    """What the system said, without the device: that is named already."""
    number = getattr(error, "errno", None)
    return os.strerror(number) if number is not None else str(error)


@dataclass(frozen=True, slots=True)
class FoundPort:
    """A serial line of this computer.

    `address` is ready for a station file; `lasting` is one that stays the same in another socket, empty
    where the system offers none. `title` and `hardware` are what the system says of it.
    """

    address: str
    lasting: str
    title: str
    hardware: str


def list_ports(by_id: Path = BY_ID) -> tuple[FoundPort, ...]:
    """The serial lines that the system knows of, by name; pseudo-terminals are not among them."""
    lasting = {str(link.resolve()): str(link) for link in sorted(by_id.glob("*"))}
    return tuple(
        FoundPort(
            f"serial://{found.device}",
            f"serial://{lasting[found.device]}" if found.device in lasting else "",
            found.description or "",
            found.hwid or "",
        )
        for found in sorted(enumerated.comports(), key=lambda found: found.device)
    )
