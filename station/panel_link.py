"""The windows' process as the station sees it: fed with the newest view, started again when it dies.

The pump only leaves things here: `show`, `trace` and `picture` never wait for the child. One thread keeps a
child alive and reads what it says, one makes views and writes. A child that is blocked costs views, never
traces or pictures: traces are kept whole, because a child that is started again needs all of them, and a
picture is asked for again until it is drawn.
"""

from collections import deque
from collections.abc import Callable, Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path
from threading import Condition, Thread
from typing import IO, Final, Protocol

from station.core.inputs import Act
from station.plain import Plain, act_from_plain, canonical, parse
from station.present.looks import View
from station.present.view import view_to_plain

Point = tuple[float, float | None]
"""Seconds of station time and depth in the shown unit; None where nothing was heard."""

MakeView = Callable[[], View]
"""Makes a view of a state that does not change any more; called on the link's thread, not on the pump's."""

VIEWS_APART_S: Final = 0.1
"""Seconds between two views at least: what the eye can use, and no more of the processor. Own choice."""

WAITS_S: Final = (0.5, 1.0, 2.0, 5.0)
"""Before a child that died is started again; the last one for good. Own choice."""

_LINE_LIMIT: Final = 65_536
_MOST_ERROR_LINES: Final = 40
_POINTS_A_MESSAGE: Final = 2000


class Child(Protocol):
    """A running child: `subprocess.Popen` with three pipes, or something that stands in for it."""

    stdin: IO[bytes] | None
    stdout: IO[bytes] | None
    stderr: IO[bytes] | None

    def wait(self, timeout: float | None = None) -> int:
        """The exit status, once it has ended."""
        ...

    def kill(self) -> None:
        """End it at once."""
        ...


@dataclass(frozen=True, slots=True)
class Listeners:
    """Who is told what the windows say; each is called on the link's own threads and must not wait long.

    `act` gets an act and the number of the state that its window had seen; `replay` a command and its value;
    `lost` why, when a child ended by itself; `back` when another one is ready; `closed` when the user closed
    the windows (no child is started again); `pictured` a path and what went wrong, empty when nothing did;
    `trouble` what the child said that is no message, or wrote on its standard error.
    """

    act: Callable[[Act, int], None]
    lost: Callable[[str], None]
    back: Callable[[], None]
    closed: Callable[[], None]
    trouble: Callable[[str], None]
    replay: Callable[[str, float], None] = lambda command, value: None
    pictured: Callable[[str, str], None] = lambda path, fault: None


@dataclass(frozen=True, slots=True)
class Picture:
    """A picture to be drawn of the view that was newest when it was asked for; empty means as on screen."""

    path: Path
    size: tuple[int, int] | None = None
    page: str = ""
    ground: str = ""
    mm_per_px: float | None = None

    def plain(self) -> dict[str, Plain]:
        """The message without its kind."""
        size: list[Plain] | None = None if self.size is None else list(self.size)
        return {
            "path": str(self.path),
            "size": size,
            "page": self.page,
            "ground": self.ground,
            "mm_per_px": self.mm_per_px,
        }


@dataclass
class _Mail:
    """What waits for the child. `told` counts the points that this child has of each diver's trace."""

    view: MakeView | None = None
    last: MakeView | None = None
    pictures: deque[tuple[MakeView, Picture]] = field(default_factory=deque)
    undrawn: list[tuple[MakeView, Picture]] = field(default_factory=list)
    traces: dict[str, list[Point]] = field(default_factory=dict)
    told: dict[str, int] = field(default_factory=dict)
    ending: bool = False

    def begin_again(self) -> None:
        """Another child, which knows nothing yet."""
        self.told = {}
        self.view = self.last
        self.pictures = deque(self.undrawn)

    def urgent(self) -> bool:
        """Whether something waits that is not kept back to spare the processor."""
        return bool(self.pictures) or self.ending

    def waits(self) -> bool:
        """Whether anything waits."""
        untold = any(len(points) > self.told.get(diver, -1) for diver, points in self.traces.items())
        return self.view is not None or self.urgent() or untold

    def collect(self) -> "_Sack":
        """Take out what is sent in one go."""
        traces = tuple(message for diver in self.traces for message in self._news(diver))
        sack = _Sack(traces, tuple(self.pictures), self.view, self.ending)
        self.pictures.clear()
        self.view = None
        return sack

    def _news(self, diver: str) -> list[dict[str, Plain]]:
        points, told = self.traces[diver], self.told.get(diver, -1)
        if told >= len(points):
            return []
        self.told[diver] = len(points)
        fresh = points[max(0, told) :]
        return [
            {
                "kind": "trace",
                "full": told < 0 and start == 0,
                "diver": diver,
                "points": [[at_s, depth] for at_s, depth in fresh[start : start + _POINTS_A_MESSAGE]],
            }
            for start in range(0, max(1, len(fresh)), _POINTS_A_MESSAGE)
        ]


