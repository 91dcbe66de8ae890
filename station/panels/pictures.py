"""Pictures: drawn by a window of its own of the stated size, so that the one on the screen stays."""

from collections.abc import Callable
from pathlib import Path

from station.panels.trace import Traces
from station.panels.window import Window
from station.present.looks import View


def picture(
    view: View,
    traces: Traces,
    path: Path,
    *,
    width: int,
    height: int,
    mm_per_px: float,
    page: str,
    ground: str = "",
    ask: Callable[[Window], None] | None = None,
) -> None:
    """Draw a view into a PNG file. Raises OSError, naming the file, when it cannot be written.

    `ask` opens what is to be seen over the view.
    """
    window = Window(mm_per_px, traces)
    window.blink.hold()
    window.minds_silence = False
    window.resize(width, height)
    window.page = page
    window.show_view(view)
    if ground:
        window.ground = ground
        window.show_view(view)
    if ask is not None:
        window.show()
        ask(window)
    grabbed = window.grab()
    window.deleteLater()
    path.parent.mkdir(parents=True, exist_ok=True)
    if not grabbed.save(str(path), "PNG"):
        raise OSError(f"{path}: the picture cannot be written")
