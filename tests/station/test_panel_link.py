"""The link to the windows: a blocked child blocks nobody, a killed one is started again and told all."""

import json
import os
import select
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from queue import SimpleQueue
from threading import Event, Thread
from typing import IO, Any

import pytest

from station.core.inputs import HoseBlown
from station.panel_link import WAITS_S, Listeners, PanelLink, Picture
from station.panels import samples
from station.present.looks import View

PATIENCE_S = 20.0


class PretendChild:
    """A child in this process: three real pipes, read and written by the test."""

    def __init__(self) -> None:
        self.stdin, self._in = _pipe()
        self._out, self.stdout = _pipe()
        self._errors, self.stderr = _pipe()
        self._ended = Event()
        self._rest = b""
        self.status = 0

    def wait(self, timeout: float | None = None) -> int:
        """Wait for the test to end the child."""
        self._ended.wait(PATIENCE_S if timeout is None else timeout)
        return self.status

    def kill(self) -> None:
        """End at once."""
        self.end(-9)

    def end(self, status: int) -> None:
        """The child is gone: its pipes close, its status is known."""
        if self._ended.is_set():
            return
        self.status = status
        for pipe in (self._in, self._out, self._errors):
            pipe.close()
        self._ended.set()

    def say(self, **fields: Any) -> None:
        """A message of the child."""
        self.write(json.dumps(fields).encode() + b"\n")

    def write(self, data: bytes) -> None:
        """Bytes of the child."""
        self._out.write(data)
        self._out.flush()

    def complain(self, text: str) -> None:
        """A line on the child's standard error."""
        self._errors.write(text.encode() + b"\n")
        self._errors.flush()

    def heard(self) -> dict[str, Any]:
        """The next message of the station; a message that does not come fails the test."""
        while b"\n" not in self._rest:
            ready, _, _ = select.select([self._in], [], [], PATIENCE_S)
            assert ready, "the station sends nothing"
            piece = os.read(self._in.fileno(), 65_536)
            assert piece, "the station closed the pipe"
            self._rest += piece
        line, _, self._rest = self._rest.partition(b"\n")
        return json.loads(line)

    def heard_until(self, kind: str) -> list[dict[str, Any]]:
        """The messages up to the first of a kind."""
        found = [self.heard()]
        while found[-1]["kind"] != kind:
            found.append(self.heard())
        return found


def _pipe() -> tuple[IO[bytes], IO[bytes]]:
    reading, writing = os.pipe()
    return os.fdopen(writing, "wb"), os.fdopen(reading, "rb")


@dataclass
class Bench:
    """A link, the children that it started, and what it told."""

    link: PanelLink
    children: SimpleQueue[PretendChild]
    told: SimpleQueue[tuple[Any, ...]]
    waited_s: list[float] = field(default_factory=list)

    def next_told(self) -> tuple[Any, ...]:
        """What the link tells next."""
        return self.told.get(timeout=PATIENCE_S)


@pytest.fixture
def bench():
    """A link on pretended children; the waits before a further start are counted and not waited."""
    children: SimpleQueue[PretendChild] = SimpleQueue()
    started: list[PretendChild] = []
    told: SimpleQueue[tuple[Any, ...]] = SimpleQueue()
    waited: list[float] = []

    def start() -> PretendChild:
        child = PretendChild()
        started.append(child)
        children.put(child)
        return child

    def wait(seconds: float) -> bool:
        waited.append(seconds)
        return False

    made = Bench(PanelLink(start, listeners(told), wait), children, told, waited)
    yield made
    closing = Thread(target=made.link.close, args=(PATIENCE_S,))
    closing.start()
    for child in started:
        child.end(0)
    closing.join()


