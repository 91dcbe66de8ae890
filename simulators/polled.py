"""Simulated gauges that speak only when they are asked: bytes in, bytes out, without a line of their own."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from shared.gauges import RegisterTable
from shared.wire.modbus_rtu import FUNCTION_OF, exception_reply, read_reply, sealed

_NO_SUCH_REGISTER = 2
_TABLE_OF = {function: table for table, function in FUNCTION_OF.items()}


@dataclass(slots=True)
class RegisterGauge:
    """A Modbus device; `words` holds its registers by table and number, and may change between two reads."""

    device: int
    words: dict[tuple[RegisterTable, int], int] = field(default_factory=dict)

    def answer(self, request: bytes) -> bytes:
        """The reply to one request; nothing when it is damaged or for another device."""
        if len(request) != 8 or request[0] != self.device or sealed(request[:-2]) != request:
            return b""
        table = _TABLE_OF.get(request[1])
        if table is None:
            return b""
        first = int.from_bytes(request[2:4], "big")
        wanted = [(table, first + place) for place in range(int.from_bytes(request[4:6], "big"))]
        if any(register not in self.words for register in wanted):
            return exception_reply(self.device, table, _NO_SUCH_REGISTER)
        return read_reply(self.device, table, tuple(self.words[register] for register in wanted))


@dataclass(slots=True)
class TextGauge:
    """A gauge that answers polls with lines of text; `answers` holds them by the bytes of the poll."""

    answers: Mapping[bytes, bytes]
    echo: bool = False

    def answer(self, request: bytes) -> bytes:
        """The reply to one poll, its echo first; nothing for a poll that it does not know."""
        reply = self.answers.get(request, b"")
        return request + reply if self.echo and reply else reply
