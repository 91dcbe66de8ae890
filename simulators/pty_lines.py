"""Simulated lines on real pseudo-terminals: what a gauge's cable is to a reader, with a plug to pull."""

import os
import tempfile
import tty
from pathlib import Path

from simulators.lines import PATIENCE_S, LineTrouble, write_all


class PtyLines:
    """Lines on pseudo-terminals, each under a symlink of a stable name in a private folder.

    The slave is made raw before anybody can open it, and held open so that it stays so. A pulled line
    loses its device and its symlink; laid again it may have another number behind the same symlink.
    """

    def __init__(self, patience_s: float = PATIENCE_S) -> None:
        self._patience_s = patience_s
        self._folder = tempfile.TemporaryDirectory(prefix="overbottom-lines-")
        self._ends: dict[str, tuple[int, int]] = {}

    def lay(self, port: str) -> str:
        """A new pseudo-terminal under the port's symlink; the address names the symlink."""
        if port in self._ends:
            raise LineTrouble(f"{port}: already laid")
        master, slave = os.openpty()
        tty.setraw(slave)
        os.set_blocking(master, False)
        self._ends[port] = master, slave
        link = self._link(port)
        link.symlink_to(os.ttyname(slave))
        return f"serial://{link}"

    def opened(self, port: str) -> None:
        """Nothing to do: a pseudo-terminal does not tell who opens it."""
        self._end(port)

    def write(self, port: str, data: bytes) -> None:
        """Write all of `data`, waiting with patience for a reader that is slow."""
        master, _ = self._end(port)
        write_all(port, master, lambda rest: os.write(master, rest), data, self._patience_s)

    def pull(self, port: str) -> None:
        """Close both ends: the reader's next read fails, and the symlink is gone."""
        master, slave = self._end(port)
        del self._ends[port]
        self._link(port).unlink()
        os.close(slave)
        os.close(master)

    def close(self) -> None:
        """Pull every line and remove the folder."""
        for port in tuple(self._ends):
            self.pull(port)
        self._folder.cleanup()

    def _end(self, port: str) -> tuple[int, int]:
        if port not in self._ends:
            raise LineTrouble(f"{port}: no such line, or its cable is pulled")
        return self._ends[port]

    def _link(self, port: str) -> Path:
        return Path(self._folder.name) / port.rpartition("/")[2]
