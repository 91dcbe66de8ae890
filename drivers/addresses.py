"""The addresses of lines, as a station file writes them: read and checked, nothing is opened.

    serial:///dev/ttyUSB0?baud=9600&parity=none&bytesize=8&stopbits=1
    serial://COM3?baud=4800
    socket://192.168.1.20:4001
    rehearsal://pneumo          (only where a rehearsal provides the lines)

What is left out of the query is 4800 baud, no parity, 8 bits, 1 stop bit: NMEA 0183, from memory, unverified.
"""

from dataclasses import dataclass
from enum import StrEnum
from typing import Final
from urllib.parse import SplitResult, parse_qsl, unquote, urlsplit

BAUDS: Final = (300, 600, 1200, 2400, 4800, 9600, 19200, 38400, 57600, 115200, 230400, 460800, 921600)
"""Speeds that an address may ask for."""


class Parity(StrEnum):
    """The parity bit of a character."""

    NONE = "none"
    EVEN = "even"
    ODD = "odd"


@dataclass(frozen=True, slots=True)
class SerialAddress:
    """A serial line of this computer: device file or port name, and how its characters are made."""

    device: str
    baud: int = 4800
    parity: Parity = Parity.NONE
    data_bits: int = 8
    stop_bits: int = 1


@dataclass(frozen=True, slots=True)
class SocketAddress:
    """A line behind a TCP server, such as a serial server."""

    host: str
    port: int


@dataclass(frozen=True, slots=True)
class RehearsalAddress:
    """A line that the simulator provides under this name."""

    name: str


Address = SerialAddress | SocketAddress | RehearsalAddress


class AddressFault(ValueError):  # noqa: N818 - a fault in an address, told to the person who wrote it
    """An address cannot be used; the message says why and how it should look."""


def parse_address(text: str, *, rehearsal: bool = False) -> Address:
    """The address that `text` writes. Raises AddressFault with everything that is wrong with it."""
    if not text.isprintable() or " " in text:
        raise AddressFault(f"{text!r}: no blanks or control characters may stand in it")
    try:
        parts = urlsplit(text)
    except ValueError as error:
        raise AddressFault(f"{text!r}: {error}") from error
    match parts.scheme:
        case "serial":
            return _serial(text, parts)
        case "socket":
            return _socket(text, parts)
        case "rehearsal" if rehearsal:
            return _rehearsal(text, parts)
        case "rehearsal":
            raise AddressFault(f"{text!r}: rehearsal lines exist only in a rehearsal")
        case _:
            raise AddressFault(f"{text!r}: must begin with serial:// or socket://")


_SERIAL_KEYS: Final = {
    "baud": tuple(str(baud) for baud in BAUDS),
    "parity": tuple(parity.value for parity in Parity),
    "bytesize": ("7", "8"),
    "stopbits": ("1", "2"),
}


def _serial(text: str, parts: SplitResult) -> SerialAddress:
    device = unquote(parts.netloc + parts.path)
    wrong = [] if device.strip("/") and device.isprintable() else ["no device, such as serial:///dev/ttyUSB0"]
    pairs = parse_qsl(parts.query, keep_blank_values=True)
    for key, value in pairs:
        if key not in _SERIAL_KEYS:
            wrong.append(f"unknown setting {key!r}, known are {', '.join(_SERIAL_KEYS)}")
        elif value not in _SERIAL_KEYS[key]:
            wrong.append(f"{key} {value!r} is none of {', '.join(_SERIAL_KEYS[key])}")
    twice = sorted({key for key, _ in pairs if [name for name, _ in pairs].count(key) > 1})
    wrong += [f"{key} is given more than once" for key in twice]
    wrong += ["nothing may stand behind #"] if parts.fragment else []
    if wrong:
        raise AddressFault(f"{text!r}: {'; '.join(wrong)}")
    chosen = dict(pairs)
    return SerialAddress(
        device,
        int(chosen.get("baud", "4800")),
        Parity(chosen.get("parity", "none")),
        int(chosen.get("bytesize", "8")),
        int(chosen.get("stopbits", "1")),
    )


def _socket(text: str, parts: SplitResult) -> SocketAddress:
    try:
        port = parts.port
    except ValueError as error:
        raise AddressFault(f"{text!r}: {error}") from error
    if not parts.hostname or not port:
        raise AddressFault(f"{text!r}: must be socket://host:port")
    if parts.path or parts.query or parts.fragment or parts.username is not None:
        raise AddressFault(f"{text!r}: nothing but host and port may stand in it")
    return SocketAddress(parts.hostname, port)


def _rehearsal(text: str, parts: SplitResult) -> RehearsalAddress:
    if not parts.netloc or parts.path or parts.query or parts.fragment:
        raise AddressFault(f"{text!r}: must be rehearsal://NAME")
    return RehearsalAddress(parts.netloc)
