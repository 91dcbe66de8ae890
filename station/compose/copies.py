"""The copy of a real station's log on a second medium, and what is said of it."""

import sys
from collections.abc import Callable, Iterator
from pathlib import Path

from shared.clock import Instant
from station.core.inputs import StationFact
from station.log.copying import Copier
from station.log.journal import Journal


def copier_for(copy_to: str, journal: Journal, monotonic: Callable[[], float]) -> Copier | None:
    """The copier that the station file asks for, started; None where it asks for none. Raises LogFault."""
    if not copy_to:
        return None
    copier = Copier(journal, Path(copy_to).expanduser(), monotonic=monotonic)
    copier.start()
    return copier


class CopyTeller:
    """Says on standard error when the copy fails and when it is kept again; looked at like an observer."""

    def __init__(self, copier: Copier | None) -> None:
        self._copier = copier
        self._told = ""

    def __call__(self, _: Instant) -> Iterator[StationFact]:
        """Say what has changed; the watch itself is told nothing."""
        failure = "" if self._copier is None else self._copier.failure
        if bool(failure) is not bool(self._told):
            say = (
                f"the copy of the log is not kept: {failure}"
                if failure
                else "the copy of the log is kept again"
            )
            sys.stderr.write(f"overbottom: {say}\n")
        self._told = failure
        yield from ()


def tell_end(copier: Copier | None) -> None:
    """Bring the copy to the end of the closed log; says so where that fails."""
    if copier is not None and (failure := copier.close()):
        sys.stderr.write(f"overbottom: the copy of the log is not whole: {failure}\n")
