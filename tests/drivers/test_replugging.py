"""A cable that is pulled and put back a hundred times: no reader is lost, no thread, no handle."""

import gc
import os
import threading
from pathlib import Path
from queue import Queue

import pytest

from drivers.clock import SystemClock
from drivers.opening import open_port
from drivers.reader import Reader
from drivers.turns import Turn, turn_on
from shared.arrivals import Exchanged, LineArrival, PortFault, PortFaultKind, Received
from shared.gauges import Channel, Gauge, ModbusRegister, NumberKind, RegisterTable, WireUnit
from shared.wire.modbus_rtu import read_reply

pytestmark = [pytest.mark.posix, pytest.mark.alone]
TIMES = 100
PATIENCE_S = 20.0
HANDLES = Path("/proc/self/fd")
SENTENCE = b"$SDDPT,18.4,0.0,100.0*69\r\n"


class NoWait:
    """A reader's pause that ends at once, a thousandth of a second for the others' sake."""

    def __init__(self) -> None:
        self._stopped = threading.Event()

    def __call__(self, seconds: float) -> bool:
        """Go on unless stopped."""
        assert seconds > 0
        return not self._stopped.wait(0.001)

    def stop(self) -> None:
        """End every pause."""
        self._stopped.set()


class Station:
    """A reader on a cable, and what it brings."""

    def __init__(self, address: str, turn: Turn | None = None) -> None:
        self.arrivals: Queue[LineArrival | BaseException] = Queue()
        self.reader = Reader(
            address,
            open_port,
            SystemClock(),
            self.arrivals.put,
            lambda _, error: self.arrivals.put(error),
            wait=NoWait(),
            turn=turn,
        )

    def until(self, kind: type[LineArrival], fault: PortFaultKind | None = None) -> LineArrival:
        """The next arrival of this kind; anything before it is passed over. Raises what the reader raised."""
        while True:
            arrival = self.arrivals.get(timeout=PATIENCE_S)
            if isinstance(arrival, BaseException):
                raise arrival
            if isinstance(arrival, kind) and fault in (None, getattr(arrival, "kind", None)):
                return arrival


def handles() -> int:
    """Open handles of this process."""
    gc.collect()  # what waits for the collector, ours or an earlier test's, is not open for good
    return len(list(HANDLES.iterdir()))


@pytest.mark.skipif(not HANDLES.is_dir(), reason="counts handles where the system lists them: /proc")
def test_a_hundred_replugs_of_a_line_that_speaks(cable):
    """Each time: opened, heard, gone. At the end as many handles and threads as after the first time."""
    station = Station(cable.address)
    station.reader.start()
    counted = set()
    for time in range(TIMES):
        station.until(PortFault, PortFaultKind.OPENED)
        cable.send(SENTENCE)
        assert station.until(Received).data == SENTENCE
        counted.add((handles(), threading.active_count()))
        cable.pull()
        station.until(PortFault, PortFaultKind.GONE)
        if time < TIMES - 1:
            cable.plug()
    station.reader.stop()
    assert len(counted) == 1


@pytest.mark.skipif(not HANDLES.is_dir(), reason="counts handles where the system lists them: /proc")
def test_a_hundred_replugs_of_a_polled_line(cable):
    """Each time: opened, asked at once, answered, gone; nothing is left behind."""
    wire = ModbusRegister(1, RegisterTable.INPUT, 0, NumberKind.INT16, WireUnit.PSI)
    gauge = Gauge("g", Channel.SUPPLY, "Diver 1", cable.address, wire, 0.0, 100.0, 0.05)
    reply = read_reply(1, RegisterTable.INPUT, (7,))
    station = Station(cable.address, turn_on(cable.address, (gauge,), SystemClock()))
    station.reader.start()
    counted = set()
    for time in range(TIMES):
        station.until(PortFault, PortFaultKind.OPENED)
        answered = b""
        while answered != reply:  # a busy computer may answer too late: then it is asked again
            assert len(os.read(cable.master, 8)) == 8
            cable.send(reply)
            answered = station.until(Exchanged).reply
        counted.add((handles(), threading.active_count()))
        cable.pull()
        station.until(PortFault, PortFaultKind.GONE)
        if time < TIMES - 1:
            cable.plug()
    station.reader.stop()
    assert len(counted) == 1
