"""One thread per line: opens it, reads or asks it turn by turn, opens it again when it goes.

What a turn is, listening or asking, is handed in: see `drivers.turns`.

What happens to the port is told as values, each failure once until something changes: OPENED when it is
open (what was sent before is lost), GONE when an open line ends, MISSING, BUSY or DENIED when it cannot be
opened. Between attempts the reader waits 0.5 s, twice as long each time, 5 s at most; the wait is handed
in, so that a rehearsal can count it in station time. A mistake of ours ends the thread and is handed to
`on_crash`, never swallowed.
"""

from collections.abc import Callable
from threading import Event, Thread
from typing import Final, Protocol

from drivers.turns import Listening, Sink, Turn
from shared.arrivals import Exchanged, LineArrival, PortFault, PortFaultKind
from shared.clock import Clock
from shared.ports import Opener, Port, PortTrouble

FIRST_PAUSE_S: Final = 0.5
MOST_PAUSE_S: Final = 5.0
"""Pauses between attempts to open: own choice."""

JOIN_S: Final = 10.0
"""A reader that has not ended by then hangs: a connection may take 3 s to fail."""

OnCrash = Callable[[str, BaseException], None]


class Wait(Protocol):
    """How a reader waits between attempts."""

    def __call__(self, seconds: float) -> bool:
        """Whether to go on: True when the time is over, False when the reader shall stop."""
        ...

    def stop(self) -> None:
        """Let a waiting reader, and any later one, stop."""
        ...


class WallWait:
    """Waits by the computer's clock."""

    def __init__(self) -> None:
        self._stopped = Event()

    def __call__(self, seconds: float) -> bool:
        """Whether the time went by without a stop."""
        return not self._stopped.wait(seconds)

    def stop(self) -> None:
        """End every wait at once."""
        self._stopped.set()


class Reader:
    """Reads one line on a thread of its own; `port` is its name in the station file."""

    def __init__(
        self,
        port: str,
        open_port: Opener,
        clock: Clock,
        sink: Sink,
        on_crash: OnCrash,
        *,
        address: str | None = None,
        wait: Wait | None = None,
        turn: Turn | None = None,
    ) -> None:
        self.port = port
        self._address = port if address is None else address
        self._open_port = open_port
        self._clock = clock
        self._sink = sink
        self._on_crash = on_crash
        self._wait = wait or WallWait()
        self._turn = turn or Listening(port, clock)
        self._stopping = Event()
        self._line: Port | None = None
        self._said: tuple[PortFaultKind, str] | None = None
        self._thread = Thread(target=self._run, name=f"reader {port}", daemon=True)

    def start(self) -> None:
        """Begin to open and read; once only."""
        self._thread.start()

    def move_to(self, address: str) -> None:
        """Open the line at another address from the next attempt on."""
        self._address = address

    def stop(self) -> None:
        """End the thread and give the line back. Raises TimeoutError when it does not end."""
        self._stopping.set()
        self._wait.stop()
        line = self._line
        if line is not None:
            line.cancel()
        if self._thread.ident is not None:
            self._thread.join(JOIN_S)
        if self._thread.is_alive():
            raise TimeoutError(f"{self.port}: its reader has not ended in {JOIN_S:g} s")

    def _run(self) -> None:
        try:
            self._serve()
        except BaseException as error:  # noqa: BLE001 - handed on: a thread's exception would vanish
            self._on_crash(self.port, error)

    def _serve(self) -> None:
        pause_s = FIRST_PAUSE_S
        while not self._stopping.is_set():
            try:
                line = self._open_port(self._address)
            except PortTrouble as trouble:
                self._say(trouble.kind, trouble.detail)
            else:
                pause_s = FIRST_PAUSE_S
                self._listen(line)
            if not self._wait(pause_s):
                return
            pause_s = min(2 * pause_s, MOST_PAUSE_S)

    def _listen(self, line: Port) -> None:
        """Read until the line is gone or the reader shall stop."""
        self._line = line
        try:
            self._say(PortFaultKind.OPENED, "")
            while not self._stopping.is_set():
                self._turn(line, self._take)
        except PortTrouble as trouble:
            self._say(trouble.kind, trouble.detail)
        finally:
            self._line = None
            line.close()

    def _take(self, arrival: LineArrival) -> None:
        """An exchange that the stop has broken off is no silence of the gauge."""
        if not (isinstance(arrival, Exchanged) and self._stopping.is_set()):
            self._sink(arrival)

    def _say(self, kind: PortFaultKind, detail: str) -> None:
        if (kind, detail) == self._said:
            return
        self._said = (kind, detail)
        self._sink(PortFault(self._clock.now(), self.port, kind, detail))
