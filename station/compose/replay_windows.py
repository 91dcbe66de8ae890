"""A replay in the windows: on its own paper, with the transport bar."""

from collections.abc import Callable
from pathlib import Path
from queue import Empty, SimpleQueue
from typing import Final

from drivers.clock import SystemClock
from drivers.decode import hear
from shared.clock import EPOCH, Instant, seconds_between
from station.compose.screen import has_screen
from station.compose.windows import (
    CLOSE_PATIENCE_S,
    DRAWN_PATIENCE_S,
    READY_PATIENCE_S,
    say,
    size_pictures,
    windows_process,
)
from station.core.settings import Units
from station.log.outline import Outline, outline_of
from station.log.reading import LogReader
from station.log_books import books_for
from station.panel_link import Listeners, PanelLink, Point
from station.player import Player
from station.present.figures import shown_depth
from station.present.labels import OPINION
from station.present.looks import Mode, Transport
from station.present.sentences import clock_text
from station.present.status import LogLine
from station.present.view import view

FRAME_S: Final = 0.05
"""Real time between two looks at the replay: own choice."""

TICKS: Final = 6
"""Times of day under the scrub bar: own choice."""

Command = tuple[str, float]


class _Traces:
    """The depth traces of a log, told to the windows as far as it is played."""

    def __init__(self, outline: Outline, units: Units, link: PanelLink) -> None:
        self._points = {
            diver: [_point(at, depth, units) for at, depth in points]
            for diver, points in outline.depths_fsw.items()
        }
        self._link = link
        self._told = dict.fromkeys(self._points, 0)

    def tell(self, at: Instant, *, anew: bool) -> None:
        """What is past at `at`; all of it after a jump."""
        now_s = seconds_between(EPOCH, at)
        for diver, points in self._points.items():
            start = 0 if anew else self._told[diver]
            end = start
            while end < len(points) and points[end][0] <= now_s:
                end += 1
            if anew:
                self._link.trace_anew(diver, points[:end])
            elif end > start:
                self._link.trace(diver, points[start:end])
            self._told[diver] = end


def _point(at: Instant, depth_fsw: float | None, units: Units) -> Point:
    depth = None if depth_fsw is None else shown_depth(max(0.0, depth_fsw), units)
    return round(seconds_between(EPOCH, at), 1), depth


def replay_in_windows(reader: LogReader, start: Instant, speed: float, pictures: Path | None) -> None:
    """Replay until the windows are closed; with `pictures` only draw the start and leave."""
    asked: SimpleQueue[Command | None] = SimpleQueue()
    link = PanelLink(
        windows_process(on_screen=has_screen()),
        Listeners(
            act=lambda *_: None,
            lost=lambda why: say(f"the windows are lost: {why}"),
            back=lambda: say("the windows are back"),
            closed=lambda: asked.put(None),
            trouble=lambda text: say(f"windows: {text}"),
            replay=lambda name, value: asked.put((name, value)),
        ),
    )
    outline = outline_of(reader)
    player = Player(reader, hear, outline, start)
    player.command("speed", speed)
    traces = _Traces(outline, reader.header.settings.units, link)
    traces.tell(start, anew=True)
    _show(link, player, outline, reader)
    link.open()
    try:
        link.wait_ready(READY_PATIENCE_S)
        if pictures is not None:
            size_pictures(link, pictures, "replay", OPINION)
            link.wait_drawn(DRAWN_PATIENCE_S)
        if has_screen():
            _play(player, asked, traces, lambda: _show(link, player, outline, reader))
    finally:
        link.close(CLOSE_PATIENCE_S)


def _play(
    player: Player, asked: SimpleQueue[Command | None], traces: _Traces, show: Callable[[], None]
) -> None:
    clock = SystemClock()
    last, sought = clock.now(), player.sought
    while True:
        try:
            command = asked.get(timeout=FRAME_S)
        except Empty:
            now = clock.now()
            player.go_on(seconds_between(last, now))
            last = now
        else:
            if command is None:
                return
            player.command(*command)
        traces.tell(player.at, anew=player.sought != sought)
        sought = player.sought
        show()


def _show(link: PanelLink, player: Player, outline: Outline, reader: LogReader) -> None:
    state, transport = player.state, _transport(player, outline, reader)
    log = LogLine(str(reader.path), outline.records, None)
    books = books_for(reader.path, reader.header)
    link.show(lambda: view(state, Mode.REPLAY, log, books, transport=transport))


def _transport(player: Player, outline: Outline, reader: LogReader) -> Transport:
    state = player.state
    moments = [Instant(outline.ends * place // TICKS) for place in range(1, TICKS)]
    whole = "whole" if reader.fault is None else "read in part"
    return Transport(
        player.playing,
        player.speed,
        player.share(player.at),
        tuple((player.share(at), clock_text(state, at)[:5]) for at in moments),
        tuple((player.share(alarm.at), alarm.priority) for alarm in outline.alarms),
        "recorded",
        reader.path.stem,
        f"{whole}, {outline.records} records",
    )
