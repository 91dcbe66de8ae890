"""What a simulated line must do, whatever it is made of, and how bytes are written to it."""

import select
from collections.abc import Callable
from typing import Final, Protocol

PATIENCE_S: Final = 5.0
"""How long a reader may leave a full line unread before that is an error: wall time. Own choice."""


class LineTrouble(Exception):  # noqa: N818 - a line in trouble, as the trade would say it
    """A simulated line cannot be laid, or its reader does not read; the message says which and why."""


class Lines(Protocol):
    """Lines that a station can open, by the port's name in the station file."""

    def lay(self, port: str) -> str:
        """Lay a line, or a pulled one again; the address at which it can be opened."""
        ...

    def opened(self, port: str) -> None:
        """The reader says that it has opened the line. Raises LineTrouble when that cannot be."""
        ...

    def write(self, port: str, data: bytes) -> None:
        """Write all of `data`. Raises LineTrouble when the reader leaves it unread."""
        ...

    def pull(self, port: str) -> None:
        """Pull the cable: the reader loses the line."""
        ...

    def close(self) -> None:
        """Take every line up."""
        ...


def write_all(
    port: str, descriptor: int, write: Callable[[bytes], int], data: bytes, patience_s: float
) -> None:
    """Write all of `data` on a non-blocking line, in as many pieces as it takes.

    Raises LineTrouble, saying how much is left, when the line stays full for `patience_s` of wall time.
    """
    rest = data
    while rest:
        try:
            rest = rest[write(rest) :]
        except BlockingIOError:
            if not select.select([], [descriptor], [], patience_s)[1]:
                what = f"{len(rest)} of {len(data)} bytes cannot be written, the line's buffer is full"
                raise LineTrouble(f"{port}: {what}: nobody reads it") from None
        except OSError as error:
            raise LineTrouble(f"{port}: {error.strerror}") from error
