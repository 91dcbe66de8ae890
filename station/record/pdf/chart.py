"""A curve over time on paper: vector lines, peaks kept, gaps left open and named."""

from itertools import pairwise
from math import ceil, isfinite
from typing import Final

import numpy as np
from PySide6.QtCore import QPointF
from PySide6.QtGui import QPen, QPolygonF

from station.record.model import Floats
from station.record.pdf.paper import GREY, HAIR, INK, PALE, SMALL, TITLE, Paper, Type, mm, pen
from station.record.sheet import Chart, Moment, Span

LANE_MM: Final = 4.2
SCALE_MM: Final = 9.0
MOST_POINTS: Final = 3000
"""Points of one curve: more are taken together, the lowest and the highest of each few. Own choice."""

UNHEARD_S: Final = 3.0
"""A curve is not drawn on over a longer silence: own choice, a reading is due every second or sooner."""

_STEPS_S: Final = (10, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200, 14400)
_STEPS: Final = (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000)
_MOST_TICKS: Final = 10
_ALARM: Final = Type(6.5, bold=True, colour="#FFFFFF")
_MARK: Final = Type(6.5, bold=True)


def chart_height(chart: Chart) -> float:
    """The height of a chart with its lanes, in dots."""
    lanes = bool(chart.marks) + bool(chart.alarms)
    return TITLE.line + mm(chart.height_mm + lanes * LANE_MM + 1.5) + SMALL.line


def draw_chart(paper: Paper, chart: Chart) -> None:
    """Draw a chart at the paper's place and go on below it."""
    paper.text(paper.left, paper.y, chart.title, TITLE)
    paper.y += TITLE.line + mm(0.5)
    _Drawn(paper, chart).draw()


class _Drawn:
    """One chart at its place."""

    def __init__(self, paper: Paper, chart: Chart) -> None:
        self.paper, self.chart = paper, chart
        self.lanes = bool(chart.marks) + bool(chart.alarms)
        self.left = paper.left + mm(SCALE_MM)
        self.width = paper.width - mm(SCALE_MM)
        self.top = paper.y + mm(self.lanes * LANE_MM)
        self.height = mm(chart.height_mm)
        heard = chart.at_s.size > 0
        self.from_s = float(chart.at_s[0]) if heard else 0.0
        self.to_s = max(float(chart.at_s[-1]) if heard else 60.0, self.from_s + 60.0)
        self.low, self.high, self.step = _scale(chart)

    def draw(self) -> None:
        """Ground first, then what happened, the curve last."""
        paper, chart = self.paper, self.chart
        named = [span for span in chart.spans if span.depth is None]
        for span in (*named, *(one for one in self._unheard() if not _within(one, named))):
            self._shade(span)
        self._grid()
        if chart.plan is not None:
            y = self.y(chart.plan)
            self._across(y, pen(GREY, 0.2, dashed=True))
            paper.text(self.left + mm(1), y - SMALL.line, f"planned {chart.plan:.0f}", SMALL)
        for span in chart.spans:
            if span.depth is not None:
                self._stop(span)
        lane = paper.y
        if chart.alarms:
            self._alarm_lane(lane)
            lane += mm(LANE_MM)
        if chart.marks:
            self._mark_lane(lane)
        if chart.limit is not None:
            self._curve(chart.limit, dashed=True)
        self._curve(chart.values, dashed=False)
        paper.y = self.top + self.height + mm(1.0) + SMALL.line

    def x(self, at_s: float) -> float:
        """Where an instant stands; one beyond the chart at its edge."""
        share = (at_s - self.from_s) / (self.to_s - self.from_s)
        return self.left + self.width * min(1.0, max(0.0, share))

    def y(self, value: float) -> float:
        """Where a value stands; one beyond the chart at its edge."""
        share = min(1.0, max(0.0, (value - self.low) / (self.high - self.low)))
        return self.top + self.height * (share if self.chart.down else 1.0 - share)

    def _grid(self) -> None:
        paper, chart = self.paper, self.chart
        value = ceil(self.low / self.step) * self.step
        while value <= self.high + 1e-9:
            self._across(self.y(value), pen(HAIR, 0.08))
            label = f"{value:.0f}"
            paper.right_text(self.left - mm(1), self.y(value) - SMALL.line / 2, label, SMALL)
            value += self.step
        step_s = next((s for s in _STEPS_S if (self.to_s - self.from_s) / s <= _MOST_TICKS), 86400)
        first = ceil((self.from_s + chart.utc_at_zero_s) / step_s) * step_s - chart.utc_at_zero_s
        foot = self.top + self.height
        for at_s in np.arange(first, self.to_s, step_s).tolist():
            paper.line((self.x(at_s), foot), (self.x(at_s), foot + mm(0.9)), pen(GREY, 0.12))
            text = _of_day(at_s + chart.utc_at_zero_s, seconds=step_s < 60)
            centred = self.x(at_s) - SMALL.width(text) / 2
            paper.text(min(centred, self.left + self.width - SMALL.width(text)), foot + mm(1), text, SMALL)
        paper.line((self.left, self.top), (self.left, foot), pen(GREY, 0.15))
        self._across(self.top if chart.down else foot, pen(INK, 0.2))

    def _across(self, y: float, drawn: QPen) -> None:
        self.paper.line((self.left, y), (self.left + self.width, y), drawn)

    def _unheard(self) -> list[Span]:
        """Where the gauge was not heard for longer than a few seconds."""
        chart, spans = self.chart, []
        heard = chart.at_s[np.isfinite(chart.values)].tolist()
        for before, after in pairwise([self.from_s, *heard, self.to_s]):
            if after - before > UNHEARD_S:
                spans.append(Span(before, after, "not heard"))
        return spans

    def _shade(self, span: Span) -> None:
        x1, x2 = self.x(span.from_s), self.x(span.to_s)
        wide = max(x2 - x1, mm(0.3))
        self.paper.fill(x1, self.top, wide, self.height, PALE)
        self.paper.text(x1 + mm(0.5), self.top + self.height - SMALL.line - mm(0.3), span.label, SMALL)

    def _stop(self, span: Span) -> None:
        assert span.depth is not None
        y = self.y(span.depth)
        self.paper.line((self.x(span.from_s), y), (self.x(span.to_s), y), pen(GREY, 1.1))
        self.paper.text(self.x(span.from_s), y + mm(0.7), span.label, SMALL)

    def _alarm_lane(self, y: float) -> None:
        """A black flag with the alarm's number; the line goes down to the curve."""
        right = self.left - mm(10)
        for alarm in self.chart.alarms:
            x = self.x(alarm.at_s)
            self.paper.line((x, y + mm(3.4)), (x, self.top + self.height), pen(INK, 0.1))
            wide = max(mm(3.2), _ALARM.width(alarm.label) + mm(1.2))
            flag = max(x - wide / 2, right + mm(0.3))
            right = flag + wide
            self.paper.fill(flag, y, wide, mm(3.4), INK)
            self.paper.text(flag + (wide - _ALARM.width(alarm.label)) / 2, y + mm(0.2), alarm.label, _ALARM)

    def _mark_lane(self, y: float) -> None:
        right = self.left - mm(10)
        for mark in self._in_order(self.chart.marks):
            x = self.x(mark.at_s)
            self.paper.line((x, y + mm(3.6)), (x, self.top + self.height), pen(GREY, 0.18, dashed=True))
            place = max(x - _MARK.width(mark.label) / 2, right + mm(0.8))
            place = min(place, self.left + self.width - _MARK.width(mark.label))
            right = place + _MARK.width(mark.label)
            self.paper.text(place, y + mm(0.4), mark.label, _MARK)

    def _in_order(self, moments: tuple[Moment, ...]) -> list[Moment]:
        return sorted(moments, key=lambda moment: moment.at_s)

    def _curve(self, values: Floats, *, dashed: bool) -> None:
        painter = self.paper.painter
        painter.setPen(pen(GREY if dashed else INK, 0.25 if dashed else 0.3, dashed=dashed))
        for at_s, piece in _pieces(self.chart.at_s, values):
            both = zip(at_s.tolist(), piece.tolist(), strict=True)
            painter.drawPolyline(QPolygonF([QPointF(self.x(x), self.y(y)) for x, y in both]))


