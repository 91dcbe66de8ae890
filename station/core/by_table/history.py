"""What a diver brings along from earlier dives: told, counted on, never taken as clean. Rules N1, N2, N5."""

from dataclasses import replace
from datetime import datetime, timedelta
from typing import Final

from shared.clock import Instant, after, seconds_between
from shared.units import S_PER_MIN
from station.core.books import Books
from station.core.decompression.answers import MANUAL, NotCovered
from station.core.decompression.repetitive import AfterInterval, Standing, after_interval
from station.core.decompression.rules import RULES
from station.core.state import DiverState, PastDive

NONE: Final = "none"
"""The word of a diver who brings nothing along."""

NOT_GIVEN: Final = "not given"
"""The word of a diver whose last dive ended in no group of the tables."""

_NS_PER_US: Final = 1000
_UNIX_EPOCH: Final = datetime.fromisoformat("1970-01-01T00:00:00+00:00")


def why_no_history(group: str, groups: tuple[str, ...]) -> str:
    """Why a word is no repetitive group; nothing when it is one."""
    if group in (NONE, NOT_GIVEN, *groups):
        return ""
    return f"{group!r} is no repetitive group: {', '.join(groups)}, {NONE!r} or {NOT_GIVEN!r}"


def instant_of_utc(surfaced_utc: str, utc_epoch_ns: int) -> Instant:
    """Station time of a moment in UTC before or in this watch. Raises ValueError when the text is none."""
    moment = datetime.fromisoformat(surfaced_utc)
    if moment.tzinfo is None:
        raise ValueError(f"{surfaced_utc} must carry its offset, such as Z")
    microseconds = (moment - _UNIX_EPOCH) // timedelta(microseconds=1)
    return Instant(microseconds * _NS_PER_US - utc_epoch_ns)


def with_history(diver: DiverState, group: str, surfaced_at: Instant | None) -> DiverState:
    """The diver with what was told of him; it takes the place of what was told before, not of dives here."""
    here = tuple(past for past in diver.past if past.max_fsw is not None)
    if group == NONE:
        return replace(diver, past=here, history_known=True)
    told = PastDive(None if group == NOT_GIVEN else group, surfaced_at)
    return replace(diver, past=(told, *here), history_known=True)


def group_now(books: Books, diver: DiverState, at: Instant) -> AfterInterval | NotCovered:
    """How the diver stands if he leaves the surface at `at`. Rules N1 and N2.

    A diver of whom nothing is told stands as not repetitive; whoever shows it says that nothing is told.
    """
    if not diver.past:
        return AfterInterval(Standing.NOT_REPETITIVE, 0, None)
    last = diver.past[-1]
    if last.surfaced_at is not None:
        return after_interval(books.tables, last.group, interval_s(last, at))
    if last.group is None:
        return NotCovered(RULES["S4"], "The last dive ended in no repetitive group.", MANUAL)
    return AfterInterval(Standing.REPETITIVE, 0, last.group)


def interval_s(last: PastDive, at: Instant) -> int:
    """Whole seconds at the surface since the last dive, cut; 0 where its end is not known. Rule N1."""
    if last.surfaced_at is None:
        return 0
    return max(0, int(seconds_between(last.surfaced_at, at)))


def next_drop(books: Books, past: PastDive, now: Instant) -> tuple[Instant, str | None] | None:
    """When the group next drops, and to which (None: no longer repetitive); None where it does not."""
    if past.group is None or past.surfaced_at is None:
        return None
    minutes = interval_s(past, now) // S_PER_MIN
    spans = [span for span in books.tables.credit if span.from_group == past.group]
    for span in sorted(spans, key=lambda span: span.first_min):
        if span.first_min > minutes and span.to_group != past.group:
            return after(past.surfaced_at, span.first_min * S_PER_MIN), span.to_group
    return None


def clean_at(books: Books, past: PastDive) -> Instant | None:
    """When the diver is no longer repetitive; None where the tables do not tell. Rule N2."""
    if past.group is None or past.surfaced_at is None:
        return None
    for span in books.tables.credit:
        if span.from_group == past.group and span.to_group is None:
            return after(past.surfaced_at, span.first_min * S_PER_MIN)
    return None
