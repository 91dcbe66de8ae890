"""Opens a line by its address, whatever it is made of."""

from drivers.addresses import RehearsalAddress, SerialAddress, SocketAddress, parse_address
from drivers.serial_port import open_serial
from drivers.socket_port import open_socket
from shared.ports import Port


def open_port(address: str) -> Port:
    """The line at `address`. Raises PortTrouble when it cannot be had, AddressFault when it is none.

    A rehearsal's line has no address of its own: the conductor names the one that stands for it.
    """
    match parse_address(address):
        case SerialAddress() as line:
            return open_serial(address, line)
        case SocketAddress() as line:
            return open_socket(address, line)
        case RehearsalAddress():  # pragma: no cover - parse_address refuses it here
            raise AssertionError(address)
