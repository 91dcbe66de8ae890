"""Line-pull signals: what a pull means in the code in force, and whether it was given back.

The code is data: a local one takes the place of ours. Take out slack, pull sharply, the other side repeats;
not answered: sent again; still none: the line is fouled or slack, or the diver is in trouble.
USN Diving Manual Rev 4 Change A, p. 8-24.
"""

from dataclasses import dataclass, replace
from enum import StrEnum

from shared.clock import Instant, seconds_between
from station.prepare.numbers import REPEAT_BACK_S, SENDINGS


class Giver(StrEnum):
    """Who pulls."""

    TENDER = "tender"
    DIVER = "diver"
    EITHER = "either"


class Answer(StrEnum):
    """How a signal is answered."""

    REPEAT = "repeat"  # pulled back at once
    ACT = "act"  # answered by doing it: the diver's wish to be hauled up
    WHEN_READY = "when_ready"  # the diver repeats when he is ready to come


@dataclass(frozen=True, slots=True)
class Signal:
    """One row of a code: pulls in groups ("2-1"), what they mean, how they are answered.

    `searching` rows hold while searching signals are on. `urgent` opens an emergency card.
    """

    pulls: str
    giver: Giver
    means: str
    answer: Answer = Answer.REPEAT
    searching: bool = False
    urgent: bool = False


@dataclass(frozen=True, slots=True)
class SignalCode:
    """A code with its source. `switches` are the pulls that turn searching signals on and off."""

    key: str
    title: str
    source: str
    stands_above: str
    signals: tuple[Signal, ...]
    switches: str = ""


@dataclass(frozen=True, slots=True)
class BringCode:
    """The code of signals that holds today."""

    code: SignalCode


@dataclass(frozen=True, slots=True)
class GivePull:
    """A signal was given on a diver's line."""

    diver: str
    pulls: str
    from_diver: bool


@dataclass(frozen=True, slots=True)
class Exchange:
    """What is going on on one diver's line: the signal that waits for its answer.

    `sent` counts sendings; `answered_at` None: not given back yet.
    """

    diver: str
    pulls: str
    from_diver: bool
    given_at: Instant
    sent: int = 1
    answered_at: Instant | None = None
    searching: bool = False


class LineStanding(StrEnum):
    """How the line stands."""

    QUIET = "quiet"
    WAITING = "waiting"
    SEND_AGAIN = "send_again"
    NO_ANSWER = "no_answer"  # fouled, slack, or the diver is in trouble


def meaning(code: SignalCode, pulls: str, *, from_diver: bool, searching: bool = False) -> Signal | None:
    """The row of a code for these pulls, None when it has none; a searching row stands before a plain one."""
    giver = Giver.DIVER if from_diver else Giver.TENDER
    rows = [
        row
        for row in code.signals
        if row.pulls == pulls and row.giver in (giver, Giver.EITHER) and (searching or not row.searching)
    ]
    return max(rows, key=lambda row: row.searching, default=None)


def take_pull(code: SignalCode, before: Exchange | None, act: GivePull, at: Instant) -> Exchange:
    """The line after a signal: an answer to the one that waits, the same one sent again, or a new one."""
    searching = before is not None and before.searching
    if before is not None and before.answered_at is None and before.pulls == act.pulls:
        if before.from_diver != act.from_diver:
            switched = act.pulls == code.switches
            return replace(before, answered_at=at, searching=before.searching != switched)
        return replace(before, given_at=at, sent=before.sent + 1)
    return Exchange(act.diver, act.pulls, act.from_diver, at, searching=searching)


def line_standing(code: SignalCode, line: Exchange | None, now: Instant) -> LineStanding:
    """How a line stands at `now`; only a tender's signal that asks for a repeat is waited for.

    What the diver gives is answered by the deck, which the window shows as due at once.
    """
    if line is None or line.answered_at is not None:
        return LineStanding.QUIET
    row = meaning(code, line.pulls, from_diver=line.from_diver, searching=line.searching)
    if row is not None and row.answer is not Answer.REPEAT:
        return LineStanding.QUIET
    if seconds_between(line.given_at, now) < REPEAT_BACK_S:
        return LineStanding.WAITING
    return LineStanding.SEND_AGAIN if line.sent < SENDINGS else LineStanding.NO_ANSWER
