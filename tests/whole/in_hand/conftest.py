"""Whole dives in one hand: the simulator's bytes through decoder, pump and status, without a process."""

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime
from functools import cache
from typing import Any

import pytest

from drivers.decode import hear
from shared.arrivals import PortFault, PortFaultKind, Received
from shared.clock import EPOCH, Instant
from shared.gauges import ports_of
from simulators.handheld import Slice, slices
from simulators.scenario_file import find_scenario, read_scenario
from simulators.truth.dive import Moment
from station.compose.known import known_to_rehearsal
from station.config import read_station
from station.core.books import Books
from station.core.facts import AlarmChanged, Fact
from station.core.fold import initial_state
from station.core.inputs import Arrival, OperatorEvent, Tick
from station.core.phase import Phase
from station.core.state import Standing, State
from station.core.timekeeping import phase_of
from station.plain import act_from_plain
from station.present.looks import Mode, View
from station.present.status import LogLine, Status, status
from station.present.view import view
from station.pump import Pump
from station.table_files import load_books

NS_PER_MS = 1_000_000
LOG = LogLine("in hand", 10**9, 0.0)


class NoLedger:
    """A log that keeps nothing."""

    def append(self, *_: object) -> None:
        """Nothing is kept."""

    derive = trace = digest = checkpoint = append


@dataclass(frozen=True)
class Dived:
    """A dive to its end: the state and the truth of each second, from 1 on; the facts with their second."""

    books: Books
    states: list[State]
    truth: list[Moment]
    facts: list[tuple[float, Fact]]
    kept: dict[int, Status] = field(default_factory=dict)

    @property
    def seconds(self) -> range:
        """Every second of the dive."""
        return range(1, len(self.states) + 1)

    def state(self, second: int) -> State:
        """The state at a second."""
        return self.states[second - 1]

    def at(self, second: int) -> Status:
        """The status of a second."""
        if second not in self.kept:
            self.kept[second] = status(self.state(second), Mode.REHEARSAL, LOG, self.books)
        return self.kept[second]

    def view(self, second: int) -> View:
        """The view of a second."""
        return view(self.state(second), Mode.REHEARSAL, LOG, self.books)

    def diver(self, second: int, name: str = "Diver 1") -> Status:
        """One diver's status at a second."""
        return next(each for each in self.at(second)["divers"] if each["name"] == name)

    def in_phase(self, *phases: Phase) -> list[int]:
        """The seconds at which the first diver is in one of these phases."""
        return [second for second in self.seconds if phase_of(self.state(second).divers[0]) in phases]

    def alarm_seconds(self, alarm: str) -> list[int]:
        """The seconds at which the condition of an alarm stands."""
        held = (Standing.UNACKNOWLEDGED, Standing.ACKNOWLEDGED)
        return [
            second
            for second in self.seconds
            if any(each.id == alarm and each.standing in held for each in self.state(second).alarms)
        ]

    def raised(self) -> set[str]:
        """Every alarm that was raised."""
        return {fact.id for _, fact in self.facts if isinstance(fact, AlarmChanged)}


@cache
def dive_in_hand(name: str) -> Dived:
    """A scenario dived to its end, once a session."""
    scenario, books = read_scenario(find_scenario(name)), load_books()
    settings, _ = read_station(scenario.station_file, known_to_rehearsal())
    epoch_ns = int(datetime.fromisoformat(scenario.starts_utc).timestamp()) * 10**9
    facts: list[tuple[float, Fact]] = []

    def publish(state: State, _: Arrival, found: tuple[Fact, ...]) -> None:
        facts.extend((state.now / 1e9, fact) for fact in found)

    pump = Pump(initial_state(settings, epoch_ns), hear, NoLedger(), publish, books)
    for port in ports_of(settings.gauges):
        pump.step(PortFault(EPOCH, port, PortFaultKind.OPENED))
    dived = Dived(books, [], [], facts)
    for piece in slices(scenario):
        _take(pump, piece)
        if piece.at_ms % 1000 == 0:
            dived.states.append(pump.state)
            dived.truth.append(piece.moment)
    return dived


def _take(pump: Pump, piece: Slice) -> None:
    at = Instant(piece.at_ms * NS_PER_MS)
    for port in piece.pulled:
        pump.step(PortFault(at, port, PortFaultKind.GONE))
    for port, data in piece.sent.items():
        pump.step(Received(at, port, data))
    for port in piece.restored:
        pump.step(PortFault(at, port, PortFaultKind.OPENED))
    for press in piece.presses:
        act: dict[str, Any] = {key: value for key, value in press.items() if key != "by"}
        pump.step(OperatorEvent(at, press["by"], pump.state.seq, act_from_plain(act)))
    pump.step(Tick(at))


@pytest.fixture(scope="session")
def dived() -> Callable[[str], Dived]:
    """Dives a scenario in one hand."""
    return dive_in_hand
