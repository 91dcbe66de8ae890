r"""NMEA 0183 sentences and their XDR groups: strict framing, both ways, without any IO.

Decision: our own codec instead of a library's. A station needs the raw bytes of every frame that was
refused, and refusal by default; the libraries that were tried skip bad frames in silence or accept a
sentence that was cut before its checksum. They serve as independent oracles in the tests.

A sentence is `$`, an address, fields after commas, `*`, two upper-case hex digits, CR, LF. The checksum is
required: the exclusive or of all bytes between `$` and `*`. Bytes are printable ASCII; `! $ * \ ^ ~` are
reserved. NMEA 0183 version 3.01, section 5.3, allows 82 bytes; real devices exceed it, so 256 are taken and
`Sentence.over_long` says so. The exclusive or catches every error in one byte, not two that cancel out: the
decoders check units and ranges behind it.

XDR carries groups of four fields: type, value, unit, name. NMEA 0183 XDR update, 2019: pressure is type
`P` in `B` (bar) or `P` (pascal), negative for vacuum; an empty value says that there is none.
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from functools import reduce
from math import isfinite
from operator import xor
from typing import Final

from shared.readings import LinkFaultKind
from shared.wire.frame_fault import FrameFault as FrameFault  # noqa: PLC0414 - all codecs say it; others know it from here

STANDARD_BYTES: Final = 82
"""Longest sentence with `$` and CR LF. NMEA 0183 version 3.01, section 5.3."""

MOST_BYTES: Final = 256
"""Longest sentence that is taken: own choice, devices with 91 and 100 bytes are known."""

GARBAGE_BYTES: Final = 4096
"""So much without a frame is told as one fault: own choice."""

_FRAME: Final = re.compile(rb"\$([ -~]*)\*([0-9A-F]{2})\r\n")
_RESERVED: Final = re.compile(rb"[!$*\\^~]")
_ADDRESS: Final = re.compile(r"[A-Z][A-Z0-9]{4}|P[A-Z]{3}[A-Z0-9]*")
_DECIMAL: Final = re.compile(r"-?(\d+(\.\d*)?|\.\d+)", re.ASCII)
_NO_NUMBER: Final = re.compile(r"[+-]?(nan|inf|infinity)", re.IGNORECASE | re.ASCII)
_END: Final = re.compile(rb"[$\n]")


@dataclass(frozen=True, slots=True)
class Sentence:
    """One sound sentence: "YXXDR", the fields behind it, and the bytes as they came."""

    address: str
    fields: tuple[str, ...]
    data: bytes

    @property
    def over_long(self) -> bool:
        """Whether it is longer than the standard allows."""
        return len(self.data) > STANDARD_BYTES


@dataclass(frozen=True, slots=True)
class XdrGroup:
    """One measurement as text: type "P", value "2.34567", unit "B", the transducer's name."""

    kind: str
    text: str
    unit: str
    name: str


def feed(pending: bytes, data: bytes) -> tuple[tuple[Sentence | FrameFault, ...], bytes]:
    """What `data` completes behind the `pending` bytes, and the bytes that are pending now.

    However the bytes are cut into pieces, the same sentences and faults come out, in order. At most
    `GARBAGE_BYTES` stay pending.
    """
    found: list[Sentence | FrameFault] = []
    rest = pending + data
    while (end := _piece_end(rest)) is not None:
        piece, rest = rest[:end], rest[end:]
        if piece.strip(b"\r\n"):
            found.append(_told(piece))
    return tuple(found), rest


def _piece_end(buffer: bytes) -> int | None:
    """Where the first piece ends: behind LF, before the next `$`, or at its limit."""
    in_frame = buffer.startswith(b"$")
    limit = MOST_BYTES if in_frame else GARBAGE_BYTES
    end = _END.search(buffer, 1 if in_frame else 0, limit)
    if end is not None:
        return end.end() if end.group() == b"\n" else end.start()
    return limit if len(buffer) >= limit else None