def listeners(told: SimpleQueue[tuple[Any, ...]]) -> Listeners:
    """Listeners that note everything."""
    return Listeners(
        act=lambda act, seq: told.put(("act", act, seq)),
        lost=lambda why: told.put(("lost", why)),
        back=lambda: told.put(("back",)),
        closed=lambda: told.put(("closed",)),
        trouble=lambda text: told.put(("trouble", text)),
        replay=lambda command, value: told.put(("replay", command, value)),
        pictured=lambda path, fault: told.put(("pictured", path, fault)),
    )


def numbered(seq: int) -> Callable[[], View]:
    """Makes a view with a number."""
    view = samples.calm()
    return lambda: View(seq, *(getattr(view, name) for name in View.__match_args__[1:]))


def test_a_view_reaches_the_child(bench: Bench):
    """The newest view goes out as one line of JSON."""
    bench.link.open()
    child = bench.children.get(timeout=PATIENCE_S)
    bench.link.show(numbered(7))
    message = child.heard()
    assert message["kind"] == "view"
    assert message["view"]["seq"] == 7


def test_a_blocked_child_blocks_nobody_and_loses_no_trace(bench: Bench):
    """Nobody reads: thousands of views are left without waiting; then the newest comes, and all points."""
    bench.link.open()
    child = bench.children.get(timeout=PATIENCE_S)
    made: list[int] = []

    def making(seq: int) -> Callable[[], View]:
        def make() -> View:
            made.append(seq)
            return numbered(seq)()

        return make

    for seq in range(5000):
        bench.link.trace("Diver 1", [(float(seq), 1.0)])
        bench.link.show(making(seq))
    points, seq = 0, -1
    while seq != 4999 or points < 5000:
        message = child.heard()
        if message["kind"] == "trace":
            points += len(message["points"])
        else:
            seq = message["view"]["seq"]
    assert points == 5000
    assert len(made) < 500


def test_a_child_that_is_started_again_is_told_everything(bench: Bench):
    """The loss is reported with status and last words; the next child gets the whole trace, the last view."""
    bench.link.open()
    first = bench.children.get(timeout=PATIENCE_S)
    bench.link.trace("Diver 1", [(1.0, 10.0)])
    bench.link.show(numbered(1))
    first.heard_until("view")
    first.complain("ValueError: a mistake")
    assert bench.next_told() == ("trouble", "ValueError: a mistake")
    first.end(70)
    kind, why = bench.next_told()
    assert kind == "lost"
    assert "status 70" in why
    assert "a mistake" in why
    second = bench.children.get(timeout=PATIENCE_S)
    assert bench.link.lost
    messages = second.heard_until("view")
    assert messages[0] == {"kind": "trace", "full": True, "diver": "Diver 1", "points": [[1.0, 10.0]]}
    assert messages[-1]["view"]["seq"] == 1
    second.say(kind="ready")
    assert bench.next_told() == ("back",)
    assert not bench.link.lost


def test_a_child_that_keeps_dying_is_started_ever_more_slowly(bench: Bench):
    """The waits grow to a cap, and begin anew after a child that came up."""
    bench.link.open()
    for _ in range(6):
        bench.children.get(timeout=PATIENCE_S).end(1)
        assert bench.next_told()[0] == "lost"
    assert tuple(bench.waited_s[:4]) == WAITS_S
    assert bench.waited_s[4:6] == [WAITS_S[-1]] * 2
    child = bench.children.get(timeout=PATIENCE_S)
    child.say(kind="ready")
    assert bench.next_told() == ("back",)
    child.end(1)
    assert bench.next_told()[0] == "lost"
    bench.children.get(timeout=PATIENCE_S)
    assert bench.waited_s[6] == WAITS_S[0]


def test_windows_that_cannot_be_started_are_lost_not_fatal():
    """The system refuses to start a process: reported, and tried again."""
    told: SimpleQueue[tuple[Any, ...]] = SimpleQueue()

    def start() -> PretendChild:
        raise FileNotFoundError("no interpreter")

    link = PanelLink(start, listeners(told), lambda seconds: seconds == WAITS_S[1])
    link.open()
    assert told.get(timeout=PATIENCE_S) == ("lost", "the windows cannot be started: no interpreter")
    assert told.get(timeout=PATIENCE_S)[0] == "lost"
    link.close(PATIENCE_S)


