"""However the bytes of a slice are cut, the watch is the same."""

from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from drivers.addresses import parse_address
from drivers.decode import hear
from shared.arrivals import PortFault, PortFaultKind, Received
from shared.clock import EPOCH, Instant
from simulators.handheld import slices
from simulators.scenario_file import find_scenario, read_scenario
from station.config import Known, read_station
from station.core.air.equipment import EQUIPMENT
from station.core.fold import initial_state
from station.core.inputs import Tick
from station.pump import Pump
from station.replaying import NoLedger
from station.table_files import load_books

SECONDS = 12
NS_PER_MS = 1_000_000


class Spoken:
    """What the lines said, the station that hears it, and the watch when nothing is cut."""

    def __init__(self, station, said):
        self.station = station
        self.said = said
        self.uncut = watched(self, lambda data: [data])


@pytest.fixture(scope="module")
def spoken():
    """Some seconds of the trouble on the lines, slice by slice."""
    scenario = read_scenario(find_scenario("line_trouble"))
    known = Known(EQUIPMENT, lambda text: parse_address(text, rehearsal=True))
    station, _ = read_station(scenario.station_file, known)
    said = []
    for piece in slices(scenario):
        said.append((piece.at_ms, piece.sent))
        if piece.at_ms == (SECONDS + 50) * 1000:
            break
    return Spoken(station, said[50 * 10 :])


def watched(spoken, cut):
    """The state after all slices, their bytes cut by `cut`."""
    pump = Pump(initial_state(spoken.station, 0), hear, NoLedger(), lambda *_: None, load_books())
    for port in pump.state.ports:
        pump.step(PortFault(EPOCH, port.name, PortFaultKind.OPENED))
    for at_ms, sent in spoken.said:
        at = Instant(at_ms * NS_PER_MS)
        for port, data in sent.items():
            for piece in cut(data):
                pump.step(Received(at, port, piece))
        pump.step(Tick(at))
    # Arrivals are numbered one by one: more pieces have higher numbers, and nothing else may differ.
    alarms = tuple(replace(alarm, raised_seq=0) for alarm in pump.state.alarms)
    return replace(pump.state, seq=0, alarms=alarms)


@settings(max_examples=6, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(sizes=st.lists(st.integers(1, 40), min_size=1, max_size=20))
def test_rechunked_bytes_give_the_same_watch(spoken, sizes):
    """Whole, in pieces of any sizes, byte by byte: the same state, faults counted alike."""

    def cut(data):
        place, turn = 0, 0
        while place < len(data):
            size = sizes[turn % len(sizes)]
            yield data[place : place + size]
            place, turn = place + size, turn + 1

    assert watched(spoken, cut) == spoken.uncut
