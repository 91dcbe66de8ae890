"""How things are drawn: words, alarm signs, hatches. Functions of a painter, no widget."""

from collections.abc import Iterable
from math import cos, pi, sin

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPainterPath, QPen, QPolygonF

from station.core.state import Priority
from station.panels.layout import Box
from station.panels.palette import Palette
from station.panels.type import fitted_px, font, metrics, width_of

LEFT = Qt.AlignmentFlag.AlignLeft
RIGHT = Qt.AlignmentFlag.AlignRight
MIDDLE = Qt.AlignmentFlag.AlignHCenter

Run = tuple[str, bool, str]
"""Words, whether they are bold, their colour."""


def rect(box: Box) -> QRectF:
    """A box as Qt takes it."""
    return QRectF(box.x, box.y, box.w, box.h)


def begin(painter: QPainter) -> None:
    """The hints under which everything is drawn."""
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setRenderHint(QPainter.RenderHint.TextAntialiasing)


def fill(painter: QPainter, area: QRectF, colour: str) -> None:
    """Fill an area with one colour."""
    painter.fillRect(area, QColor(colour))


def hair(  # noqa: PLR0917 - places and colours, as a painter takes them
    painter: QPainter, x1: float, y1: float, x2: float, y2: float, colour: str, width: float = 1
) -> None:
    """A straight line on whole pixels."""
    if x1 == x2:
        fill(painter, QRectF(round(x1 - width / 2), y1, width, y2 - y1), colour)
    else:
        fill(painter, QRectF(x1, round(y1 - width / 2), x2 - x1, width), colour)


def word(  # noqa: PLR0917 - places and colours, as a painter takes them
    painter: QPainter,
    x: float,
    baseline: float,
    text: str,
    px: int,
    colour: str,
    *,
    bold: bool = False,
    align: Qt.AlignmentFlag = LEFT,
    room: float | None = None,
) -> float:
    """Words on a baseline; `x` is their left, right or middle. Returns the width that they took.

    Where they do not fit the room they are set smaller, down to 3/4; past that they end in three points.
    """
    if not text:
        return 0.0
    if room is not None:
        px, text = _fit(text, px, room, bold)
    width = width_of(text, px, bold=bold)
    start = x - width if align == RIGHT else x - width / 2 if align == MIDDLE else x
    painter.setFont(font(px, bold=bold))
    painter.setPen(QColor(colour))
    painter.drawText(QPointF(start, baseline), text)
    return width


def _fit(text: str, px: int, room: float, bold: bool) -> tuple[int, str]:
    fitted = fitted_px(text, px, room, bold=bold)
    least = px * 3 // 4
    if fitted >= least:
        return fitted, text
    return least, metrics(least, bold=bold).elidedText(text, Qt.TextElideMode.ElideRight, room)


def lines_of(runs: Iterable[Run], px: int, width: float) -> list[list[tuple[str, bool, str, float]]]:
    """Words of several weights, broken to lines of a width: (text, bold, colour, x) each."""
    space = width_of(" ", px)
    lines: list[list[tuple[str, bool, str, float]]] = [[]]
    x = 0.0
    for text, bold, colour in runs:
        for piece in text.split():
            took = width_of(piece, px, bold=bold)
            if x and x + took > width:
                lines.append([])
                x = 0.0
            lines[-1].append((piece, bold, colour, x))
            x += took + space
    return lines


def paragraph(painter: QPainter, area: QRectF, runs: Iterable[Run], px: int, leading: float) -> float:
    """Words of several weights, broken to the area's width, as many lines as there is room for.

    Set smaller, down to 3/4, where they do not fit; returns the y under the last line.
    """
    runs = list(runs)
    size = px
    lines = lines_of(runs, size, area.width())
    while len(lines) * size * leading > area.height() + size * (leading - 1) and size > px * 3 // 4:
        size -= 1
        lines = lines_of(runs, size, area.width())
    y = area.top() + metrics(size).ascent()
    for line in lines:
        if y > area.bottom() + 1:
            break
        for piece, bold, colour, x in line:
            word(painter, area.left() + x, y, piece, size, colour, bold=bold)
        y += size * leading
    return y - metrics(size).ascent()


