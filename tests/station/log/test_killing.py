"""Kill -9 in the midst of writing: what was confirmed is there, and the log goes on where it ended."""

import subprocess
import sys
from itertools import islice
from pathlib import Path

import pytest

from station.core.inputs import OperatorEvent, Remark, Tick
from station.log.integrity import check
from station.log.reading import LogReader
from station.log.resuming import is_unfinished, look_at

CHILD = Path(__file__).with_name("writing_child.py")
KILLS = 12


def _confirmed_before_the_kill(path: Path, lines: int) -> int:
    """Let a writer confirm so many pairs, kill it while it goes on, and give the last it confirmed."""
    child = subprocess.Popen(
        [sys.executable, "-P", str(CHILD), str(path), "1000000"], stdout=subprocess.PIPE, text=True
    )
    assert child.stdout is not None
    seen = [int(line) for line in islice(child.stdout, lines)]
    child.kill()
    # A number that was cut off by the kill is none.
    rest = [int(line) for line in child.stdout if line.endswith("\n")]
    child.stdout.close()
    assert child.wait(60) != 0
    assert len(seen) == lines, "the writer ended before it was killed"
    return (seen + rest)[-1]


@pytest.mark.slow
def test_killed_writers_lose_nothing_that_was_confirmed(tmp_path: Path) -> None:
    """A dozen kills on one log: no confirmed arrival lost, no half batch, one chain from first to last."""
    path = tmp_path / "day.log"
    for turn in range(KILLS):
        confirmed = _confirmed_before_the_kill(path, lines=1 + 7 * turn)
        with LogReader(path) as reader:
            arrivals = list(reader.arrivals())
            assert reader.fault is None
        assert [seq for seq, _ in arrivals] == list(range(1, len(arrivals) + 1))
        assert len(arrivals) >= confirmed
        assert check(path).sound
        assert is_unfinished(path)
        for seq, arrival in arrivals:
            assert arrival.at == seq
            assert isinstance(arrival, Tick | OperatorEvent)
            if isinstance(arrival, OperatorEvent):
                assert arrival.act == Remark("", f"remark {seq}")
    left = look_at(path)
    assert left.checkpoint is not None
    assert left.end.last_seq == left.checkpoint.seq + len(left.tail)
