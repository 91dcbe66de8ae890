"""One turn on an open line: listening, asking, late answers, silence, a stop in the middle."""

from collections import deque
from threading import Event

from drivers.bus_timing import Timing
from drivers.polling import questions_of
from drivers.reader import Reader
from drivers.turns import READ_TIMEOUT_S, SHORT_S, Listening, Polling, turn_on
from shared.arrivals import Exchanged, LineArrival, Received
from shared.clock import Instant, after
from shared.gauges import (
    Channel,
    Gauge,
    ModbusRegister,
    NmeaDepth,
    NumberKind,
    RegisterTable,
    WireUnit,
)
from shared.wire.modbus_rtu import exception_reply, read_reply

LINE = "serial:///dev/ttyUSB0?baud=9600&parity=even"
TIMING = Timing(0.001, 0.004)
TIMEOUT_S = 0.1
INPUT = RegisterTable.INPUT
GOOD = read_reply(1, INPUT, (7,))
OTHER = read_reply(2, INPUT, (9,))


class Bus:
    """A line and a clock in one: reading takes the time that the script says.

    Each step of the script is what comes and after how many seconds of waiting; what is not in the script
    is silence.
    """

    def __init__(self) -> None:
        self.at = Instant(0)
        self.asked: list[tuple[float, bytes]] = []
        self.script: deque[tuple[float, bytes]] = deque()
        self.answers: dict[int, deque[list[tuple[float, bytes]]]] = {}

    def now(self) -> Instant:
        """The instant of this line."""
        return self.at

    def wait(self, seconds: float) -> None:
        """Time goes by, on the line as well."""
        self.at = after(self.at, seconds)
        if self.script:
            wait_s, data = self.script.popleft()
            self.script.appendleft((max(0.0, wait_s - seconds), data))

    def write(self, data: bytes) -> None:
        """A question; the device that is asked puts its answer into the script."""
        self.asked.append((self.at / 1e9, data))
        answers = self.answers.get(data[0])
        if answers:
            self.script.extend(answers.popleft())

    def read(self, timeout_s: float) -> bytes:
        """The next of the script, when it comes in time."""
        if self.script and self.script[0][0] <= timeout_s:
            wait_s, data = self.script.popleft()
            self.at = after(self.at, wait_s)
            return data
        self.wait(timeout_s)
        return b""

    def cancel(self) -> None:
        """Nothing blocks here."""

    def close(self) -> None:
        """Nothing is held here."""


def gauge_of(device: int, every_s: float = 1.0) -> Gauge:
    """One register of a device."""
    wire = ModbusRegister(device, INPUT, 0, NumberKind.INT16, WireUnit.PSI)
    return Gauge(f"g{device}", Channel.SUPPLY, f"Diver {device}", LINE, wire, 0.0, 300.0, every_s)


def polled(bus: Bus, *gauges: Gauge) -> Polling:
    """The turn of a bus with these gauges."""
    return Polling(LINE, questions_of(gauges, TIMING), TIMING, bus, bus.wait)


def run(turn: Polling, bus: Bus, seconds: float) -> list[LineArrival]:
    """What the line brings in so many seconds of its own time."""
    brought: list[LineArrival] = []
    until = after(bus.at, seconds)
    while bus.at < until:
        turn(bus, brought.append)
    return brought


def test_an_answer_is_told_with_both_instants_and_its_bytes():
    """Asked at once after the opening; stamped at the first byte of the answer, not at its last."""
    bus = Bus()
    bus.answers[1] = deque([[(0.02, GOOD[:3]), (0.005, GOOD[3:])]])
    (exchange,) = run(polled(bus, gauge_of(1)), bus, 0.02)
    assert exchange == Exchanged(after(Instant(0), 0.02), LINE, Instant(0), bus.asked[0][1], GOOD)


def test_gauges_take_turns_once_a_period():
    """Two devices, once a second each: asked one behind the other, then a pause."""
    bus = Bus()
    bus.answers = {1: deque([[(0.02, GOOD)]] * 9), 2: deque([[(0.02, OTHER)]] * 9)}
    brought = run(polled(bus, gauge_of(1), gauge_of(2)), bus, 2.5)
    assert [arrival.request[0] for arrival in brought] == [1, 2, 1, 2, 1, 2]
    assert [round(at, 2) for at, _ in bus.asked] == [0.0, 0.02, 1.0, 1.02, 2.0, 2.02]


def test_silence_is_an_empty_reply_and_is_asked_again_twice():
    """Three tries, each told, each left alone for as long as a reply may take; then once a period."""
    bus = Bus()
    brought = run(polled(bus, gauge_of(1)), bus, 2.2)
    assert [arrival.reply for arrival in brought] == [b""] * 5
    assert [round(at, 2) for at, _ in bus.asked] == [0.0, 0.2, 0.4, 1.0, 2.0]
    assert brought[0] == Exchanged(after(Instant(0), TIMEOUT_S), LINE, Instant(0), bus.asked[0][1], b"")


