"""Keeps readers in step with a rehearsal: what came is taken slice by slice, pauses count station time.

A rehearsal must come out the same each time it is run, although its bytes go over real lines that threads
read. So nothing that a thread does by itself may show: when it woke, how it cut the bytes, when it noticed
that a line had gone. A `Gathering` is the sink of all readers and the wait between their attempts, and its
owner decides at which station instant each thing has happened. The owner is one thread; it does, in order:

1. At the start: make the readers with `sink=gathering`, `on_crash=gathering.crash` and
   `wait=gathering.wait_of(port)`, start them, `settle()`, then `take_faults(EPOCH)`: each line has been
   tried once and is OPENED or not. Tell the simulator which are open.
2. For each slice granted up to `at`:
   a. for each line that was pulled: `take_gone(port)`. It waits until the reader has noticed and drops the
      bytes of this slice: how many of them outlive the cable is chance, so none do;
   b. for each other line, in the order of the station file: `take_bytes(port, count)`, made into one
      `Received` at `at`. It waits for the bytes that the grant counts, or until the line is not open;
   c. for each line that was restored: `reader.move_to(address)`;
   d. `advance(at)`: readers whose pause has run out try again, and it returns when each of them is open or
      pausing anew. No reader tries to open a line at any other moment, so it opens at a repeatable instant;
   e. `take_faults(at)`: what happened to the lines in this slice, by line in the order of the station file,
      stamped `at`. For OPENED lines tell the simulator: it speaks on them only after that, because opening
      throws away what a line had buffered;
   f. tick, and answer the grant.
3. At the end: stop the readers.

A pause begins at the instant of the last `advance`: a line pulled in the slice up to 1.0 s is gone as of
0.9 s for its reader, and tried again in the slices up to 1.4, 2.4, 4.4 s and so on.
Waits are bounded in wall time; when one runs out, TimeoutError says which line kept it waiting. A reader that
crashed ends every wait with RuntimeError.
"""

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from enum import Enum, auto
from threading import Condition
from typing import Final

from shared.arrivals import Exchanged, LineArrival, PortFault, PortFaultKind, Received
from shared.clock import EPOCH, Instant, after

PATIENCE_S: Final = 10.0
"""Wall time that a wait may take before the rehearsal is given up: own choice."""


class _Doing(Enum):
    """What a reader is doing."""

    TRYING = auto()  # opening, or between a failure and its pause
    OPEN = auto()
    PAUSING = auto()
    STOPPED = auto()


@dataclass(slots=True)
class _Line:
    """What is known of one line and its reader."""

    doing: _Doing = _Doing.TRYING
    due: Instant = EPOCH
    data: bytearray = field(default_factory=bytearray)
    faults: list[PortFault] = field(default_factory=list)


class StationTimeWait:
    """The wait of one reader between its attempts, counted in station time by a `Gathering`."""

    def __init__(self, gathering: "Gathering", port: str) -> None:
        self._gathering = gathering
        self._port = port

    def __call__(self, seconds: float) -> bool:
        """Whether the pause has run out without a stop."""
        return self._gathering.pause(self._port, seconds)

    def stop(self) -> None:
        """End the pause, and any later one."""
        self._gathering.stop(self._port)


