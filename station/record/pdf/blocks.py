"""The blocks of a sheet on paper; each goes on to a new page where it does not fit."""

from typing import Final

from station.record.pdf.chart import chart_height, draw_chart
from station.record.pdf.paper import FIGURE_PT, GREY, INK, SMALL, TITLE, WORDS, Paper, Type, mm
from station.record.sheet import Blanks, Block, Chart, Facts, Figures, Lines, Pair, Table

GAP_MM: Final = 1.6
GUTTER_MM: Final = 4.0
HEAD_ROOM_MM: Final = 25.0
"""Between two blocks, between two columns, and what the head of a page takes at most: own choice."""

_Flowing = Facts | Table | Lines

_BOLD: Final = Type(bold=True)
_FIGURE: Final = Type(FIGURE_PT, bold=True)


def draw_block(paper: Paper, block: Block) -> None:
    """Draw one block over the whole width and leave a gap below it."""
    match block:
        case Figures():
            _figures(paper, block)
        case Chart():
            paper.room(chart_height(block))
            draw_chart(paper, block)
        case Pair():
            _pair(paper, block)
        case Blanks():
            _blanks(paper, block)
        case _:
            _flowing(paper, block, paper.left, paper.width)
    paper.y += mm(GAP_MM)


def _flowing(paper: Paper, block: _Flowing, left: float, width: float) -> None:
    match block:
        case Facts():
            _facts(paper, block, left, width)
        case Table():
            _table(paper, block, left, width)
        case Lines():
            _lines(paper, block, left, width)


def _pair(paper: Paper, pair: Pair) -> None:
    """Side by side where both sides fit on the page; else one under the other."""
    whole = paper.width - mm(GUTTER_MM)
    wide, narrow = whole * pair.share, whole * (1 - pair.share)
    height = max(_side_height(pair.left, wide), _side_height(pair.right, narrow))
    if height > paper.bottom - paper.top - mm(HEAD_ROOM_MM):
        _side(paper, (*pair.left, *pair.right), paper.left, paper.width)
        return
    paper.room(height)
    top = paper.y
    _side(paper, pair.left, paper.left, wide)
    ended, paper.y = paper.y, top
    _side(paper, pair.right, paper.left + wide + mm(GUTTER_MM), narrow)
    paper.y = max(ended, paper.y)


def _side(paper: Paper, blocks: tuple[_Flowing, ...], left: float, width: float) -> None:
    for place, block in enumerate(blocks):
        paper.y += mm(GAP_MM) if place else 0.0
        _flowing(paper, block, left, width)


def _side_height(blocks: tuple[_Flowing, ...], width: float) -> float:
    return sum(_height(block, width) for block in blocks) + (len(blocks) - 1) * mm(GAP_MM)


def _height(block: _Flowing, width: float) -> float:
    """The height that a block takes, in dots."""
    title = TITLE.line + mm(0.6) if block.title else 0.0
    match block:
        case Facts(_, rows, across):
            return title + sum(_facts_height(row, width, across) for row in _by(rows, across))
        case Table(_, _, shares, rows):
            inner = sum(_row_height(row, shares, width) for row in rows) or WORDS.line
            return title + SMALL.line + mm(0.5) + inner
        case Lines(_, lines):
            return title + sum(len(WORDS.lines(line, width)) for line in lines) * WORDS.line


def _title(paper: Paper, title: str, left: float) -> None:
    if title:
        paper.room(TITLE.line + 3 * WORDS.line)
        paper.text(left, paper.y, title, TITLE)
        paper.y += TITLE.line + mm(0.6)


def _by(rows: tuple[tuple[str, str], ...], across: int) -> list[tuple[tuple[str, str], ...]]:
    return [rows[start : start + across] for start in range(0, len(rows), across)]


def _column(width: float, across: int) -> float:
    return (width - (across - 1) * mm(GUTTER_MM)) / across


def _facts_height(row: tuple[tuple[str, str], ...], width: float, across: int) -> float:
    wide = _column(width, across)
    return max(len(_value_lines(label, value, wide)) for label, value in row) * WORDS.line


