"""How this program starts a part of itself as a process of its own.

By `-P -m`, so that a foreign folder of the same name in the present folder is never imported instead.
"""

import subprocess
import sys
from typing import BinaryIO


class Simulator:
    """The simulator's process with the conductor's pipe."""

    def __init__(self, arguments: list[str]) -> None:
        self._process = subprocess.Popen(
            [sys.executable, "-P", "-m", "simulators", *arguments],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
        )

    @property
    def said(self) -> BinaryIO:
        """What the simulator says."""
        assert self._process.stdout is not None
        return self._process.stdout  # type: ignore[return-value]  # a buffered reader is a BinaryIO

    @property
    def told(self) -> BinaryIO:
        """What it is told."""
        assert self._process.stdin is not None
        return self._process.stdin  # type: ignore[return-value]  # a buffered writer is a BinaryIO

    def end(self) -> int:
        """Close the pipe and wait for the process; its exit status."""
        if not self.told.closed:
            self.told.close()
        self.said.close()
        return self._process.wait()
