"""Lines behind a server: the same promises as a serial line."""

import socket
from collections.abc import Iterator
from queue import SimpleQueue
from threading import Thread

import pytest

from drivers import socket_port
from drivers.addresses import SocketAddress
from drivers.opening import open_port
from shared.arrivals import PortFaultKind
from shared.ports import PortTrouble


@pytest.fixture
def server() -> Iterator[socket.socket]:
    """A server on a free port of this computer."""
    with socket.create_server(("127.0.0.1", 0)) as listening:
        listening.settimeout(5.0)
        yield listening


def connected(server: socket.socket):
    """Our port and the server's end of it."""
    port = open_port(f"socket://127.0.0.1:{server.getsockname()[1]}")
    return port, server.accept()[0]


def test_all_that_came_is_read_at_once(server):
    """A sentence comes in one read; silence gives no bytes; a request goes out."""
    port, far = connected(server)
    with far:
        assert port.read(0.0) == b""
        far.sendall(b"$SDDPT,18.4,0.0,100.0*69\r\n")
        assert port.read(5.0) == b"$SDDPT,18.4,0.0,100.0*69\r\n"
        port.write(b"T1\r")
        assert far.recv(3) == b"T1\r"
    port.close()


def test_the_end_of_the_server_is_the_end_of_the_line(server):
    """A closed and a broken connection are gone."""
    port, far = connected(server)
    far.close()
    with pytest.raises(PortTrouble, match="gone: the other side closed"):
        port.read(5.0)
    port.close()
    port, far = connected(server)
    far.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, b"\x01\x00\x00\x00\x00\x00\x00\x00")
    far.close()
    with pytest.raises(PortTrouble) as caught:
        port.read(5.0)
    assert caught.value.kind is PortFaultKind.GONE
    with pytest.raises(PortTrouble):
        port.write(b"x")
    port.close()


def test_a_blocking_read_is_cancelled(server):
    """Another thread ends a long read at once; a cancel after the close does no harm."""
    port, far = connected(server)
    results: SimpleQueue[bytes] = SimpleQueue()
    reading = Thread(target=lambda: results.put(port.read(60.0)))
    reading.start()
    port.cancel()
    assert results.get(timeout=5.0) == b""
    reading.join(5.0)
    far.sendall(b"next")
    assert port.read(5.0) == b"next"
    port.close()
    port.cancel()
    port.close()
    far.close()


def test_a_server_that_is_not_there_is_missing(server):
    """A refused connection is told in the system's words."""
    number = server.getsockname()[1]
    server.close()
    with pytest.raises(PortTrouble) as caught:
        open_port(f"socket://127.0.0.1:{number}")
    assert caught.value.kind is PortFaultKind.MISSING
    assert "refused" in caught.value.detail


@pytest.mark.parametrize(
    ("error", "kind"),
    [
        (PermissionError(13, "Permission denied"), PortFaultKind.DENIED),
        (TimeoutError("timed out"), PortFaultKind.MISSING),
        (socket.gaierror(-2, "Name or service not known"), PortFaultKind.MISSING),
    ],
)
def test_every_refusal_of_the_network_has_its_kind(monkeypatch, error, kind):
    """What a firewall, a dead host and a wrong name say."""

    def refuse(*_args, **_settings):
        raise error

    monkeypatch.setattr(socket_port.socket, "create_connection", refuse)
    with pytest.raises(PortTrouble) as caught:
        socket_port.open_socket("gauge", SocketAddress("host", 1))
    assert (caught.value.port, caught.value.kind) == ("gauge", kind)
