"""The words of the watch: what is due next for a diver, what an alarm says, what time it is."""

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from shared.clock import Instant, seconds_between
from station.core.alarms.announcing import is_to_see
from station.core.alarms.catalogue import BY_ID
from station.core.alarms.standing import priority_of
from station.core.state import AlarmState, Aside, Priority, Standing, State
from station.present.alarm_order import ranked
from station.present.figures import figure_text

_UNIX_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)


@dataclass(frozen=True, slots=True)
class NextAct:
    """The next sentence: `head` the act, `lead` the time left, `detail` what passing it costs.

    `line` is all of it in one line, where that reads better than the three parts in a row.
    """

    head: str
    lead: str
    detail: str
    line: str = ""

    def sentence(self) -> str:
        """All of it in one line."""
        if self.line:
            return self.line
        lead = f"{self.lead} " if self.lead else ""
        return f"{self.head}. {lead}{self.detail}"


@dataclass(frozen=True, slots=True)
class AlarmRow:
    """One row of the alarm strip. `to_see`: it waits to be acknowledged; `priority` with its escalation."""

    id: str
    subject: str
    priority: Priority
    standing: Standing
    what: str
    action: str
    age_s: float
    occurrence: int
    first_out: bool
    to_see: bool
    aside: Aside | None


def utc_of(state: State, at: Instant) -> datetime:
    """UTC of an instant: the anchor and the time elapsed; a label, nothing computes with it."""
    return _UNIX_EPOCH + timedelta(microseconds=(state.utc_epoch_ns + at) // 1000)


def utc_text(state: State, at: Instant) -> str:
    """UTC as RFC 3339 to the second."""
    return utc_of(state, at).strftime("%Y-%m-%dT%H:%M:%SZ")


def clock_text(state: State, at: Instant) -> str:
    """The time of day in UTC."""
    return utc_of(state, at).strftime("%H:%M:%S")


def alarm_row(state: State, alarm: AlarmState) -> AlarmRow:
    """What an alarm says, and what it asks for. Raises KeyError for an alarm that no catalogue has."""
    entry, units = BY_ID[alarm.id], state.settings.units
    what = entry.sentence.format(
        measured=figure_text(entry.figure, alarm.measured, units),
        limit=figure_text(entry.figure, alarm.limit, units),
        subject=alarm.subject,
    )
    since = state.now if alarm.since is None else alarm.since
    return AlarmRow(
        alarm.id,
        alarm.subject,
        priority_of(entry.priority, alarm),
        alarm.standing,
        what,
        entry.action.format(subject=alarm.subject),
        seconds_between(since, state.now),
        alarm.occurrence,
        alarm.first_out,
        is_to_see(alarm),
        alarm.aside,
    )


def standing_alarms(state: State) -> tuple[AlarmRow, ...]:
    """Every alarm that is not at rest: the gravest first, then the first that came; put aside last."""
    rows = [alarm_row(state, alarm) for alarm in state.alarms if alarm.standing is not Standing.NORMAL]
    return ranked(rows, state.flooded)
