"""The bundled family, loaded once; fonts are kept, because making one for each paint doubles its cost."""

from functools import lru_cache
from importlib.resources import as_file, files

from PySide6.QtGui import QFont, QFontDatabase, QFontMetricsF

FAMILY = "B612"


class FontMissing(Exception):  # noqa: N818 - said at the start, and the windows do not open
    """A bundled font file cannot be loaded."""


def load_fonts() -> None:
    """Load the bundled files. Raises FontMissing, naming the file: other fonts have other widths."""
    for name in ("B612-Regular.otf", "B612-Bold.otf"):
        with as_file(files("station.panels.fonts") / name) as path:
            if QFontDatabase.addApplicationFont(str(path)) < 0:
                raise FontMissing(f"{path}: not a font that can be loaded")


@lru_cache(maxsize=256)
def font(px: int, *, bold: bool = False) -> QFont:
    """The family in a size of pixels."""
    made = QFont(FAMILY)
    made.setPixelSize(px)
    made.setWeight(QFont.Weight.Bold if bold else QFont.Weight.Normal)
    made.setStyleStrategy(QFont.StyleStrategy.PreferAntialias)
    return made


@lru_cache(maxsize=256)
def metrics(px: int, *, bold: bool = False) -> QFontMetricsF:
    """The metrics of that font."""
    return QFontMetricsF(font(px, bold=bold))


def width_of(text: str, px: int, *, bold: bool = False) -> float:
    """The width of a text in pixels."""
    return metrics(px, bold=bold).horizontalAdvance(text)


def fitted_px(text: str, px: int, width: float, *, bold: bool = False) -> int:
    """`px`, or the size at which the text fits the width when it does not at `px`."""
    have = width_of(text, px, bold=bold)
    return px if have <= width or have == 0 else max(1, int(px * width / have))
