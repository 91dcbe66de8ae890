"""Pseudo-terminals and a watch on threads for the tests of the drivers."""

import os
import threading
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

import pytest


class Cable:
    """A pseudo-terminal under a name that stays: what a USB adapter is to a station."""

    def __init__(self, link: Path) -> None:
        self.link = link
        self.address = f"serial://{link}"
        self._ends: tuple[int, int] | None = None
        self.plug()

    def plug(self) -> None:
        """Put the cable in; the line may get another number."""
        import tty  # noqa: PLC0415 - not on Windows

        self._ends = os.openpty()
        tty.setraw(self._ends[1])
        self.link.symlink_to(os.ttyname(self._ends[1]))

    def pull(self) -> None:
        """Pull the cable; harmless when it is out."""
        with suppress(FileNotFoundError):
            self.link.unlink()
        for end in self._ends or ():
            os.close(end)
        self._ends = None

    def send(self, data: bytes) -> None:
        """The gauge speaks."""
        assert self._ends is not None
        assert os.write(self._ends[0], data) == len(data)

    @property
    def master(self) -> int:
        """The gauge's end, for a gauge that waits on it."""
        assert self._ends is not None
        return self._ends[0]

    def heard(self, count: int) -> bytes:
        """What the gauge was asked."""
        assert self._ends is not None
        return os.read(self._ends[0], count)


@pytest.fixture
def cable(tmp_path: Path) -> Iterator[Cable]:
    """One cable, plugged."""
    one = Cable(tmp_path / "gauge")
    yield one
    one.pull()


@pytest.fixture
def second_cable(tmp_path: Path) -> Iterator[Cable]:
    """Another cable, plugged."""
    other = Cable(tmp_path / "other-gauge")
    yield other
    other.pull()


@pytest.fixture(autouse=True)
def no_thread_is_left() -> Iterator[None]:
    """A test that leaves a thread running fails."""
    before = set(threading.enumerate())
    yield
    assert set(threading.enumerate()) <= before