class Gathering:
    """The sink of the readers of `ports`, and the hand that lets them go on; see the top of this module."""

    def __init__(self, ports: tuple[str, ...], patience_s: float = PATIENCE_S) -> None:
        self._lines = {port: _Line() for port in ports}
        self._patience_s = patience_s
        self._changed = Condition()
        self._now = EPOCH
        self._crashed: tuple[str, BaseException] | None = None

    # Called by the readers' threads.

    def __call__(self, arrival: LineArrival) -> None:
        """Take what a reader has got."""
        with self._changed:
            line = self._lines[arrival.port]
            match arrival:
                case Received():
                    line.data += arrival.data
                case PortFault():
                    line.faults.append(arrival)
                    opened = arrival.kind is PortFaultKind.OPENED
                    if line.doing is not _Doing.STOPPED:
                        line.doing = _Doing.OPEN if opened else _Doing.TRYING
                case Exchanged():
                    raise TypeError(f"{arrival.port}: polled lines live on watch only, a rehearsal has none")
            self._changed.notify_all()

    def crash(self, port: str, error: BaseException) -> None:
        """A reader has ended by a mistake of ours: every wait of the owner shall say so."""
        with self._changed:
            self._crashed = (port, error)
            self._changed.notify_all()

    def wait_of(self, port: str) -> StationTimeWait:
        """How the reader of `port` shall wait between its attempts."""
        return StationTimeWait(self, port)

    def pause(self, port: str, seconds: float) -> bool:
        """Hold the reader until its pause has run out in station time; False when it shall stop."""
        with self._changed:
            line = self._lines[port]
            if line.doing is not _Doing.STOPPED:
                line.doing, line.due = _Doing.PAUSING, after(self._now, seconds)
                self._changed.notify_all()
                self._changed.wait_for(lambda: line.doing is not _Doing.PAUSING)
            return line.doing is not _Doing.STOPPED

    def stop(self, port: str) -> None:
        """Let the reader of `port` stop."""
        with self._changed:
            self._lines[port].doing = _Doing.STOPPED
            self._changed.notify_all()

    # Called by the owner.

    def settle(self) -> None:
        """Wait until every reader is open, pausing or stopped."""
        with self._changed:
            self._until(lambda: not self._trying(), lambda: f"not settled: {', '.join(self._trying())}")

    def take_bytes(self, port: str, count: int) -> bytes:
        """The bytes of `port`, `count` of them; fewer only when the line is not open.

        Raises ValueError when there are more than were granted.
        """
        with self._changed:
            line = self._lines[port]
            self._until(
                lambda: len(line.data) >= count or line.doing is not _Doing.OPEN,
                lambda: f"{port}: {len(line.data)} of {count} bytes have come",
            )
            data = bytes(line.data)
            line.data.clear()
        if len(data) > count:
            raise ValueError(f"{port}: {len(data)} bytes have come, {count} were granted: {data[count:]!r}")
        return data

    def take_gone(self, port: str) -> None:
        """Wait until the line is not open; its bytes of this slice are dropped."""
        with self._changed:
            line = self._lines[port]
            self._until(
                lambda: line.doing not in {_Doing.OPEN, _Doing.TRYING},
                lambda: f"{port}: pulled, but its reader has not noticed",
            )
            line.data.clear()

    def advance(self, now: Instant) -> None:
        """Station time is `now`: readers whose pause has run out try again; returns when all are settled."""
        self.settle()
        with self._changed:
            self._now = now
            for line in self._lines.values():
                if line.doing is _Doing.PAUSING and line.due <= now:
                    line.doing = _Doing.TRYING
            self._changed.notify_all()
        self.settle()

    def take_faults(self, at: Instant) -> tuple[PortFault, ...]:
        """What happened to the lines since it was last asked, by line, each stamped `at`.

        GONE loses its detail: in which of several words the system says it is chance.
        """
        with self._changed:
            told = [_repeatable(fault, at) for line in self._lines.values() for fault in line.faults]
            for line in self._lines.values():
                line.faults.clear()
            return tuple(told)

    def is_open(self, port: str) -> bool:
        """Whether the line is open as far as its reader knows."""
        with self._changed:
            return self._lines[port].doing is _Doing.OPEN

    def _trying(self) -> list[str]:
        return [port for port, line in self._lines.items() if line.doing is _Doing.TRYING]

    def _until(self, holds: Callable[[], bool], otherwise: Callable[[], str]) -> None:
        """Wait, with the lock held, until `holds`; `otherwise` says what kept it waiting."""
        met = self._changed.wait_for(lambda: self._crashed is not None or holds(), self._patience_s)
        if self._crashed is not None:
            port, error = self._crashed
            raise RuntimeError(f"{port}: its reader has crashed: {error!r}") from error
        if not met:
            raise TimeoutError(f"{otherwise()} after {self._patience_s:g} s")


def _repeatable(fault: PortFault, at: Instant) -> PortFault:
    return replace(fault, at=at, detail="" if fault.kind is PortFaultKind.GONE else fault.detail)
