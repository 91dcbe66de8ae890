"""Sizes: two drawn arrangements, scaled to the window, checked against the screen's real millimetres.

A size is drawn for one of two arrangements and scaled with the window. Which one is chosen by the width
in millimetres, not in pixels: a small screen with many pixels gets the arrangement with relatively larger
type. `shortfalls` says which type would be too small for the distance at which it is read.
"""

from dataclasses import dataclass
from math import radians, tan
from typing import Final

CAP_SHARE: Final = 0.75
"""Cap height of B612 in em. Measured on the bundled files, held by tests/station/panels/test_fonts.py."""

USUAL_MM_PER_PX: Final = 25.4 / 96
"""What is taken where a screen does not tell its size: 96 px to the inch."""

_WIDE_LEAST_MM: Final = 430.0
"""From this width on the wide arrangement is used. Own choice: a 19 inch screen."""


@dataclass(frozen=True, slots=True)
class Arrangement:
    """One drawn arrangement: figures in its own pixels for a window of `width` by `height`."""

    width: int
    height: int
    margin: int
    gutter: int
    top: int
    alarms: int
    alarms_low: int
    footer: int
    frame: int
    transport: int
    replay_keys: int
    diver: int
    standby: int
    air: int
    line: int
    rule: int
    name: int
    number_row: int
    caption: int
    unit: int
    sentence: int
    axis: int
    keys_left: int
    key_least: int
    next_least: int
    numeral_right: int
    tick_right: int
    column_left: int
    column_right: int
    lane: int
    words_on_line: bool
    type: dict[str, int]


WIDE: Final = Arrangement(
    width=1920,
    height=1080,
    margin=24,
    gutter=32,
    top=72,
    alarms=104,
    alarms_low=76,
    footer=48,
    frame=12,
    transport=112,
    replay_keys=500,
    diver=628,
    standby=160,
    air=360,
    line=200,
    rule=4,
    name=52,
    number_row=155,
    caption=40,
    unit=58,
    sentence=124,
    axis=30,
    keys_left=324,
    key_least=140,
    next_least=310,
    numeral_right=20,
    tick_right=38,
    column_left=54,
    column_right=117,
    lane=142,
    words_on_line=True,
    type={
        "digits": 126,
        "clock": 236,
        "next": 46,
        "bank": 56,
        "name": 30,
        "phase": 24,
        "text": 22,
        "caption": 20,
        "small": 20,
        "unit": 24,
        "axis": 16,
        "watch": 42,
        "mode": 30,
        "station": 22,
        "strip": 19,
        "alarm": 26,
        "key": 26,
        "key_detail": 22,
        "mark": 68,
    },
)

NARROW: Final = Arrangement(
    width=1280,
    height=800,
    margin=16,
    gutter=20,
    top=52,
    alarms=76,
    alarms_low=52,
    footer=44,
    frame=8,
    transport=92,
    replay_keys=396,
    diver=436,
    standby=104,
    air=212,
    line=124,
    rule=3,
    name=40,
    number_row=121,
    caption=30,
    unit=45,
    sentence=88,
    axis=24,
    keys_left=216,
    key_least=104,
    next_least=230,
    numeral_right=19,
    tick_right=31,
    column_left=46,
    column_right=84,
    lane=98,
    words_on_line=False,
    type={
        "digits": 92,
        "clock": 176,
        "next": 29,
        "bank": 35,
        "name": 22,
        "phase": 18,
        "text": 17,
        "caption": 16,
        "small": 14,
        "unit": 19,
        "axis": 14,
        "watch": 29,
        "mode": 20,
        "station": 16,
        "strip": 15,
        "alarm": 18,
        "key": 18,
        "key_detail": 17,
        "mark": 54,
    },
)


def cap_mm(distance_m: float, arc_min: float) -> float:
    """Cap height in mm that is seen under `arc_min` minutes of arc at `distance_m`: h = 2 d tan(a/2)."""
    return 2000.0 * distance_m * tan(radians(arc_min / 60.0) / 2)


LEAST_CAP_MM: Final[dict[str, float]] = {
    # 20 minutes of arc is the preferred size, 16 the threshold (ISO 9241-303, from memory, unverified);
    # the distances are the house's own choice: digits from 2 m, the rest from where the keys are reached.
    "digits": cap_mm(2.0, 20),
    "clock": cap_mm(2.0, 30),
    "next": cap_mm(0.7, 20),
    "bank": cap_mm(0.7, 20),
    "name": cap_mm(0.7, 16),
    "text": cap_mm(0.5, 16),
    "caption": cap_mm(0.5, 16),
    "alarm": cap_mm(0.5, 16),
    "key": cap_mm(0.5, 16),
}
"""The least cap height of each role of type, in millimetres."""


@dataclass(frozen=True, slots=True)
class Measures:
    """The sizes of one window: `scale` pixels for each drawn one. `mm_per_px` is the screen's own."""

    width_px: int
    height_px: int
    mm_per_px: float
    arrangement: Arrangement
    scale: float

    def px(self, drawn: float) -> int:
        """Whole pixels of a drawn size; nothing that is drawn vanishes."""
        return max(1, round(drawn * self.scale)) if drawn else 0

    def type_px(self, role: str) -> int:
        """Size of type in pixels."""
        return max(1, round(self.arrangement.type[role] * self.scale))

    def cap_mm(self, role: str) -> float:
        """Cap height of type on this screen in millimetres."""
        return self.type_px(role) * CAP_SHARE * self.mm_per_px


def measures_for(width_px: int, height_px: int, mm_per_px: float) -> Measures:
    """The sizes for a window of this many pixels on a screen of this many millimetres a pixel."""
    arrangement = WIDE if width_px * mm_per_px >= _WIDE_LEAST_MM else NARROW
    scale = min(width_px / arrangement.width, height_px / arrangement.height)
    return Measures(width_px, height_px, mm_per_px, arrangement, scale)


def shortfalls(measures: Measures) -> tuple[str, ...]:
    """The roles of type that are smaller on this screen than the distance asks for, with both sizes."""
    found = []
    for role, least_mm in LEAST_CAP_MM.items():
        have_mm = measures.cap_mm(role)
        if have_mm < least_mm - 0.05:
            found.append(f"{role} {have_mm:.1f} mm, least {least_mm:.1f} mm")
    return tuple(found)


def plausible_mm_per_px(width_mm: float, width_px: float) -> float | None:
    """Millimetres a pixel as a screen tells them, None when it tells none that can be true."""
    if width_mm <= 0 or width_px <= 0:
        return None
    told = width_mm / width_px
    return told if 0.05 <= told <= 1.5 else None
