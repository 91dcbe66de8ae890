"""The bundled family: what the sizes and the layout take for granted."""

from importlib.resources import files

import pytest
from PySide6.QtGui import QRawFont

from station.panels.measures import CAP_SHARE
from station.panels.type import FAMILY, fitted_px, font, metrics, width_of


@pytest.mark.parametrize("bold", [False, True])
def test_cap_height_is_the_share_that_the_sizes_count_with(bold: bool):
    """Cap height of B612 in em; the millimetres on the screen rest on it."""
    assert metrics(1000, bold=bold).capHeight() / 1000 == pytest.approx(CAP_SHARE, abs=0.02)


def test_every_digit_has_one_width_regular_and_bold():
    """No digit shifts when it changes, nor when the ground changes from bold to regular digits."""
    widths = {round(width_of(digit, 200, bold=bold), 3) for digit in "0123456789" for bold in (False, True)}
    assert len(widths) == 1


def test_the_signs_that_are_written_are_in_the_family():
    """A true minus, a multiplication sign: the font has them, so no other font's width slips in."""
    for bold in (False, True):
        raw = QRawFont.fromFont(font(100, bold=bold))
        assert raw.familyName() == FAMILY
        assert all(raw.supportsCharacter(ord(sign)) for sign in "−×+,.:'")


def test_the_licence_stands_beside_the_fonts():
    """The OFL asks that its text goes with every copy."""
    text = (files("station.panels.fonts") / "OFL.txt").read_text(encoding="utf-8")
    assert "SIL OPEN FONT LICENSE Version 1.1" in text
    assert "AIRBUS" in text


def test_a_text_that_fits_keeps_its_size_and_one_that_does_not_is_set_smaller():
    """`fitted_px` never enlarges and never overruns."""
    assert fitted_px("58.2", 94, 1000) == 94
    small = fitted_px("100:20", 94, 200)
    assert small < 94
    assert width_of("100:20", small) <= 200