@dataclass(frozen=True, slots=True)
class _Sack:
    """What goes to the child in one go."""

    traces: tuple[dict[str, Plain], ...]
    pictures: tuple[tuple[MakeView, Picture], ...]
    view: MakeView | None
    ending: bool

    def messages(self) -> Iterator[dict[str, Plain]]:
        """Traces, then each picture after its view, then the newest view, then the end."""
        yield from self.traces
        for make, picture in self.pictures:
            yield {"kind": "view", "view": view_to_plain(make())}
            yield {"kind": "picture", **picture.plain()}
        if self.view is not None:
            yield {"kind": "view", "view": view_to_plain(self.view())}
        if self.ending:
            yield {"kind": "end"}


class PanelLink:
    """The one link between the station and its windows.

    `start` starts a child with three pipes; `wait(seconds)` waits before a child is
    started again and returns True when the link is to end; without one the link waits by itself.
    """

    def __init__(
        self, start: Callable[[], Child], listeners: Listeners, wait: Callable[[float], bool] | None = None
    ) -> None:
        self._start = start
        self._tell = listeners
        self._wait = wait or self._wait_closed
        self._mail = _Mail()
        self._changed = Condition()
        self._child: Child | None = None
        self._closed = False
        self._ready = False
        self._lost = False
        self._attempts = 0
        self._keeper = Thread(target=self._keep, name="windows", daemon=True)

    @property
    def lost(self) -> bool:
        """Whether there are no windows now that should be there."""
        with self._changed:
            return self._lost

    def open(self) -> None:
        """Start the first child."""
        self._keeper.start()

    def wait_ready(self, timeout_s: float) -> bool:
        """Wait until the windows are up; False when they are not in time."""
        with self._changed:
            return self._changed.wait_for(lambda: self._ready or self._closed, timeout_s) and self._ready

    def show(self, make: MakeView) -> None:
        """Leave the newest view; one that nobody has taken yet is dropped, and never made. Never waits.

        Due at least twice a second, also when nothing changes: after one second without a view the windows
        show dashes.
        """
        with self._changed:
            self._mail.view = self._mail.last = make
            self._changed.notify_all()

    def trace(self, diver: str, points: Sequence[Point]) -> None:
        """Add to a diver's trace. Never waits."""
        with self._changed:
            self._mail.traces.setdefault(diver, []).extend(points)
            self._changed.notify_all()

    def trace_anew(self, diver: str, points: Sequence[Point]) -> None:
        """Begin a diver's trace again, after a replay went elsewhere. Never waits."""
        with self._changed:
            self._mail.traces[diver] = list(points)
            self._mail.told.pop(diver, None)
            self._changed.notify_all()

    def picture(self, picture: Picture) -> bool:
        """Ask for a picture of the newest view; False where there is none yet. Never waits, never dropped."""
        with self._changed:
            if self._mail.last is None:
                return False
            asked = (self._mail.last, picture)
            self._mail.pictures.append(asked)
            self._mail.undrawn.append(asked)
            self._changed.notify_all()
            return True

    def wait_drawn(self, timeout_s: float) -> bool:
        """Wait until every picture asked for is drawn, or said to have failed; False when not in time."""
        with self._changed:
            return self._changed.wait_for(lambda: not self._mail.undrawn, timeout_s)

    def close(self, timeout_s: float) -> None:
        """Send what still waits, end the windows, and wait for them; a child that does not end is killed."""
        with self._changed:
            self._closed = self._mail.ending = True
            self._changed.notify_all()
        if self._keeper.ident is None:
            return
        self._keeper.join(timeout_s)
        child = self._child
        if self._keeper.is_alive() and child is not None:
            child.kill()
            self._keeper.join(timeout_s)

    def _wait_closed(self, seconds: float) -> bool:
        with self._changed:
            return self._changed.wait_for(lambda: self._closed, seconds)

    def _over(self) -> bool:
        with self._changed:
            return self._closed

    def _keep(self) -> None:
        while not self._over():
            why = self._live()
            if self._over():
                return
            with self._changed:
                self._lost, self._ready = True, False
            self._tell.lost(why)
            if self._wait(WAITS_S[min(self._attempts, len(WAITS_S) - 1)]):
                return
            self._attempts += 1

    def _live(self) -> str:
        """One child from start to end; why it ended."""
        try:
            child = self._start()
        except OSError as error:
            return f"the windows cannot be started: {error}"
        with self._changed:
            self._child = child
            self._mail.begin_again()
        errors: deque[str] = deque(maxlen=_MOST_ERROR_LINES)
        threads = (
            Thread(target=self._write, args=(child,), name="to the windows", daemon=True),
            Thread(target=self._read_errors, args=(child, errors), name="windows' errors", daemon=True),
        )
        for thread in threads:
            thread.start()
        self._read(child)
        status = child.wait()
        with self._changed:
            self._child = None
            self._changed.notify_all()
        for thread in threads:
            thread.join()
        _close_pipes(child)
        last = f": {errors[-1]}" if errors else ""
        return f"the windows' process ended with status {status}{last}"

    def _read_errors(self, child: Child, errors: deque[str]) -> None:
        for line in _open(child.stderr):
            text = line.decode("utf-8", "replace").rstrip()
            errors.append(text)
            self._tell.trouble(text)

    def _read(self, child: Child) -> None:
        out = _open(child.stdout)
        while line := out.readline(_LINE_LIMIT):
            try:
                self._take(parse(line))
            except (ValueError, KeyError, TypeError) as error:
                self._tell.trouble(f"not a message of the windows: {line[:200]!r} ({error})")

    def _take(self, message: Plain) -> None:
        if not isinstance(message, dict):
            raise TypeError("not an object")
        match message.pop("kind", None):
            case "act":
                seen_seq = message.pop("seen_seq")
                if not isinstance(seen_seq, int):
                    raise TypeError("seen_seq is no whole number")
                self._tell.act(act_from_plain(message), seen_seq)
            case "replay":
                self._tell.replay(str(message["command"]), float(str(message["value"])))
            case "pictured":
                self._take_pictured(str(message["path"]), str(message["fault"]))
            case "ready":
                self._take_ready()
            case "closed":
                with self._changed:
                    self._closed = True
                    self._changed.notify_all()
                self._tell.closed()
            case kind:
                raise ValueError(f"unknown kind {kind!r}")

    def _take_pictured(self, path: str, fault: str) -> None:
        self._tell.pictured(path, fault)
        with self._changed:
            undrawn = self._mail.undrawn
            drawn = next((asked for asked in undrawn if str(asked[1].path) == path), None)
            if drawn is not None:
                undrawn.remove(drawn)
            self._changed.notify_all()

    def _take_ready(self) -> None:
        with self._changed:
            back, self._lost, self._ready = self._lost, False, True
            self._attempts = 0
            self._changed.notify_all()
        if back:
            self._tell.back()

    def _write(self, child: Child) -> None:
        pipe = _open(child.stdin)
        while True:
            with self._changed:
                self._changed.wait_for(lambda: self._child is not child or self._mail.waits())
                if self._child is not child:
                    return
                sack = self._mail.collect()
            try:
                pipe.writelines(canonical(message) + b"\n" for message in sack.messages())
                pipe.flush()
            except OSError:
                # The child is gone; the thread that reads from it finds out why.
                return
            if sack.ending:
                return
            with self._changed:
                self._changed.wait_for(lambda: self._child is not child or self._mail.urgent(), VIEWS_APART_S)


def _open(pipe: IO[bytes] | None) -> IO[bytes]:
    if pipe is None:
        raise ValueError("the windows' process was started without its pipes")
    return pipe


def _close_pipes(child: Child) -> None:
    for pipe in (child.stdin, child.stdout, child.stderr):
        # What was still on its way to a child that is gone is sent to the next one.
        with suppress(BrokenPipeError):
            _open(pipe).close()
