"""A simulated gauge: range, lag, noise, resolution, pace, and its sentence."""

from dataclasses import replace
from statistics import fmean, stdev

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shared.gauges import Channel, XdrUnit
from shared.wire.nmea0183 import STANDARD_BYTES, Sentence, XdrGroup, feed, parse_xdr
from simulators.gauges import Dial, Instrument, group, measured, sentences
from simulators.truth.dive import BankMoment, DiverMoment, Moment

DEPTH = Instrument(
    line="PNEUMO",
    transducer="PNEUMO1",
    channel=Channel.DEPTH,
    subject="Diver 1",
    unit=XdrUnit.BAR,
    every_ms=200,
    low=0.0,
    high=250.0,
)


def _moment(at_ms: int, hose_fsw: float) -> Moment:
    return Moment(at_ms, (DiverMoment("Diver 1", 10.0, hose_fsw, 145.0),), (BankMoment("primary", 2000.0),))


def _shown(instrument: Instrument, hose_fsw: float) -> float:
    dial = Dial(instrument, seed=1)
    dial.follow(_moment(100, hose_fsw))
    return dial.read(100)


@pytest.mark.parametrize(
    ("channel", "subject", "value"),
    [(Channel.DEPTH, "Diver 1", 12.0), (Channel.SUPPLY, "Diver 1", 145.0), (Channel.BANK, "primary", 2000.0)],
)
def test_each_channel_measures_its_own(channel: Channel, subject: str, value: float):
    """Depth is the hose's upper end, supply the manifold, bank the flasks."""
    assert measured(replace(DEPTH, channel=channel, subject=subject), _moment(100, 12.0)) == value


def test_a_gauge_of_nobody_is_a_mistake():
    """A subject that the dive does not have is refused by name."""
    with pytest.raises(ValueError, match="PNEUMO1: no depth of 'Diver 9'"):
        measured(replace(DEPTH, subject="Diver 9"), _moment(100, 12.0))


def test_lag_follows_a_step_by_its_time_constant():
    """After one time constant 63.2 % of a step is shown, after three 95.0 %."""
    dial = Dial(replace(DEPTH, lag_s=1.0), seed=1)
    dial.follow(_moment(0, 0.0))
    shown = []
    for at_ms in range(100, 3001, 100):
        dial.follow(_moment(at_ms, 100.0))
        shown.append(dial.read(at_ms))
    assert shown[9] == pytest.approx(63.21, abs=0.01)
    assert shown[29] == pytest.approx(95.02, abs=0.01)


def test_noise_has_the_spread_it_is_given():
    """2,000 readings of 50 fsw with 0.2 fsw of noise: mean within 0.02, spread within 5 %."""
    dial = Dial(replace(DEPTH, noise=0.2), seed=1)
    dial.follow(_moment(0, 50.0))
    shown = [dial.read(at_ms) for at_ms in range(0, 200_000, 100)]
    assert fmean(shown) == pytest.approx(50.0, abs=0.02)
    assert stdev(shown) == pytest.approx(0.2, rel=0.05)


@given(st.floats(-50.0, 400.0))
def test_a_gauge_shows_steps_of_its_resolution_within_its_range(hose_fsw: float):
    """Half a step off at most, never outside the scale."""
    shown = _shown(replace(DEPTH, resolution=0.5), hose_fsw)
    assert 0.0 <= shown <= 250.0
    assert shown * 2.0 == round(shown * 2.0)
    if 0.0 <= hose_fsw <= 250.0:
        assert abs(shown - hose_fsw) <= 0.25


def test_a_gauge_that_is_off_is_put_right_by_its_calibration():
    """The true value is (shown - zero) * span, as a station file gives it."""
    shown = _shown(replace(DEPTH, zero=0.5, span=1.02), 51.0)
    assert shown == pytest.approx(50.5)
    assert (shown - 0.5) * 1.02 == pytest.approx(51.0)


def test_a_frozen_gauge_keeps_what_it_showed_last():
    """While frozen it repeats itself; afterwards it shows the pressure again."""
    dial = Dial(DEPTH, seed=1)
    dial.follow(_moment(100, 20.0))
    assert dial.read(100) == 20.0
    dial.follow(_moment(200, 30.0))
    assert dial.read(200, frozen=True) == 20.0
    assert dial.read(200) == 30.0


def test_a_gauge_speaks_at_its_own_pace():
    """Every 200 ms: at 200 and 400, not at 300."""
    dial = Dial(DEPTH, seed=1)
    assert [dial.due(at_ms) for at_ms in (100, 200, 300, 400)] == [False, True, False, True]


def test_a_dial_that_followed_nothing_cannot_be_read():
    """Reading before the first pressure is a mistake of ours."""
    with pytest.raises(ValueError, match="PNEUMO1"):
        Dial(DEPTH, seed=1).read(100)


@pytest.mark.parametrize(
    ("channel", "unit", "shown", "text"),
    [
        # 0.445 psi per fsw x 6894.757 Pa per psi: 33 fsw are 1.01249 bar, 10 fsw are 30682 Pa.
        (Channel.DEPTH, XdrUnit.BAR, 33.0, "1.01250"),
        (Channel.DEPTH, XdrUnit.PASCAL, 10.0, "30682"),
        # 1 psi = 0.0689476 bar. NIST Special Publication 811 (2008), appendix B.8.
        (Channel.SUPPLY, XdrUnit.BAR, 100.0, "6.89476"),
        (Channel.BANK, XdrUnit.PASCAL, 1.0, "6895"),
        (Channel.DEPTH, XdrUnit.BAR, -1e-9, "0.00000"),
    ],
)
def test_values_go_out_in_the_unit_of_the_line(channel: Channel, unit: XdrUnit, shown: float, text: str):
    """Bar with five decimals, pascal with none, and no minus nought."""
    letter = {XdrUnit.BAR: "B", XdrUnit.PASCAL: "P"}[unit]
    assert group(replace(DEPTH, channel=channel, unit=unit), shown) == XdrGroup("P", text, letter, "PNEUMO1")


@given(st.lists(st.floats(0.0, 3000.0), max_size=12))
def test_groups_of_a_line_go_out_in_order_in_sentences_of_the_standards_length(values: list[float]):
    """Every group comes back, in order, and no sentence is longer than 82 bytes."""
    groups = tuple(
        group(replace(DEPTH, transducer=f"GAUGE{count}"), value) for count, value in enumerate(values)
    )
    heard, pending = feed(b"", sentences(groups))
    assert pending == b""
    told = []
    for sentence in heard:
        assert isinstance(sentence, Sentence)
        assert len(sentence.data) <= STANDARD_BYTES
        parsed = parse_xdr(sentence)
        assert isinstance(parsed, tuple)
        told += parsed
    assert tuple(told) == groups
