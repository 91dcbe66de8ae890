"""The strips that every window has: the top with clocks and links, the alarms under it."""

from typing import Final

from shared.gauges import Channel
from shared.units import NS_PER_S
from station.core.alarms.watched import STATION
from station.core.state import Priority, Standing, State, Trust
from station.core.trust import age_s
from station.present.aside_words import aside_words, out_of_service_words
from station.present.figures import span_text
from station.present.looks import AlarmLine, AlarmStrip, Link, Mode, Sign, TopStrip, Transport
from station.present.numbers import age_text, flash_of, sign_of
from station.present.sentences import AlarmRow, clock_text, standing_alarms, utc_of
from station.present.sound_words import sound_words
from station.present.status import LogLine

_MONTHS: Final = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip
_NOT_HEARD: Final = {Channel.DEPTH: "depth-not-heard", Channel.SUPPLY: "supply-not-heard"}


def top_strip(state: State, mode: Mode, log: LogLine, transport: Transport | None) -> TopStrip:
    """Mode, station, clocks, links, log."""
    utc = utc_of(state, state.now)
    date = f"{utc.day} {_MONTHS[utc.month - 1]} {utc.year}"
    job = {
        Mode.LIVE: state.settings.job,
        Mode.REHEARSAL: "Simulated, not live",
        Mode.REPLAY: f"Recorded {date}, not live",
    }[mode]
    caption, value, sign = _log_words(state, log, transport)
    elapsed = state.now // NS_PER_S
    return TopStrip(
        mode.value.upper(),
        state.settings.station,
        job,
        clock_text(state, state.now),
        f"UTC, {utc.day} {_MONTHS[utc.month - 1][:3]} {utc.year}",
        f"on watch {elapsed // 3600}:{elapsed % 3600 // 60:02d}:{elapsed % 60:02d}",
        tuple(_links(state)),
        caption,
        value,
        sign,
    )


def _log_words(state: State, log: LogLine, transport: Transport | None) -> tuple[str, str, Sign | None]:
    if transport is not None:
        return "log", transport.whole, None
    if state.log.failed:
        return "log", "not written", Sign(Priority.ALARM)
    if state.log.behind_since is not None:
        behind_s = (state.now - state.log.behind_since) / NS_PER_S
        return "log", f"{span_text(behind_s)} behind", Sign(Priority.ALARM)
    if log.committed_s_ago is None:
        return "logged", "not yet", None
    return "logged", f"{age_text(log.committed_s_ago)} ago", None


def _links(state: State) -> list[Link]:
    links = []
    for gauge, heard in zip(state.settings.gauges, state.gauges, strict=True):
        sign = None
        if heard.trust in (Trust.STALE, Trust.LOST):
            alarm = _NOT_HEARD.get(gauge.channel, "")
            sign = sign_of(state, gauge.subject, frozenset({alarm})) or Sign(Priority.WARNING)
        elif heard.trust is Trust.SUSPECT:
            sign = Sign(Priority.WARNING)
        links.append(Link(gauge.name, age_text(age_s(heard, state.now)), sign))
    return links


def alarm_strip(state: State, last_alarm: str, sound: str) -> AlarmStrip:
    """Every alarm that is not at rest, the gravest first."""
    lines = tuple(_line(state, row) for row in standing_alarms(state))
    said = sound or sound_words(state)
    return AlarmStrip(lines, "No alarm standing", last_alarm, said, out_of_service_words(state))


def _line(state: State, row: AlarmRow) -> AlarmLine:
    subject = "" if row.subject == STATION else row.subject
    return AlarmLine(
        row.id,
        row.subject,
        Sign(row.priority, flash_of(row)),
        row.priority.value.upper(),
        subject,
        f"{row.what}." if subject else f"{row.what[:1].upper()}{row.what[1:]}.",
        _asked(state, row),
        span_text(row.age_s),
        row.to_see,
        row.occurrence,
        row.first_out,
    )


def _asked(state: State, row: AlarmRow) -> str:
    """What is to be done about it."""
    if row.aside is not None:
        return aside_words(state, row.aside)
    return "Ended by itself. Acknowledge it." if row.standing is Standing.RETURNED else row.action
