"""The lines of a rehearsal: real ports and real readers, kept in step with station time."""

from drivers.gathering import Gathering
from drivers.reader import Reader
from shared.arrivals import PortFault
from shared.clock import Clock, Instant
from shared.ports import Opener


class PacedLines:
    """One reader per line, all of them gathered; see `drivers.gathering` for the order of the calls."""

    def __init__(self, open_port: Opener, clock: Clock) -> None:
        self._open_port = open_port
        self._clock = clock
        self._gathering = Gathering(())
        self._readers: dict[str, Reader] = {}

    def start(self, addresses: dict[str, str]) -> None:
        """Open every line at its address and wait until each has been tried once."""
        gathering = self._gathering = Gathering(tuple(addresses))
        for port, address in addresses.items():
            self._readers[port] = Reader(
                port,
                self._open_port,
                self._clock,
                gathering,
                gathering.crash,
                address=address,
                wait=gathering.wait_of(port),
            )
        for reader in self._readers.values():
            reader.start()
        gathering.settle()

    def take_bytes(self, port: str, count: int) -> bytes:
        """The bytes that a grant counts; fewer only when the line is not open."""
        return self._gathering.take_bytes(port, count)

    def take_gone(self, port: str) -> None:
        """Wait until a pulled line is noticed as gone."""
        self._gathering.take_gone(port)

    def move(self, port: str, address: str) -> None:
        """A restored line stands at another address from now on."""
        self._readers[port].move_to(address)

    def advance(self, now: Instant) -> None:
        """Station time is `now`: readers whose pause is over try again."""
        self._gathering.advance(now)

    def take_faults(self, at: Instant) -> tuple[PortFault, ...]:
        """What happened to the lines since it was last asked, stamped `at`."""
        return self._gathering.take_faults(at)

    def stop(self) -> None:
        """End every reader and give the lines back."""
        for reader in self._readers.values():
            reader.stop()
