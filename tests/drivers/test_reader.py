"""A reader opens its line, stamps what comes, tells what happens to the port, and ends when told to."""

import threading
from collections.abc import Callable
from queue import Empty, Queue

import pytest

from drivers.opening import open_port
from drivers.reader import Reader, WallWait
from shared.arrivals import LineArrival, PortFault, PortFaultKind, Received
from shared.clock import Instant
from shared.ports import PortTrouble

PATIENCE_S = 10.0
LINE = "serial:///dev/ttyUSB0"
OPENED, GONE, MISSING, BUSY = (
    PortFaultKind.OPENED,
    PortFaultKind.GONE,
    PortFaultKind.MISSING,
    PortFaultKind.BUSY,
)


class FixedClock:
    """Always the same instant."""

    def now(self) -> Instant:
        """Five seconds."""
        return Instant(5_000_000_000)


class ScriptedPort:
    """A port that gives what the test puts in: bytes, or trouble."""

    def __init__(self) -> None:
        self.script: Queue[bytes | BaseException] = Queue()
        self.closed_by = ""

    def read(self, timeout_s: float) -> bytes:
        """The next thing of the script; the real wait is the queue's."""
        assert timeout_s > 0
        try:
            step = self.script.get(timeout=PATIENCE_S)
        except Empty as error:
            raise AssertionError("the script has run out") from error
        if isinstance(step, BaseException):
            raise step
        return step

    def write(self, data: bytes) -> None:
        """Nothing is written in these tests."""
        raise AssertionError(data)

    def cancel(self) -> None:
        """A read in progress returns nothing."""
        self.script.put(b"")

    def close(self) -> None:
        """Remember who closed it."""
        self.closed_by = threading.current_thread().name


class AskedWait:
    """A wait whose pauses a test sees and ends."""

    def __init__(self) -> None:
        self.asked: Queue[float] = Queue()
        self.answers: Queue[bool] = Queue()

    def __call__(self, seconds: float) -> bool:
        """Ask the test."""
        self.asked.put(seconds)
        return self.answers.get(timeout=PATIENCE_S)

    def stop(self) -> None:
        """No further attempt."""
        self.answers.put(False)

    def go_on(self) -> float:
        """End one pause; how long it was to be."""
        seconds = self.asked.get(timeout=PATIENCE_S)
        self.answers.put(True)
        return seconds


class Bench:
    """A reader with everything around it in the hands of the test."""

    def __init__(self, opener: Callable[[str], ScriptedPort] | None = None) -> None:
        self.attempts: Queue[ScriptedPort | BaseException] = Queue()
        self.addresses: list[str] = []
        self.arrivals: Queue[LineArrival] = Queue()
        self.crashes: Queue[tuple[str, BaseException]] = Queue()
        self.wait = AskedWait()
        self.reader = Reader(
            LINE,
            opener or self.open,
            FixedClock(),
            self.arrivals.put,
            lambda port, error: self.crashes.put((port, error)),
            wait=self.wait,
        )

    def open(self, address: str) -> ScriptedPort:
        """The next attempt of the script."""
        self.addresses.append(address)
        attempt = self.attempts.get(timeout=PATIENCE_S)
        if isinstance(attempt, BaseException):
            raise attempt
        return attempt

    def next(self) -> LineArrival:
        """The next arrival."""
        return self.arrivals.get(timeout=PATIENCE_S)

    def next_kind(self) -> PortFaultKind:
        """The kind of the next arrival, which is a fault."""
        fault = self.next()
        assert isinstance(fault, PortFault)
        return fault.kind


@pytest.fixture
def bench():
    """A bench; its reader is stopped at the end."""
    one = Bench()
    yield one
    one.attempts.put(ScriptedPort())
    one.reader.stop()
    assert one.crashes.empty()


def trouble(kind: PortFaultKind, detail: str = "the system's words") -> PortTrouble:
    """A trouble of the line."""
    return PortTrouble(LINE, kind, detail)


def test_what_comes_is_stamped_and_bears_the_name_of_the_line(bench):
    """OPENED first, then the bytes as they came, each with its instant; silence tells nothing."""
    port = ScriptedPort()
    for data in (b"one", b"", b"two"):
        port.script.put(data)
    bench.attempts.put(port)
    bench.reader.start()
    at = Instant(5_000_000_000)
    assert [bench.next() for _ in range(3)] == [
        PortFault(at, LINE, OPENED),
        Received(at, LINE, b"one"),
        Received(at, LINE, b"two"),
    ]


def test_pauses_grow_to_five_seconds_and_begin_anew_after_an_opening(bench):
    """Half a second at first, twice as long each time, five at most; an opening sets it back."""
    for _ in range(6):
        bench.attempts.put(trouble(MISSING))
    port = ScriptedPort()
    port.script.put(trouble(GONE))
    bench.attempts.put(port)
    bench.reader.start()
    assert [bench.wait.go_on() for _ in range(6)] == [0.5, 1.0, 2.0, 4.0, 5.0, 5.0]
    assert bench.wait.go_on() == 0.5
    assert [bench.next_kind() for _ in range(3)] == [MISSING, OPENED, GONE]


