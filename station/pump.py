"""The pump: takes an arrival, numbers it, hands it to the log, decodes, folds, publishes, on one thread.

Nothing else changes the state. A replay feeds the same pump.
"""

from collections.abc import Callable
from typing import Protocol

from shared.arrivals import Exchanged, Received
from shared.clock import Instant
from shared.gauges import Gauge
from shared.readings import LinkFault, Reading
from shared.units import NS_PER_S
from station.core.books import Books
from station.core.facts import Fact
from station.core.fold import fold
from station.core.inputs import Arrival, Heard, Input, Tick
from station.core.state import State
from station.digest import watch_digest
from station.plain import Plain

CHECKPOINT_EVERY_S = 60
"""A checkpoint and a digest so often; own choice: a resume replays a minute at most."""


class Decoded(Protocol):
    """What a decoder made of bytes."""

    @property
    def readings(self) -> tuple[Reading, ...]:
        """What the gauges said."""
        ...

    @property
    def faults(self) -> tuple[LinkFault, ...]:
        """What was wrong."""
        ...

    @property
    def pending(self) -> bytes:
        """The frame that is still coming in."""
        ...


Decode = Callable[[tuple[Gauge, ...], bytes, Received | Exchanged], Decoded]
Publish = Callable[[State, Arrival, tuple[Fact, ...]], None]


class Ledger(Protocol):
    """Where the pump's records go; never blocks."""

    def append(self, seq: int, arrival: Arrival) -> None:
        """A primary record, before it is acted on."""
        ...

    def derive(self, seq: int, fact: Fact) -> None:
        """A fact that the fold found."""
        ...

    def trace(self, seq: int, at: Instant, values: dict[str, Plain]) -> None:
        """One second of the long trace."""
        ...

    def digest(self, seq: int, digest: str, keys: tuple[str, ...]) -> None:
        """A digest of the watch."""
        ...

    def checkpoint(self, seq: int, state: State) -> None:
        """The whole state after an arrival."""
        ...


class Pump:
    """Owns the state and moves it, one arrival at a time, by the tables that it is given."""

    def __init__(self, state: State, decode: Decode, ledger: Ledger, publish: Publish, books: Books) -> None:
        self._state = state
        self._decode = decode
        self._ledger = ledger
        self._publish = publish
        self._books = books

    @property
    def state(self) -> State:
        """The state after the last arrival."""
        return self._state

    def step(self, arrival: Arrival) -> None:
        """Take one arrival all the way."""
        before = self._state
        seq = before.seq + 1
        self._ledger.append(seq, arrival)
        self._state, facts = fold(before, self._read(before, arrival), seq, self._books)
        for fact in facts:
            self._ledger.derive(seq, fact)
        if isinstance(arrival, Tick):
            self._keep_time(before, seq)
        self._publish(self._state, arrival, facts)

    def _read(self, state: State, arrival: Arrival) -> Input:
        match arrival:
            case Received() | Exchanged():
                heard = self._decode(state.settings.gauges, _pending(state, arrival.port), arrival)
                return Heard(arrival.at, arrival.port, heard.readings, heard.faults, heard.pending)
            case _:
                return arrival

    def _keep_time(self, before: State, seq: int) -> None:
        """Once a second a trace, once a minute a digest and a checkpoint."""
        if crossed(before, self._state, 1):
            self._ledger.trace(seq, self._state.now, traced(self._state))
        if crossed(before, self._state, CHECKPOINT_EVERY_S):
            digest = watch_digest(self._state, self._books)
            self._ledger.digest(seq, digest.hex, digest.keys)
            self._ledger.checkpoint(seq, self._state)


def _pending(state: State, name: str) -> bytes:
    return next((port.pending for port in state.ports if port.name == name), b"")


def crossed(before: State, after: State, every_s: int) -> bool:
    """Whether the ticks went over a whole multiple of `every_s` seconds between two states."""
    return before.ticked // (every_s * NS_PER_S) != after.ticked // (every_s * NS_PER_S)


def traced(state: State) -> dict[str, Plain]:
    """One second of the long trace: each diver's gauge depth in fsw, each pressure gauge in psig."""
    depths: dict[str, Plain] = {d.name: _rounded(d.shown_fsw) for d in state.divers}
    gauges: dict[str, Plain] = {g.name: _rounded(g.shown) for g in state.gauges}
    return {"depth_fsw": depths, "gauges": gauges}


def _rounded(value: float | None) -> float | None:
    return None if value is None else round(value, 2)
