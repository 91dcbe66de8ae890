"""The station's looks at itself: each change is told once."""

from dataclasses import dataclass

from shared.clock import EPOCH
from station.core.inputs import StationFactKind
from station.observing import ClockObserver, LogObserver, PanelsObserver

BEHIND_S = 2.0


@dataclass
class PretendLog:
    """A log whose waiting time and failure the test sets."""

    waiting_s: float = 0.0
    failure: str = ""

    def oldest_waiting_s(self):
        """Seconds that the oldest record waits."""
        return self.waiting_s


def kinds(observer):
    """What one look finds."""
    return [fact.kind for fact in observer(EPOCH)]


def test_log_behind_failed_and_durable_are_told_once_each():
    """Late, failed, written again: one fact a change, with the time it has waited and the reason."""
    log = PretendLog()
    observer = LogObserver(log, BEHIND_S)
    assert kinds(observer) == []
    log.waiting_s = BEHIND_S + 0.1
    assert kinds(observer) == [StationFactKind.LOG_BEHIND]
    assert kinds(observer) == []
    log.failure = "disk full"
    fact = next(iter(observer(EPOCH)))
    assert (fact.kind, fact.detail, fact.value) == (StationFactKind.LOG_FAILED, "disk full", log.waiting_s)
    log.failure, log.waiting_s = "", 0.0
    assert kinds(observer) == [StationFactKind.LOG_DURABLE]
    assert kinds(observer) == []


def test_clock_set_back_an_hour_is_told_with_its_step():
    """A step of the computer's clock is a fact with its seconds; no step is none."""
    steps = iter([None, -3600.0, None])
    observer = ClockObserver(lambda: next(steps))
    assert kinds(observer) == []
    fact = next(iter(observer(EPOCH)))
    assert (fact.kind, fact.value) == (StationFactKind.CLOCK_STEPPED, -3600.0)
    assert kinds(observer) == []


def test_windows_lost_and_back_are_told_once_each():
    """The windows' loss and return are facts."""
    answers = iter([False, True, True, False])
    observer = PanelsObserver(lambda: next(answers))
    assert [kinds(observer) for _ in range(4)] == [
        [],
        [StationFactKind.PANELS_LOST],
        [],
        [StationFactKind.PANELS_BACK],
    ]
