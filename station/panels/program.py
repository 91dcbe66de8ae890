"""The windows' process: views from the pipe to the screen, what the operator does back."""

import sys
from pathlib import Path
from typing import BinaryIO

from PySide6.QtCore import QTimer
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication

from station.panels.measures import USUAL_MM_PER_PX, measures_for, plausible_mm_per_px, shortfalls
from station.panels.pictures import picture
from station.panels.pipe import Message, PipeIn, PipeOut, Source
from station.panels.trace import Traces
from station.panels.window import Window
from station.present.view import view_from_plain


class Program:
    """One window and its pipe."""

    def __init__(self, source: Source, sink: BinaryIO, mm_per_px: float | None) -> None:
        self.out = PipeOut(sink)
        self.traces = Traces()
        self.told_mm_per_px = mm_per_px
        self.window = Window(mm_per_px or screen_mm_per_px(), self.traces)
        self.window.acted.connect(self.out.send_act)
        self.window.replayed.connect(
            lambda command, value: self.out.send("replay", command=command, value=value)
        )
        self.window.ended.connect(self._closed)
        self.pipe = PipeIn(source)
        self.pipe.arrived.connect(self.take)
        self._ending = False

    def start(self, size: tuple[int, int] | None, *, full: bool) -> None:
        """Show the window and begin to read."""
        if size is not None:
            self.window.resize(*size)
        if full:
            self.window.showFullScreen()
        else:
            self.window.show()
        self._say_shortfalls()
        self.pipe.start()
        QTimer.singleShot(0, lambda: self.out.send("ready"))

    def _say_shortfalls(self) -> None:
        window = self.window
        found = shortfalls(measures_for(window.width(), window.height(), window.mm_per_px))
        if found:
            sys.stderr.write(f"overbottom: type is small on this screen: {'; '.join(found)}\n")

    def take(self) -> None:
        """Take every message that waits, and draw once for all of them."""
        newest: Message | None = None
        traced = False
        for message in self.pipe.take():
            match message["kind"]:
                case "view":
                    newest = message
                case "trace":
                    points = [(float(at_s), depth) for at_s, depth in message["points"]]
                    self.traces.take(message["diver"], points, full=message["full"])
                    traced = True
                case "picture":
                    if newest is not None:
                        self.window.show_view(view_from_plain(newest["view"]))
                        newest = None
                    self._picture(message)
                case "end":
                    self._end()
                    return
                case kind:
                    raise ValueError(f"the station sent a message of an unknown kind: {kind!r}")
        if newest is not None:
            self.window.show_view(view_from_plain(newest["view"]))
        elif traced:
            self.window.show_traces()

    def _picture(self, message: Message) -> None:
        path = message["path"]
        if self.window.view is None:
            self.out.send("pictured", path=path, fault="no view has come yet")
            return
        width, height = message.get("size") or (self.window.width(), self.window.height())
        try:
            picture(
                self.window.view,
                self.traces,
                Path(path),
                width=width,
                height=height,
                mm_per_px=message.get("mm_per_px") or self.window.mm_per_px,
                page=message.get("page") or self.window.page,
                ground=message.get("ground") or self.window.ground,
            )
        except OSError as error:
            self.out.send("pictured", path=path, fault=str(error))
        else:
            self.out.send("pictured", path=path, fault="")

    def _end(self) -> None:
        self._ending = True
        self.window.close_now()
        QApplication.quit()

    def _closed(self) -> None:
        if not self._ending:
            self.out.send("closed")
        QApplication.quit()


def screen_mm_per_px() -> float:
    """Millimetres a pixel of the first screen; the usual figure where it tells none that can be true."""
    screen = QGuiApplication.primaryScreen()
    told = None
    if screen is not None:
        told = plausible_mm_per_px(screen.physicalSize().width(), screen.size().width())
    return USUAL_MM_PER_PX if told is None else told
