"""Line faults do what they say, the same every time."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shared.wire.nmea0183 import MOST_BYTES, Sentence, feed
from simulators.line_faults import BYTE_KINDS, CHATTER, FILLER_BYTES, FaultKind, LineFault, spoil

# NMEA 0183 XDR sentence with its checksum worked out by hand elsewhere; not made by our encoder.
LINE = b"$YXXDR,P,2.34567,B,PNEUMO1,P,11.20,B,SUPPLY1,C,14.5,C,GAS*18\r\n"
SEEDS = st.integers(0, 2**31)
INSTANTS = st.integers(1, 10_000).map(lambda count: count * 100)


def _fault(kind: FaultKind, share: float = 1.0, bits: int = 1) -> LineFault:
    return LineFault(kind, "PNEUMO", 1000, 2000, share, bits)


def _sound(data: bytes) -> list[bytes]:
    """The sound sentences that a strict reader finds."""
    heard, _ = feed(b"", data + b"\r\n")
    return [sentence.data for sentence in heard if isinstance(sentence, Sentence)]


def test_a_fault_holds_from_its_start_up_to_its_end():
    """Start included, end not."""
    fault = _fault(FaultKind.SILENT)
    assert [fault.holds(at_ms) for at_ms in (900, 1000, 1900, 2000)] == [False, True, True, False]


@given(st.sampled_from(sorted(BYTE_KINDS)), SEEDS, INSTANTS)
def test_the_same_seed_spoils_the_same_way(kind: FaultKind, seed: int, at_ms: int):
    """Faults are a function of seed, line and instant."""
    assert spoil(_fault(kind), LINE, seed, at_ms) == spoil(_fault(kind), LINE, seed, at_ms)


@given(SEEDS, INSTANTS, st.integers(1, 64))
def test_garbling_flips_as_many_bits_as_it_says(seed: int, at_ms: int, bits: int):
    """The length stays, and exactly so many bits differ."""
    spoiled = spoil(_fault(FaultKind.GARBLE, bits=bits), LINE, seed, at_ms)
    assert len(spoiled) == len(LINE)
    assert sum((a ^ b).bit_count() for a, b in zip(spoiled, LINE, strict=True)) == bits


@given(SEEDS, INSTANTS)
def test_one_flipped_bit_is_never_taken_for_a_sound_sentence(seed: int, at_ms: int):
    """The exclusive or catches every single bit: a strict reader refuses it."""
    assert _sound(spoil(_fault(FaultKind.GARBLE), LINE, seed, at_ms)) == []


@given(SEEDS, INSTANTS)
def test_truncating_loses_the_end_of_the_sentence(seed: int, at_ms: int):
    """A true beginning of the sentence that a strict reader refuses."""
    spoiled = spoil(_fault(FaultKind.TRUNCATE), LINE, seed, at_ms)
    assert LINE.startswith(spoiled)
    assert 0 < len(spoiled) <= len(LINE) - 3
    assert _sound(spoiled) == []


@given(SEEDS, INSTANTS)
def test_an_over_long_sentence_passes_every_limit_without_an_end(seed: int, at_ms: int):
    """Longer than a reader takes, and without CR LF."""
    spoiled = spoil(_fault(FaultKind.OVER_LONG), LINE, seed, at_ms)
    assert len(spoiled) > FILLER_BYTES > MOST_BYTES
    assert b"\n" not in spoiled


@given(SEEDS, INSTANTS)
def test_foreign_chatter_leaves_the_sentence_whole(seed: int, at_ms: int):
    """Somebody else's bytes stand before ours, and ours is still found."""
    spoiled = spoil(_fault(FaultKind.FOREIGN), LINE, seed, at_ms)
    assert spoiled.removesuffix(LINE) in CHATTER
    assert LINE in _sound(spoiled)


def test_silence_says_nothing():
    """The line is there, its bytes are not."""
    assert spoil(_fault(FaultKind.SILENT), LINE, 1, 1000) == b""


@given(st.sampled_from(sorted(BYTE_KINDS)), SEEDS, INSTANTS)
def test_nothing_to_say_stays_nothing(kind: FaultKind, seed: int, at_ms: int):
    """A slice without a sentence cannot be spoiled."""
    assert spoil(_fault(kind), b"", seed, at_ms) == b""


def test_a_share_of_the_slices_is_hit():
    """With a share of 0.3 some 300 of 1,000 slices suffer, within four standard deviations."""
    fault = _fault(FaultKind.SILENT, share=0.3)
    hit = sum(spoil(fault, LINE, 1, at_ms) != LINE for at_ms in range(100, 100_100, 100))
    assert 300 - 58 <= hit <= 300 + 58


@pytest.mark.parametrize("kind", [FaultKind.FROZEN, FaultKind.PULLED])
def test_faults_of_gauge_and_cable_are_not_done_to_bytes(kind: FaultKind):
    """Asking for it is a mistake of ours."""
    with pytest.raises(ValueError, match="not done to bytes"):
        spoil(_fault(kind), LINE, 1, 1000)