def test_a_failure_is_told_once_until_something_changes(bench):
    """The same failure again is silent; another kind, other words, or the opening are told."""
    for kind, words in [
        (MISSING, "a"),
        (MISSING, "a"),
        (BUSY, "b"),
        (BUSY, "b"),
        (BUSY, "c"),
        (MISSING, "a"),
    ]:
        bench.attempts.put(trouble(kind, words))
    bench.reader.start()
    for _ in range(6):
        bench.wait.go_on()
    told = [bench.next() for _ in range(4)]
    assert [(fault.kind, fault.detail) for fault in told] == [
        (MISSING, "a"),
        (BUSY, "b"),
        (BUSY, "c"),
        (MISSING, "a"),
    ]
    assert bench.arrivals.empty()


def test_each_loss_and_each_opening_is_told(bench):
    """A line that comes and goes is told each time."""
    for _ in range(2):
        port = ScriptedPort()
        port.script.put(trouble(GONE))
        bench.attempts.put(port)
    bench.reader.start()
    bench.wait.go_on()
    assert [bench.next_kind() for _ in range(4)] == [OPENED, GONE, OPENED, GONE]


def test_stopping_ends_a_blocking_read_and_the_reader_closes_its_port():
    """The stop cancels the read; only the reader's own thread closes the port."""
    bench = Bench()
    port = ScriptedPort()
    bench.attempts.put(port)
    bench.reader.start()
    assert bench.next_kind() is OPENED
    bench.reader.stop()
    assert port.closed_by == f"reader {LINE}"
    assert bench.arrivals.empty()


def test_stopping_ends_a_pause():
    """A reader that waits for its next attempt ends at once, and tells nothing more."""
    bench = Bench()
    bench.attempts.put(trouble(MISSING))
    bench.reader.start()
    assert bench.wait.asked.get(timeout=PATIENCE_S) == 0.5
    bench.reader.stop()
    assert bench.next_kind() is MISSING
    assert bench.addresses == [LINE]


def test_a_reader_that_never_started_can_be_stopped():
    """Cleaning up after a failed start does not fail itself."""
    bench = Bench()
    bench.reader.stop()
    assert bench.addresses == []


def test_a_mistake_of_ours_is_handed_over_and_the_port_given_back():
    """Neither a broken opener nor a broken port or sink vanishes in its thread."""
    mistake = KeyError("ours")
    bench = Bench()
    bench.attempts.put(mistake)
    bench.reader.start()
    assert bench.crashes.get(timeout=PATIENCE_S) == (LINE, mistake)
    bench.reader.stop()

    bench = Bench()
    port = ScriptedPort()
    port.script.put(mistake)
    bench.attempts.put(port)
    bench.reader.start()
    assert bench.crashes.get(timeout=PATIENCE_S) == (LINE, mistake)
    assert port.closed_by == f"reader {LINE}"
    bench.reader.stop()


def test_a_line_that_moved_is_opened_at_its_new_address(bench):
    """A line put back under another address keeps its name."""
    first, second = ScriptedPort(), ScriptedPort()
    first.script.put(trouble(GONE))
    second.script.put(b"x")
    bench.attempts.put(first)
    bench.attempts.put(second)
    bench.reader.start()
    assert [bench.next_kind(), bench.next_kind()] == [OPENED, GONE]
    bench.reader.move_to("serial:///dev/ttyUSB1")
    bench.wait.go_on()
    assert bench.next_kind() is OPENED
    assert bench.next() == Received(Instant(5_000_000_000), LINE, b"x")
    assert bench.addresses == [LINE, "serial:///dev/ttyUSB1"]


def test_the_wall_clock_wait():
    """Time that runs out lets the reader go on; a stop does not, then and later."""
    wait = WallWait()
    assert wait(0.0) is True
    wait.stop()
    assert wait(60.0) is False


@pytest.mark.posix
def test_a_real_line_is_read_pulled_and_put_back(cable):
    """Through a pseudo-terminal: opened, heard, gone, missing, opened again, heard again, stopped."""
    bench = Bench(open_port)
    bench.reader.move_to(cable.address)
    bench.reader.start()
    assert bench.next_kind() is OPENED
    cable.send(b"$SDDPT,18.4,0.0,100.0*69\r\n")
    assert bench.next().data == b"$SDDPT,18.4,0.0,100.0*69\r\n"
    with pytest.raises(PortTrouble, match="busy"):
        open_port(cable.address)
    cable.pull()
    assert bench.next_kind() is GONE
    assert bench.wait.go_on() == 0.5
    assert bench.next_kind() is MISSING
    cable.plug()
    assert bench.wait.go_on() == 1.0
    assert bench.next_kind() is OPENED
    cable.send(b"again")
    assert bench.next().data == b"again"
    bench.reader.stop()
    assert bench.crashes.empty()
    open_port(cable.address).close()
