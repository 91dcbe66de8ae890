"""The simulator's end of the conductor's pipe: a slice is written, granted, taken; then the next.

No clock: the station paces the rehearsal by its answers.
"""

from typing import BinaryIO

from shared.conductor import Grant, Message, Opened, Ready, Taken, decode, encode
from simulators.handheld import Slice, slices
from simulators.lines import Lines
from simulators.scenario import Scenario
from simulators.truth_record import TruthRecord


class StationGone(Exception):  # noqa: N818 - not an error: the rehearsal is over
    """The station has closed its end of the pipe."""


class ProtocolBroken(Exception):  # noqa: N818 - what happened, in words
    """The station said something that has no place here; the message says what."""


class Rehearsal:
    """One scenario, spoken on lines, kept in step over a pipe."""

    def __init__(
        self, scenario: Scenario, lines: Lines, from_station: BinaryIO, to_station: BinaryIO
    ) -> None:
        self._scenario = scenario
        self._lines = lines
        self._from = from_station
        self._to = to_station
        self._known = tuple(line.port for line in scenario.lines)
        self._laid: set[str] = set()
        self._open: set[str] = set()

    def run(self, truth: TruthRecord | None = None) -> None:
        """From `Ready` to the last `Taken`.

        Raises StationGone when the pipe closes before, ProtocolBroken for a message out of place, and
        LineTrouble when a line's reader does not read.
        """
        self._say(self._ready())
        while self._open != self._laid:
            self._take_opened(self._hear())
        for piece in slices(self._scenario):
            if truth is not None:
                truth.add(piece.moment)
            self._say(self._speak(piece))
            self._wait_taken(piece.at_ms)

    def _ready(self) -> Ready:
        return Ready(
            scenario=self._scenario.name,
            station_file=str(self._scenario.station_file),
            starts_utc=self._scenario.starts_utc,
            ends_s=self._scenario.end_ms / 1000.0,
            lines={port: self._lay(port) for port in self._known},
        )

    def _speak(self, piece: Slice) -> Grant:
        """Pull, restore and write what the slice has; the grant that tells the station so."""
        for port in piece.pulled:
            self._lines.pull(port)
            self._laid.discard(port)
            self._open.discard(port)
        restored = {port: self._lay(port) for port in piece.restored}
        # What a gauge says on a line that nobody has opened is lost, as on a real one.
        heard = {port: data for port, data in piece.sent.items() if port in self._open}
        for port, data in heard.items():
            self._lines.write(port, data)
        return Grant(
            at_ms=piece.at_ms,
            sent={port: len(data) for port, data in heard.items()},
            pulled=piece.pulled,
            restored=restored,
            presses=piece.presses,
            pictures=piece.pictures,
            done=piece.done,
        )

    def _lay(self, port: str) -> str:
        address = self._lines.lay(port)
        self._laid.add(port)
        return address

    def _wait_taken(self, at_ms: int) -> None:
        message = self._hear()
        while not isinstance(message, Taken):
            self._take_opened(message)
            message = self._hear()
        if message.at_ms != at_ms:
            raise ProtocolBroken(f"{message.at_ms} ms taken, but {at_ms} ms was granted")

    def _take_opened(self, message: Message) -> None:
        if not isinstance(message, Opened):
            raise ProtocolBroken(f"{message!r} has no place here")
        for port in message.lines:
            if port not in self._known:
                raise ProtocolBroken(f"{port} is said to be open, but there is no such line")
            # It may have been pulled while the message was on its way.
            if port in self._laid:
                self._lines.opened(port)
                self._open.add(port)

    def _hear(self) -> Message:
        line = self._from.readline()
        # A line without its end was cut short by the station's own.
        if not line.endswith(b"\n"):
            raise StationGone
        try:
            return decode(line)
        except ValueError as error:
            raise ProtocolBroken(str(error)) from error

    def _say(self, message: Message) -> None:
        try:
            self._to.write(encode(message))
            self._to.flush()
        except BrokenPipeError:
            raise StationGone from None
