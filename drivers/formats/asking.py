"""What a polled gauge is asked, and whether what came is an answer."""

from typing import Final

from shared.gauges import AsciiText, Format, ModbusRegister
from shared.readings import LinkFaultKind
from shared.wire.frame_fault import FrameFault
from shared.wire.modbus_numbers import WORDS_IN
from shared.wire.modbus_rtu import read_request, registers_in, reply_bytes
from shared.wire.text_lines import ENDING_BYTES, MOST_LINE_BYTES, TextLine, text_line

MOST_REPLY_BYTES: Final = 512
"""So much is taken of one reply, an echo and a longest line at least: own choice."""

_NO_ANSWER: Final = frozenset({LinkFaultKind.NO_REPLY, LinkFaultKind.GARBLED, LinkFaultKind.CHECKSUM})


def request_of(wire: Format) -> bytes:
    """The bytes that ask a gauge of this format. Raises ValueError for one that is not polled."""
    match wire:
        case ModbusRegister():
            return read_request(wire.device, wire.table, wire.register, WORDS_IN[wire.number])
        case AsciiText() if wire.poll:
            return wire.poll.encode("ascii") + ENDING_BYTES[wire.poll_ending]
        case _:
            raise ValueError(f"{type(wire).__name__} without a poll is never asked")


def reply_bytes_of(wire: Format) -> int:
    """Bytes that the longest good reply has: what a timeout is computed from. Raises ValueError."""
    match wire:
        case ModbusRegister():
            return reply_bytes(WORDS_IN[wire.number])
        case AsciiText() if wire.poll:
            return MOST_ANSWER_BYTES + (len(request_of(wire)) if wire.echo else 0)
        case _:
            raise ValueError(f"{type(wire).__name__} without a poll never replies")


MOST_ANSWER_BYTES: Final = 32
"""Length of a text answer that timeouts are computed for: own choice, longer than any in the presets."""


def is_answer(wire: Format, reply: bytes) -> bool:
    """Whether a reply is whole and sound; a refusal of the gauge is an answer, too.

    Raises ValueError as `request_of` does.
    """
    request = request_of(wire)
    found = text_answer(wire, reply) if isinstance(wire, AsciiText) else registers_in(request, reply)
    return not (isinstance(found, FrameFault) and found.kind in _NO_ANSWER)


def text_answer(wire: AsciiText, reply: bytes) -> TextLine | FrameFault:
    """The one line that a reply holds behind its echo, or why it holds none."""
    request = request_of(wire)

    def garbled(what: str) -> FrameFault:
        return FrameFault(LinkFaultKind.GARBLED, what, reply)

    if not reply:
        return FrameFault(LinkFaultKind.NO_REPLY, "does not answer", reply)
    if wire.echo and not reply.startswith(request):
        return garbled("does not repeat the poll before its answer")
    rest = reply.removeprefix(request) if wire.echo else reply
    if not rest:
        return FrameFault(LinkFaultKind.NO_REPLY, "repeats the poll, but does not answer", reply)
    ending = ENDING_BYTES[wire.ending]
    *lines, tail = rest.split(ending)
    lines = [line for line in lines if line]
    if tail or len(lines) != 1:
        return garbled(f"{len(rest)} bytes that are not one line")
    if len(lines[0]) > MOST_LINE_BYTES:
        return FrameFault(LinkFaultKind.TOO_LONG, f"an answer of {len(lines[0])} bytes", reply)
    return text_line(lines[0])
