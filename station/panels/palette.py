"""The grounds: every colour of the windows, in one place.

Contrasts are held by tests/station/panels/test_palette.py.

Levels wanted: values 7:1, small words 4.5:1, alarm words 4.5:1, marks 3:1 or a black outline; the formula
is WCAG 2.1, "relative luminance" and "contrast ratio".
"""

from dataclasses import dataclass, replace
from typing import Final

from station.core.state import Priority
from station.present.looks import Mode


@dataclass(frozen=True, slots=True)
class Palette:
    """One ground. Colours are "#RRGGBB"; `bold_values` draws the large digits bold, for sun."""

    ground: str
    ink: str
    ink2: str
    rule: str
    hair: str
    water: str
    band: str
    key: str
    red: str
    orange: str
    yellow: str
    on_red: str = "#FFFFFF"
    on_orange: str = "#000000"
    on_yellow: str = "#000000"
    outline: str | None = None
    red_outline: str | None = None
    bold_values: bool = False
    banner: bool = False

    def fill_of(self, priority: Priority) -> str:
        """The colour of an alarm of this priority."""
        return {
            Priority.EMERGENCY: self.red,
            Priority.ALARM: self.red,
            Priority.WARNING: self.orange,
            Priority.CAUTION: self.yellow,
        }[priority]

    def text_on(self, priority: Priority) -> str:
        """The colour of words on the alarm's colour."""
        return {
            Priority.EMERGENCY: self.on_red,
            Priority.ALARM: self.on_red,
            Priority.WARNING: self.on_orange,
            Priority.CAUTION: self.on_yellow,
        }[priority]

    def outline_of(self, priority: Priority) -> str | None:
        """The outline that an alarm's mark needs on this ground, if any."""
        if priority in (Priority.EMERGENCY, Priority.ALARM):
            return self.red_outline
        return self.outline


_DAY: Final = Palette(
    ground="#D9D9D9",
    ink="#141414",
    ink2="#434648",
    rule="#6B7075",
    hair="#A9ADB0",
    water="#C2C7CB",
    band="#9AA4AB",
    key="#CDCFD0",
    red="#B00000",
    orange="#D97800",
    yellow="#F7D548",
    outline="#000000",
    bold_values=True,
)
_DUSK: Final = Palette(
    ground="#1E2226",
    ink="#D6DADD",
    ink2="#A3ABB2",
    rule="#78828A",
    hair="#434B52",
    water="#2B3238",
    band="#56636D",
    key="#2A3036",
    red="#D92B2B",
    orange="#E58A12",
    yellow="#E0B000",
    red_outline="#FFFFFF",
)
_NIGHT: Final = Palette(
    ground="#050505",
    ink="#B39B72",
    ink2="#8F7C5B",
    rule="#6B5D44",
    hair="#2F291D",
    water="#17150F",
    band="#4A402E",
    key="#12100B",
    red="#C02A2E",
    orange="#B87800",
    yellow="#A89800",
    red_outline="#FFFFFF",
)
# Log-book paper: a replay can never be taken for live.
_REPLAY_DAY: Final = replace(
    _DAY,
    ground="#E7DEC8",
    ink="#1D1810",
    ink2="#4D4534",
    rule="#766C56",
    hair="#BDB295",
    water="#D5CAAD",
    band="#A89C7E",
    key="#DBD1B8",
    banner=True,
)
_REPLAY_DUSK: Final = replace(
    _DUSK,
    ground="#30281A",
    ink="#E8DDC4",
    ink2="#BFB294",
    rule="#94876B",
    hair="#574C36",
    water="#403624",
    band="#74684C",
    key="#3B3221",
    red="#E03A3A",
    on_red="#000000",
    banner=True,
)
_REPLAY_NIGHT: Final = replace(
    _NIGHT, ground="#120D04", ink="#BBA278", ink2="#96825F", rule="#74664A", hair="#3A311F", banner=True
)
# Cool green paper: a rehearsal is neither live nor a record.
_REHEARSAL_DAY: Final = replace(
    _DAY,
    ground="#CBD8CF",
    ink="#101812",
    ink2="#3A483E",
    rule="#607066",
    hair="#9DAFA3",
    water="#B3C6B9",
    band="#8AA394",
    key="#BFCFC4",
    banner=True,
)
_REHEARSAL_DUSK: Final = replace(
    _DUSK,
    ground="#16281E",
    ink="#D3DED6",
    ink2="#A0B2A6",
    rule="#768C7E",
    hair="#3B5146",
    water="#22382C",
    band="#4F6A5B",
    key="#20342A",
    banner=True,
)
_REHEARSAL_NIGHT: Final = replace(
    _NIGHT, ground="#03110A", rule="#706249", hair="#23332A", water="#0D2016", key="#07160E", banner=True
)

GROUNDS: Final = ("day", "dusk", "night")
PALETTES: Final[dict[tuple[Mode, str], Palette]] = {
    (Mode.LIVE, "day"): _DAY,
    (Mode.LIVE, "dusk"): _DUSK,
    (Mode.LIVE, "night"): _NIGHT,
    (Mode.REPLAY, "day"): _REPLAY_DAY,
    (Mode.REPLAY, "dusk"): _REPLAY_DUSK,
    (Mode.REPLAY, "night"): _REPLAY_NIGHT,
    (Mode.REHEARSAL, "day"): _REHEARSAL_DAY,
    (Mode.REHEARSAL, "dusk"): _REHEARSAL_DUSK,
    (Mode.REHEARSAL, "night"): _REHEARSAL_NIGHT,
}


def palette_of(mode: Mode, ground: str) -> Palette:
    """The palette of a mode on a ground. Raises KeyError for a ground that there is not."""
    return PALETTES[(mode, ground)]


def contrast(one: str, other: str) -> float:
    """Contrast ratio of two colours, 1 to 21. WCAG 2.1, definition of contrast ratio."""
    lighter, darker = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def _luminance(colour: str) -> float:
    """Relative luminance, 0 to 1. WCAG 2.1, definition of relative luminance."""
    red, green, blue = (_linear(int(colour[start : start + 2], 16) / 255) for start in (1, 3, 5))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _linear(channel: float) -> float:
    return channel / 12.92 if channel <= 0.04045 else ((channel + 0.055) / 1.055) ** 2.4
