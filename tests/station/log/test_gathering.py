"""When a batch falls due, and what it holds; by a clock that is only a number."""

from hashlib import sha256

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from station.core.inputs import Tick
from station.log.gathering import (
    BATCH_LIMIT_BYTES,
    BATCH_SPAN_S,
    Gathering,
    Waiting,
    WaitingArrival,
    WaitingCheckpoint,
    packed,
)
from station.log.records import CheckpointRecord, Position, contents_of, start_of


def _tick(seq: int, since_s: float = 0.0) -> WaitingArrival:
    return WaitingArrival(seq, b'["tick",%d]' % seq, since_s, seq)


def test_nothing_is_due_before_the_first_arrival() -> None:
    """An empty gathering, or one of derived records alone, never falls due."""
    gathering = Gathering()
    assert gathering.due_in_s(5.0) is None
    assert not gathering.add(Waiting(1, b"[]", 5.0))
    assert gathering.due_in_s(1000.0) is None
    assert not gathering.empty


def test_a_batch_is_due_a_tenth_of_a_second_after_its_first_arrival() -> None:
    """The first arrival sets the time; later ones do not put it off."""
    gathering = Gathering()
    assert gathering.add(_tick(1, since_s=10.0))
    assert not gathering.add(_tick(2, since_s=10.09))
    assert gathering.due_in_s(10.0) == pytest.approx(BATCH_SPAN_S)
    assert gathering.due_in_s(10.05) == pytest.approx(BATCH_SPAN_S / 2)
    assert gathering.due_in_s(10.0 + BATCH_SPAN_S) == 0.0
    assert gathering.due_in_s(11.0) == 0.0
    assert gathering.oldest_since_s == 10.0


def test_an_urgent_arrival_is_due_at_once() -> None:
    """An operator's event makes the batch due, and wakes the writer once."""
    gathering = Gathering()
    gathering.add(_tick(1, since_s=10.0))
    assert gathering.add(_tick(2, since_s=10.0), urgent=True)
    assert not gathering.add(_tick(3, since_s=10.0), urgent=True)
    assert gathering.due_in_s(10.0) == 0.0
    assert [one.seq for one in gathering.take()] == [1, 2, 3]
    assert gathering.due_in_s(10.0) is None
    assert gathering.oldest_since_s is None


def test_a_batch_that_has_grown_too_large_ends() -> None:
    """What does not fit into one batch stays, in order, and is due at once."""
    gathering = Gathering()
    large = b"x" * (BATCH_LIMIT_BYTES // 2)
    for seq in range(1, 6):
        gathering.add(WaitingArrival(seq, large, float(seq), seq))
    assert [one.seq for one in gathering.take()] == [1, 2]
    assert gathering.due_in_s(0.0) == 0.0
    assert gathering.oldest_since_s == 3.0
    assert [one.seq for one in gathering.take()] == [3, 4]
    assert [one.seq for one in gathering.take()] == [5]
    assert gathering.empty


def test_the_chain_is_computed_as_documented() -> None:
    """The digest of a batch, worked out here from the words of the documentation."""
    before = start_of(b"{}")
    assert before.chain == sha256(b"{}").digest()
    batch, states = packed((_tick(1), Waiting(1, b'[1,"digest","ab",[]]', 0.0), _tick(2)), before)
    arrivals, derived = b'[["tick",1],["tick",2]]', b'[[1,"digest","ab",[]]]'
    assert (batch.arrivals, batch.derived, states) == (arrivals, derived, ())
    assert (batch.n, batch.first_seq, batch.last_seq, batch.at_ns) == (1, 1, 2, 2)
    line = f"1 1 2 2 {len(arrivals)} {len(derived)}\n".encode()
    assert batch.chain == sha256(before.chain + line + arrivals + derived).digest()


def test_a_checkpoint_is_named_in_its_batch() -> None:
    """The digest of a checkpoint stands among the derived records, so that the chain covers it."""
    batch, states = packed((_tick(1), WaitingCheckpoint(1, b'{"seq":1}', 0.0, 7)), start_of(b"{}"))
    digest = sha256(b'{"seq":1}')
    assert contents_of(batch).derived == (CheckpointRecord(1, digest.hexdigest()),)
    assert [(one.seq, one.at_ns, one.body, one.digest) for one in states] == [
        (1, 7, b'{"seq":1}', digest.digest())
    ]


@settings(deadline=None)
@given(st.lists(st.integers(0, 10**15)), st.integers(0, 10**12), st.integers(0, 10**12))
def test_packed_arrivals_come_back(stamps: list[int], n: int, last_seq: int) -> None:
    """Arrivals come out of a batch with their numbers, and the batch bears the latest stamp so far."""
    before = Position(n, last_seq, 500, b"\x00" * 32)
    waiting = tuple(
        WaitingArrival(seq, b'["tick",%d]' % at, 0.0, at) for seq, at in enumerate(stamps, last_seq + 1)
    )
    batch, _ = packed(waiting, before)
    arrivals = contents_of(batch).arrivals
    assert [seq for seq, _ in arrivals] == list(range(last_seq + 1, last_seq + 1 + len(stamps)))
    assert [one.at for _, one in arrivals if isinstance(one, Tick)] == stamps
    assert batch.at_ns == max([500, *stamps])
