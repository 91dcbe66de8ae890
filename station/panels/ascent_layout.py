"""Where everything stands on the ascent window and the window of gauges, as boxes in pixels."""

from dataclasses import dataclass

from station.panels.layout import Box
from station.panels.measures import Measures

_LEFT_SHARE = 0.166
_MIDDLE_SHARE = 0.468
"""Widths of the columns as shares of the room between the margins."""

_CLOCK_ROWS = 1.36
_GUIDE = 58
_FACTS = 3.9
"""Height of clock (in number rows), guide (drawn pixels), facts (lines of their captions)."""

_SMALL_ROWS = 0.76
"""Height of depth and air under the line, in number rows."""


@dataclass(frozen=True, slots=True)
class AscentLayout:
    """The parts of the ascent window, from the body's own corner.

    `drawer` is what a question may cover: neither depth, nor air, nor the clock. `lines` are the x of the
    hairlines between the columns.
    """

    name: Box
    line: Box
    depth: Box
    air: Box
    divers: Box
    phase: Box
    clock: Box
    guide: Box
    sentence: Box
    facts: Box
    legs: Box
    right: Box
    trace: Box
    keys: Box
    drawer: Box
    lines: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class GaugesLayout:
    """The parts of the window of gauges, from the body's own corner."""

    name: Box
    gauges: Box
    more: Box
    lines: Box
    health: Box
    line: int


def ascent_layout(measures: Measures, body: Box, divers: int) -> AscentLayout:
    """The parts of the ascent window, with a key for each of so many divers."""
    drawn, px = measures.arrangement, measures.px
    margin, gutter = px(drawn.margin), px(drawn.gutter)
    y = body.y + px(10 if drawn.frame > 8 else 8)
    foot = body.bottom - px(10)
    room = measures.width_px - 2 * margin - 2 * gutter
    left_w, middle_w = round(room * _LEFT_SHARE), round(room * _MIDDLE_SHARE)
    middle_x = margin + left_w + gutter
    right_x = middle_x + middle_w + gutter
    right_w = measures.width_px - margin - right_x
    head = px(drawn.rule) + px(drawn.name)
    key_h = px(46 if drawn.frame > 8 else 40)
    gap = px(8)
    divers_h = divers * key_h + max(0, divers - 1) * gap
    small_h = round(px(drawn.number_row) * _SMALL_ROWS)
    keys_y = foot - divers_h
    depth_y = keys_y - px(12) - 2 * small_h
    clock = Box(middle_x, y + head, middle_w, round(px(drawn.number_row) * _CLOCK_ROWS))
    guide = Box(middle_x, clock.bottom, middle_w, px(_GUIDE if drawn.frame > 8 else 44))
    sentence = Box(middle_x, guide.bottom + px(6), middle_w, px(drawn.sentence))
    facts_h = round(measures.type_px("caption") * _FACTS)
    facts = Box(middle_x, sentence.bottom, middle_w, facts_h)
    legs = Box(middle_x, facts.bottom, middle_w, foot - facts.bottom)
    keys = Box(right_x, foot - key_h - px(8), right_w, key_h + px(8))
    trace_h = px(drawn.number_row)
    trace = Box(right_x, keys.y - px(10) - trace_h, right_w, trace_h)
    right = Box(right_x, y, right_w, trace.y - px(8) - y)
    drawer = Box(middle_x, sentence.y, measures.width_px - margin - middle_x, body.bottom - sentence.y)
    return AscentLayout(
        Box(margin, y, left_w, head),
        Box(margin, y + head, left_w, depth_y - y - head),
        Box(margin, depth_y, left_w, small_h),
        Box(margin, depth_y + small_h, left_w, small_h),
        Box(margin, keys_y, left_w, divers_h),
        Box(middle_x, y, middle_w, head),
        clock,
        guide,
        sentence,
        facts,
        legs,
        right,
        trace,
        keys,
        drawer,
        (middle_x - gutter // 2, right_x - gutter // 2),
    )


def gauges_layout(measures: Measures, body: Box, lines: int, health: int) -> GaugesLayout:
    """The parts of the window of gauges, with room for so many lines and words on the station's health."""
    drawn, px = measures.arrangement, measures.px
    margin, gutter = px(drawn.margin), px(drawn.gutter)
    y, foot = body.y + px(10), body.bottom - px(10)
    head = px(drawn.rule) + px(drawn.name)
    row = measures.type_px("caption") * 1.52
    low = head + round(row * (max(lines, health) + 0.2))
    low = min(low, (foot - y) // 2)
    width = measures.width_px - 2 * margin
    below = Box(margin, foot - low, width, low)
    half = (width - gutter) * 6 // 10
    key_w, key_h = px(240 if drawn.frame > 8 else 180), px(drawn.name)
    name = Box(margin, y, width, head)
    return GaugesLayout(
        name,
        Box(margin, name.bottom, width, below.y - px(12) - name.bottom),
        Box(margin + width - key_w, y + px(drawn.rule) + px(4), key_w, key_h - px(6)),
        Box(margin, below.y, half, low),
        Box(margin + half + gutter, below.y, width - half - gutter, low),
        margin + half + gutter // 2,
    )
