"""Real serial lines, by pseudo-terminals: what comes is read, every trouble has its kind."""

import os
import sys
import termios
from pathlib import Path
from queue import SimpleQueue
from threading import Thread

import pytest
import serial

from drivers import serial_port
from drivers.addresses import Parity, SerialAddress
from drivers.opening import open_port
from drivers.serial_port import SerialPort, list_ports, open_serial
from shared.arrivals import PortFaultKind
from shared.ports import PortTrouble

posix = pytest.mark.posix
SENTENCE = b"$YXXDR,P,2.34567,B,PNEUMO1,P,11.20,B,SUPPLY1,C,14.5,C,GAS*18\r\n"


def trouble_of(address: str) -> PortTrouble:
    """The trouble that opening `address` meets."""
    with pytest.raises(PortTrouble) as caught:
        open_port(address)
    return caught.value


@posix
def test_bytes_are_read_as_they_came_whole(cable):
    """What waits is taken at once; silence gives no bytes in the time given."""
    port = open_port(cable.address + "?baud=9600&parity=even&stopbits=2")
    assert port.read(0.0) == b""
    cable.send(SENTENCE)
    assert port.read(5.0) == SENTENCE
    cable.send(bytes(range(256)))
    assert port.read(5.0) == bytes(range(256))
    port.close()


@posix
def test_writing_reaches_the_gauge(cable):
    """A request goes out as it is."""
    port = open_port(cable.address)
    port.write(b"Q07\r")
    assert cable.heard(4) == b"Q07\r"
    port.close()


@posix
def test_what_was_sent_before_the_opening_is_lost(cable):
    """Opening throws away what the line had buffered: the fault OPENED explains the gap."""
    cable.send(SENTENCE)
    port = open_port(cable.address)
    cable.send(b"later")
    assert port.read(5.0) == b"later"
    port.close()


@posix
def test_a_second_reader_is_refused_and_the_first_reads_on(cable):
    """A line belongs to one reader."""
    port = open_port(cable.address)
    trouble = trouble_of(cable.address)
    assert (trouble.kind, trouble.port) == (PortFaultKind.BUSY, cable.address)
    cable.send(b"still mine")
    assert port.read(5.0) == b"still mine"
    port.close()
    open_port(cable.address).close()


@posix
def test_a_line_that_vanishes_is_gone_and_then_missing(cable):
    """A pulled cable shows at the next read and write, and cannot be opened; put back, it can."""
    port = open_port(cable.address)
    cable.pull()
    for use in (lambda: port.read(5.0), lambda: port.write(b"x"), lambda: port.read(1.0)):
        with pytest.raises(PortTrouble) as caught:
            use()
        assert (caught.value.kind, caught.value.port) == (PortFaultKind.GONE, cable.address)
    port.close()
    trouble = trouble_of(cable.address)
    assert (trouble.kind, trouble.detail) == (PortFaultKind.MISSING, "No such file or directory")
    cable.plug()
    open_port(cable.address).close()


@posix
def test_a_blocking_read_is_cancelled_and_then_the_port_closes(cable):
    """Another thread ends a long read at once; a cancel after the close does no harm."""
    port = open_port(cable.address)
    results: SimpleQueue[bytes] = SimpleQueue()
    reading = Thread(target=lambda: results.put(port.read(60.0)))
    reading.start()
    port.cancel()
    assert results.get(timeout=5.0) == b""
    reading.join(5.0)
    cable.send(b"next")
    assert port.read(5.0) == b"next"
    port.close()
    port.cancel()
    port.close()


@posix
def test_what_is_no_serial_line_is_missing(tmp_path: Path):
    """A folder or a plain file under the name is told in the system's words."""
    (tmp_path / "plain").write_text("x")
    for name in (tmp_path, tmp_path / "plain"):
        trouble = trouble_of(f"serial://{name}")
        assert trouble.kind is PortFaultKind.MISSING
        assert trouble.detail


