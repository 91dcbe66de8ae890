"""Numbers as gauges write them."""

import pytest

from shared.readings import LinkFaultKind
from shared.wire.number_text import gauge_number

GARBLED = LinkFaultKind.GARBLED


@pytest.mark.parametrize(
    ("text", "decimals", "number"),
    [
        ("+0123.4", 0, 123.4),
        ("-0025", 2, -0.25),
        ("25", 2, 0.25),
        ("+1.2340E+02", 0, 123.4),
        ("1e3", 0, 1000.0),
        ("  12.5 ", 0, 12.5),
        ("7.", 0, 7.0),
        ("-0", 0, 0.0),
    ],
)
def test_numbers(text, decimals, number):
    """Signs, exponents, blanks, and a decimal point that is not sent."""
    assert gauge_number(text, decimals) == number


@pytest.mark.parametrize(
    ("text", "decimals", "kind"),
    [
        ("", 0, LinkFaultKind.NO_VALUE),
        ("   ", 0, LinkFaultKind.NO_VALUE),
        ("NaN", 0, LinkFaultKind.NOT_FINITE),
        ("-INF", 0, LinkFaultKind.NOT_FINITE),
        ("12.5", 1, GARBLED),
        ("1e3", 1, GARBLED),
        (".5", 0, GARBLED),
        ("1_0", 0, GARBLED),
        ("0x1", 0, GARBLED),
        ("1,5", 0, GARBLED),
        ("--1", 0, GARBLED),
        ("1 2", 0, GARBLED),
        ("1e999", 0, GARBLED),
        ("9" * 21, 0, GARBLED),
        ("٣", 0, GARBLED),
        ("1\t", 0, GARBLED),
    ],
)
def test_what_is_no_number(text, decimals, kind):
    """A point where none should be sent, too, is a sign that the station file is wrong."""
    assert gauge_number(text, decimals) is kind
