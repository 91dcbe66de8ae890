"""The copy of a real station's log on a second medium, and what is said of it."""

import sys
from collections.abc import Callable
from pathlib import Path

from station.log.copying import BEHIND_S, Copier
from station.log.journal import Journal
from station.observing import CopyObserver


def copier_for(copy_to: str, journal: Journal, monotonic: Callable[[], float]) -> Copier | None:
    """The copier that the station file asks for, started; None where it asks for none. Raises LogFault."""
    if not copy_to:
        return None
    copier = Copier(journal, Path(copy_to).expanduser(), monotonic=monotonic)
    copier.start()
    return copier


def observers_of(copier: Copier | None) -> tuple[CopyObserver, ...]:
    """What looks at the copy, where there is one."""
    return () if copier is None else (CopyObserver(copier, BEHIND_S),)


def tell_end(copier: Copier | None) -> None:
    """Bring the copy to the end of the closed log; says so where that fails."""
    if copier is not None and (failure := copier.close()):
        sys.stderr.write(f"overbottom: the copy of the log is not whole: {failure}\n")
