"""Who is told of each new state: every listener in turn, on the pump's thread, so that none may wait."""

import json
from collections import deque
from collections.abc import Callable
from threading import Condition, Thread
from typing import Final, Protocol

from station.core.books import Books
from station.core.facts import Fact
from station.core.inputs import Arrival, Tick
from station.core.state import State
from station.present.looks import Mode
from station.present.status import LogLine, status
from station.pump import Publish, crossed


def all_of(*listeners: Publish) -> Publish:
    """One listener that tells every other, in order."""

    def publish(state: State, arrival: Arrival, facts: tuple[Fact, ...]) -> None:
        for listener in listeners:
            listener(state, arrival, facts)

    return publish


class LineOut(Protocol):
    """Where lines of text go."""

    def write(self, text: str, /) -> object:
        """Take a line."""
        ...

    def flush(self) -> object:
        """Bring what was taken on its way."""
        ...


class StatusLines:
    """One JSON object a line for every tick that crosses a whole second."""

    def __init__(
        self, out: LineOut, mode: Mode, log: Callable[[], LogLine], first: State, books: Books
    ) -> None:
        self._out = out
        self._mode = mode
        self._log = log
        self._before = first
        self._books = books

    def __call__(self, state: State, arrival: Arrival, _: tuple[Fact, ...]) -> None:
        """Write the line of a new station second."""
        if isinstance(arrival, Tick) and crossed(self._before, state, 1):
            line = status(state, self._mode, self._log(), self._books)
            self._out.write(json.dumps(line, ensure_ascii=False) + "\n")
            self._out.flush()
        self._before = state


MOST_WAITING_LINES: Final = 3600
"""An hour of status lines: a reader that is further behind loses the oldest. Own choice."""


class DetachedOut:
    """Lines written by a thread of their own: a reader that blocks, or goes, never holds up the watch.

    `gone` says that the reader has closed its end; lines are then dropped.
    """

    def __init__(self, out: LineOut) -> None:
        self._out = out
        self._waiting: deque[str] = deque(maxlen=MOST_WAITING_LINES)
        self._changed = Condition()
        self._closing = False
        self.gone = False
        self._thread = Thread(target=self._run, name="status lines", daemon=True)
        self._thread.start()

    def write(self, text: str, /) -> None:
        """Take a line; never waits."""
        with self._changed:
            self._waiting.append(text)
            self._changed.notify_all()

    def flush(self) -> None:
        """Lines are flushed by the thread."""

    def close(self, patience_s: float) -> None:
        """Write what waits, no longer than `patience_s`."""
        with self._changed:
            self._closing = True
            self._changed.notify_all()
        self._thread.join(patience_s)

    def _run(self) -> None:
        while lines := self._taken():
            if self.gone:
                continue
            try:
                self._out.write("".join(lines))
                self._out.flush()
            except BrokenPipeError:
                self.gone = True

    def _taken(self) -> list[str]:
        with self._changed:
            self._changed.wait_for(lambda: self._waiting or self._closing)
            lines = list(self._waiting)
            self._waiting.clear()
            return lines
