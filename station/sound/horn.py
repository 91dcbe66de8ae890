"""The horn's thread: follows the newest wish of the core. It blocks nobody, and no window can block it.

What it is told while it is busy is overwritten by what comes after: only the newest wish is of any use.
"""

from threading import Condition, Event, Thread
from typing import Final

from station.core.alarms.sounding import Pattern, Wish
from station.sound.annunciator import Annunciator, NoSound

LOOK_EVERY_S: Final = 1.0
"""How often the device is looked at when nothing changes: own choice."""

TRY_AGAIN_S: Final = 5.0
"""How long to wait before a device that could not be had is tried again: own choice."""

NOT_YET: Final = "the sound device has not answered yet"
ENDED: Final = "the horn's thread has ended by a mistake of the program"


class Horn:
    """One annunciator and its thread.

    `device` is what it is called, as long as it can be heard.
    """

    def __init__(self, annunciator: Annunciator, name: str) -> None:
        self._annunciator = annunciator
        self._changed = Condition()
        self._wish = Wish()
        self._closing = False
        self._tried = Event()
        self._trouble = NOT_YET
        self.device = ""
        self._thread = Thread(target=self._run, name=name, daemon=True)

    def start(self) -> None:
        """Begin to follow the wishes."""
        self._thread.start()

    def wait_tried(self, patience_s: float) -> bool:
        """Wait until the device has been tried once, no longer than `patience_s`."""
        return self._tried.wait(patience_s)

    @property
    def trouble(self) -> str:
        """Why it cannot be heard, "" when it can."""
        ended = self._tried.is_set() and not self._thread.is_alive() and not self._closing
        return ENDED if ended else self._trouble

    def wish(self, wish: Wish) -> None:
        """What should be heard from now on; never waits for the device."""
        with self._changed:
            if wish != self._wish:
                self._wish = wish
                self._changed.notify_all()

    def close(self, patience_s: float) -> None:
        """Be silent and end, no later than in `patience_s`: a device that hangs is left to the system."""
        with self._changed:
            self._closing = True
            self._changed.notify_all()
        self._thread.join(patience_s)

    def _run(self) -> None:
        while not self._closing:
            try:
                self.device = self._annunciator.open()
                self._trouble = ""
                self._tried.set()
                self._follow()
            except NoSound as error:
                self._trouble = str(error)
            finally:
                self._tried.set()
                self._annunciator.close()
            self._pause()

    def _pause(self) -> None:
        with self._changed:
            self._changed.wait_for(lambda: self._closing, TRY_AGAIN_S)

    def _follow(self) -> None:
        played: Wish | None = None
        while True:
            if self._closing:
                return
            wish = self._wish
            if wish != played:
                if played is None or heard(wish) != heard(played):
                    self._annunciator.play(*heard(wish)[:2])
                played = wish
            wait_s = self._annunciator.step()
            with self._changed:
                self._changed.wait_for(
                    lambda seen=played: self._closing or self._wish != seen,  # type: ignore[misc]
                    LOOK_EVERY_S if wait_s is None else min(wait_s, LOOK_EVERY_S),
                )


def heard(wish: Wish) -> tuple[Pattern, int, int]:
    """What is to be played, at which volume, begun when; nothing while the comms key is held."""
    if wish.dropped or wish.pattern is Pattern.SILENT:
        return Pattern.SILENT, wish.volume, 0
    return wish.pattern, wish.volume, wish.since
