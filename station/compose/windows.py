"""The windows of one run: a process of their own fed by the pump, or none."""

import os
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Final

from station.compose.screen import OFFSCREEN
from station.core.books import Books
from station.core.facts import Fact
from station.core.inputs import Act, Arrival, Tick
from station.core.state import State
from station.panel_link import Child, Listeners, PanelLink, Picture
from station.present.labels import ASCENT, GAUGES, TIMEKEEPER, WATCH
from station.present.looks import Mode
from station.present.notice import Notice
from station.present.status import LogLine
from station.present.trace import TraceFollower
from station.present.view import view

SIZES: Final = {"1280x800": ((1280, 800), 0.204), "1920x1080": ((1920, 1080), 0.277)}
"""The two sizes of a picture in pixels, with the millimetres of a pixel on such a screen."""

READY_PATIENCE_S: Final = 30.0
DRAWN_PATIENCE_S: Final = 60.0
CLOSE_PATIENCE_S: Final = 5.0
"""How long the windows may take to start, to draw what was asked for, and to end: own choice."""

Press = Callable[[str, int, Act], None]


class NoWindows:
    """A run without windows."""

    def __call__(self, state: State, arrival: Arrival, facts: tuple[Fact, ...]) -> None:
        """Nobody looks."""

    def lost(self) -> bool:
        """Windows that nobody wanted are not missed."""
        return False

    def picture(self, name: str) -> None:
        """Nothing is drawn."""

    @contextmanager
    def opened(self, press: Press, closed: Callable[[], None]) -> Iterator[None]:
        """Nothing is started."""
        yield


class Windows:
    """The windows' process as the pump's listener and as the conductor's photographer."""

    def __init__(
        self,
        mode: Mode,
        log: Callable[[], LogLine],
        books: Books,
        *,
        on_screen: bool,
        pictures: Path | None,
    ) -> None:
        self._mode = mode
        self._log = log
        self._books = books
        self._on_screen = on_screen
        self._pictures = pictures
        self._trace = TraceFollower()
        self._notice = Notice()
        self._press: Press = lambda *_: None
        self._closed: Callable[[], None] = lambda: None
        self._link = PanelLink(
            windows_process(on_screen=on_screen),
            Listeners(
                act=lambda act, seen_seq: self._press("window", seen_seq, act),
                lost=lambda why: say(f"the windows are lost: {why}"),
                back=lambda: say("the windows are back"),
                closed=self._leave,
                trouble=lambda text: say(f"windows: {text}"),
                pictured=_told_picture,
            ),
        )

    def __call__(self, state: State, arrival: Arrival, facts: tuple[Fact, ...]) -> None:
        """Leave the newest view and what is new of the traces."""
        for fact in facts:
            self._notice.hear(state, fact)
        if not isinstance(arrival, Tick):
            return
        for diver, points in self._trace.news(state).items():
            self._link.trace(diver, points)
        mode, log, notice = self._mode, self._log(), self._notice.at(state)
        books = self._books
        self._link.show(lambda: view(state, mode, log, books, notice=notice))

    def _leave(self) -> None:
        self._closed()

    def lost(self) -> bool:
        """Whether there are no windows that should be there."""
        return self._link.lost

    def picture(self, name: str) -> None:
        """Save every page at both sizes, as they stand now."""
        if self._pictures is not None:
            size_pictures(self._link, self._pictures, name)

    @contextmanager
    def opened(self, press: Press, closed: Callable[[], None]) -> Iterator[None]:
        """The process, for as long as the run lasts; pictures asked for are drawn before it ends."""
        self._press, self._closed = press, closed
        self._link.open()
        try:
            if not self._link.wait_ready(READY_PATIENCE_S):
                say("the windows have not come up yet; the watch goes on")
            yield
            if not self._link.wait_drawn(DRAWN_PATIENCE_S):
                say("not every picture was drawn")
        finally:
            self._link.close(CLOSE_PATIENCE_S)


def size_pictures(link: PanelLink, folder: Path, name: str, *more: str) -> None:
    """Ask for every page of a watch, and `more`, at both sizes, as they stand now."""
    folder.mkdir(parents=True, exist_ok=True)
    for words, (size, mm_per_px) in SIZES.items():
        for page in (WATCH, TIMEKEEPER, ASCENT, GAUGES, *more):
            path = folder / f"{name}-{page.lower().replace(' ', '-')}-{words}.png"
            link.picture(Picture(path, size, page=page, mm_per_px=mm_per_px))


def windows_for(
    mode: Mode, log: Callable[[], LogLine], books: Books, *, on_screen: bool, pictures: Path | None
) -> Windows | NoWindows:
    """The windows that a run needs: shown, or only drawn for pictures, or none."""
    if on_screen or pictures is not None:
        return Windows(mode, log, books, on_screen=on_screen, pictures=pictures)
    return NoWindows()


def windows_process(*, on_screen: bool) -> Callable[[], Child]:
    """What starts the windows' process. With -P: a foreign folder `shared` must not be taken for ours."""
    environment = dict(os.environ) if on_screen else {**os.environ, "QT_QPA_PLATFORM": OFFSCREEN}

    def start() -> Child:
        return subprocess.Popen(
            [sys.executable, "-P", "-m", "station.panels"],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            env=environment,
        )

    return start


def _told_picture(path: str, fault: str) -> None:
    if fault:
        say(f"picture {path} was not drawn: {fault}")


def say(text: str) -> None:
    """A word to whoever runs the program."""
    sys.stderr.write(f"overbottom: {text}\n")
