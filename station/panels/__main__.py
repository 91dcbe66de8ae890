"""`python -P -m station.panels`: the windows, fed by the station; or pictures of invented views."""

import argparse
import os
import signal
import sys
import threading
import traceback
from io import FileIO
from pathlib import Path
from types import TracebackType

from PySide6.QtWidgets import QApplication

from station.panels import samples
from station.panels.pictures import picture
from station.panels.program import Program
from station.panels.shots import SHOTS
from station.panels.type import load_fonts

FAULT_STATUS = 70
"""Exit status after a mistake of ours."""

_SIZES = {"1280x800": (1280, 800, 0.204), "1920x1080": (1920, 1080, 0.277)}


def main() -> int:
    """Run the windows until the station or the user ends them."""
    options = _options()
    if options.pictures is not None:
        os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    # Interrupting the station is the station's affair; it then tells the windows to end.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    sys.excepthook = _end_loudly
    threading.excepthook = lambda fault: _end_loudly(fault.exc_type, fault.exc_value, fault.exc_traceback)
    application = QApplication(["overbottom"])
    application.setApplicationName("overbottom")
    load_fonts()
    if options.pictures is not None:
        _draw_samples(options.pictures)
        return 0
    program = Program(FileIO(sys.stdin.fileno(), closefd=False), sys.stdout.buffer, options.mm_per_px)
    program.start(options.size, full=options.full)
    return application.exec()


def _end_loudly(kind: type[BaseException], fault: BaseException | None, where: TracebackType | None) -> None:
    """A mistake of ours ends the windows: the station says so and starts others. Qt would go on after it."""
    traceback.print_exception(kind, fault, where)
    sys.stderr.flush()
    os._exit(FAULT_STATUS)


def _options() -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="python -m station.panels", description=__doc__)
    parser.add_argument(
        "--mm-per-px", type=float, help="millimetres a pixel, where the screen tells it wrong"
    )
    parser.add_argument(
        "--size", type=_size, default=(1280, 800), help="first size of the window, as 1280x800"
    )
    parser.add_argument("--full", action="store_true", help="fill the screen")
    parser.add_argument("--pictures", type=Path, metavar="DIR", help="draw invented views into DIR and end")
    return parser.parse_args()


def _size(text: str) -> tuple[int, int]:
    width, _, height = text.partition("x")
    try:
        return int(width), int(height)
    except ValueError as error:
        raise argparse.ArgumentTypeError(f"{text!r} is no size as 1280x800") from error


def _draw_samples(folder: Path) -> None:
    traces = samples.traces()
    for shot in SHOTS:
        for size, (width, height, mm_per_px) in _SIZES.items():
            path = folder / f"{shot.name}-{size}.png"
            picture(
                shot.view,
                traces,
                path,
                width=width,
                height=height,
                mm_per_px=mm_per_px,
                page=shot.page,
                ask=shot.ask,
            )
            sys.stdout.write(f"{path}\n")


if __name__ == "__main__":
    raise SystemExit(main())
