"""One hand on a log: a lock beside the file, given back by the system when its holder dies."""

import os
import sys
from pathlib import Path

from station.log.fault import LogFault

if sys.platform == "win32":
    import msvcrt

    def _lock(descriptor: int) -> None:
        msvcrt.locking(descriptor, msvcrt.LK_NBLCK, 1)

else:
    import fcntl

    def _lock(descriptor: int) -> None:
        fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)


class Hold:
    """The right to write into one log, held until `release`.

    The lock lies on a file of its own: SQLite's locks on the log would be lost with any other handle on it.
    """

    def __init__(self, path: Path) -> None:
        """Take the right, or raise LogFault when another program has it or it cannot be had."""
        self._beside = Path(f"{path}.lock")
        try:
            self._descriptor = os.open(self._beside, os.O_CREAT | os.O_RDWR, 0o644)
        except OSError as error:
            raise LogFault(path, f"cannot be written: {self._beside.name}: {error.strerror}") from error
        try:
            _lock(self._descriptor)
        except OSError as error:
            os.close(self._descriptor)
            raise LogFault(path, "is being written by another program") from error

    def release(self) -> None:
        """Give the right back; a second time does nothing."""
        if self._descriptor >= 0:
            os.close(self._descriptor)
            self._descriptor = -1
