"""The relay of a horn on a serial line of its own: no bytes, only one of the line's signals."""

from drivers.addresses import AddressFault, SerialAddress, parse_address
from drivers.serial_port import LineSignal, SignalLine, open_signal
from shared.arrivals import PortFaultKind
from shared.ports import PortTrouble


def horn_address(text: str) -> SerialAddress:
    """The line of a horn. Raises AddressFault: it must be a serial line, a socket has no signals."""
    address = parse_address(text)
    if not isinstance(address, SerialAddress):
        raise AddressFault(f"{text!r}: a horn needs a serial line of its own: serial:///dev/ttyUSB0")
    return address


def open_horn(text: str, signal: str) -> SignalLine:
    """The relay on the line that the station file names. Raises PortTrouble."""
    try:
        address = horn_address(text)
    except AddressFault as fault:
        raise PortTrouble(text, PortFaultKind.MISSING, str(fault)) from fault
    return open_signal(text, address, LineSignal(signal))
