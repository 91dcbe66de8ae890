"""A replay under somebody's hand: play, pause, speed, seek, from one alarm to the next."""

from typing import Final

from shared.clock import EPOCH, Instant, after, seconds_between
from station.core.state import State
from station.log.outline import Outline
from station.log.reading import LogReader
from station.pump import Decode
from station.replaying import Playback

SLOWEST: Final = 1.0
FASTEST: Final = 300.0
"""Speeds over real time that a replay may be asked for."""

BEFORE_ALARM_S: Final = 10.0
"""A jump to an alarm lands so long before it: own choice, to see it come."""


LONGEST_STEP_S: Final = 0.2
"""Real time that one step may stand for: a computer that cannot keep the speed plays slower, and answers."""


class Player:
    """Keeps the place in a log; the owner tells it how much real time went by and what was asked for."""

    def __init__(self, reader: LogReader, decode: Decode, outline: Outline, start: Instant) -> None:
        self._reader = reader
        self._decode = decode
        self._outline = outline
        self._playback = Playback(reader, decode, lambda *_: None, start)
        self._at = start
        self.speed = SLOWEST
        self.playing = True
        self.sought = 0

    @property
    def state(self) -> State:
        """The state at the place."""
        return self._playback.state

    @property
    def at(self) -> Instant:
        """The place."""
        return self._at

    def share(self, at: Instant) -> float:
        """An instant as a share of the whole log, 0 to 1."""
        ends_s = seconds_between(EPOCH, self._outline.ends)
        return min(1.0, seconds_between(EPOCH, at) / ends_s) if ends_s else 0.0

    def go_on(self, real_s: float) -> None:
        """So much real time has gone by since the last step."""
        if not self.playing:
            return
        played_s = min(real_s, LONGEST_STEP_S) * self.speed
        self._at = min(after(self._at, played_s), self._outline.ends)
        self._playback.play_until(Instant(self._at + 1))
        if self._playback.ended:
            self.playing = False

    def command(self, name: str, value: float) -> None:
        """Do what was asked for. Raises ValueError for what no replay can do."""
        match name:
            case "play":
                self.playing = not self._playback.ended
            case "pause":
                self.playing = False
            case "speed":
                self.speed = min(FASTEST, max(SLOWEST, value))
            case "seek":
                self.seek(Instant(round(min(1.0, max(0.0, value)) * self._outline.ends)))
            case "alarm_before":
                self.seek(self._alarm_before())
            case "alarm_after":
                self.seek(self._alarm_after())
            case _:
                raise ValueError(f"a replay cannot {name!r}")

    def seek(self, at: Instant) -> None:
        """Go to a place: from the last checkpoint before it, the rest played unseen."""
        self._playback = Playback(self._reader, self._decode, lambda *_: None, at)
        self._at = at
        self.sought += 1

    def _landings(self) -> list[Instant]:
        return [Instant(max(0, after(alarm.at, -BEFORE_ALARM_S))) for alarm in self._outline.alarms]

    def _alarm_before(self) -> Instant:
        return max((at for at in self._landings() if at < after(self._at, -1.0)), default=EPOCH)

    def _alarm_after(self) -> Instant:
        return min((at for at in self._landings() if at > self._at), default=self._at)