def sign(painter: QPainter, area: QRectF, priority: Priority, palette: Palette, outline: float) -> None:
    """An alarm's mark by shape: octagon, triangle, circle, square. Colour is the second cue."""
    path = sign_path(area, priority)
    edge = palette.outline_of(priority)
    painter.setBrush(QColor(palette.fill_of(priority)))
    painter.setPen(QPen(QColor(edge), outline) if edge else Qt.PenStyle.NoPen)
    painter.drawPath(path)


def sign_path(area: QRectF, priority: Priority) -> QPainterPath:
    """The shape of a priority within an area."""
    inner = area.adjusted(1, 1, -1, -1)
    path = QPainterPath()
    match priority:
        case Priority.EMERGENCY:
            path.addPolygon(_octagon(inner))
        case Priority.ALARM:
            corners = (
                QPointF(inner.center().x(), inner.top()),
                inner.bottomRight(),
                inner.bottomLeft(),
            )
            path.addPolygon(QPolygonF(corners))
        case Priority.WARNING:
            path.addEllipse(inner)
        case Priority.CAUTION:
            path.addRect(inner)
    path.closeSubpath()
    return path


def _octagon(area: QRectF) -> QPolygonF:
    reach = area.width() / 2 / cos(pi / 8)
    middle = area.center()
    return QPolygonF(
        [
            QPointF(
                middle.x() + reach * cos(pi / 8 + corner * pi / 4),
                middle.y() + reach * sin(pi / 8 + corner * pi / 4),
            )
            for corner in range(8)
        ]
    )


def hatch(painter: QPainter, area: QRectF, colour: str, step: float, width: float = 1.0) -> None:
    """Slanting lines over an area: not his water, not heard, not live."""
    painter.save()
    painter.setClipRect(area)
    painter.setPen(QPen(QColor(colour), width))
    x = area.left() - area.height()
    while x < area.right():
        painter.drawLine(QPointF(x, area.bottom()), QPointF(x + area.height(), area.top()))
        x += step
    painter.restore()


def hatch_path(painter: QPainter, path: QPainterPath, colour: str, step: float, edge: float) -> None:
    """A shape filled with slanting lines, with an edge."""
    painter.save()
    painter.setClipPath(path)
    hatch_area = path.boundingRect()
    painter.setPen(QPen(QColor(colour), 1.0))
    x = hatch_area.left() - hatch_area.height()
    while x < hatch_area.right():
        painter.drawLine(QPointF(x, hatch_area.bottom()), QPointF(x + hatch_area.height(), hatch_area.top()))
        x += step
    painter.restore()
    painter.setBrush(QBrush())
    painter.setPen(QPen(QColor(colour), edge))
    painter.drawPath(path)


def dash(  # noqa: PLR0917 - places and colours, as a painter takes them
    painter: QPainter,
    x1: float,
    y1: float,
    x2: float,
    y2: float,
    colour: str,
    width: float,
    pattern: tuple[float, float],
) -> None:
    """A broken line: `pattern` is dash and gap in pixels."""
    pen = QPen(QColor(colour), width)
    pen.setDashPattern([pattern[0] / width, pattern[1] / width])
    pen.setCapStyle(Qt.PenCapStyle.FlatCap)
    painter.setPen(pen)
    painter.drawLine(QPointF(x1, y1), QPointF(x2, y2))


def tick(painter: QPainter, area: QRectF, colour: str, width: float) -> None:
    """A tick: done."""
    pen = QPen(QColor(colour), width)
    pen.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
    painter.setPen(pen)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawPolyline(
        QPolygonF(
            [
                QPointF(area.left(), area.top() + area.height() * 0.55),
                QPointF(area.left() + area.width() * 0.35, area.bottom()),
                QPointF(area.right(), area.top()),
            ]
        )
    )