def test_acts_and_commands_come_back(bench: Bench):
    """An act with the state that was seen, a command for the replay, the end that the user chose."""
    bench.link.open()
    child = bench.children.get(timeout=PATIENCE_S)
    child.say(kind="act", act="hose_blown", diver="Diver 1", seen_seq=12)
    child.say(kind="replay", command="speed", value=16)
    assert bench.next_told() == ("act", HoseBlown("Diver 1"), 12)
    assert bench.next_told() == ("replay", "speed", 16.0)
    child.say(kind="closed")
    assert bench.next_told() == ("closed",)
    child.end(0)


@pytest.mark.parametrize(
    "data",
    [
        b"\n",
        b"not JSON\n",
        b"[]\n",
        b'{"kind":"dance"}\n',
        b'{"kind":"act","act":"hose_blown","diver":"Diver 1"}\n',
        b'{"kind":"act","act":"unknown","seen_seq":1}\n',
        b'{"kind":"act","act":"hose_blown","diver":3,"seen_seq":1}\n',
    ],
)
def test_what_is_no_message_is_trouble_and_the_next_message_is_taken(bench: Bench, data: bytes):
    """Bad lines are told with their bytes; nothing after them is lost."""
    bench.link.open()
    child = bench.children.get(timeout=PATIENCE_S)
    child.write(data)
    child.say(kind="act", act="hose_blown", diver="Diver 1", seen_seq=1)
    kind, text = bench.next_told()
    assert kind == "trouble"
    assert "not a message of the windows" in text
    assert bench.next_told() == ("act", HoseBlown("Diver 1"), 1)


def test_a_picture_is_of_the_view_that_stood_when_it_was_asked_for(bench: Bench):
    """However many views come after it; no picture is dropped."""
    bench.link.show(numbered(1))
    assert bench.link.picture(Picture(Path("a.png"), (1280, 800)))
    bench.link.show(numbered(2))
    assert bench.link.picture(Picture(Path("b.png")))
    bench.link.show(numbered(3))
    bench.link.open()
    child = bench.children.get(timeout=PATIENCE_S)
    messages = [child.heard() for _ in range(5)]
    assert [m["view"]["seq"] if m["kind"] == "view" else m["path"] for m in messages] == [
        1, "a.png", 2, "b.png", 3,
    ]  # fmt: skip
    assert not bench.link.wait_drawn(0.0)
    child.say(kind="pictured", path="a.png", fault="")
    child.say(kind="pictured", path="b.png", fault="disk full")
    assert bench.link.wait_drawn(PATIENCE_S)
    assert bench.next_told() == ("pictured", "a.png", "")
    assert bench.next_told() == ("pictured", "b.png", "disk full")


def test_a_picture_that_a_dying_child_did_not_draw_is_drawn_by_the_next(bench: Bench):
    """Asked for again, of the same view."""
    bench.link.show(numbered(1))
    bench.link.picture(Picture(Path("a.png")))
    bench.link.open()
    bench.children.get(timeout=PATIENCE_S).end(1)
    bench.link.show(numbered(2))
    second = bench.children.get(timeout=PATIENCE_S)
    messages = second.heard_until("picture")
    assert messages[-2]["view"]["seq"] == 1
    assert messages[-1]["path"] == "a.png"


def test_no_picture_without_a_view(bench: Bench):
    """There is nothing to draw yet, and the caller is told so."""
    assert not bench.link.picture(Picture(Path("a.png")))


def test_a_jump_sends_the_trace_anew(bench: Bench):
    """After a replay went elsewhere the child gets a full trace, also an empty one."""
    bench.link.open()
    child = bench.children.get(timeout=PATIENCE_S)
    bench.link.trace("Diver 1", [(1.0, 10.0), (2.0, None)])
    assert child.heard()["points"] == [[1.0, 10.0], [2.0, None]]
    bench.link.trace_anew("Diver 1", [])
    assert child.heard() == {"kind": "trace", "full": True, "diver": "Diver 1", "points": []}
    bench.link.trace("Diver 1", [(0.5, 3.0)])
    assert child.heard() == {"kind": "trace", "full": False, "diver": "Diver 1", "points": [[0.5, 3.0]]}


