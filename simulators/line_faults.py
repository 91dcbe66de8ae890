"""What can go wrong between a gauge and its reader, done to the bytes: the same every time for a seed."""

from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from simulators.chance import uniform, whole


class FaultKind(StrEnum):
    """What a line can suffer."""

    GARBLE = "garble"  # `bits` flipped bits in the bytes of a slice
    TRUNCATE = "truncate"  # the sentence breaks off before its end
    OVER_LONG = "over_long"  # filler runs on and on in the middle of a sentence
    SILENT = "silent"  # the line is there and says nothing
    FOREIGN = "foreign"  # somebody else talks on the line, too
    FROZEN = "frozen"  # sound sentences, but the value no longer moves
    PULLED = "pulled"  # the cable is out, and at the end in again


BYTE_KINDS: Final = frozenset(FaultKind) - {FaultKind.FROZEN, FaultKind.PULLED}
"""The faults that `spoil` does to bytes; the others are done by the gauge and by the line."""

FILLER_BYTES: Final = 320
"""Length of the filler of an over-long sentence: more than the 256 bytes that a reader should take."""

CHATTER: Final = (
    b"$SDDPT,18.4,0.0,100.0*69\r\n",
    b"$PDSM,1,PNEUMO,23.45,FSW*5B\r\n",
    b"ERR 07 LOW BATTERY\r\n",
    bytes([0x01, 0x03, 0x04, 0x42, 0xF6, 0xE9, 0x79, 0x80, 0x0B]),
)
"""What others say: two sound sentences of other instruments, plain text, and a frame of another protocol."""


@dataclass(frozen=True, slots=True)
class LineFault:
    """One fault on one line from `from_ms` up to, and not with, `to_ms`.

    `share` of the slices with something to say suffer it; `bits` are flipped when it garbles.
    """

    kind: FaultKind
    line: str
    from_ms: int
    to_ms: int
    share: float = 1.0
    bits: int = 1

    def holds(self, at_ms: int) -> bool:
        """Whether the fault is there at an instant."""
        return self.from_ms <= at_ms < self.to_ms


def spoil(fault: LineFault, payload: bytes, seed: int, at_ms: int) -> bytes:
    """The bytes of one slice after the fault; nothing to say stays nothing.

    Raises ValueError for the kinds that are not done to bytes.
    """
    place = (fault.kind, fault.line, at_ms)
    if not payload or uniform(seed, *place, "share") >= fault.share:
        return payload
    match fault.kind:
        case FaultKind.GARBLE:
            return _garbled(payload, fault.bits, seed, place)
        case FaultKind.TRUNCATE:
            return payload[: 1 + whole(max(len(payload) - 3, 1), seed, *place)]
        case FaultKind.OVER_LONG:
            cut = 1 + whole(max(len(payload) - 3, 1), seed, *place)
            return payload[:cut] + b"8" * FILLER_BYTES
        case FaultKind.SILENT:
            return b""
        case FaultKind.FOREIGN:
            return CHATTER[whole(len(CHATTER), seed, *place)] + payload
        case FaultKind.FROZEN | FaultKind.PULLED:
            raise ValueError(f"{fault.kind} is not done to bytes")


def _garbled(payload: bytes, bits: int, seed: int, place: tuple[str | int, ...]) -> bytes:
    """The payload with so many different bits flipped."""
    places = list(range(8 * len(payload)))
    flipped = bytearray(payload)
    for draw in range(min(bits, len(places))):
        bit = places.pop(whole(len(places), seed, *place, draw))
        flipped[bit // 8] ^= 1 << bit % 8
    return bytes(flipped)