@pytest.mark.parametrize(
    ("error", "kind"),
    [
        (serial.SerialException(13, "could not open port"), PortFaultKind.DENIED),
        (serial.SerialException(16, "could not open port"), PortFaultKind.BUSY),
        (serial.SerialException(11, "Could not exclusively lock port"), PortFaultKind.BUSY),
        (serial.SerialException(2, "could not open port"), PortFaultKind.MISSING),
        (
            serial.SerialException("could not open port 'COM3': FileNotFoundError(2, '')"),
            PortFaultKind.MISSING,
        ),
        (serial.SerialException("could not open port 'COM3': PermissionError(13, '')"), PortFaultKind.BUSY),
        (OSError(5, "Input/output error"), PortFaultKind.MISSING),
        (termios.error(5, "Input/output error"), PortFaultKind.MISSING),
    ],
)
def test_every_refusal_of_the_system_has_its_kind(monkeypatch, error, kind):
    """Missing, busy and denied are told apart on every system; nothing else than trouble comes out."""

    def refuse(*_args, **_settings):
        raise error

    monkeypatch.setattr(serial_port.serial, "Serial", refuse)
    with pytest.raises(PortTrouble) as caught:
        open_serial("gauge", SerialAddress("COM3"))
    assert (caught.value.port, caught.value.kind) == ("gauge", kind)


def test_the_settings_of_the_address_reach_the_line(monkeypatch):
    """Speed, parity, bits and the exclusive opening are asked for as written."""
    asked = {}
    monkeypatch.setattr(
        serial_port.serial, "Serial", lambda *args, **settings: asked.update(settings, args=args)
    )
    open_serial("gauge", SerialAddress("COM3", 19200, Parity.ODD, 7, 2))
    assert asked["args"] == ("COM3", 19200)
    assert (asked["parity"], asked["bytesize"], asked["stopbits"]) == ("O", 7, 2)
    assert asked["exclusive"] is True


class TornLine:
    """A line that goes between the first byte and the rest of them."""

    is_open = True

    def __init__(self) -> None:
        self.counts = iter([0, OSError(5, "Input/output error")])

    @property
    def in_waiting(self) -> int:
        """Once nothing, then an error."""
        count = next(self.counts)
        if isinstance(count, OSError):
            raise count
        return count

    def read(self, size: int) -> bytes:
        """One byte."""
        return b"x"[:size]


def test_a_line_that_goes_behind_a_byte_does_not_lose_the_byte():
    """What was read is handed over; the loss of the line is told by the next read."""
    assert SerialPort("gauge", TornLine()).read(0.2) == b"x"


def test_lines_are_listed_with_an_address_that_lasts(monkeypatch, tmp_path: Path):
    """Each line of the system is listed by name, with the adapter's own name where there is one."""
    device = tmp_path / "ttyUSB7"
    device.write_text("")
    by_id = tmp_path / "by-id"
    by_id.mkdir()
    (by_id / "usb-adapter-0001").symlink_to(device)

    class Port:
        """What pyserial tells of a line."""

        def __init__(self, name: str, description: str | None) -> None:
            self.device, self.description, self.hwid = name, description, "USB VID:PID=0000:0001"

    ports = [Port(str(device), "an adapter"), Port("/dev/ttyS0", None)]
    monkeypatch.setattr(serial_port.enumerated, "comports", lambda: ports)
    first, second = list_ports(by_id)
    assert (first.address, first.lasting, first.title) == ("serial:///dev/ttyS0", "", "")
    assert (second.address, second.title) == (f"serial://{device}", "an adapter")
    assert second.lasting == f"serial://{by_id}/usb-adapter-0001"


@posix
def test_the_system_is_asked_for_its_lines():
    """The real list holds addresses that can be read, however many there are."""
    assert all(found.address.startswith("serial://") for found in list_ports())
    assert sys.platform != "win32"
    assert os.name == "posix"
