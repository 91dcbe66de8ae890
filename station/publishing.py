"""Who is told of each new state: every listener in turn, on the pump's thread, so that none may wait."""

import json
from collections.abc import Callable
from typing import TextIO

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


class StatusLines:
    """One JSON object a line for every tick that crosses a whole second."""

    def __init__(self, out: TextIO, mode: Mode, log: Callable[[], LogLine], first: State) -> None:
        self._out = out
        self._mode = mode
        self._log = log
        self._before = first

    def __call__(self, state: State, arrival: Arrival, _: tuple[Fact, ...]) -> None:
        """Write the line of a new station second."""
        if isinstance(arrival, Tick) and crossed(self._before, state, 1):
            self._out.write(json.dumps(status(state, self._mode, self._log()), ensure_ascii=False) + "\n")
            self._out.flush()
        self._before = state
