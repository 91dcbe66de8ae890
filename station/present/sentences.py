"""The words of the watch: what is due next for a diver, what an alarm says, what time it is."""

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from shared.clock import Instant, after, seconds_between
from shared.units import S_PER_MIN
from station.core.alarms.catalogue import BY_ID
from station.core.finding import diver_named
from station.core.phase import Phase
from station.core.state import AlarmState, DiverState, Priority, Standing, State
from station.core.timekeeping import phase_of, times_of
from station.present.figures import figure_text, span_text

_UNIX_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
_NO_SCHEDULE = "No schedule here: read the printed table in force."


@dataclass(frozen=True, slots=True)
class NextAct:
    """The next sentence: `head` the act, `lead` the time left, `detail` what passing it costs."""

    head: str
    lead: str
    detail: str

    def sentence(self) -> str:
        """All of it in one line."""
        lead = f"{self.lead} " if self.lead else ""
        return f"{self.head}. {lead}{self.detail}"


@dataclass(frozen=True, slots=True)
class AlarmRow:
    """One row of the alarm strip."""

    id: str
    subject: str
    priority: Priority
    standing: Standing
    what: str
    action: str
    age_s: float


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
        entry.priority,
        alarm.standing,
        what,
        entry.action.format(subject=alarm.subject),
        seconds_between(since, state.now),
    )


def standing_alarms(state: State) -> tuple[AlarmRow, ...]:
    """Every alarm that is not at rest: the gravest first, then the first that came."""
    rows = [alarm_row(state, alarm) for alarm in state.alarms if alarm.standing is not Standing.NORMAL]
    order = tuple(Priority)
    return tuple(sorted(rows, key=lambda row: (order.index(row.priority), -row.age_s, row.id, row.subject)))


def next_act(state: State, diver_name: str) -> NextAct:
    """What is due next for a diver. An emergency of his goes before everything."""
    for row in standing_alarms(state):
        if row.subject == diver_name and row.priority is Priority.EMERGENCY and _holds(row):
            return NextAct(row.action.split(". ")[0].rstrip("."), "Then end his work:", _NO_SCHEDULE)
    return _by_phase(state, diver_named(state, diver_name))


def _holds(row: AlarmRow) -> bool:
    return row.standing in (Standing.UNACKNOWLEDGED, Standing.ACKNOWLEDGED)


def _by_phase(state: State, diver: DiverState) -> NextAct:
    match phase_of(diver):
        case Phase.DRESSED:
            return NextAct("Mark left surface when he goes", "", _NO_SCHEDULE)
        case Phase.DESCENDING:
            return NextAct("Mark reached bottom", "Blow his hose there and read it.", _NO_SCHEDULE)
        case Phase.ON_BOTTOM:
            return _on_bottom(state, diver)
        case Phase.ASCENDING | Phase.AT_STOP:
            return NextAct("Bring him up at 30 fsw a minute", "", _NO_SCHEDULE)
        case Phase.SURFACED | Phase.CHAMBER | Phase.DONE:
            up = times_of(diver, state.now).reached_surface
            ago = "" if up is None else f"Up for {span_text(seconds_between(up, state.now))}."
            return NextAct("Watch the diver", ago, "Ask him how he is; tell him what symptoms to report.")


def _on_bottom(state: State, diver: DiverState) -> NextAct:
    times = times_of(diver, state.now)
    if diver.planned_bottom_min is None or times.left_surface is None:
        return NextAct("Read the printed table", "", "No schedule here, and no bottom time is planned.")
    leave = after(times.left_surface, diver.planned_bottom_min * S_PER_MIN)
    left_s = seconds_between(state.now, leave)
    lead = f"{span_text(left_s)} left of the plan." if left_s >= 0 else f"{span_text(-left_s)} past the plan."
    return NextAct(f"Planned to leave bottom {clock_text(state, leave)}", lead, _NO_SCHEDULE)
