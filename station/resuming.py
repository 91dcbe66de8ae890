"""Going on after a crash: the last checkpoint, the tail replayed, and one arrival that gives the gap."""

from dataclasses import dataclass

from shared.clock import Instant, after
from shared.units import NS_PER_S
from station.core.books import Books
from station.core.facts import Fact
from station.core.fold import initial_state
from station.core.inputs import Arrival, StationFact, StationFactKind
from station.core.state import State
from station.log.journal import Journal
from station.log.records import Derived, DigestRecord, FactRecord, TraceRecord
from station.log.resuming import Resumption
from station.plain import Plain
from station.pump import Decode, Pump


class _OnlyMissing:
    """A ledger that writes what the log does not hold yet of the arrivals that it holds."""

    def __init__(self, journal: Journal, held: tuple[Derived, ...]) -> None:
        self._journal = journal
        self._held = list(held)

    def append(self, seq: int, arrival: Arrival) -> None:
        """The log holds the arrival."""

    def derive(self, seq: int, fact: Fact) -> None:
        """Write a fact that did not reach the disk."""
        if not self._has(FactRecord(seq, fact)):
            self._journal.derive(seq, fact)

    def trace(self, seq: int, at: Instant, values: dict[str, Plain]) -> None:
        """Write a second of the trace that did not reach the disk."""
        if not self._has(TraceRecord(seq, at, values)):
            self._journal.trace(seq, at, values)

    def digest(self, seq: int, digest: str, keys: tuple[str, ...]) -> None:
        """Write a digest that did not reach the disk."""
        if not self._has(DigestRecord(seq, digest, keys)):
            self._journal.digest(seq, digest, keys)

    def checkpoint(self, seq: int, state: State) -> None:
        """Write a checkpoint that did not reach the disk."""
        self._journal.checkpoint(seq, state)

    def _has(self, record: Derived) -> bool:
        if record in self._held:
            self._held.remove(record)
            return True
        return False


def restored(found: Resumption, journal: Journal, decode: Decode, books: Books) -> State:
    """The state at the end of an unfinished log: its last checkpoint and the tail after it."""
    first = (
        initial_state(found.header.settings, found.header.utc_epoch_ns)
        if found.checkpoint is None
        else found.checkpoint.state
    )
    pump = Pump(first, decode, _OnlyMissing(journal, found.derived), lambda *_: None, books)
    for _, arrival in found.tail:
        pump.step(arrival)
    return pump.state


@dataclass(frozen=True, slots=True)
class GoingOn:
    """How the watch goes on: `start` is the instant at which station time runs again."""

    start: Instant
    fact: StationFact


def going_on(state: State, utc_now_ns: int) -> GoingOn:
    """The gap by the wall clock; unknown when it stands behind the last moment of the log."""
    gap_ns = utc_now_ns - (state.utc_epoch_ns + state.now)
    if gap_ns < 0:
        detail = "the computer's clock stands before the last moment of the log"
        return GoingOn(state.now, StationFact(state.now, StationFactKind.RESUMED, None, detail))
    start = after(state.now, gap_ns / NS_PER_S)
    return GoingOn(start, StationFact(start, StationFactKind.RESUMED, gap_ns / NS_PER_S))
