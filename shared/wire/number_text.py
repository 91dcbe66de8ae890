"""Numbers as digital gauges write them: a sign, an exponent, or a decimal point that is not sent."""

import re
from math import isfinite
from typing import Final

from shared.readings import LinkFaultKind

MOST_DIGITS: Final = 20
"""Digits on either side of the point: own choice, no gauge has so many."""

_NUMBER: Final = re.compile(
    rf"[+-]?[0-9]{{1,{MOST_DIGITS}}}(\.[0-9]{{0,{MOST_DIGITS}}})?([eE][+-]?[0-9]{{1,2}})?"
)
_WHOLE: Final = re.compile(rf"[+-]?[0-9]{{1,{MOST_DIGITS}}}")
_NO_NUMBER: Final = re.compile(r"[+-]?(nan|inf|infinity)", re.IGNORECASE)


def gauge_number(text: str, decimals: int = 0) -> float | LinkFaultKind:
    """The number that a gauge has sent, or why it is none; blanks around it do not matter.

    With `decimals` the last so many digits stand behind a point that is not sent: "-0025" with 2 is -0.25.
    A point that is sent all the same is refused: one of the two is not as the station file says.
    """
    bare = text.strip(" ")
    if not bare:
        return LinkFaultKind.NO_VALUE
    if _NO_NUMBER.fullmatch(bare):
        return LinkFaultKind.NOT_FINITE
    if not (_WHOLE if decimals else _NUMBER).fullmatch(bare):
        return LinkFaultKind.GARBLED
    value = float(f"{bare}e-{decimals}") if decimals else float(bare)
    return value if isfinite(value) else LinkFaultKind.NOT_FINITE
