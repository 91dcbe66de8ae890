"""The pipe to the station: lines of JSON in on standard input, out on standard output.

A thread reads and keeps only the newest view; traces, pictures and the end are kept in order. The window's
thread takes what there is when it is told that there is something.
"""

import json
from collections import deque
from threading import Lock, Thread
from typing import Any, BinaryIO, Protocol

from PySide6.QtCore import QObject, Signal

from station.core.inputs import Act
from station.plain import act_to_plain, canonical

Message = dict[str, Any]

_PIECE = 65_536


class Source(Protocol):
    """What bytes come from: gives those that have come, none at the end."""

    def read(self, size: int, /) -> bytes | None:
        """At most `size` bytes, as soon as there are any."""
        ...


class PipeIn(QObject):
    """What the station sends."""

    arrived = Signal()
    """Something waits to be taken; sent once until it is."""

    def __init__(self, source: Source) -> None:
        super().__init__()
        self._source = source
        self._lock = Lock()
        self._waiting: deque[Message] = deque()
        self._told = False
        self._thread = Thread(target=self.read_all, name="from the station", daemon=True)

    def start(self) -> None:
        """Begin to read."""
        self._thread.start()

    def read_all(self) -> None:
        """Read until the station ends."""
        # Read without Python's buffer: its lock, held by a daemon thread, aborts the interpreter at its end.
        rest = b""
        while piece := self._source.read(_PIECE):
            *lines, rest = (rest + piece).split(b"\n")
            for line in lines:
                self.put(decoded(line))
        self.put({"kind": "end"})

    def put(self, message: Message) -> None:
        """Keep a message; a view takes the place of one that nobody has taken yet."""
        with self._lock:
            waiting = self._waiting
            if message["kind"] == "view" and waiting and waiting[-1]["kind"] == "view":
                waiting.pop()
            waiting.append(message)
            tell, self._told = not self._told, True
        if tell:
            self.arrived.emit()

    def take(self) -> list[Message]:
        """Everything that waits, oldest first."""
        with self._lock:
            taken = list(self._waiting)
            self._waiting.clear()
            self._told = False
        return taken


def decoded(line: bytes) -> Message:
    """The message of a line. Raises an error that names it: the station never sends anything else."""
    message = json.loads(line)
    if not isinstance(message, dict) or not isinstance(message.get("kind"), str):
        raise TypeError(f"not a message of the station: {line[:200]!r}")
    return message


class PipeOut:
    """What the station is sent. A station that is gone ends the windows, it is no fault of theirs."""

    def __init__(self, sink: BinaryIO) -> None:
        self._sink = sink
        self.gone = False

    def send(self, kind: str, **fields: Any) -> None:  # noqa: ANN401 - plain JSON
        """Send one message."""
        if self.gone:
            return
        try:
            self._sink.write(canonical({"kind": kind, **fields}) + b"\n")
            self._sink.flush()
        except BrokenPipeError:
            self.gone = True

    def send_act(self, act: Act, seen_seq: int) -> None:
        """Send what the operator did, with the number of the state that he had seen."""
        plain = act_to_plain(act)
        if not isinstance(plain, dict):
            raise TypeError(f"an act is an object, not {plain!r}")
        self.send("act", seen_seq=seen_seq, **plain)
