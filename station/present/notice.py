"""Why the last act was not taken: shown for a while, or until something is taken."""

from dataclasses import dataclass
from typing import Final

from shared.clock import EPOCH, Instant, seconds_between
from station.core.facts import Fact, MarkAmended, MarkTaken, Refused
from station.core.state import State

SHOWN_FOR_S: Final = 10.0
"""Long enough to be read twice: own choice."""


@dataclass(slots=True)
class Notice:
    """The reason of the last refusal, as long as it is worth saying."""

    text: str = ""
    since: Instant = EPOCH

    def hear(self, state: State, fact: Fact) -> None:
        """A refusal is told; a mark that is taken ends the telling."""
        match fact:
            case Refused(reason=reason):
                self.text, self.since = reason, state.now
            case MarkTaken() | MarkAmended():
                self.text = ""
            case _:
                pass

    def at(self, state: State) -> str:
        """What is to be said now, "" when nothing is."""
        return self.text if seconds_between(self.since, state.now) < SHOWN_FOR_S else ""
