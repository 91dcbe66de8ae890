"""What a line brings to the head of the pipe."""

from dataclasses import dataclass
from enum import StrEnum

from shared.clock import Instant


@dataclass(frozen=True, slots=True)
class Received:
    """Bytes as a port gave them, with the instant of the first."""

    at: Instant
    port: str
    data: bytes


@dataclass(frozen=True, slots=True)
class Exchanged:
    """A request and its reply on a polled line, with the instants of both; an empty reply is silence."""

    at: Instant
    port: str
    asked_at: Instant
    request: bytes
    reply: bytes


class PortFaultKind(StrEnum):
    """What can happen to a port itself."""

    GONE = "gone"  # was open and is no longer there
    MISSING = "missing"  # cannot be found
    BUSY = "busy"  # another program holds it
    DENIED = "denied"  # the system refuses us
    OPENED = "opened"  # open (again): a fault on this port has ended, bytes sent before are lost


@dataclass(frozen=True, slots=True)
class PortFault:
    """Something happened to a port; `detail` is what the system said."""

    at: Instant
    port: str
    kind: PortFaultKind
    detail: str = ""


LineArrival = Received | Exchanged | PortFault
