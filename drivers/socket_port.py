"""Lines behind a TCP server, with a plain socket: pyserial's own cannot say how much has come."""

import select
import socket
from threading import Lock
from typing import Final

from drivers.addresses import SocketAddress
from shared.arrivals import PortFaultKind
from shared.ports import PortTrouble

CONNECT_TIMEOUT_S: Final = 3.0
"""A server that does not answer for so long is missing: own choice."""

WRITE_TIMEOUT_S: Final = 1.0
"""A server that takes no bytes for so long is gone: own choice."""

MOST_AT_ONCE: Final = 4096
"""Bytes taken in one read: own choice."""


class SocketPort:
    """An open connection."""

    def __init__(self, name: str, line: socket.socket) -> None:
        self._name = name
        self._line = line
        self._wake, self._woken = socket.socketpair()
        self._closing = Lock()
        self._open = True

    def read(self, timeout_s: float) -> bytes:
        """What has come, or b"" when nothing came in time or the read was cancelled."""
        ready, _, _ = select.select([self._line, self._woken], [], [], timeout_s)
        if self._woken in ready:
            self._woken.recv(MOST_AT_ONCE)
            return b""
        if not ready:
            return b""
        try:
            data = self._line.recv(MOST_AT_ONCE)
        except OSError as error:
            raise PortTrouble(self._name, PortFaultKind.GONE, str(error)) from error
        if not data:
            raise PortTrouble(self._name, PortFaultKind.GONE, "the other side closed the connection")
        return data

    def write(self, data: bytes) -> None:
        """Send all of `data`. Raises PortTrouble when the connection is gone or takes no more."""
        try:
            self._line.sendall(data)
        except OSError as error:
            raise PortTrouble(self._name, PortFaultKind.GONE, str(error)) from error

    def cancel(self) -> None:
        """Make a blocking read of another thread return at once; harmless on a closed port."""
        with self._closing:
            if self._open:
                self._wake.send(b"x")

    def close(self) -> None:
        """Give the connection back."""
        with self._closing:
            self._open = False
            for end in (self._line, self._wake, self._woken):
                end.close()


def open_socket(name: str, address: SocketAddress) -> SocketPort:
    """A connection to `address`. Raises PortTrouble that bears `name`."""
    try:
        line = socket.create_connection((address.host, address.port), timeout=CONNECT_TIMEOUT_S)
    except PermissionError as error:
        raise PortTrouble(name, PortFaultKind.DENIED, str(error)) from error
    except OSError as error:
        raise PortTrouble(name, PortFaultKind.MISSING, str(error)) from error
    line.settimeout(WRITE_TIMEOUT_S)
    line.setsockopt(socket.SOL_SOCKET, socket.SO_KEEPALIVE, 1)
    line.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
    return SocketPort(name, line)
