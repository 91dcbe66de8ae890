"""What one frame of the windows costs, painted off screen: the watch and the timekeeper at both sizes.

    QT_QPA_PLATFORM=offscreen python -P tests/bench/bench_panels.py

prints one JSON object of milliseconds: a frame in which everything is new, and one in which nothing is.
"""

import json
import os
import statistics
import time

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtWidgets import QApplication

from station.panels import samples
from station.panels.type import load_fonts
from station.panels.window import Window
from station.present.labels import TIMEKEEPER, WATCH

FRAMES = 60
SIZES = {"1280x800": (1280, 800, 0.204), "1920x1080": (1920, 1080, 0.277)}


def frames(page: str, width: int, height: int, mm_per_px: float) -> dict[str, float]:
    """Milliseconds to show and paint a view in which every digit changed, and one in which none did."""
    window = Window(mm_per_px, samples.traces())
    window.minds_silence = False
    window.resize(width, height)
    window.page = page
    views = (samples.calm(), samples.emergency("day"))
    window.show_view(views[0])
    window.show()
    fresh = [_painted(window, views[count % 2]) for count in range(FRAMES)]
    same = [_painted(window, views[0]) for _ in range(FRAMES)]
    window.close_now()
    return {
        "new_p50_ms": round(statistics.median(fresh), 2),
        "new_worst_ms": round(max(fresh), 2),
        "same_p50_ms": round(statistics.median(same[1:]), 2),
    }


def _painted(window: Window, view: object) -> float:
    start = time.perf_counter()
    window.show_view(view)
    QApplication.processEvents()
    return (time.perf_counter() - start) * 1000


def measured() -> dict[str, dict[str, float]]:
    """Every page at every size."""
    application = QApplication.instance() or QApplication([])
    load_fonts()
    figures = {
        f"{page.lower()}_{words}": frames(page, *size)
        for words, size in SIZES.items()
        for page in (WATCH, TIMEKEEPER)
    }
    del application
    return figures


if __name__ == "__main__":
    print(json.dumps(measured(), indent=1))  # noqa: T201 - the script's one output
