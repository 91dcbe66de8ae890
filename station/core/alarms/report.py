"""How the alarms of a dive behaved: a pure count over the facts of its log, for the record.

The figures are those that ISA-18.2-2016, section 16, asks for (read in a summary). They are meant for thirty
days of a plant; over one dive they tell what to mend, not how good a station is.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from statistics import median

from shared.clock import Instant, seconds_between
from station.core.alarms.numbers import (
    CHATTER_RAISES,
    CHATTER_WINDOW_S,
    FLOOD_BEGINS_ABOVE,
    FLOOD_ENDS_BELOW,
    FLOOD_WINDOW_S,
    NEVER_SEEN,
    STALE_AFTER_S,
)
from station.core.facts import AlarmChanged, AlarmEscalated, Fact
from station.core.state import Priority, Span, Standing


@dataclass(frozen=True, slots=True)
class RaisedOnce:
    """One occurrence of an alarm; what never happened is None. `shelved_at`: put aside, by whatever way."""

    id: str
    subject: str
    priority: Priority
    raised_at: Instant
    acknowledged_at: Instant | None = None
    returned_at: Instant | None = None
    shelved_at: Instant | None = None

    @property
    def ends_at(self) -> Instant | None:
        """When it held no longer, as far as anybody was told."""
        return self.returned_at if self.returned_at is not None else self.shelved_at


@dataclass(frozen=True, slots=True)
class Answer:
    """How long alarms of a priority waited to be seen, in seconds; None where none was."""

    priority: Priority
    seen: int
    not_seen: int
    median_s: float | None
    longest_s: float | None


@dataclass(frozen=True, slots=True)
class Flood:
    """Too many raises in ten minutes: when, and the most that stood in one such window."""

    span: Span
    most: int


@dataclass(frozen=True, slots=True)
class AlarmReport:
    """The alarms of a stretch of a watch. Counts are of raises; `per_hour` leaves cautions out.

    `chattering` and `stale` name alarms as (id, subject); `escalated` and `put_aside` count how often.
    """

    counts: tuple[tuple[Priority, int], ...]
    per_hour: float | None
    answers: tuple[Answer, ...]
    chattering: tuple[tuple[str, str], ...]
    stale: tuple[tuple[str, str], ...]
    floods: tuple[Flood, ...]
    escalated: int
    put_aside: int


def alarm_report(facts: Iterable[Fact], begin: Instant, end: Instant) -> AlarmReport:
    """The report of the facts between two instants, both counted in; facts in the order of the log."""
    told = [
        fact for fact in facts if isinstance(fact, AlarmChanged | AlarmEscalated) and begin <= fact.at <= end
    ]
    raised = occurrences(fact for fact in told if isinstance(fact, AlarmChanged))
    heard = sorted(each.raised_at for each in raised if each.priority not in NEVER_SEEN)
    hours = seconds_between(begin, end) / 3600
    return AlarmReport(
        tuple((priority, sum(each.priority is priority for each in raised)) for priority in Priority),
        len(heard) / hours if hours > 0 else None,
        tuple(_answer(raised, priority) for priority in Priority if priority not in NEVER_SEEN),
        _named(raised, chattering(raised)),
        _named(raised, [each for each in raised if _is_stale(each, end)]),
        floods(heard, end),
        sum(isinstance(fact, AlarmEscalated) for fact in told),
        sum(each.shelved_at is not None for each in raised),
    )


def occurrences(facts: Iterable[AlarmChanged]) -> list[RaisedOnce]:
    """Every occurrence of every alarm, in the order of the raises."""
    found: list[RaisedOnce] = []
    place: dict[tuple[str, str], int] = {}
    for fact in facts:
        named = (fact.id, fact.subject)
        if fact.standing is Standing.UNACKNOWLEDGED:
            place[named] = len(found)
            found.append(RaisedOnce(fact.id, fact.subject, fact.priority, fact.at))
        elif named in place:
            found[place[named]] = _moved(found[place[named]], fact)
    return found


def _moved(run: RaisedOnce, fact: AlarmChanged) -> RaisedOnce:
    acknowledged, returned, shelved = run.acknowledged_at, run.returned_at, run.shelved_at
    match fact.standing:
        case Standing.ACKNOWLEDGED:
            acknowledged = fact.at
        case Standing.RETURNED:
            returned = fact.at
        case Standing.NORMAL if returned is not None:
            acknowledged = fact.at  # back to normal was known; now it was seen as well
        case Standing.NORMAL:
            returned = fact.at
        case _:
            shelved = fact.at if shelved is None else shelved
    return RaisedOnce(run.id, run.subject, run.priority, run.raised_at, acknowledged, returned, shelved)


def _answer(raised: list[RaisedOnce], priority: Priority) -> Answer:
    own = [each for each in raised if each.priority is priority]
    waited_s = [
        seconds_between(each.raised_at, each.acknowledged_at)
        for each in own
        if each.acknowledged_at is not None
    ]
    return Answer(
        priority,
        len(waited_s),
        len(own) - len(waited_s),
        median(waited_s) if waited_s else None,
        max(waited_s, default=None),
    )


def chattering(raised: list[RaisedOnce]) -> list[RaisedOnce]:
    """The raises with which an alarm had come three times within a minute."""
    by_name: dict[tuple[str, str], list[RaisedOnce]] = {}
    for each in raised:
        by_name.setdefault((each.id, each.subject), []).append(each)
    return [
        own[place]
        for own in by_name.values()
        for place in range(CHATTER_RAISES - 1, len(own))
        if seconds_between(own[place - CHATTER_RAISES + 1].raised_at, own[place].raised_at)
        <= CHATTER_WINDOW_S
    ]


def _is_stale(each: RaisedOnce, end: Instant) -> bool:
    until = end if each.ends_at is None else each.ends_at
    return seconds_between(each.raised_at, until) > STALE_AFTER_S


def _named(raised: list[RaisedOnce], chosen: list[RaisedOnce]) -> tuple[tuple[str, str], ...]:
    """Who is among the chosen, each once, in the order in which they first came."""
    names = {(each.id, each.subject) for each in chosen}
    return tuple(name for name in dict.fromkeys((each.id, each.subject) for each in raised) if name in names)


def floods(raised_at: list[Instant], end: Instant) -> tuple[Flood, ...]:
    """Floods of raises in the order of time; one that has not ended by `end` has no end."""
    moves = [(at, 1) for at in raised_at]
    moves += [(Instant(at + round(FLOOD_WINDOW_S * 1e9)), -1) for at in raised_at]
    found: list[Flood] = []
    begun: Instant | None = None
    count = most = 0
    for at, step in sorted(moves):
        if at > end:
            break
        count += step
        most = max(most, count)
        if begun is None and count > FLOOD_BEGINS_ABOVE:
            begun, most = at, count
        elif begun is not None and count < FLOOD_ENDS_BELOW:
            found.append(Flood(Span(begun, at), most))
            begun = None
    if begun is not None:
        found.append(Flood(Span(begun), most))
    return tuple(found)