def test_a_late_answer_is_never_taken_for_another():
    """It comes in the time that the line is left alone: bytes without a request."""
    bus = Bus()
    bus.answers = {1: deque([[(0.15, GOOD)], [(0.02, GOOD)]]), 2: deque([[(0.02, OTHER)]])}
    first, late, again, other = run(polled(bus, gauge_of(1), gauge_of(2)), bus, 0.5)
    assert (first.request[0], first.reply) == (1, b"")
    assert isinstance(late, Received)
    assert (late.at, late.data) == (after(Instant(0), 0.15), GOOD)
    assert (again.request[0], again.reply) == (1, GOOD)
    assert (other.request[0], other.reply) == (2, OTHER)


def test_a_damaged_answer_is_asked_for_again():
    """A wrong checksum waits for the rest of the time, is told with its bytes, and is tried again."""
    bus = Bus()
    torn = GOOD[:-1] + b"\x00"
    bus.answers[1] = deque([[(0.02, torn)], [(0.02, GOOD)]])
    bad, good = run(polled(bus, gauge_of(1)), bus, 0.5)
    assert (bad.reply, good.reply) == (torn, GOOD)


def test_a_refusal_is_an_answer():
    """A gauge that says no is not asked the same again before its time."""
    bus = Bus()
    bus.answers[1] = deque([[(0.02, exception_reply(1, INPUT, 2))]])
    assert len(run(polled(bus, gauge_of(1)), bus, 0.9)) == 1
    assert len(bus.asked) == 1


def test_a_line_that_babbles_is_told_and_left_alone():
    """Bytes that nobody asked for keep the next question back until the line is quiet."""
    bus = Bus()
    bus.script.extend([(0.0, b"\x00"), (0.003, b"\x00\x00")])
    bus.answers[1] = deque([[(0.02, GOOD)]])
    one, two, answer = run(polled(bus, gauge_of(1)), bus, 0.02)
    assert (one.data, two.data) == (b"\x00", b"\x00\x00")
    assert answer.reply == GOOD
    assert answer.asked_at >= after(two.at, TIMING.silence_s)


def test_an_endless_answer_ends_with_its_time():
    """A device that never stops is cut off; nothing fills the memory."""
    bus = Bus()
    bus.answers[1] = deque([[(0.001, b"\x01" * 60)] * 1000])
    arrival = run(polled(bus, gauge_of(1)), bus, 0.01)[0]
    assert len(arrival.reply) < 600


def test_a_line_that_is_opened_anew_is_asked_at_once():
    """What was due later, or given up, on the line before does not hold for the new one."""
    bus = Bus()
    turn = polled(bus, gauge_of(1, 60.0))
    run(turn, bus, 1.0)
    again = Bus()
    again.answers[1] = deque([[(0.02, GOOD)]])
    brought: list[LineArrival] = []
    turn(again, brought.append)
    assert [arrival.reply for arrival in brought] == [GOOD]


def test_no_turn_holds_a_reader_for_long():
    """A gauge of a minute's period: each turn returns soon, so that a stop is noticed."""
    bus = Bus()
    bus.answers[1] = deque([[(0.02, GOOD)]])
    turn = polled(bus, gauge_of(1, 60.0))
    run(turn, bus, 0.02)
    for _ in range(20):
        before = bus.at
        turn(bus, list[LineArrival]().append)
        assert bus.at <= after(before, READ_TIMEOUT_S + SHORT_S)


def test_a_line_is_listened_to_or_asked_by_its_gauges():
    """Polled gauges make a polled line; all others are listened to; gauges of other lines do not count."""
    free = Gauge("d", Channel.DEPTH, "Diver 1", "socket://127.0.0.1:1", NmeaDepth("SD"), 0.0, 1.0)
    gauges = (free, gauge_of(1))
    assert isinstance(turn_on(LINE, gauges, Bus()), Polling)
    assert isinstance(turn_on(free.port, gauges, Bus()), Listening)
    assert isinstance(turn_on("rehearsal://X", (gauge_of(1),), Bus()), Listening)


def test_an_exchange_that_the_stop_breaks_off_is_no_silence():
    """At the end of a watch the gauge that is just being asked is not blamed."""
    bus, arrivals, reading = Bus(), [], Event()

    class Stopped(Bus):
        """A line on which the stop comes while an answer is awaited."""

        def read(self, timeout_s: float) -> bytes:
            """Wait for the stop once something was asked."""
            if self.asked:
                reading.set()
                assert stopped.wait(10.0)
            return b""

        def cancel(self) -> None:
            """The reader is told to stop."""
            stopped.set()

    stopped, line = Event(), Stopped()
    turn = polled(bus, gauge_of(1))
    reader = Reader(LINE, lambda _: line, bus, arrivals.append, lambda *_: None, turn=turn)
    reader.start()
    assert reading.wait(10.0)
    reader.stop()
    assert not [arrival for arrival in arrivals if isinstance(arrival, Exchanged)]
