"""The pipe: whole messages out of any pieces, only the newest view, everything else kept in order."""

import io
import json

import pytest

from station.core.inputs import HoseBlown
from station.panels.pipe import PipeIn, PipeOut, decoded


class Pieces:
    """Bytes that come in given pieces."""

    def __init__(self, *pieces: bytes) -> None:
        self._pieces = list(pieces)

    def read(self, size: int, /) -> bytes:
        """The next piece."""
        return self._pieces.pop(0) if self._pieces else b""


def line(**fields: object) -> bytes:
    """One message."""
    return json.dumps(fields).encode() + b"\n"


def taken(*pieces: bytes) -> list[dict[str, object]]:
    """What a reader of these pieces keeps."""
    pipe = PipeIn(Pieces(*pieces))
    pipe.read_all()
    return pipe.take()


def test_messages_come_whole_out_of_any_pieces():
    """Byte by byte, or many in one piece: the same messages, and an end when the pipe ends."""
    data = line(kind="trace", n=1) + line(kind="view", n=2)
    whole = [{"kind": "trace", "n": 1}, {"kind": "view", "n": 2}, {"kind": "end"}]
    assert taken(data) == whole
    assert taken(*(data[at : at + 1] for at in range(len(data)))) == whole


def test_only_the_newest_view_is_kept():
    """A view that nobody has taken gives way; a view before a picture stays, the picture is of it."""
    data = line(kind="view", n=1) + line(kind="view", n=2) + line(kind="picture") + line(kind="view", n=3)
    kinds = [(message["kind"], message.get("n")) for message in taken(data)]
    assert kinds == [("view", 2), ("picture", None), ("view", 3), ("end", None)]


def test_a_torn_last_line_is_no_message():
    """A station that dies in the middle of a line: the end, and nothing of the line."""
    assert taken(line(kind="view"), b'{"kind": "vi') == [{"kind": "view"}, {"kind": "end"}]


def test_the_window_is_told_once_until_it_takes(qtbot):
    """Many messages, one signal; after taking, the next message gives another."""
    pipe = PipeIn(Pieces())
    told: list[bool] = []
    pipe.arrived.connect(lambda: told.append(True))
    pipe.put({"kind": "view"})
    pipe.put({"kind": "trace"})
    assert told == [True]
    pipe.take()
    pipe.put({"kind": "trace"})
    assert told == [True, True]


@pytest.mark.parametrize("data", [b"[]", b'{"kind": 3}', b"{}"])
def test_what_is_no_message_is_loud(data: bytes):
    """The station sends nothing else, so it is a mistake of ours."""
    with pytest.raises(TypeError, match="not a message"):
        decoded(data)


def test_an_act_goes_out_with_the_state_that_was_seen():
    """One line of JSON with the act's stored name."""
    sink = io.BytesIO()
    PipeOut(sink).send_act(HoseBlown("Diver 1"), 41)
    assert json.loads(sink.getvalue()) == {
        "kind": "act",
        "act": "hose_blown",
        "diver": "Diver 1",
        "seen_seq": 41,
    }


def test_a_station_that_is_gone_is_no_fault_of_the_windows():
    """A broken pipe is remembered, not raised."""

    class Broken(io.BytesIO):
        def write(self, data, /):
            raise BrokenPipeError

    out = PipeOut(Broken())
    out.send("ready")
    out.send("closed")
    assert out.gone
