"""Polled gauges over real lines: an independent Modbus server, and our own simulated gauges."""

import asyncio
import os
import select
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from queue import Queue
from threading import Event, Thread

import pytest
from pymodbus import FramerType
from pymodbus.server import ModbusSerialServer
from pymodbus.simulator import DataType, SimData, SimDevice

from drivers.clock import SystemClock
from drivers.decode import hear
from drivers.formats.decoded import Decoded
from drivers.opening import open_port
from drivers.reader import Reader
from drivers.turns import turn_on
from shared.arrivals import Exchanged, LineArrival, PortFault, PortFaultKind, Received
from shared.gauges import (
    AsciiText,
    ByteOrder,
    Channel,
    Format,
    Gauge,
    LineEnding,
    ModbusRegister,
    NumberKind,
    RegisterTable,
    WireUnit,
)
from shared.readings import LinkFaultKind
from shared.wire.modbus_numbers import words_of
from simulators.polled import RegisterGauge, TextGauge

pytestmark = pytest.mark.posix
PATIENCE_S = 20.0
QUERY = "?baud=19200"
HOLDING, INPUT = RegisterTable.HOLDING, RegisterTable.INPUT
FLOAT, INT16 = NumberKind.FLOAT32, NumberKind.INT16


def gauge_of(name: str, port: str, wire: Format, every_s: float = 0.05) -> Gauge:
    """A fast gauge of this format."""
    return Gauge(name, Channel.SUPPLY, name, port, wire, -100.0, 1000.0, every_s)


class Watching:
    """A reader on a polled line, and what it brings."""

    def __init__(self, gauges: tuple[Gauge, ...]) -> None:
        self.gauges = gauges
        self.arrivals: Queue[LineArrival | BaseException] = Queue()
        clock, port = SystemClock(), gauges[0].port
        self.reader = Reader(
            port,
            open_port,
            clock,
            self.arrivals.put,
            lambda _, error: self.arrivals.put(error),
            turn=turn_on(port, gauges, clock),
        )

    def next(self) -> LineArrival:
        """The next arrival."""
        arrival = self.arrivals.get(timeout=PATIENCE_S)
        if isinstance(arrival, BaseException):
            raise arrival
        return arrival

    def until(self, enough: Callable[[Decoded], bool]) -> Decoded:
        """What is decoded until it is enough."""
        decoded = Decoded()
        while not enough(decoded):
            arrival = self.next()
            if isinstance(arrival, Exchanged | Received):
                more = hear(self.gauges, b"", arrival)
                decoded = Decoded(decoded.readings + more.readings, decoded.faults + more.faults)
        return decoded


@contextmanager
def watching(*gauges: Gauge) -> Iterator[Watching]:
    """A reader that runs."""
    watch = Watching(gauges)
    watch.reader.start()
    try:
        yield watch
    finally:
        watch.reader.stop()


def values_of(decoded: Decoded) -> dict[str, float]:
    """The last value of each gauge."""
    return {reading.gauge: round(reading.value, 3) for reading in decoded.readings}


def troubles_of(decoded: Decoded) -> set[tuple[str, LinkFaultKind]]:
    """Gauges and kinds of the faults; a busy computer may answer late, which is told and asked again."""
    late = (LinkFaultKind.NO_REPLY, "nobody asked for")
    return {
        (fault.gauge, fault.kind)
        for fault in decoded.faults
        if fault.kind is not late[0] and late[1] not in fault.detail
    }


def all_heard(*names: str) -> Callable[[Decoded], bool]:
    """Whether each of these gauges has been read or blamed."""
    return lambda decoded: (
        set(names)
        <= {
            *(reading.gauge for reading in decoded.readings),
            *(gauge for gauge, _ in troubles_of(decoded)),
        }
    )


@contextmanager
def answering(answer: Callable[[bytes], bytes], cable) -> Iterator[None]:
    """A gauge at the other end of a cable: whatever comes is a request when it makes an answer."""
    stop, wake = os.pipe()
    master = cable.master

    def serve() -> None:
        pending = b""
        while stop not in (ready := select.select([master, stop], [], [])[0]):
            assert ready == [master]
            pending += os.read(master, 512)
            if reply := answer(pending):
                os.write(master, reply)
                pending = b""

    thread = Thread(target=serve)
    thread.start()
    try:
        yield
    finally:
        os.write(wake, b"x")
        thread.join(PATIENCE_S)
        os.close(stop)
        os.close(wake)


