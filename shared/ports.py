"""The protocol of a port: what a reader may ask of a line, real or simulated."""

from collections.abc import Callable
from typing import Protocol

from shared.arrivals import PortFaultKind


class PortTrouble(Exception):  # noqa: N818 - a port in trouble, as the trade would say it
    """A port cannot be opened or read; `kind` says why, `detail` what the system said."""

    def __init__(self, port: str, kind: PortFaultKind, detail: str) -> None:
        super().__init__(f"{port}: {kind.value}: {detail}")
        self.port = port
        self.kind = kind
        self.detail = detail


class Port(Protocol):
    """An open line. Only the thread that reads it closes it."""

    def read(self, timeout_s: float) -> bytes:
        """Bytes that have come, or b"" when none came in time. Raises PortTrouble when the line is gone."""
        ...

    def write(self, data: bytes) -> None:
        """Send all of `data`. Raises PortTrouble when the line is gone."""
        ...

    def cancel(self) -> None:
        """Make a blocking read of another thread return at once."""
        ...

    def close(self) -> None:
        """Give the line back; never fails on a line that is gone."""
        ...


Opener = Callable[[str], Port]
"""Opens a port by its address; raises PortTrouble."""
