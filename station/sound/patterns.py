"""The patterns of the horn, each number with its source.

They follow the shape of IEC 60601-1-8 (read in public summaries, not in the original) because it is tried;
no conformity is claimed. EMERGENCY is its high priority, ALARM its medium, WARNING its low; a CAUTION makes
no sound.
"""

from dataclasses import dataclass
from typing import Final

from station.core.alarms.sounding import Pattern

RISE_SHARE: Final = 0.15
"""Time from a tenth to nine tenths of the level, as a share of the pulse. IEC 60601-1-8: 10 to 20 %."""

HARMONICS_DB: Final = (0.0, -3.0, -4.0, -6.0, -8.0)
"""Levels of the fundamental and the next four. IEC 60601-1-8: at least four within 300 to 4000 Hz, within
15 dB of the fundamental; the levels are our own choice: rich enough to be heard over a compressor."""


@dataclass(frozen=True, slots=True)
class Burst:
    """One burst: pulses of `pulse_s` at `starts_s`, and silence until it comes again after `period_s`."""

    fundamental_hz: float
    level_db: float
    pulse_s: float
    starts_s: tuple[float, ...]
    period_s: float

    @property
    def length_s(self) -> float:
        """From the first rise to the last fall."""
        return self.starts_s[-1] + self.pulse_s


def _spaced(pulses: int, pulse_s: float, spacing_s: float) -> tuple[float, ...]:
    return tuple(number * (pulse_s + spacing_s) for number in range(pulses))


HIGH_PULSE_S: Final = 0.15
HIGH_SPACING_S: Final = 0.1
HIGH_GAP_S: Final = 0.8
"""Pulses of 75 to 200 ms, 50 to 125 ms apart; 350 to 1300 ms between the two fives. IEC 60601-1-8."""

HIGH_PAUSE_S: Final = 2.5
"""A burst again after 2.5 to 15 s. IEC 60601-1-8."""

MEDIUM_PULSE_S: Final = 0.2
MEDIUM_SPACING_S: Final = 0.2
MEDIUM_PAUSE_S: Final = 4.0
"""Pulses of 125 to 250 ms, as far apart; a burst again after 2.5 to 30 s (from memory, unverified)."""

LOW_PERIOD_S: Final = 30.0
"""A burst again after more than 15 s (from memory, unverified); 30 s is our own choice."""


def _five() -> tuple[float, ...]:
    """Three and two; between them the time of a pulse left out. IEC 60601-1-8; from memory, unverified."""
    step = HIGH_PULSE_S + HIGH_SPACING_S
    return (*_spaced(3, HIGH_PULSE_S, HIGH_SPACING_S), 4 * step, 5 * step)


def _ten() -> tuple[float, ...]:
    second = _five()[-1] + HIGH_PULSE_S + HIGH_GAP_S
    return (*_five(), *(second + start for start in _five()))


def _burst(hz: float, level_db: float, pulse_s: float, starts_s: tuple[float, ...], pause_s: float) -> Burst:
    return Burst(hz, level_db, pulse_s, starts_s, starts_s[-1] + pulse_s + pause_s)


BURSTS: Final = {
    Pattern.EMERGENCY: _burst(660.0, 0.0, HIGH_PULSE_S, _ten(), HIGH_PAUSE_S),
    Pattern.ALARM: _burst(
        523.0, -2.0, MEDIUM_PULSE_S, _spaced(3, MEDIUM_PULSE_S, MEDIUM_SPACING_S), MEDIUM_PAUSE_S
    ),
    Pattern.WARNING: Burst(
        392.0, -4.0, MEDIUM_PULSE_S, _spaced(2, MEDIUM_PULSE_S, MEDIUM_SPACING_S), LOW_PERIOD_S
    ),
}
"""Fundamentals within 150 to 1000 Hz (IEC 60601-1-8), lower for what is less grave; levels own choice."""

TEST_PAUSE_S: Final = 1.0
"""Between the bursts of a test: own choice."""

VOLUME_STEP_DB: Final = 2.0
"""Between two steps of the volume: own choice; the floor is 12 dB under full."""

RELAY_S: Final = {
    Pattern.EMERGENCY: (1.0, 0.5),
    Pattern.ALARM: (1.0, 4.0),
    Pattern.WARNING: (0.5, 29.5),
    Pattern.TEST: (1.0, 1.0),
}
"""Seconds for which a relay is shut, then open: own choice; a horn's relay is slower than a pulse."""