def _value_lines(label: str, value: str, width: float) -> list[str]:
    return WORDS.lines(value, max(width - _label_width(label), width / 4))


def _label_width(label: str) -> float:
    return SMALL.width(label) + mm(1.5)


def _facts(paper: Paper, block: Facts, left: float, width: float) -> None:
    _title(paper, block.title, left)
    wide = _column(width, block.across)
    for row in _by(block.rows, block.across):
        height = _facts_height(row, width, block.across)
        paper.room(height)
        for place, (label, value) in enumerate(row):
            x = left + place * (wide + mm(GUTTER_MM))
            paper.text(x, paper.y + WORDS.line - SMALL.line, label, SMALL)
            for n, line in enumerate(_value_lines(label, value, wide)):
                paper.text(x + _label_width(label), paper.y + n * WORDS.line, line, WORDS)
        paper.y += height


def _figures(paper: Paper, block: Figures) -> None:
    height = SMALL.line * 2 + _FIGURE.line
    paper.room(height + mm(2))
    paper.rule(paper.y, ink=INK)
    wide = paper.width / len(block.rows)
    for place, (label, value, under) in enumerate(block.rows):
        x = paper.left + place * wide
        paper.text(x, paper.y + mm(0.8), label, SMALL)
        paper.text(x, paper.y + mm(0.4) + SMALL.line, value, _FIGURE)
        paper.text(x, paper.y + SMALL.line + _FIGURE.line, under, SMALL)
    paper.y += height + mm(1)
    paper.rule(paper.y, ink=INK)


def _widths(shares: tuple[float, ...], width: float) -> list[float]:
    return [width * share / sum(shares) for share in shares]


def _row_height(row: tuple[str, ...], shares: tuple[float, ...], width: float) -> float:
    widths = _widths(shares, width)
    return max(len(WORDS.lines(text, widths[n] - mm(1.2))) for n, text in enumerate(row)) * WORDS.line


def _table(paper: Paper, block: Table, left: float, width: float) -> None:
    _title(paper, block.title, left)
    if not block.rows:
        paper.text(left, paper.y, block.otherwise, WORDS)
        paper.y += WORDS.line
        return
    widths = _widths(block.shares, width)
    x = left
    for text, wide in zip(block.head, widths, strict=True):
        paper.text(x, paper.y, text, SMALL)
        x += wide
    paper.y += SMALL.line
    paper.rule(paper.y, left=left, width=width, ink=GREY)
    paper.y += mm(0.5)
    for row in block.rows:
        _row(paper, row, block.shares, left, width)


def _row(paper: Paper, row: tuple[str, ...], shares: tuple[float, ...], left: float, width: float) -> None:
    height = _row_height(row, shares, width)
    paper.room(height)
    x = left
    for text, wide in zip(row, _widths(shares, width), strict=True):
        for n, line in enumerate(WORDS.lines(text, wide - mm(1.2))):
            paper.text(x, paper.y + n * WORDS.line, line, WORDS)
        x += wide
    paper.y += height


def _lines(paper: Paper, block: Lines, left: float, width: float) -> None:
    _title(paper, block.title, left)
    for text in block.lines:
        for line in WORDS.lines(text, width):
            paper.room(WORDS.line)
            paper.text(left, paper.y, line, WORDS)
            paper.y += WORDS.line


def _blanks(paper: Paper, block: Blanks) -> None:
    high = mm(9.0)
    rows = [block.labels[start : start + block.across] for start in range(0, len(block.labels), block.across)]
    paper.room((TITLE.line if block.title else 0.0) + high * len(rows))
    _title(paper, block.title, paper.left)
    wide = _column(paper.width, block.across)
    for row in rows:
        for place, label in enumerate(row):
            x = paper.left + place * (wide + mm(GUTTER_MM))
            paper.rule(paper.y + mm(6), left=x, width=wide, ink=INK)
            paper.text(x, paper.y + mm(6.3), label, SMALL)
        paper.y += high
