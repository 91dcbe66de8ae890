"""Whether a batch holds where it stands: its number, its arrivals, its stamp, its digest, its contents."""

from collections.abc import Iterator
from itertools import pairwise

from station.core.inputs import Arrival, Tick
from station.log.fault import Check, Finding
from station.log.records import Batch, Contents, Position, chain_after


def misplaced(batch: Batch, before: Position) -> Iterator[Finding]:
    """What does not hold of a batch that follows `before`, without looking into it."""
    if batch.n != before.n + 1:
        yield _at(batch, Check.NUMBER, f"follows batch {before.n}: batches are missing or out of order")
    if batch.first_seq != before.last_seq + 1:
        yield _at(batch, Check.SEQUENCE, f"begins with arrival {batch.first_seq} after {before.last_seq}")
    if batch.last_seq < batch.first_seq - 1:
        yield _at(batch, Check.SEQUENCE, f"ends with arrival {batch.last_seq} before it begins")
    if batch.at_ns < before.at_ns:
        yield _at(batch, Check.STAMP, f"is stamped {batch.at_ns} ns after {before.at_ns} ns: time runs back")
    if batch.chain != chain_after(before.chain, batch):
        yield _at(batch, Check.CHAIN, "does not carry the digest of itself and what stands before it")


def inconsistent(contents: Contents, before: Position) -> Iterator[Finding]:
    """What does not hold of the contents of a batch that follows `before`."""
    batch = contents.batch
    latest = max((one.at for _, one in contents.arrivals), default=0)
    if batch.at_ns != max(before.at_ns, latest):
        yield _at(batch, Check.STAMP, f"is stamped {batch.at_ns} ns, its arrivals up to {latest} ns")
    yield from _ticks_back(batch, contents.arrivals)
    ahead = next((one.seq for one in contents.derived if not 0 < one.seq <= batch.last_seq), None)
    if ahead is not None:
        yield _at(batch, Check.SEQUENCE, f"holds a derived record of arrival {ahead}, which it cannot know")


def unreadable(batch: Batch, error: ValueError) -> Finding:
    """The finding that the contents of a batch cannot be read."""
    return _at(batch, Check.PACKING, f"cannot be read: {error}")


def _ticks_back(batch: Batch, arrivals: tuple[tuple[int, Arrival], ...]) -> Iterator[Finding]:
    """Lines may be told a moment late; the ticks are station time itself."""
    ticks = [(seq, one.at) for seq, one in arrivals if isinstance(one, Tick)]
    for (_, earlier), (seq, later) in pairwise(ticks):
        if later < earlier:
            sentence = f"batch {batch.n}: tick {seq} is at {later} ns after one at {earlier} ns"
            yield Finding(Check.STAMP, batch.n, seq, sentence)


def _at(batch: Batch, check: Check, what: str) -> Finding:
    where = f"batch {batch.n} (arrivals {batch.first_seq} to {batch.last_seq})"
    return Finding(check, batch.n, batch.first_seq, f"{where} {what}")
