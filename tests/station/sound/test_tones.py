"""The tones against their published spans: pulses, spacing, rise, fundamental and harmonics.

Numbers: IEC 60601-1-8 as summarised in public notes; no conformity is claimed.
"""

from itertools import pairwise

import numpy as np
import pytest

from station.core.alarms.numbers import SOUND_TEST_S, VOLUME_FLOOR, VOLUME_FULL
from station.core.alarms.sounding import Pattern
from station.sound.patterns import BURSTS
from station.sound.tones import FULL_SCALE, SAMPLE_RATE_HZ, envelope, gain_of, pcm, pulse

# pulses, pulse length s, spacing s, seconds from the end of a burst (or its start, low) to the next
SPANS = {
    Pattern.EMERGENCY: (10, (0.075, 0.200), (0.050, 0.125), (2.5, 15.0)),
    Pattern.ALARM: (3, (0.125, 0.250), (0.125, 0.250), (2.5, 30.0)),
    Pattern.WARNING: (2, (0.125, 0.250), (0.125, 0.250), (15.0, 30.0)),
}
GAP_S = (0.350, 1.300)
FUNDAMENTAL_HZ, HARMONICS_HZ, WITHIN_DB = (150.0, 1000.0), (300.0, 4000.0), 15.0
SMALLEST = 0.002
each = pytest.mark.parametrize("pattern", SPANS)


def _loud(samples):
    """Begin and end in seconds of every stretch of sound; a hole of ten milliseconds ends one."""
    at = np.flatnonzero(np.abs(samples) > SMALLEST * FULL_SCALE)
    cuts = np.flatnonzero(np.diff(at) > 0.01 * SAMPLE_RATE_HZ)
    begins, ends = at[np.r_[0, cuts + 1]], at[np.r_[cuts, len(at) - 1]]
    return [(begin / SAMPLE_RATE_HZ, end / SAMPLE_RATE_HZ) for begin, end in zip(begins, ends, strict=True)]


def _holes(pulses):
    return [after[0] - before[1] for before, after in pairwise(pulses)]


@each
def test_pulses_are_as_many_and_as_long_as_published(pattern) -> None:
    """Counted in the samples themselves; the burst comes again within its span."""
    count, length_s, _, again_s = SPANS[pattern]
    samples = pcm(pattern)
    pulses = _loud(samples)
    assert len(pulses) == count
    assert all(length_s[0] <= end - begin <= length_s[1] for begin, end in pulses)
    whole_s = len(samples) / SAMPLE_RATE_HZ
    assert again_s[0] <= whole_s - pulses[-1][1] <= again_s[1] + 0.05


def test_an_emergency_is_three_and_two_twice() -> None:
    """Five and five with a gap; between three and two the time of a pulse left out."""
    holes = _holes(_loud(pcm(Pattern.EMERGENCY)))
    low, high = SPANS[Pattern.EMERGENCY][2]
    short = [place for place, hole in enumerate(holes) if low <= hole <= high + 0.01]
    assert short == [0, 1, 3, 5, 6, 8]
    assert GAP_S[0] <= holes[4] <= GAP_S[1]
    assert holes[2] == pytest.approx(holes[7], abs=0.005)
    assert high < holes[2] < holes[4]


@pytest.mark.parametrize("pattern", [Pattern.ALARM, Pattern.WARNING])
def test_lesser_pulses_are_evenly_spaced(pattern) -> None:
    """Spacing within its span."""
    low, high = SPANS[pattern][2]
    assert all(low <= hole <= high for hole in _holes(_loud(pcm(pattern))))


@each
def test_rise_takes_a_tenth_to_a_fifth_of_the_pulse(pattern) -> None:
    """From a tenth of the envelope to nine tenths, up as down."""
    count = len(pulse(BURSTS[pattern]))
    shape = envelope(count)
    rise = np.argmax(shape >= 0.9) - np.argmax(shape >= 0.1)
    assert 0.10 <= rise / count <= 0.20
    assert shape == pytest.approx(shape[::-1])
    assert (shape[0], shape.max()) == (0.0, 1.0)


@each
def test_fundamental_and_harmonics_stand_in_their_bands(pattern) -> None:
    """By the spectrum: the fundamental in 150 to 1000 Hz, four harmonics and more within 15 dB of it."""
    one = pulse(BURSTS[pattern])
    steady = one[len(one) // 4 : -len(one) // 4] * np.hanning(len(one[len(one) // 4 : -len(one) // 4]))
    spectrum = np.abs(np.fft.rfft(steady, 16 * len(steady)))
    hz = np.fft.rfftfreq(16 * len(steady), 1 / SAMPLE_RATE_HZ)

    def level_db(near_hz: float) -> float:
        near = np.abs(hz - near_hz) < 30.0
        return float(20 * np.log10(spectrum[near].max()))

    fundamental = BURSTS[pattern].fundamental_hz
    assert FUNDAMENTAL_HZ[0] <= fundamental <= FUNDAMENTAL_HZ[1]
    assert hz[spectrum.argmax()] == pytest.approx(fundamental, rel=0.02)
    found = [
        number
        for number in range(2, 12)
        if HARMONICS_HZ[0] <= number * fundamental <= HARMONICS_HZ[1]
        and abs(level_db(number * fundamental) - level_db(fundamental)) <= WITHIN_DB
    ]
    assert len(found) >= 4


def test_the_graver_is_louder_and_higher_and_nothing_clips() -> None:
    """Peaks below full scale, in the order of the priorities; an alarm is not mistaken for a warning."""
    order = [Pattern.EMERGENCY, Pattern.ALARM, Pattern.WARNING]
    peaks = [int(np.abs(pcm(pattern)).max()) for pattern in order]
    assert FULL_SCALE > peaks[0] > peaks[1] > peaks[2] > FULL_SCALE / 4
    tones = [BURSTS[pattern].fundamental_hz for pattern in order]
    assert tones == sorted(tones, reverse=True)
    assert len({len(_loud(pcm(pattern))) for pattern in order}) == 3


def test_a_test_is_every_pattern_once_and_fills_its_time() -> None:
    """Two pulses, three, ten; then silence to the end of the test, so that nothing begins again."""
    samples = pcm(Pattern.TEST)
    assert len(samples) == SOUND_TEST_S * SAMPLE_RATE_HZ
    assert len(_loud(samples)) == 2 + 3 + 10


def test_no_volume_is_silent() -> None:
    """The floor is 12 dB under full, every step louder than the one before."""
    gains = [gain_of(step) for step in range(VOLUME_FLOOR, VOLUME_FULL + 1)]
    assert gains == sorted(gains)
    assert (gains[-1], gains[0]) == (1.0, pytest.approx(10 ** (-12 / 20)))
    assert len(pcm(Pattern.SILENT)) == 0
