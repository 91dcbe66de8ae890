"""Lines of ASCII text that a gauge sends by itself: framing without any IO.

A line has no mark at its start. So a line is only taken when the end of the one before it was seen: what
comes first after the opening of a port may be the tail of a longer number ("3.4" of "123.4"), and is told
as a fault. That the end of a line was seen is kept in the pending bytes themselves, which then begin with it.
"""

from dataclasses import dataclass
from typing import Final

from shared.gauges import LineEnding
from shared.readings import LinkFaultKind
from shared.wire.frame_fault import FrameFault

MOST_LINE_BYTES: Final = 256
"""Longest line that is taken: own choice."""

ENDING_BYTES: Final = {
    LineEnding.CR: b"\r",
    LineEnding.LF: b"\n",
    LineEnding.CRLF: b"\r\n",
    LineEnding.NONE: b"",
}
"""What each ending is on the wire."""


@dataclass(frozen=True, slots=True)
class TextLine:
    """One line of printable characters, without its ending."""

    data: bytes


def feed_lines(pending: bytes, data: bytes, ending: bytes) -> tuple[tuple[TextLine | FrameFault, ...], bytes]:
    """What `data` completes behind the `pending` bytes, and the bytes that are pending now.

    However the bytes are cut into pieces, the same lines and faults come out, in order. Empty lines say
    nothing. Raises ValueError for an ending of no bytes.
    """
    if not ending:
        raise ValueError("a line without an ending cannot be told from the next")
    found: list[TextLine | FrameFault] = []
    rest = pending + data
    while (piece := _piece(rest, ending)) is not None:
        told, rest = piece
        found += [told] if told is not None else []
    return tuple(found), rest


def _piece(rest: bytes, ending: bytes) -> tuple[TextLine | FrameFault | None, bytes] | None:
    """The first piece of `rest` and what stands behind it; None while it is still coming in."""
    known_start = rest.startswith(ending)
    begin = len(ending) if known_start else 0
    limit = begin + MOST_LINE_BYTES
    end = rest.find(ending, begin, limit + len(ending))
    if end < 0 and len(rest) < limit + len(ending):
        return None
    if end < 0:
        detail = f"no end of line in {MOST_LINE_BYTES} bytes"
        return FrameFault(LinkFaultKind.TOO_LONG, detail, rest[begin:limit]), rest[limit:]
    line = rest[begin:end]
    if not line:
        return None, rest[end:]
    if not known_start:
        return FrameFault(LinkFaultKind.GARBLED, "a first line that may be cut: not taken", line), rest[end:]
    return text_line(line), rest[end:]


def text_line(line: bytes) -> TextLine | FrameFault:
    """The line, refused when it holds anything but printable ASCII."""
    if all(0x20 <= byte <= 0x7E for byte in line):
        return TextLine(line)
    return FrameFault(LinkFaultKind.GARBLED, f"{len(line)} bytes that are no line of text", line)
