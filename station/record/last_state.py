"""The last state of a log: from its last checkpoint, the rest played; a long log takes no longer."""

from pathlib import Path

from station.core.state import State
from station.log.header import Header
from station.log.reading import LogReader
from station.pump import Decode
from station.replaying import Playback


def last_state(path: Path, decode: Decode) -> tuple[State, Header]:
    """The state at the end of a log, or where it is damaged, and its header. Raises LogFault."""
    with LogReader(path) as reader:
        checkpoint = reader.last_checkpoint()
        playback = (
            Playback(reader, decode, lambda *_: None)
            if checkpoint is None
            else Playback(reader, decode, lambda *_: None, checkpoint.at)
        )
        while not playback.ended:
            playback.step()
        return playback.state, reader.header