def test_closing_ends_the_child_in_good_order(bench: Bench):
    """What waits is sent, then the end; no loss is reported."""
    bench.link.open()
    child = bench.children.get(timeout=PATIENCE_S)
    bench.link.show(numbered(4))
    closing = Thread(target=bench.link.close, args=(PATIENCE_S,))
    closing.start()
    messages = child.heard_until("end")
    assert any(m["kind"] == "view" and m["view"]["seq"] == 4 for m in messages)
    child.end(0)
    closing.join(PATIENCE_S)
    assert bench.told.empty()


def test_a_child_that_does_not_end_is_killed(bench: Bench):
    """Closing has a limit."""
    bench.link.open()
    child = bench.children.get(timeout=PATIENCE_S)
    bench.link.close(0.05)
    assert child.status == -9


@pytest.mark.posix
def test_real_windows_draw_survive_a_kill_and_end(tmp_path: Path):
    """The real process: ready, pictured at a stated size, killed and back, drawn again, ended."""
    told: SimpleQueue[tuple[Any, ...]] = SimpleQueue()
    started: SimpleQueue[subprocess.Popen[bytes]] = SimpleQueue()

    def start() -> subprocess.Popen[bytes]:
        child = subprocess.Popen(
            [sys.executable, "-P", "-m", "station.panels", "--mm-per-px", "0.204"],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            env={**os.environ, "QT_QPA_PLATFORM": "offscreen"},
        )
        started.put(child)
        return child

    link = PanelLink(start, listeners(told), lambda seconds: False)
    link.show(numbered(3))
    link.open()
    assert link.wait_ready(PATIENCE_S)
    link.picture(Picture(tmp_path / "watch.png", (1280, 800), "Watch", "night"))
    assert told.get(timeout=PATIENCE_S) == ("pictured", str(tmp_path / "watch.png"), "")
    assert _size_of(tmp_path / "watch.png") == (1280, 800)
    started.get(timeout=PATIENCE_S).kill()
    kind, why = told.get(timeout=PATIENCE_S)
    assert (kind, "status -9" in why) == ("lost", True)
    assert told.get(timeout=PATIENCE_S) == ("back",)
    link.picture(Picture(tmp_path / "nowhere" / "keeper.png", (1920, 1080), "Timekeeper"))
    assert told.get(timeout=PATIENCE_S)[2] == ""
    assert _size_of(tmp_path / "nowhere" / "keeper.png") == (1920, 1080)
    (tmp_path / "file").write_bytes(b"")
    link.picture(Picture(tmp_path / "file" / "no.png"))
    assert "no.png" in told.get(timeout=PATIENCE_S)[1]
    link.close(PATIENCE_S)
    assert started.get(timeout=PATIENCE_S).wait(PATIENCE_S) == 0
    assert told.empty()


@pytest.mark.posix
def test_a_mistake_in_the_windows_ends_them_loudly():
    """A view that is none: the process ends with a status and its traceback, instead of going on blind."""
    with subprocess.Popen(
        [sys.executable, "-P", "-m", "station.panels"],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        env={**os.environ, "QT_QPA_PLATFORM": "offscreen"},
    ) as child:
        child.stdin.write(b'{"kind":"view","view":{"seq":1}}\n')
        child.stdin.flush()
        assert child.wait(PATIENCE_S) == 70
        assert b"ValueError" in child.stderr.read()


def _size_of(path: Path) -> tuple[int, int]:
    """Width and height that a PNG file states."""
    head = path.read_bytes()[:24]
    return int.from_bytes(head[16:20]), int.from_bytes(head[20:24])
