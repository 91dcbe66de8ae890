"""A rehearsal takes its bytes and its port faults at the same station instants each time."""

from queue import Queue

import pytest

from drivers.gathering import Gathering
from drivers.opening import open_port
from drivers.reader import Reader
from shared.arrivals import Exchanged, PortFault, PortFaultKind, Received
from shared.clock import EPOCH, Instant
from shared.ports import PortTrouble

SLICE_NS = 100_000_000
A, B = "rehearsal://a", "rehearsal://b"
OPENED, GONE, MISSING = PortFaultKind.OPENED, PortFaultKind.GONE, PortFaultKind.MISSING


class FixedClock:
    """A reader's stamps do not matter here."""

    def now(self) -> Instant:
        """An instant that no test expects."""
        return Instant(-1)


def slice_at(number: int) -> Instant:
    """The instant up to which the slice of this number runs."""
    return Instant(number * SLICE_NS)


def told(faults: tuple[PortFault, ...]) -> list[tuple[int, str, PortFaultKind]]:
    """Slice, line and kind of each fault."""
    return [(fault.at // SLICE_NS, fault.port, fault.kind) for fault in faults]


def test_bytes_are_taken_when_all_that_were_granted_have_come():
    """However they were cut, the bytes of a slice come in one piece, line by line."""
    gathering = Gathering((A, B))
    gathering(PortFault(EPOCH, A, OPENED))
    for data in (b"on", b"e", b" two"):
        gathering(Received(Instant(3), A, data))
    assert gathering.take_bytes(A, 7) == b"one two"
    assert gathering.take_bytes(A, 0) == b""


def test_a_line_that_is_not_open_keeps_nobody_waiting():
    """What has come is taken, and the fault says why there is no more."""
    gathering = Gathering((A,))
    gathering(PortFault(EPOCH, A, OPENED))
    gathering(Received(EPOCH, A, b"half"))
    gathering(PortFault(EPOCH, A, GONE, "chance words"))
    assert gathering.take_bytes(A, 100) == b"half"
    assert gathering.take_faults(slice_at(7)) == (
        PortFault(slice_at(7), A, OPENED),
        PortFault(slice_at(7), A, GONE),
    )
    assert gathering.take_faults(slice_at(8)) == ()


def test_bytes_that_never_come_and_bytes_too_many_are_told():
    """The owner waits no longer than its patience, and takes nothing that was not granted."""
    gathering = Gathering((A,), patience_s=0.0)
    gathering(PortFault(EPOCH, A, OPENED))
    gathering(Received(EPOCH, A, b"abc"))
    with pytest.raises(TimeoutError, match="rehearsal://a: 3 of 4 bytes have come"):
        gathering.take_bytes(A, 4)
    with pytest.raises(ValueError, match="rehearsal://a: 3 bytes have come, 2 were granted: b'c'"):
        gathering.take_bytes(A, 2)


def test_readers_that_do_not_settle_are_named():
    """A reader that hangs in opening is named when patience runs out."""
    gathering = Gathering((A, B), patience_s=0.0)
    gathering(PortFault(EPOCH, A, OPENED))
    with pytest.raises(TimeoutError, match="not settled: rehearsal://b"):
        gathering.settle()
    with pytest.raises(TimeoutError, match="rehearsal://a: pulled, but its reader has not noticed"):
        gathering.take_gone(A)


def test_a_crashed_reader_ends_every_wait():
    """A mistake of ours in a thread reaches the owner with its cause."""
    gathering = Gathering((A,))
    mistake = KeyError("ours")
    gathering.crash(A, mistake)
    for wait in (gathering.settle, lambda: gathering.take_bytes(A, 1), lambda: gathering.take_gone(A)):
        with pytest.raises(RuntimeError, match="its reader has crashed") as caught:
            wait()
        assert caught.value.__cause__ is mistake


def test_polled_lines_cannot_be_gathered():
    """An exchange has its own instants: taking it for bytes would be a mistake of ours."""
    with pytest.raises(TypeError, match="polled"):
        Gathering((A,))(Exchanged(EPOCH, A, EPOCH, b"", b""))


class Bench:
    """Readers of two lines in step; the test says what each attempt to open meets."""

    def __init__(self) -> None:
        self.attempts: dict[str, Queue] = {A: Queue(), B: Queue()}
        self.gathering = Gathering((A, B))
        self.readers = [
            Reader(
                port,
                self.open,
                FixedClock(),
                self.gathering,
                self.gathering.crash,
                wait=self.gathering.wait_of(port),
            )
            for port in (A, B)
        ]

    def open(self, address: str):
        """The scripted port, or missing when there is none."""
        attempts = self.attempts[address]
        if attempts.empty():
            raise PortTrouble(address, MISSING, "not there")
        return attempts.get()

    def stop(self) -> None:
        """End the readers."""
        for reader in self.readers:
            reader.stop()


class QueuePort:
    """A port that gives what is put in, and is gone at None."""

    def __init__(self) -> None:
        self.data: Queue = Queue()

    def read(self, timeout_s: float) -> bytes:
        """The next bytes."""
        assert timeout_s > 0
        data = self.data.get(timeout=10.0)
        if data is None:
            raise PortTrouble("", GONE, "pulled")
        return data

    def cancel(self) -> None:
        """End a blocking read."""
        self.data.put(b"")

    def close(self) -> None:
        """Nothing to give back."""


def test_pauses_count_station_time():
    """A missing line is tried again after 0.5, 1 and 2 s of station time, and at no other moment."""
    bench = Bench()
    bench.attempts[B].put(QueuePort())
    for reader in bench.readers:
        reader.start()
    bench.gathering.settle()
    faults = told(bench.gathering.take_faults(EPOCH))
    port = QueuePort()
    for number in range(1, 40):
        if number == 16:
            bench.attempts[A].put(port)
        bench.gathering.advance(slice_at(number))
        faults += told(bench.gathering.take_faults(slice_at(number)))
    assert faults == [(0, A, MISSING), (0, B, OPENED), (35, A, OPENED)]
    assert bench.gathering.is_open(A)
    port.data.put(None)
    bench.gathering.take_gone(A)
    assert not bench.gathering.is_open(A)
    bench.stop()


def test_a_pulled_line_drops_the_bytes_of_its_slice():
    """How many bytes outlive the cable is chance, so none do; other lines keep theirs."""
    bench = Bench()
    ports = {A: QueuePort(), B: QueuePort()}
    for name, port in ports.items():
        bench.attempts[name].put(port)
    for reader in bench.readers:
        reader.start()
    bench.gathering.settle()
    ports[A].data.put(b"lost")
    ports[A].data.put(None)
    ports[B].data.put(b"kept")
    bench.gathering.take_gone(A)
    assert bench.gathering.take_bytes(B, 4) == b"kept"
    assert bench.gathering.take_bytes(A, 0) == b""
    assert [fault.kind for fault in bench.gathering.take_faults(slice_at(1))] == [OPENED, GONE, OPENED]
    bench.stop()


@pytest.mark.parametrize("doing", ["open", "pausing"])
def test_stopping_ends_readers_that_are_held(doing):
    """Readers end whether they read or pause, also when their line goes at the same moment."""
    bench = Bench()
    port = QueuePort()
    if doing == "open":
        bench.attempts[A].put(port)
    for reader in bench.readers:
        reader.start()
    bench.gathering.settle()
    bench.gathering.stop(A)
    port.data.put(None)
    bench.stop()
    assert not bench.gathering.is_open(A)


def rehearse(cables) -> list[object]:
    """A short rehearsal over real lines: what the station takes, in its order."""
    names = dict(zip((A, B), cables, strict=True))
    gathering = Gathering((A, B))
    readers = {
        port: Reader(
            port,
            open_port,
            FixedClock(),
            gathering,
            gathering.crash,
            address=names[port].address,
            wait=gathering.wait_of(port),
        )
        for port in names
    }
    for reader in readers.values():
        reader.start()
    gathering.settle()
    taken: list[object] = list(gathering.take_faults(EPOCH))
    for number in range(1, 60):
        sent = {}
        for port, cable in names.items():
            if gathering.is_open(port) and not (port == A and number == 10):
                data = f"{port} {number}\r\n".encode() * 3
                for start in range(0, len(data), 7):
                    cable.send(data[start : start + 7])
                sent[port] = len(data)
        if number == 10:
            names[A].send(b"never to be seen")
            names[A].pull()
            gathering.take_gone(A)
        if number == 25:
            names[A].plug()
            readers[A].move_to(names[A].address)
        for port in names:
            data = gathering.take_bytes(port, sent.get(port, 0))
            taken += [Received(slice_at(number), port, data)] if data else []
        gathering.advance(slice_at(number))
        taken += gathering.take_faults(slice_at(number))
    for reader in readers.values():
        reader.stop()
    return taken


@pytest.mark.posix
def test_a_rehearsal_over_real_lines_comes_out_the_same_each_time(cable, second_cable):
    """Bytes, faults and their instants are equal in every run, with a cable pulled and put back."""
    first = rehearse((cable, second_cable))
    faults = [(one.at // SLICE_NS, one.port, one.kind) for one in first if isinstance(one, PortFault)]
    # Pulled in slice 10: gone as of 0.9 s, tried at 1.4 s and 2.4 s in vain, and at 4.4 s.
    assert faults == [(0, A, OPENED), (0, B, OPENED), (10, A, GONE), (14, A, MISSING), (44, A, OPENED)]
    assert sum(isinstance(one, Received) for one in first) == 59 + 9 + 15
    for _ in range(5):
        assert rehearse((cable, second_cable)) == first
