"""The windows of one run: a process of their own, or none."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from station.core.inputs import Act
from station.core.state import State
from station.present.looks import Mode
from station.present.status import LogLine
from station.pump import Publish


class Windows:
    """What the pump's listeners and the conductor ask of the windows."""

    listener: Publish | None = None

    @staticmethod
    def wanted(
        mode: Mode, *, on_screen: bool, pictures: Path | None, log: Callable[[], LogLine]
    ) -> "Windows":
        """The windows that were asked for."""
        return Windows()

    def lost(self) -> bool:
        """Whether their process has ended by itself."""
        return False

    def picture(self, name: str) -> None:
        """Save the windows under a name."""

    @contextmanager
    def opened(
        self, first: State, press: Callable[[str, int, Act], None], closed: Callable[[], None]
    ) -> Iterator[None]:
        """The windows' process, for as long as the run lasts."""
        yield
