"""How long things take on a line: computed from its address.

A Modbus character has 11 bits by its standard; here it has what the address says. Frames are parted by 3.5
characters of silence, above 19200 baud by 1.75 ms (Modbus over serial line V1.02, as public notes tell it).
"""

from dataclasses import dataclass
from typing import Final

from drivers.addresses import Parity, RehearsalAddress, SerialAddress, SocketAddress, parse_address

SILENT_CHARACTERS: Final = 3.5
FIXED_ABOVE_BAUD: Final = 19_200
FIXED_SILENCE_S: Final = 0.001_75
"""Silence between two frames. Modbus over serial line V1.02, section 2.5.1.1, as public notes tell it."""

TIMEOUT_FACTOR: Final = 3.0
LEAST_TIMEOUT_S: Final = 0.1
"""A reply may take three times its computed exchange, 100 ms at least: own choice. An adapter may hold bytes
for 16 ms and a device may think for 50 ms."""

NETWORK_S: Final = 0.3
"""What a serial server behind a network may add to a timeout: own choice."""

NETWORK_LINE: Final = SerialAddress("", 9600, Parity.EVEN)
"""Taken for the line behind a serial server, which its address does not tell: own choice."""


@dataclass(frozen=True, slots=True)
class Timing:
    """What one line takes: seconds a character, seconds of silence between frames, seconds on top."""

    character_s: float
    silence_s: float
    added_s: float = 0.0

    def exchange_s(self, request_bytes: int, reply_bytes: int) -> float:
        """Seconds that the bytes of a request and its reply take, with the silence behind each."""
        return (request_bytes + reply_bytes) * self.character_s + 2 * self.silence_s

    def timeout_s(self, request_bytes: int, reply_bytes: int) -> float:
        """Seconds after which a request counts as not answered."""
        computed_s = TIMEOUT_FACTOR * self.exchange_s(request_bytes, reply_bytes)
        return max(computed_s, LEAST_TIMEOUT_S) + self.added_s


def timing_of(address: str) -> Timing:
    """The timing of the line at an address. Raises AddressFault, ValueError for a rehearsal's line."""
    match parse_address(address, rehearsal=True):
        case SerialAddress() as line:
            return _timing(line, 0.0)
        case SocketAddress():
            return _timing(NETWORK_LINE, NETWORK_S)
        case RehearsalAddress():
            raise ValueError(f"{address}: a rehearsal's line is never asked")


def _timing(line: SerialAddress, added_s: float) -> Timing:
    bits = 1 + line.data_bits + (line.parity is not Parity.NONE) + line.stop_bits
    character_s = bits / line.baud
    fixed = line.baud > FIXED_ABOVE_BAUD
    return Timing(character_s, FIXED_SILENCE_S if fixed else SILENT_CHARACTERS * character_s, added_s)
