"""The gauges in words: value and raw reading, trust, age, faults, calibration; the lines and the log."""

from datetime import date
from typing import Final

from shared.clock import Instant, seconds_between
from shared.gauges import UNIT_OF, Calibration, Channel, Gauge, GaugeRole
from station.core.alarms.watched import STATION
from station.core.alarms.watched_air import due_day
from station.core.finding import supply_settings
from station.core.settings import Units
from station.core.state import GaugeState, PortState, Priority, State, Trust
from station.core.trust import age_s, is_heard
from station.present.figure_looks import Sign
from station.present.figures import depth_text, pressure_text, span_text
from station.present.gauge_looks import GaugeLook, GaugesLook, HealthRow, LineLook
from station.present.numbers import age_text, sign_of
from station.present.sentences import clock_text, utc_of
from station.present.status import LogLine

MONTHS: Final = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")

_DASHES: Final = "---"
_MEASURES: Final = {Channel.DEPTH: "Depth", Channel.SUPPLY: "Supply", Channel.BANK: "Bank"}
_TRUST: Final = {
    Trust.GOOD: "good",
    Trust.AT_LEAST: "at least",
    Trust.SUSPECT: "suspect",
    Trust.STALE: "stale",
    Trust.LOST: "lost",
}
_FROZEN: Final = frozenset({"gauge-frozen"})
_OVERDUE: Final = frozenset({"calibration-overdue"})


def gauges_look(state: State, log: LogLine, *, replayed: bool) -> GaugesLook:
    """Every gauge and line of the station at the state's instant."""
    gauges = tuple(
        _gauge(state, gauge, heard) for gauge, heard in zip(state.settings.gauges, state.gauges, strict=True)
    )
    lines = tuple(_line(state, port) for port in state.ports)
    return GaugesLook(_summary(gauges, lines), gauges, lines, _health(state, log, replayed=replayed))


def _summary(gauges: tuple[GaugeLook, ...], lines: tuple[LineLook, ...]) -> str:
    troubled = [gauge.name for gauge in gauges if gauge.sign is not None]
    troubled += [line.name for line in lines if line.sign is not None]
    if not troubled:
        return f"{len(gauges)} gauges on {len(lines)} lines, all heard"
    return f"in trouble: {', '.join(troubled)}"


def _gauge(state: State, gauge: Gauge, heard: GaugeState) -> GaugeLook:
    units, age = state.settings.units, age_s(heard, state.now)
    shown = heard.shown if is_heard(heard.trust) else None
    due, due_sign = _due(state, gauge)
    return GaugeLook(
        gauge.name,
        _measures(state, gauge),
        gauge.port,
        _DASHES if shown is None else value_text(gauge.channel, shown, units),
        "never heard" if heard.last is None else _raw(gauge, heard.last.value),
        "frozen" if heard.frozen and is_heard(heard.trust) else _TRUST[heard.trust],
        "never" if age is None else age_text(age),
        f"{gauge.every_s:g} s",
        "none" if not heard.faults else f"{heard.faults}",
        heard.last_fault,
        _proved(gauge.calibration),
        due,
        _trouble(state, gauge, heard),
        due_sign,
    )


def _measures(state: State, gauge: Gauge) -> str:
    subject = gauge.subject
    if gauge.channel is Channel.BANK:
        subject = supply_settings(state, gauge.subject).title
    check = ", check gauge" if gauge.role is GaugeRole.CHECK else ""
    return f"{_MEASURES[gauge.channel]}, {subject}{check}"


def value_text(channel: Channel, value: float, units: Units) -> str:
    """A value of a channel with the unit that the station shows."""
    return depth_text(value, units) if channel is Channel.DEPTH else pressure_text(value, units)


def _raw(gauge: Gauge, value: float) -> str:
    """The last reading before its calibration, in the unit of the program: what the gauge itself says."""
    raw = value / gauge.calibration.span + gauge.calibration.zero
    return f"{raw:.2f} {UNIT_OF[gauge.channel]}"


def _trouble(state: State, gauge: Gauge, heard: GaugeState) -> Sign | None:
    alarm = sign_of(state, gauge.name, _FROZEN)
    if alarm is not None:
        return alarm
    good = heard.trust in (Trust.GOOD, Trust.AT_LEAST) and not heard.frozen
    return None if good else Sign(Priority.WARNING)


def _proved(calibration: Calibration) -> str:
    if calibration.on is None:
        return "not told when"
    by = f" by {calibration.by}" if calibration.by else ""
    certificate = f", {calibration.certificate}" if calibration.certificate else ""
    return f"{date_text(date.fromisoformat(calibration.on))}{by}{certificate}"


def _due(state: State, gauge: Gauge) -> tuple[str, Sign | None]:
    calibration = gauge.calibration
    last = due_day(calibration.on, calibration.due, state.settings.parameters.calibration_months)
    if last is None:
        return "no date: ask before the dive", None
    left = last - utc_of(state, state.now).date().toordinal()
    when = date_text(date.fromordinal(last))
    if left < 0:
        return f"{when}, overdue by {_days(-left)}", sign_of(state, gauge.name, _OVERDUE) or Sign(
            Priority.CAUTION
        )
    return f"{when}, {_days(left)} left", None


def _days(count: int) -> str:
    return f"{count} day{'' if count == 1 else 's'}"


def date_text(day: date) -> str:
    """A date: 2 May 2031."""
    return f"{day.day} {MONTHS[day.month - 1]} {day.year}"


def _line(state: State, port: PortState) -> LineLook:
    since = clock_text(state, port.since)
    if port.open:
        before = f", before that: {port.detail}" if port.detail else ""
        return LineLook(port.name, "open", f"since {since}{before}")
    what = "never open" if port.fault is None else port.fault.value.replace("_", " ")
    detail = f"{what} since {since}" if port.since else what
    return LineLook(port.name, "closed", f"{detail}. {port.detail}".strip(". "), Sign(Priority.WARNING))


def _health(state: State, log: LogLine, *, replayed: bool) -> tuple[HealthRow, ...]:
    committed = "not yet" if log.committed_s_ago is None else f"{age_text(log.committed_s_ago)} ago"
    rows = [HealthRow("Log", log.file), HealthRow("Records", f"{log.records}")]
    if not replayed:
        rows.append(HealthRow("Logged", committed, sign_of(state, STATION, frozenset({"log-behind"}))))
    if state.log.failed:
        rows.append(HealthRow("Log not written", state.log.failed, Sign(Priority.ALARM)))
    elif state.log.behind_since is not None:
        behind = span_text(seconds_between(state.log.behind_since, state.now))
        rows.append(HealthRow("Log behind", behind, Sign(Priority.ALARM)))
    rows.append(HealthRow("Off watch", _gaps(state)))
    if state.clock_stepped is not None:
        stepped = f"{state.clock_stepped.value:+.1f} s at {clock_text(state, state.clock_stepped.at)}"
        rows.append(HealthRow("Clock stepped", stepped, Sign(Priority.WARNING)))
    return tuple(rows)


def _gaps(state: State) -> str:
    if not state.gaps:
        return "never since the start"
    gap = state.gaps[-1]
    how_long = span_text(seconds_between(gap.start, gap.end)) if gap.known else "for an unknown time"
    return f"{len(state.gaps)} times, last {clock_text(state, Instant(gap.end))}, {how_long}"
