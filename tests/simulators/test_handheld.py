"""A whole rehearsal as bytes, slice by slice, without a process."""

from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shared.wire.nmea0183 import Sentence, feed, parse_xdr
from simulators.handheld import Slice, slices
from simulators.scenario_file import find_scenario, read_scenario

Written = Callable[..., Path]
PNEUMO, SUPPLY = "rehearsal://PNEUMO", "rehearsal://SUPPLY"


def _run(path: Path, seed: int | None = None) -> list[Slice]:
    return list(slices(read_scenario(path, seed)))


def _spoken(run: list[Slice], port: str) -> bytes:
    return b"".join(piece.sent.get(port, b"") for piece in run)


def test_slices_run_from_the_first_to_the_end(small_scenario: Written):
    """Three seconds are thirty slices of 100 ms, and only the last is done."""
    run = _run(small_scenario())
    assert [piece.at_ms for piece in run] == list(range(100, 3001, 100))
    assert [piece.at_ms for piece in run if piece.done] == [3000]
    assert all(piece.moment.at_ms == piece.at_ms for piece in run)


def test_presses_and_pictures_come_in_their_slice(small_scenario: Written):
    """The mark at 0.2 s, the picture at 2.5 s, each once."""
    run = _run(small_scenario())
    assert [(piece.at_ms, piece.presses[0]["kind"]) for piece in run if piece.presses] == [
        (200, "left_surface")
    ]
    assert [(piece.at_ms, piece.pictures) for piece in run if piece.pictures] == [(2500, ("under",))]


def test_gauges_speak_at_their_own_pace_and_tell_the_truth(small_scenario: Written):
    """Ten sentences a second and two; the supply without noise is the true one to a pascal."""
    run = _run(small_scenario({"noise_fsw = 0.1": "noise_fsw = 0"}))
    assert len([piece for piece in run if SUPPLY in piece.sent]) == 6
    told = feed(b"", run[4].sent[SUPPLY])[0][0]
    assert isinstance(told, Sentence)
    (group,) = parse_xdr(told)
    true_pa = run[4].moment.divers[0].supply_psig * 6894.757
    assert float(group.text) == pytest.approx(true_pa, abs=1.0)


def test_a_pulled_line_is_dumb_until_after_it_is_restored(small_scenario: Written):
    """Pulled in the slice to 1.0 s, restored in that to 2.0 s, and speaking from 2.1 s on."""
    run = _run(small_scenario())
    assert [piece.at_ms for piece in run if piece.pulled == (PNEUMO,)] == [1000]
    assert [piece.at_ms for piece in run if piece.restored == (PNEUMO,)] == [2000]
    assert [piece.at_ms for piece in run if PNEUMO in piece.sent] == [
        *range(100, 1000, 100),
        *range(2100, 3001, 100),
    ]


def test_a_cable_that_is_out_at_the_end_stays_out(small_scenario: Written):
    """A pull without an end of its own is never restored."""
    run = _run(small_scenario({"to_s = 2\n": "\n"}))
    assert not any(piece.restored for piece in run)
    assert [piece.at_ms for piece in run if PNEUMO in piece.sent][-1] == 900


def test_a_frozen_line_repeats_sound_sentences(small_scenario: Written):
    """The same bytes again and again while it is frozen, with noise and a descent going on."""
    run = _run(small_scenario({'kind = "pulled"': 'kind = "frozen"'}))
    frozen = {piece.sent[PNEUMO] for piece in run if 900 <= piece.at_ms < 2000}
    moving = {piece.sent[PNEUMO] for piece in run if piece.at_ms >= 2000}
    assert len(frozen) == 1
    assert len(moving) > 5


def test_a_slow_line_carries_a_sentence_in_pieces_and_loses_none_of_it(small_scenario: Written):
    """At 2400 baud 24 bytes go in a slice: each sentence of 31 bytes is torn, and whole again."""
    slow = {'name = "PNEUMO"': 'name = "PNEUMO"\nbaud = 2400', "[[fault]]": "[[fault]]\nshare = 1.0"}
    run = _run(small_scenario(slow))
    assert max(len(piece.sent.get(PNEUMO, b"")) for piece in run) == 24
    heard, _ = feed(b"", b"".join(piece.sent.get(PNEUMO, b"") for piece in run if piece.at_ms < 1000))
    assert len(heard) == 4
    assert all(isinstance(sentence, Sentence) for sentence in heard)


@settings(max_examples=15, deadline=None)
@given(st.integers(0, 2**63 - 1))
def test_the_same_seed_gives_the_same_bytes_twice(seed: int):
    """Every fault and all the noise: two runs are equal, slice by slice, truth included."""
    scenario = find_scenario("line_trouble")
    some = 600
    first, second = slices(read_scenario(scenario, seed)), slices(read_scenario(scenario, seed))
    assert [next(first) for _ in range(some)] == [next(second) for _ in range(some)]


def test_another_seed_gives_other_bytes(small_scenario: Written):
    """The noise is another, the presses are not."""
    path = small_scenario()
    one, other = _run(path, 1), _run(path, 2)
    assert _spoken(one, PNEUMO) != _spoken(other, PNEUMO)
    assert [piece.presses for piece in one] == [piece.presses for piece in other]


def test_a_fault_on_one_line_changes_nothing_on_another(small_scenario: Written):
    """Chance is by place: silence on one line leaves the other's bytes as they were."""
    plain = _run(small_scenario())
    silent = _run(small_scenario({'kind = "pulled"': 'kind = "silent"'}))
    assert _spoken(plain, SUPPLY) == _spoken(silent, SUPPLY)
    assert _spoken(plain, PNEUMO) != _spoken(silent, PNEUMO)