def _within(span: Span, others: list[Span]) -> bool:
    """Whether a silence is told already by a longer word for it."""
    near_s = 2 * UNHEARD_S
    return any(other.from_s - near_s <= span.from_s and span.to_s <= other.to_s + near_s for other in others)


def _scale(chart: Chart) -> tuple[float, float, float]:
    """Lowest and highest value and the step between two numerals."""
    low, high = _depth_span(chart) if chart.down else _pressure_span(chart)
    ticks = 4 if chart.height_mm < 30 else 8
    return low, high, next((float(step) for step in _STEPS if (high - low) / step <= ticks), 2000.0)


def _depth_span(chart: Chart) -> tuple[float, float]:
    """From the surface to a little below the deepest."""
    found = [*_known(chart.values), 0.0 if chart.plan is None else chart.plan, 10.0]
    return 0.0, max(found) * 1.08


def _pressure_span(chart: Chart) -> tuple[float, float]:
    """Around both curves."""
    limit = [] if chart.limit is None else _known(chart.limit)
    found = [*_known(chart.values), *limit] or [0.0]
    room = max((max(found) - min(found)) * 0.12, 1.0)
    return min(found) - room, max(found) + room


def _known(values: Floats) -> list[float]:
    return [value for value in values.tolist() if isfinite(value)]


def _of_day(at_s: float, *, seconds: bool) -> str:
    whole = round(at_s) % 86400
    clock = f"{whole // 3600:02d}:{whole % 3600 // 60:02d}"
    return f"{clock}:{whole % 60:02d}" if seconds else clock


def _pieces(at_s: Floats, values: Floats) -> list[tuple[Floats, Floats]]:
    """The curve between its gaps, thinned where it has too many points."""
    known = np.isfinite(values)
    at_s, values = at_s[known], values[known]
    every = max(1, ceil(len(values) / (MOST_POINTS // 2)))
    breaks = np.flatnonzero(np.diff(at_s) > UNHEARD_S) + 1
    pieces = zip(np.split(at_s, breaks), np.split(values, breaks), strict=True)
    return [_thinned(times, piece, every) for times, piece in pieces if len(times)]


def _thinned(at_s: Floats, values: Floats, every: int) -> tuple[Floats, Floats]:
    """Of each few points the lowest and the highest, in their order: no peak is lost."""
    if every == 1:
        return at_s, values
    kept: list[int] = []
    for start in range(0, len(values), every):
        few = values[start : start + every]
        kept += sorted({start + int(np.argmin(few)), start + int(np.argmax(few))})
    return at_s[kept], values[kept]