def float_words(value: float, order: ByteOrder) -> list[int]:
    """Two registers that hold a float."""
    return list(words_of(value, FLOAT, order))


class OracleServer:
    """An independent Modbus server on a line of its own, on a thread with its own loop."""

    def __init__(self, port: str) -> None:
        self.functions: set[int] = set()
        self.listening = Event()
        self._port = port
        self._thread = Thread(target=lambda: asyncio.run(self._serve()))

    def start(self) -> None:
        """Listen."""
        self._thread.start()
        assert self.listening.wait(PATIENCE_S)

    def stop(self) -> None:
        """End in good order."""
        self._loop.call_soon_threadsafe(self._ending.set)
        self._thread.join(PATIENCE_S)

    async def _serve(self) -> None:
        self._loop, self._ending = asyncio.get_running_loop(), asyncio.Event()
        registers = DataType.REGISTERS
        first = [
            SimData(0, values=float_words(142.5, ByteOrder.ABCD), datatype=registers),
            SimData(2, values=float_words(60.25, ByteOrder.CDAB), datatype=registers),
            SimData(4, values=float_words(-7.5, ByteOrder.BADC), datatype=registers),
            SimData(6, values=float_words(123.456, ByteOrder.DCBA), datatype=registers),
            SimData(8, values=[0xFFFE], datatype=registers),
        ]
        second = [SimData(0, values=[5000, 0x0001, 0x0002], datatype=registers)]
        server = ModbusSerialServer(
            [SimDevice(1, simdata=first), SimDevice(2, simdata=second)],
            framer=FramerType.RTU,
            port=self._port,
            baudrate=19200,
            trace_pdu=self._seen,
        )
        await server.serve_forever(background=True)
        self.listening.set()
        await self._ending.wait()
        await server.shutdown()

    def _seen(self, sending, pdu):
        if not sending:
            self.functions.add(pdu.function_code)
        return pdu


@pytest.fixture
def oracle(cable) -> Iterator[OracleServer]:
    """An independent server at the other end of the cable: two pseudo-terminals, joined back to back."""
    import tty  # noqa: PLC0415 - not on Windows

    far, slave = os.openpty()
    tty.setraw(slave)
    stop, wake = os.pipe()

    def join() -> None:
        other = {far: cable.master, cable.master: far}
        while stop not in (ready := select.select([*other, stop], [], [])[0]):
            for end in ready:
                os.write(other[end], os.read(end, 512))

    bridge, server = Thread(target=join), OracleServer(os.ttyname(slave))
    bridge.start()
    server.start()
    yield server
    server.stop()
    os.write(wake, b"x")
    bridge.join(PATIENCE_S)
    for end in (far, slave, stop, wake):
        os.close(end)


def test_an_independent_server_is_read(cable, oracle):
    """Four orders, two devices, both functions, a scale, a missing register, a missing device."""
    port = cable.address + QUERY

    def register(device: int, table: RegisterTable, number: int, kind: NumberKind, **more) -> ModbusRegister:
        return ModbusRegister(device, table, number, kind, WireUnit.PSI, **more)

    gauges = tuple(
        gauge_of(name, port, wire)
        for name, wire in {
            "abcd": register(1, HOLDING, 0, FLOAT, order=ByteOrder.ABCD),
            "cdab": register(1, INPUT, 2, FLOAT, order=ByteOrder.CDAB),
            "badc": register(1, HOLDING, 4, FLOAT, order=ByteOrder.BADC),
            "dcba": register(1, INPUT, 6, FLOAT, order=ByteOrder.DCBA),
            "int16": register(1, HOLDING, 8, INT16),
            "scaled": register(2, INPUT, 0, NumberKind.UINT16, scale=0.01),
            "int32": register(2, HOLDING, 1, NumberKind.INT32, scale=0.001),
            "nowhere": register(2, HOLDING, 77, INT16),
            "nobody": register(3, HOLDING, 0, INT16),
        }.items()
    )
    with watching(*gauges) as watch:
        decoded = watch.until(all_heard(*(gauge.name for gauge in gauges)))
    assert values_of(decoded) == {
        "abcd": 142.5,
        "cdab": 60.25,
        "badc": -7.5,
        "dcba": 123.456,
        "int16": -2.0,
        "scaled": 50.0,
        "int32": 65.538,
    }
    # This server answers for devices that it does not have: with a refusal.
    assert troubles_of(decoded) == {("nowhere", LinkFaultKind.REFUSED), ("nobody", LinkFaultKind.REFUSED)}
    assert oracle.functions == {3, 4}


