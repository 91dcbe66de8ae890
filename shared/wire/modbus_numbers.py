"""How Modbus registers make a number: the standard has 16 bits, and makers differ in all that is longer."""

import struct
from math import isfinite
from typing import Final

from shared.gauges import ByteOrder, NumberKind
from shared.readings import LinkFaultKind

WORDS_IN: Final = {
    NumberKind.INT16: 1,
    NumberKind.UINT16: 1,
    NumberKind.INT32: 2,
    NumberKind.UINT32: 2,
    NumberKind.FLOAT32: 2,
}
"""Registers that each kind of number takes."""

_LAYOUT: Final = {
    NumberKind.INT16: ">h",
    NumberKind.UINT16: ">H",
    NumberKind.INT32: ">i",
    NumberKind.UINT32: ">I",
    NumberKind.FLOAT32: ">f",
}
_PLACES: Final = {
    ByteOrder.ABCD: (0, 1, 2, 3),
    ByteOrder.CDAB: (2, 3, 0, 1),
    ByteOrder.BADC: (1, 0, 3, 2),
    ByteOrder.DCBA: (3, 2, 1, 0),
}
"""Where each byte of the number stands on the wire; each order undoes itself."""


def number_in(words: tuple[int, ...], kind: NumberKind, order: ByteOrder) -> float | LinkFaultKind:
    """The number that the registers hold; NaN and infinity are none. Raises ValueError for a wrong count."""
    if len(words) != WORDS_IN[kind]:
        raise ValueError(f"{len(words)} registers do not make one {kind.value}")
    wire = b"".join(word.to_bytes(2, "big") for word in words)
    ordered = _reordered(wire, order) if len(words) > 1 else wire
    (number,) = struct.unpack(_LAYOUT[kind], ordered)
    return float(number) if isfinite(number) else LinkFaultKind.NOT_FINITE


def words_of(number: float, kind: NumberKind, order: ByteOrder) -> tuple[int, ...]:
    """The registers that hold a number; for simulated devices. Raises struct.error when it does not fit."""
    content = struct.pack(_LAYOUT[kind], number if kind is NumberKind.FLOAT32 else round(number))
    wire = _reordered(content, order) if len(content) > 2 else content
    return tuple(int.from_bytes(wire[at : at + 2], "big") for at in range(0, len(wire), 2))


def _reordered(four: bytes, order: ByteOrder) -> bytes:
    return bytes(four[place] for place in _PLACES[order])


def four_decodings(
    registers: tuple[int, int], kind: NumberKind = NumberKind.FLOAT32
) -> tuple[tuple[ByteOrder, float | None], ...]:
    """The number in each of the four orders, to hold against the gauge's own display; None is no number."""
    return tuple(
        (order, None if isinstance(number, LinkFaultKind) else number)
        for order in ByteOrder
        for number in (number_in(registers, kind, order),)
    )
