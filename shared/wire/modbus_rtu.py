"""Modbus RTU, reading only: the request for registers and its reply, both ways, without any IO.

A frame is address, function, data and a CRC-16 whose low byte comes first; Modbus over serial line V1.02
and application protocol V1.1b3 (modbus.org). A computer cannot see the short silences that part frames on
the line, so a reply is known by its address, its function, its length and its CRC. This code base knows
the functions 03 and 04, which read; it has no function that writes.
"""

from dataclasses import dataclass
from typing import Final

from shared.gauges import RegisterTable
from shared.readings import LinkFaultKind
from shared.wire.frame_fault import FrameFault

FUNCTION_OF: Final = {RegisterTable.HOLDING: 0x03, RegisterTable.INPUT: 0x04}
"""Read holding registers, read input registers. Application protocol V1.1b3, sections 6.3 and 6.4."""

MOST_FRAME_BYTES: Final = 256
"""Longest frame. Modbus over serial line V1.02, section 2.5.1."""

LAST_DEVICE: Final = 247
"""Addresses 1 to 247 are devices. Modbus over serial line V1.02, section 2.2."""

LAST_REGISTER: Final = 0xFFFF
MOST_WORDS: Final = 125
"""Registers in one read. Application protocol V1.1b3, section 6.3."""

_EXCEPTION: Final = 0x80
_EXCEPTION_BYTES: Final = 5
_EXCEPTION_WORDS: Final = {
    1: "this function is unknown to it",
    2: "it has no such register",
    3: "it cannot give so many registers",
    4: "it has failed",
    5: "it is still at work",
    6: "it is busy",
    10: "the gateway has no path to it",
    11: "the gateway has no answer from it",
}
"""Exception codes. Application protocol V1.1b3, section 7."""


@dataclass(frozen=True, slots=True)
class Registers:
    """What a sound reply holds: 16-bit words, its frame, and the bytes around it that were no part of it."""

    words: tuple[int, ...]
    data: bytes
    stray: bytes


def crc(frame: bytes) -> int:
    """CRC-16: begins with FFFF, reflected polynomial A001."""
    value = 0xFFFF
    for byte in frame:
        value ^= byte
        for _ in range(8):
            value = (value >> 1) ^ 0xA001 if value & 1 else value >> 1
    return value


def sealed(body: bytes) -> bytes:
    """The frame of a body: its CRC behind it, low byte first."""
    return body + crc(body).to_bytes(2, "little")


def read_request(device: int, table: RegisterTable, register: int, words: int) -> bytes:
    """The request for some registers from `register` on, counted from 0. Raises ValueError."""
    if not (1 <= device <= LAST_DEVICE and 1 <= words <= MOST_WORDS):
        raise ValueError(f"device {device}, {words} registers: no such read")
    if not 0 <= register <= register + words - 1 <= LAST_REGISTER:
        raise ValueError(f"registers {register} to {register + words - 1} do not exist")
    return sealed(
        bytes((device, FUNCTION_OF[table])) + register.to_bytes(2, "big") + words.to_bytes(2, "big")
    )


def read_reply(device: int, table: RegisterTable, words: tuple[int, ...]) -> bytes:
    """The reply that a device gives; for simulated devices."""
    content = b"".join(word.to_bytes(2, "big") for word in words)
    return sealed(bytes((device, FUNCTION_OF[table], len(content))) + content)


def exception_reply(device: int, table: RegisterTable, code: int) -> bytes:
    """The refusal that a device gives; for simulated devices."""
    return sealed(bytes((device, FUNCTION_OF[table] | _EXCEPTION, code)))


def reply_bytes(words: int) -> int:
    """Length of the reply that holds so many registers."""
    return 5 + 2 * words


def registers_in(request: bytes, reply: bytes) -> Registers | FrameFault:
    """What `reply` answers to our `request`: registers, or why not.

    A line that hears itself gives the request back first; that is taken off. Bytes around a sound frame
    are told as `stray`. Raises ValueError when `request` is none of ours.
    """
    if len(request) != 8 or request[1] not in FUNCTION_OF.values() or sealed(request[:-2]) != request:
        raise ValueError(f"not a request to read: {request.hex(' ')}")
    rest = reply.removeprefix(request)
    if not rest:
        return FrameFault(LinkFaultKind.NO_REPLY, f"device {request[0]} does not answer", reply)
    head = request[:2] + bytes((2 * int.from_bytes(request[4:6], "big"),))
    size = reply_bytes(head[2] // 2)
    refusal = bytes((request[0], request[1] | _EXCEPTION))
    for start in range(len(rest)):
        if (frame := _sound(rest, start, head, size)) is not None:
            content = frame[3:-2]
            words = tuple(int.from_bytes(content[at : at + 2], "big") for at in range(0, len(content), 2))
            return Registers(words, frame, rest[:start] + rest[start + size :])
        if (frame := _sound(rest, start, refusal, _EXCEPTION_BYTES)) is not None:
            why = _EXCEPTION_WORDS.get(frame[2], "for a reason of its own")
            return FrameFault(LinkFaultKind.REFUSED, f"device {frame[0]} refuses, {frame[2]}: {why}", reply)
    return FrameFault(*_why_unsound(head, size, rest), reply)


def _sound(rest: bytes, start: int, head: bytes, size: int) -> bytes | None:
    frame = rest[start : start + size]
    sound = len(frame) == size and frame.startswith(head) and sealed(frame[:-2]) == frame
    return frame if sound else None


def _why_unsound(head: bytes, size: int, rest: bytes) -> tuple[LinkFaultKind, str]:
    if rest[0] != head[0]:
        return LinkFaultKind.GARBLED, f"an answer of device {rest[0]}, asked was {head[0]}"
    if rest[1:2] and rest[1] & ~_EXCEPTION != head[1]:
        return LinkFaultKind.GARBLED, f"an answer of function {rest[1]}, asked was {head[1]}"
    if rest[1:2] and rest[1] == head[1] and rest[2:3] and rest[2] != head[2]:
        return LinkFaultKind.GARBLED, f"an answer of {rest[2]} bytes, asked was {head[2]}"
    wanted = _EXCEPTION_BYTES if rest[1:2] and rest[1] & _EXCEPTION else size
    if len(rest) < wanted:
        return LinkFaultKind.GARBLED, f"{len(rest)} of {wanted} bytes of an answer"
    given, found = int.from_bytes(rest[wanted - 2 : wanted], "little"), crc(rest[: wanted - 2])
    return LinkFaultKind.CHECKSUM, f"CRC {given:04X}, but its bytes give {found:04X}"