def _told(piece: bytes) -> Sentence | FrameFault:
    """The sentence of one piece, or what is wrong with it."""
    if not piece.startswith(b"$"):
        return FrameFault(LinkFaultKind.GARBLED, f"{len(piece)} bytes outside any sentence", piece)
    if not piece.endswith(b"\n") and len(piece) >= MOST_BYTES:
        return FrameFault(LinkFaultKind.TOO_LONG, f"no end of sentence in {MOST_BYTES} bytes", piece)
    match = _FRAME.fullmatch(piece)
    if match is None:
        return _misshapen(piece)
    body, told = match[1], int(match[2], 16)
    if checksum(body) != told:
        detail = f"checksum {told:02X}, but its bytes give {checksum(body):02X}"
        return FrameFault(LinkFaultKind.CHECKSUM, detail, piece)
    address, *fields = body.decode("ascii").split(",")
    if _RESERVED.search(body) or not _ADDRESS.fullmatch(address):
        return FrameFault(LinkFaultKind.GARBLED, "reserved characters or no address", piece)
    return Sentence(address, tuple(fields), piece)


def _misshapen(piece: bytes) -> FrameFault:
    if re.fullmatch(rb"\$[ -)+-~]*\r\n", piece):
        return FrameFault(LinkFaultKind.CHECKSUM, "a sentence without a checksum", piece)
    cut = "" if piece.endswith(b"\n") else ", cut off by the next"
    return FrameFault(LinkFaultKind.GARBLED, f"{len(piece)} bytes that are no sentence{cut}", piece)


def checksum(body: bytes) -> int:
    """The exclusive or of the bytes between `$` and `*`."""
    return reduce(xor, body, 0)


def parse_xdr(sentence: Sentence) -> tuple[XdrGroup, ...] | FrameFault:
    """The groups of an XDR sentence, or a fault when its fields do not come in fours.

    Raises ValueError for a sentence of another kind: `is_xdr` tells.
    """
    if not is_xdr(sentence):
        raise ValueError(f"not an XDR sentence: {sentence.data!r}")
    fields = sentence.fields
    if not fields or len(fields) % 4:
        return FrameFault(LinkFaultKind.GARBLED, f"{len(fields)} XDR fields, not in fours", sentence.data)
    return tuple(XdrGroup(*fields[start : start + 4]) for start in range(0, len(fields), 4))


def is_xdr(sentence: Sentence) -> bool:
    """Whether the sentence carries transducer measurements."""
    return len(sentence.address) == 5 and sentence.address.endswith("XDR")


def decimal(text: str) -> float | LinkFaultKind:
    """The number that a field holds, or why it holds none."""
    if not text:
        return LinkFaultKind.NO_VALUE
    if _NO_NUMBER.fullmatch(text):
        return LinkFaultKind.NOT_FINITE
    if not _DECIMAL.fullmatch(text):
        return LinkFaultKind.GARBLED
    value = float(text)
    return value if isfinite(value) else LinkFaultKind.NOT_FINITE


def sentence(address: str, fields: Iterable[str]) -> bytes:
    """The bytes of one sentence. Raises ValueError for what no reader would take."""
    body = ",".join((address, *fields)).encode("ascii")
    frame = b"$%b*%02X\r\n" % (body, checksum(body))
    found, _ = feed(b"", frame)
    if len(found) != 1 or not isinstance(found[0], Sentence):
        raise ValueError(f"cannot be sent: {frame!r}")
    return frame


def xdr_sentence(talker: str, groups: Iterable[XdrGroup]) -> bytes:
    """The bytes of one XDR sentence of a two-letter talker. Raises ValueError as `sentence` does."""
    fields = [field for group in groups for field in (group.kind, group.text, group.unit, group.name)]
    if any("," in field for field in fields):
        raise ValueError(f"a comma inside a field: {fields!r}")
    return sentence(f"{talker}XDR", fields)
