"""Sheets as PDF: vector curves, text that can be selected, the bundled type, no colour. The only Qt here."""

from dataclasses import replace
from pathlib import Path
from typing import Final

from PySide6.QtCore import QMarginsF
from PySide6.QtGui import QGuiApplication, QPageSize, QPainter, QPdfWriter

from station import __version__
from station.core.settings import Units
from station.panels.type import load_fonts
from station.record.pdf.blocks import draw_block
from station.record.pdf.paper import DOTS_PER_INCH, HEAD_PT, INK, SMALL, Paper, Type, mm
from station.record.sheet import Sheet

_HEAD: Final = Type(HEAD_PT, bold=True)
_UNDER: Final = Type(9.5)
_BANNER: Final = Type(9.5, bold=True, colour="#FFFFFF")


class NotWritten(Exception):  # noqa: N818 - what happened, in words
    """A PDF cannot be written; says which file."""


def write_pdf(path: Path, sheets: tuple[Sheet, ...], units: Units) -> None:
    """Write sheets one after the other, whole or not at all. Raises NotWritten.

    Letter paper where the station shows feet, else A4.
    """
    unfinished = path.with_name(f"{path.name}.new")
    application = QGuiApplication.instance() or QGuiApplication(["overbottom", "-platform", "offscreen"])
    load_fonts()
    try:
        _write(unfinished, sheets, units)
        unfinished.replace(path)
    except OSError as error:
        raise NotWritten(f"{path}: {error.strerror}") from error
    del application


def _write(path: Path, sheets: tuple[Sheet, ...], units: Units) -> None:
    writer = QPdfWriter(str(path))
    writer.setPageSize(
        QPageSize(QPageSize.PageSizeId.Letter if units is Units.US else QPageSize.PageSizeId.A4)
    )
    writer.setPageMargins(QMarginsF(0, 0, 0, 0))
    writer.setResolution(DOTS_PER_INCH)
    writer.setTitle(sheets[0].title if sheets else "")
    writer.setCreator(f"overbottom {__version__}")
    painter = QPainter()
    if not painter.begin(writer):
        raise NotWritten(f"{path}: cannot be written")
    try:
        paper = Paper(writer, painter)
        for place, sheet in enumerate(sheets):
            _draw(paper, sheet, first=place == 0)
    finally:
        ended = painter.end()
    if not ended:
        raise NotWritten(f"{path}: cannot be written to its end")


def _draw(paper: Paper, sheet: Sheet, *, first: bool) -> None:
    page = 0

    def head() -> None:
        nonlocal page
        page += 1
        _head(paper, sheet, page)

    paper.head = head
    if not first:
        paper.page()
    paper.enlarge(sheet.enlarged)
    head()
    for block in sheet.blocks:
        draw_block(paper, block)


def _head(paper: Paper, sheet: Sheet, page: int) -> None:
    """Title, banner and foot of a page; a page after the first says which it is."""
    if sheet.banner:
        paper.fill(paper.left, paper.y, paper.width, mm(6), INK)
        paper.text(paper.left + mm(2), paper.y + mm(0.9), sheet.banner, _BANNER)
        paper.y += mm(7.5)
    right = sheet.right if page == 1 else f"{sheet.right}, page {page}"
    head = _fitted(_HEAD, sheet.title, paper.width - _UNDER.width(right) - mm(4))
    paper.text(paper.left, paper.y + _HEAD.line - head.line, sheet.title, head)
    paper.right_text(paper.left + paper.width, paper.y + _HEAD.line - _UNDER.line, right, _UNDER)
    paper.y += _HEAD.line
    paper.text(paper.left, paper.y, sheet.subtitle, _UNDER)
    paper.y += _UNDER.line + mm(1.5)
    foot = paper.bottom + mm(2)
    paper.rule(foot - mm(0.8))
    for line in sheet.foot:
        paper.text(paper.left, foot, line, SMALL)
        foot += SMALL.line


def _fitted(kind: Type, text: str, width: float) -> Type:
    """The type, or a smaller one in which the text fits the width."""
    have = kind.width(text)
    return kind if have <= width else replace(kind, points=kind.points * width / have)
