"""Simulated lines on sockets of this machine, for systems without pseudo-terminals."""

import socket
from typing import Final

from simulators.lines import PATIENCE_S, LineTrouble, write_all

HOST: Final = "127.0.0.1"
"""Only this machine can open a simulated line."""


class SocketLines:
    """Lines on `socket://127.0.0.1:PORT`, one reader each; a line laid again has another number."""

    def __init__(self, patience_s: float = PATIENCE_S) -> None:
        self._patience_s = patience_s
        self._servers: dict[str, socket.socket] = {}
        self._readers: dict[str, socket.socket] = {}

    def lay(self, port: str) -> str:
        """A new listening socket; the address carries its number."""
        if port in self._servers:
            raise LineTrouble(f"{port}: already laid")
        server = socket.create_server((HOST, 0), backlog=1)
        server.settimeout(self._patience_s)
        self._servers[port] = server
        return f"socket://{HOST}:{server.getsockname()[1]}"

    def opened(self, port: str) -> None:
        """Take the reader's connection in. Raises LineTrouble when there is none."""
        if port not in self._servers:
            raise LineTrouble(f"{port}: no such line, or its cable is pulled")
        stale = self._readers.pop(port, None)
        if stale is not None:
            stale.close()
        try:
            reader, _ = self._servers[port].accept()
        except (TimeoutError, BlockingIOError):
            raise LineTrouble(f"{port}: said to be open, but nobody has connected") from None
        reader.setblocking(False)
        reader.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
        self._readers[port] = reader

    def write(self, port: str, data: bytes) -> None:
        """Write all of `data`, waiting with patience for a reader that is slow."""
        if port not in self._readers:
            raise LineTrouble(f"{port}: nobody has opened it")
        reader = self._readers[port]
        write_all(port, reader.fileno(), reader.send, data, self._patience_s)

    def pull(self, port: str) -> None:
        """Close the connection and the listening socket."""
        if port not in self._servers:
            raise LineTrouble(f"{port}: no such line, or its cable is pulled")
        self._servers.pop(port).close()
        reader = self._readers.pop(port, None)
        if reader is not None:
            reader.close()

    def close(self) -> None:
        """Take every line up."""
        for port in tuple(self._servers):
            self.pull(port)
