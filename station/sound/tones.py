"""The patterns as PCM: whole periods of samples, to be played round and round."""

from functools import lru_cache
from typing import Final

import numpy as np
import numpy.typing as npt

from station.core.alarms.numbers import SOUND_TEST_S, VOLUME_FULL
from station.core.alarms.sounding import Pattern
from station.sound.patterns import BURSTS, HARMONICS_DB, RISE_SHARE, TEST_PAUSE_S, VOLUME_STEP_DB, Burst

SAMPLE_RATE_HZ: Final = 48_000
"""What sound devices take without converting; common practice, no source."""

PEAK: Final = 0.9
"""Highest sample of the loudest pattern at full volume; full scale is 1. Own choice."""

FULL_SCALE: Final = 32_767

Samples = npt.NDArray[np.float64]
Pcm = npt.NDArray[np.int16]


def amplitude_of(level_db: float) -> float:
    """The factor of a level in decibels."""
    return float(10.0 ** (level_db / 20.0))


def pulse(burst: Burst) -> Samples:
    """One pulse at its level: fundamental and harmonics under an envelope that rises and falls evenly."""
    count = round(burst.pulse_s * SAMPLE_RATE_HZ)
    at_s = np.arange(count) / SAMPLE_RATE_HZ
    wave = np.zeros(count)
    for number, level_db in enumerate(HARMONICS_DB, 1):
        wave += amplitude_of(level_db) * np.sin(2 * np.pi * number * burst.fundamental_hz * at_s)
    shaped = wave * envelope(count)
    loud: Samples = shaped / np.abs(shaped).max() * PEAK * amplitude_of(burst.level_db)
    return loud


def envelope(count: int) -> Samples:
    """Of `count` samples: an even ramp whose middle eight tenths take `RISE_SHARE`, the same down."""
    ramp = RISE_SHARE / 0.8 * count
    place = np.arange(count)
    return np.clip(np.minimum(place, count - 1 - place) / ramp, 0.0, 1.0)


def period(burst: Burst) -> Samples:
    """One burst with the silence after it."""
    one = pulse(burst)
    whole = np.zeros(round(burst.period_s * SAMPLE_RATE_HZ))
    for start_s in burst.starts_s:
        begin = round(start_s * SAMPLE_RATE_HZ)
        whole[begin : begin + len(one)] += one
    return whole


def every_burst() -> Samples:
    """Every pattern once, the gravest last, and silence to the end of a test."""
    pause = np.zeros(round(TEST_PAUSE_S * SAMPLE_RATE_HZ))
    parts: list[Samples] = []
    for pattern in (Pattern.WARNING, Pattern.ALARM, Pattern.EMERGENCY):
        burst = BURSTS[pattern]
        parts += [period(burst)[: round(burst.length_s * SAMPLE_RATE_HZ)], pause]
    rung = np.concatenate(parts)
    return np.pad(rung, (0, round(SOUND_TEST_S * SAMPLE_RATE_HZ) - len(rung)))


@lru_cache(maxsize=len(Pattern))
def pcm(pattern: Pattern) -> Pcm:
    """The samples of a pattern at full volume, one channel; none for silence. Not to be written to."""
    if pattern is Pattern.SILENT:
        made = np.zeros(0)
    else:
        made = every_burst() if pattern is Pattern.TEST else period(BURSTS[pattern])
    samples = np.round(made * FULL_SCALE).astype(np.int16)
    samples.flags.writeable = False
    return samples


def gain_of(volume: int) -> float:
    """The factor of a step of the volume."""
    return amplitude_of((volume - VOLUME_FULL) * VOLUME_STEP_DB)
