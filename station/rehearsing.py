"""Where arrivals come from in a rehearsal: the conductor grants station time slice by slice.

The simulator writes 100 ms to its lines and grants them with the byte count per line. Here the bytes are
waited for, ordered by line, stamped with the granted instant and followed by one tick; then the slice is
answered. So a rehearsal over real lines comes out the same each time. The order of the calls on the lines
is settled in `drivers.gathering`.
"""

from collections.abc import Callable, Generator, Iterator
from queue import Empty, SimpleQueue
from typing import Any, BinaryIO, Protocol

from shared.arrivals import PortFault, PortFaultKind, Received
from shared.clock import EPOCH, Instant
from shared.conductor import Grant, Message, Opened, Ready, Taken, decode, encode
from station.arriving import Observer
from station.core.inputs import Act, Arrival, OperatorEvent, StationFact, StationFactKind, Tick
from station.plain import act_from_plain
from station.stopped import StoppedByFault

_NS_PER_MS = 1_000_000


class RehearsalBroken(StoppedByFault):
    """The simulator ended, or said something that has no place; the message says what."""


class PacedLines(Protocol):
    """Lines whose readers are kept in step with station time."""

    def start(self, addresses: dict[str, str]) -> None:
        """Open every line at its address and wait until each has been tried."""
        ...

    def take_bytes(self, port: str, count: int) -> bytes:
        """The bytes that a grant counts; fewer only when the line is not open."""
        ...

    def take_gone(self, port: str) -> None:
        """Wait until a pulled line is noticed as gone."""
        ...

    def move(self, port: str, address: str) -> None:
        """A restored line stands at another address from now on."""
        ...

    def advance(self, now: Instant) -> None:
        """Station time is `now`: readers whose pause is over try again."""
        ...

    def take_faults(self, at: Instant) -> tuple[PortFault, ...]:
        """What happened to the lines since it was last asked."""
        ...


class RehearsalArrivals:
    """The arrivals of a rehearsal, in a repeatable order."""

    def __init__(
        self,
        ready: Ready,
        from_conductor: BinaryIO,
        to_conductor: BinaryIO,
        lines: PacedLines,
        *,
        pace: Callable[[Instant], None],
        picture: Callable[[str], None],
        observers: tuple[Observer, ...] = (),
    ) -> None:
        self._ready = ready
        self._from = from_conductor
        self._to = to_conductor
        self._lines = lines
        self._pace = pace
        self._picture = picture
        self._observers = observers
        self._ports = tuple(ready.lines)
        self._presses: SimpleQueue[tuple[str, int, Act] | None] = SimpleQueue()
        self._seen_seq = 0

    def press(self, by: str, seen_seq: int, act: Act) -> None:
        """Somebody pressed something at a window; taken at the end of the present slice. From any thread."""
        self._presses.put((by, seen_seq, act))

    def finish(self) -> None:
        """Leave the rehearsal off at the end of the present slice; from any thread."""
        self._presses.put(None)

    def saw(self, seq: int) -> None:
        """The number of the arrival that the scripted operator has seen."""
        self._seen_seq = seq

    def __iter__(self) -> Iterator[Arrival]:
        """Arrivals to the end of the scenario. Raises RehearsalBroken."""
        self._lines.start(self._ready.lines)
        yield from self._told(EPOCH)
        while True:
            grant = self._granted()
            at = Instant(grant.at_ms * _NS_PER_MS)
            self._pace(at)
            yield from self._slice(grant, at)
            for name in grant.pictures:
                self._picture(name)
            left = yield from self._pressed(at)
            if grant.done or left:
                yield StationFact(at, StationFactKind.FINISHED)
            if not left:
                self._say(Taken(grant.at_ms))
            if grant.done or left:
                self._close()
                return

    def _slice(self, grant: Grant, at: Instant) -> Iterator[Arrival]:
        for port in self._ports:
            if port in grant.pulled:
                self._lines.take_gone(port)
            elif data := self._lines.take_bytes(port, grant.sent.get(port, 0)):
                yield Received(at, port, data)
        for port, address in grant.restored.items():
            self._lines.move(port, address)
        self._lines.advance(at)
        yield from self._told(at)
        for press in grant.presses:
            yield self._scripted(at, press)
        for observer in self._observers:
            yield from observer(at)
        yield Tick(at)

    def _told(self, at: Instant) -> Iterator[PortFault]:
        faults = self._lines.take_faults(at)
        yield from faults
        opened = tuple(fault.port for fault in faults if fault.kind is PortFaultKind.OPENED)
        if opened:
            self._say(Opened(opened))

    def _scripted(self, at: Instant, press: dict[str, Any]) -> OperatorEvent:
        act = {key: value for key, value in press.items() if key != "by"}
        try:
            return OperatorEvent(at, str(press.get("by", "")), self._seen_seq, act_from_plain(act))
        except ValueError as error:
            raise RehearsalBroken(f"scripted press {press}: {error}") from error

    def _pressed(self, at: Instant) -> Generator[Arrival, None, bool]:
        """What people pressed since the last slice; returns whether the rehearsal is left off."""
        while True:
            try:
                pressed = self._presses.get_nowait()
            except Empty:
                return False
            if pressed is None:
                return True
            by, seen_seq, act = pressed
            yield OperatorEvent(at, by, seen_seq, act)

    def _granted(self) -> Grant:
        message = hear(self._from)
        if not isinstance(message, Grant):
            raise RehearsalBroken(f"the simulator said {message!r} where a grant was due")
        return message

    def _say(self, message: Message) -> None:
        try:
            self._to.write(encode(message))
            self._to.flush()
        except BrokenPipeError as error:
            raise RehearsalBroken("the simulator has closed its end of the pipe") from error

    def _close(self) -> None:
        """Closing the pipe ends the simulator in good order."""
        self._to.close()


def hear(pipe: BinaryIO) -> Message:
    """The next message of the simulator. Raises RehearsalBroken when the pipe ends or says something else."""
    line = pipe.readline()
    if not line:
        raise RehearsalBroken("the simulator ended before the dive did")
    try:
        return decode(line)
    except ValueError as error:
        raise RehearsalBroken(str(error)) from error