def test_a_simulated_bus_follows_its_registers(cable):
    """Two devices on one line; what changes in a register is read at the next turn."""
    one = RegisterGauge(1, {(INPUT, 0): 100})
    two = RegisterGauge(2, {(HOLDING, 5): 200})
    port = cable.address + QUERY
    gauges = (
        gauge_of("one", port, ModbusRegister(1, INPUT, 0, INT16, WireUnit.PSI)),
        gauge_of("two", port, ModbusRegister(2, HOLDING, 5, INT16, WireUnit.PSI)),
        gauge_of("none", port, ModbusRegister(2, HOLDING, 6, INT16, WireUnit.PSI)),
    )
    bus = answering(lambda request: one.answer(request) or two.answer(request), cable)
    with bus, watching(*gauges) as watch:
        decoded = watch.until(all_heard("one", "two", "none"))
        one.words[INPUT, 0] = 101
        later = watch.until(lambda decoded: values_of(decoded).get("one") == 101.0)
    assert values_of(decoded) == {"one": 100.0, "two": 200.0}
    assert troubles_of(decoded) == {("none", LinkFaultKind.REFUSED)}
    assert values_of(later)["one"] == 101.0


def test_text_gauges_are_asked_in_turn(cable):
    """An addressed one with a status, and one that repeats the poll and leaves out its point."""
    port = cable.address + QUERY
    plain = TextGauge({b"V07\r": b"07:+0123.4\r\n"})
    echoed = TextGauge({b"PV\r": b"-0025\r"}, echo=True)
    gauges = (
        gauge_of("plain", port, AsciiText(r"07:(?P<value>[+-]\d+\.\d)", WireUnit.PSI, poll="V07")),
        gauge_of(
            "echoed",
            port,
            AsciiText(r"(?P<value>[+-]\d{4})", WireUnit.PSI, LineEnding.CR, poll="PV", echo=True, decimals=2),
        ),
    )
    bus = answering(lambda request: plain.answer(request) or echoed.answer(request), cable)
    with bus, watching(*gauges) as watch:
        decoded = watch.until(all_heard("plain", "echoed"))
    assert values_of(decoded) == {"plain": 123.4, "echoed": -0.25}
    assert troubles_of(decoded) == set()


def test_a_polled_line_that_is_pulled_is_gone_and_asked_again_when_it_is_back(cable):
    """The loss is told, between two questions as well; the gauge answers after the cable is back."""
    gauge = RegisterGauge(1, {(INPUT, 0): 100})
    wire = ModbusRegister(1, INPUT, 0, INT16, WireUnit.PSI)
    with watching(gauge_of("one", cable.address + QUERY, wire, every_s=5.0)) as watch:
        with answering(gauge.answer, cable):
            assert watch.until(all_heard("one")).readings
        cable.pull()
        while not isinstance(fault := watch.next(), PortFault):
            pass
        assert fault.kind is PortFaultKind.GONE
        cable.plug()
        with answering(gauge.answer, cable):
            assert watch.until(lambda decoded: bool(decoded.readings)).readings


def test_a_value_is_as_old_as_its_first_byte(cable):
    """Station time of the question lies before that of the answer, and both within the exchange."""
    gauge = RegisterGauge(1, {(INPUT, 0): 100})
    wire = ModbusRegister(1, INPUT, 0, INT16, WireUnit.PSI)
    with answering(gauge.answer, cable), watching(gauge_of("one", cable.address + QUERY, wire)) as watch:
        while not isinstance(exchange := watch.next(), Exchanged) or not exchange.reply:
            pass
        (reading,) = hear(watch.gauges, b"", exchange).readings
    assert exchange.asked_at < exchange.at
    assert reading.at == exchange.at
