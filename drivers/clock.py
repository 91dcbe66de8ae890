"""Station time from the computer's clocks: the only file that asks them.

Station time counts on where the computer sleeps, or a bottom time would come out short: on Linux it is
CLOCK_BOOTTIME. Other systems offer a clock that may stand still in suspend; there `counts_in_suspend` is
false and a step of the wall clock against station time has to be taken for a gap in the watch.
UTC is a label and moves when somebody sets it; it never moves station time.
"""

import sys
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from shared.clock import EPOCH, Instant
from shared.units import NS_PER_S

BOOT_ID_FILE: Final = Path("/proc/sys/kernel/random/boot_id")
"""Where Linux tells one run of the computer from another. random(4)."""


@dataclass(frozen=True, slots=True)
class Sources:
    """The clocks that station time and UTC are read from, in nanoseconds."""

    steady_ns: Callable[[], int]
    utc_ns: Callable[[], int]
    counts_in_suspend: bool


def computer() -> Sources:
    """The clocks of this computer."""
    if sys.platform != "linux":
        return Sources(time.monotonic_ns, time.time_ns, counts_in_suspend=False)
    return Sources(lambda: time.clock_gettime_ns(time.CLOCK_BOOTTIME), time.time_ns, counts_in_suspend=True)


class SystemClock:
    """Station time that runs by itself from `start`: the epoch, or later when a watch is resumed."""

    def __init__(self, start: Instant = EPOCH, sources: Sources | None = None) -> None:
        self._sources = sources or computer()
        self._steady_at_epoch_ns = self._sources.steady_ns() - start
        self.utc_at_start_ns = self._sources.utc_ns()
        self.counts_in_suspend = self._sources.counts_in_suspend

    def now(self) -> Instant:
        """The present instant."""
        return Instant(self._sources.steady_ns() - self._steady_at_epoch_ns)

    def utc_ns(self) -> int:
        """UTC as the computer has it, in nanoseconds since 1970."""
        return self._sources.utc_ns()


class StepWatch:
    """Notices when UTC jumps against station time."""

    def __init__(self, clock: SystemClock, least_step_s: float) -> None:
        self._clock = clock
        self._least_step_s = least_step_s
        self._offset_ns = self._utc_less_station_ns()

    def step_s(self) -> float | None:
        """Seconds by which UTC has jumped since it last jumped, forward positive; None when it has not.

        A jump is told once. Drift between the two clocks counts too: it is told when it has grown to more
        than the least step.
        """
        offset_ns = self._utc_less_station_ns()
        step_s = (offset_ns - self._offset_ns) / NS_PER_S
        if abs(step_s) <= self._least_step_s:
            return None
        self._offset_ns = offset_ns
        return step_s

    def _utc_less_station_ns(self) -> int:
        return self._clock.utc_ns() - self._clock.now()


def boot_id(file: Path = BOOT_ID_FILE) -> str:
    """What tells this run of the computer from any other; empty where the system does not say."""
    try:
        return file.read_text("ascii").strip()
    except FileNotFoundError:
        return ""
