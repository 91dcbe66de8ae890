"""Where everything stands, as boxes in pixels. Nothing here depends on what is shown, so nothing jumps."""

from dataclasses import dataclass

from station.panels.measures import Measures


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle in whole pixels."""

    x: int
    y: int
    w: int
    h: int

    @property
    def right(self) -> int:
        """The first pixel past the right edge."""
        return self.x + self.w

    @property
    def bottom(self) -> int:
        """The first pixel past the lower edge."""
        return self.y + self.h

    def overlaps(self, other: "Box") -> bool:
        """Whether the two share a pixel."""
        return (
            self.x < other.right and other.x < self.right and self.y < other.bottom and other.y < self.bottom
        )


@dataclass(frozen=True, slots=True)
class WindowLayout:
    """The strips that every window has, and the room between them."""

    top: Box
    alarms: Box
    body: Box
    transport: Box | None
    footer: Box


@dataclass(frozen=True, slots=True)
class WatchLayout:
    """The columns of the watch window; `lines` are the x of the hairlines between them."""

    divers: tuple[Box, ...]
    standby: tuple[Box, ...]
    air: Box
    lines: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class DiverLayout:
    """The parts of a diver's column, from the column's own corner."""

    rule: Box
    name: Box
    line: Box
    numbers: tuple[Box, Box, Box]
    sentence: Box
    trace: Box


@dataclass(frozen=True, slots=True)
class KeeperLayout:
    """The parts of the timekeeper's window, from the body's own corner."""

    divers: Box
    rule: Box
    clock: Box
    next_key: Box
    marks: Box
    others: Box
    last: Box
    late: Box
    amend: Box
    undo: Box
    drawer: Box
    line: int


def window_layout(measures: Measures, *, low_alarms: bool, replay: bool) -> WindowLayout:
    """The strips of a window; `low_alarms` for windows whose alarm strip is lower."""
    drawn, px = measures.arrangement, measures.px
    width, height = measures.width_px, measures.height_px
    top = Box(0, 0, width, px(drawn.top))
    alarms = Box(0, top.bottom, width, px(drawn.alarms_low if low_alarms else drawn.alarms))
    footer_h = px(drawn.transport if replay else drawn.footer)
    footer = Box(0, height - footer_h, width, footer_h)
    body = Box(0, alarms.bottom, width, footer.y - alarms.bottom)
    if not replay:
        return WindowLayout(top, alarms, body, None, footer)
    # In a replay the transport bar takes the footer's place; the window keys stand at its right end.
    low = footer_h - px(drawn.frame)
    keys_w = px(drawn.replay_keys)
    keys = Box(width - px(drawn.margin) - keys_w, footer.y, keys_w, low)
    transport = Box(px(drawn.margin), footer.y, keys.x - px(drawn.margin) - px(drawn.gutter), low)
    return WindowLayout(top, alarms, body, transport, keys)


def watch_layout(measures: Measures, body: Box, divers: int, standby: int) -> WatchLayout:
    """The columns for so many divers and standby divers, in window pixels.

    Two divers' columns are always kept, so that the numbers of the first stand at one place.
    """
    drawn, px = measures.arrangement, measures.px
    margin, gutter = px(drawn.margin), px(drawn.gutter)
    y = body.y + px(10 if drawn.frame > 8 else 8)
    height = body.bottom - y - px(10)
    air = Box(measures.width_px - margin - px(drawn.air), y, px(drawn.air), height)
    right = air.x
    narrow = []
    for _ in range(standby):
        width = px(drawn.standby)
        narrow.append(Box(right - gutter - width, y, width, height))
        right = narrow[-1].x
    narrow.reverse()
    count = max(1, divers)
    room = right - gutter - margin
    each = (room - gutter * (count - 1)) // count
    wide = tuple(Box(margin + column * (each + gutter), y, each, height) for column in range(count))
    columns = (*wide, *narrow, air)
    return WatchLayout(wide, tuple(narrow), air, tuple(box.x - gutter // 2 for box in columns[1:]))


def diver_layout(measures: Measures, width: int, height: int) -> DiverLayout:
    """The parts of a diver's column of this size. A column twice as wide has its trace beside the numbers."""
    drawn, px = measures.arrangement, measures.px
    rule = Box(0, 0, width, px(drawn.rule))
    name = Box(0, rule.bottom, width, px(drawn.name))
    beside = width > px(drawn.diver) * 3 // 2
    usual = px(drawn.diver) if beside else width
    row_h = px(drawn.number_row)
    line_w = min(px(drawn.line), usual * drawn.line // drawn.diver)
    line = Box(0, name.bottom, line_w, 3 * row_h)
    numbers = tuple(Box(line_w, name.bottom + row * row_h, usual - line_w, row_h) for row in range(3))
    below = line.bottom
    if beside:
        gap = px(drawn.gutter)
        sentence = Box(0, below, usual, height - below)
        trace = Box(usual + gap, name.bottom, width - usual - gap, height - name.bottom)
    else:
        sentence = Box(0, below, width, px(drawn.sentence))
        trace = Box(0, sentence.bottom, width, height - sentence.bottom)
    return DiverLayout(rule, name, line, (numbers[0], numbers[1], numbers[2]), sentence, trace)


def keeper_layout(measures: Measures, body: Box) -> KeeperLayout:
    """The parts of the timekeeper's window, in window pixels. The keys are never lower than a glove needs."""
    drawn, px = measures.arrangement, measures.px
    margin, gutter, gap = px(drawn.margin), px(drawn.gutter), px(14)
    y = body.y + px(10)
    left = Box(margin, y, px(drawn.keys_left), body.bottom - y - px(12))
    line = left.right + gutter // 2 + px(2)
    x = line + px(12)
    width = measures.width_px - margin - x
    rule = Box(x, y, width, px(drawn.rule))
    key_h = px(drawn.key_least)
    next_h = px(drawn.next_least)
    next_w = width * 392 // 1008
    spare = left.bottom - (rule.bottom + 2 * gap + next_h + 3 * key_h + 3 * gap)
    grow = max(0, spare) // 3
    next_key = Box(x + width - next_w, rule.bottom + gap, next_w, next_h)
    clock = Box(x, rule.bottom + gap, width - next_w - px(24), next_h)
    marks = Box(x, next_key.bottom + px(16), width, key_h + grow // 2)
    others = Box(x, marks.bottom + gap, width, key_h + grow // 2)
    low = Box(x, others.bottom + px(30), width, left.bottom - others.bottom - px(30))
    third = width * 100 // 1008
    undo = Box(low.right - width * 150 // 1008, low.y, width * 150 // 1008, low.h)
    amend = Box(undo.x - gap - width * 150 // 1008, low.y, width * 150 // 1008, low.h)
    late_w = 3 * third + 2 * px(10)
    late = Box(amend.x - gap - late_w, low.y, late_w, low.h)
    last = Box(x, low.y, late.x - x - gap, low.h)
    drawer = Box(x, marks.y, width, left.bottom - marks.y)
    return KeeperLayout(left, rule, clock, next_key, marks, others, last, late, amend, undo, drawer, line)
