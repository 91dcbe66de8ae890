"""How the station looks at itself: each observer turns what it finds into facts when something changes."""

from collections.abc import Callable, Iterator
from typing import Protocol

from shared.clock import Instant
from station.core.inputs import StationFact, StationFactKind


class LogUnderWatch(Protocol):
    """What an observer asks of the journal."""

    @property
    def failure(self) -> str:
        """What the system said when the log could last not be written; empty when it could."""
        ...

    def oldest_waiting_s(self) -> float:
        """Seconds that the oldest record not yet committed has waited; 0 when none waits."""
        ...


class LogObserver:
    """Tells when the log falls behind, fails, and is durable again; each once."""

    def __init__(self, log: LogUnderWatch, behind_s: float) -> None:
        self._log = log
        self._behind_s = behind_s
        self._told: StationFactKind = StationFactKind.LOG_DURABLE

    def __call__(self, now: Instant) -> Iterator[StationFact]:
        """What has changed with the log since the last look."""
        waiting_s, failure = self._log.oldest_waiting_s(), self._log.failure
        found = self._found(waiting_s, failure)
        if found is not self._told:
            self._told = found
            durable = found is StationFactKind.LOG_DURABLE
            yield StationFact(now, found, None if durable else waiting_s, failure)

    def _found(self, waiting_s: float, failure: str) -> StationFactKind:
        if failure:
            return StationFactKind.LOG_FAILED
        return StationFactKind.LOG_BEHIND if waiting_s > self._behind_s else StationFactKind.LOG_DURABLE


class CopyUnderWatch(Protocol):
    """What an observer asks of the copier."""

    @property
    def failure(self) -> str:
        """What is wrong with the copy; empty while nothing is."""
        ...

    def behind_s(self) -> float:
        """Seconds that the copy has lacked something that the log holds; 0 when it lacks nothing."""
        ...


class CopyObserver:
    """Tells when the copy of the log fails or falls too far behind, and when it is kept again; each once."""

    def __init__(self, copy: CopyUnderWatch, behind_s: float) -> None:
        self._copy = copy
        self._behind_s = behind_s
        self._lost = False

    def __call__(self, now: Instant) -> Iterator[StationFact]:
        """What has changed with the copy since the last look."""
        behind_s, failure = self._copy.behind_s(), self._copy.failure
        lost = bool(failure) or behind_s > self._behind_s
        if lost is self._lost:
            return
        self._lost = lost
        if lost:
            yield StationFact(now, StationFactKind.COPY_LOST, behind_s, failure)
        else:
            yield StationFact(now, StationFactKind.COPY_KEPT)


class ClockObserver:
    """Tells when UTC jumps against station time."""

    def __init__(self, step_s: Callable[[], float | None]) -> None:
        self._step_s = step_s

    def __call__(self, now: Instant) -> Iterator[StationFact]:
        """The step since the last look, when there was one."""
        step_s = self._step_s()
        if step_s is not None:
            yield StationFact(now, StationFactKind.CLOCK_STEPPED, step_s)


class PanelsObserver:
    """Tells when the windows' process is lost, and when it is back."""

    def __init__(self, lost: Callable[[], bool]) -> None:
        self._lost = lost
        self._told = False

    def __call__(self, now: Instant) -> Iterator[StationFact]:
        """What has changed with the windows since the last look."""
        lost = self._lost()
        if lost is not self._told:
            self._told = lost
            yield StationFact(now, StationFactKind.PANELS_LOST if lost else StationFactKind.PANELS_BACK)
