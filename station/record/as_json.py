"""The record as one JSON object, schema "overbottom-record/1". Keys are only added, never changed in meaning.

    schema, caution, written_by               what this is; written_by is the program that wrote the file
    log        file, program, mode, tables, sqlite, schema, boot_id, head, head_before, closed, batches,
               records, sound, findings: [{check, batch, seq, what}]
    station    name, job, supervisor, units (as shown), begins, ends, people: [{post, person, role,
               tender, equipment, supply}], gauges: [{name, channel, subject, unit, low, high, every_s,
               faults, calibration}], particulars, alarms, entries, gaps: [{start, end, known}]
    banks      [{name, title, at_s, pressure_psig}]: one value a second
    dives      [{diver, number, person, role, tender, equipment, supply, phase, planned_depth_fsw,
               planned_bottom_min, times, depth, least_margin_psi, least_margin_at, marks, profile, alarms,
               entries, plan_steps, schedule, no_schedule, gaps, particulars, completeness}]
    times      left_surface, reached_bottom, left_bottom, reached_surface, bottom_s, bottom_min, presumed
    depth      deepest_gauge_fsw, max_fsw (with the pneumofathometer correction), table_fsw
    marks      [{number, record, kind, stop_fsw, at (null: taken back), first_at, pressed_at, by,
               corrections: [{at, to, by, reason, record}]}]
    profile    at_s, gauge_fsw, supply_psig, required_psig, margin_psi: lists of one length
    alarms     [{id, subject, priority, raised, acknowledged, acknowledged_by, returned, measured, limit,
               text, action}]
    entries    [{record, at, by, kind, diver, dive, details, refused}]
    completeness  [{rules, title, standing, missing: [{key, what, source, evidence, stated}]}]

Instants are RFC 3339 in UTC; `at_s` is station time in seconds since the log began. Depths are fsw and
pressures psig whatever the station showed. What is not known is null, never 0. `record` is the number of the
arrival in the log.
"""

import json
from math import isfinite
from typing import Any, Final

from shared.clock import EPOCH
from shared.gauges import UNIT_OF, Gauge
from station import __version__
from station.caution import CAUTION
from station.plain import record_to_plain
from station.record.completeness import Completeness, completeness_of, dress_of
from station.record.model import AlarmRun, Dive, Entry, Floats, MarkMade, Record, Told
from station.record.profiles import RulesProfile
from station.record.words import utc_text

SCHEMA: Final = "overbottom-record/1"

Json = dict[str, Any]


def record_json(record: Record, rules: tuple[RulesProfile, ...], added: tuple[Told, ...] = ()) -> str:
    """The whole record as JSON text."""
    return json.dumps(record_plain(record, rules, added), ensure_ascii=False, allow_nan=False) + "\n"


def record_plain(record: Record, rules: tuple[RulesProfile, ...], added: tuple[Told, ...] = ()) -> Json:
    """The whole record as plain JSON values."""
    return {
        "schema": SCHEMA,
        "caution": CAUTION,
        "written_by": f"overbottom {__version__}",
        "log": _log(record),
        "station": _station(record, added),
        "banks": [
            {
                "name": bank.name,
                "title": bank.title,
                "at_s": _numbers(bank.at_s),
                "pressure_psig": _numbers(bank.pressure_psig),
            }
            for bank in record.banks
        ],
        "dives": [_dive(record, dive, rules, added) for dive in record.dives],
    }


def _log(record: Record) -> Json:
    header, found = record.header, record.integrity
    return {
        "file": record.path.name,
        "program": header.program,
        "mode": header.mode,
        "tables": header.tables,
        "sqlite": header.sqlite,
        "schema": header.schema,
        "boot_id": header.boot_id,
        "head": found.head,
        "head_before": header.head_before,
        "closed": found.closed,
        "batches": found.batches,
        "records": found.arrivals,
        "sound": found.sound,
        "findings": [
            {"check": one.check.value, "batch": one.batch, "seq": one.seq, "what": one.sentence}
            for one in found.findings
        ],
    }


def _station(record: Record, added: tuple[Told, ...]) -> Json:
    settings = record.settings
    return {
        "name": settings.station,
        "job": settings.job,
        "supervisor": settings.supervisor,
        "units": settings.units.value,
        "begins": utc_text(record, EPOCH),
        "ends": utc_text(record, record.ends),
        "people": [
            {
                "post": post.name,
                "person": post.person,
                "role": post.role.value,
                "tender": post.tender,
                "equipment": dress_of(post),
                "supply": post.supply,
            }
            for post in settings.divers
        ],
        "gauges": [_gauge(record, gauge) for gauge in record.gauges],
        "particulars": [_told(record, one) for one in (*record.particulars, *added)],
        "alarms": [_alarm(record, one) for one in record.alarms],
        "entries": [_entry(record, one) for one in record.entries],
        "gaps": _gaps(record, record),
    }


def _gauge(record: Record, gauge: Gauge) -> Json:
    return {
        "name": gauge.name,
        "channel": gauge.channel.value,
        "subject": gauge.subject,
        "unit": UNIT_OF[gauge.channel],
        "low": gauge.low,
        "high": gauge.high,
        "every_s": gauge.every_s,
        "faults": record.gauge_faults[gauge.name],
        "calibration": record_to_plain(gauge.calibration),
    }


def _dive(record: Record, dive: Dive, rules: tuple[RulesProfile, ...], added: tuple[Told, ...]) -> Json:
    least = dive.least_margin
    return {
        "diver": dive.diver,
        "number": dive.number,
        "person": dive.post.person,
        "role": dive.post.role.value,
        "tender": dive.post.tender,
        "equipment": dress_of(dive.post),
        "supply": dive.post.supply,
        "phase": dive.phase.value,
        "planned_depth_fsw": dive.planned_depth_fsw,
        "planned_bottom_min": dive.planned_bottom_min,
        "times": _times(record, dive),
        "depth": {
            "deepest_gauge_fsw": _rounded(dive.deepest_gauge_fsw),
            "max_fsw": _rounded(dive.depth.max_fsw),
            "table_fsw": dive.depth.table_fsw,
        },
        "least_margin_psi": _rounded(None if least is None else least[0]),
        "least_margin_at": utc_text(record, None if least is None else least[1]),
        "marks": [_mark(record, mark) for mark in dive.marks],
        "profile": {
            "at_s": _numbers(dive.profile.at_s),
            "gauge_fsw": _numbers(dive.profile.depth_fsw),
            "supply_psig": _numbers(dive.profile.supply_psig),
            "required_psig": _numbers(dive.profile.required_psig),
            "margin_psi": _numbers(dive.profile.margin_psi),
        },
        "alarms": [_alarm(record, one) for one in dive.alarms],
        "entries": [_entry(record, one) for one in dive.entries],
        "plan_steps": [
            {
                "record": step.seq,
                "at": utc_text(record, step.at),
                "rule": step.rule,
                "sentence": step.sentence,
                "details": step.details,
            }
            for step in dive.plan_steps
        ],
        "schedule": None if dive.schedule is None else record_to_plain(dive.schedule),
        "no_schedule": dive.no_schedule or None,
        "gaps": _gaps(record, dive),
        "particulars": [_told(record, one) for one in dive.particulars],
        "completeness": [_completeness(completeness_of(record, dive, one, added)) for one in rules],
    }


def _times(record: Record, dive: Dive) -> Json:
    times = dive.times
    return {
        "left_surface": utc_text(record, times.left_surface),
        "reached_bottom": utc_text(record, times.reached_bottom),
        "left_bottom": utc_text(record, times.left_bottom),
        "reached_surface": utc_text(record, times.reached_surface),
        "bottom_s": times.bottom_s,
        "bottom_min": times.bottom_min,
        "presumed": times.presumed,
    }


def _mark(record: Record, mark: MarkMade) -> Json:
    return {
        "number": mark.number,
        "record": mark.seq,
        "kind": mark.kind,
        "stop_fsw": mark.stop_fsw,
        "at": utc_text(record, mark.at),
        "first_at": utc_text(record, mark.first_at),
        "pressed_at": utc_text(record, mark.pressed_at),
        "by": mark.by,
        "corrections": [
            {
                "at": utc_text(record, word.at),
                "to": utc_text(record, word.to),
                "by": word.by,
                "reason": word.reason,
                "record": word.seq,
            }
            for word in mark.corrections
        ],
    }


def _alarm(record: Record, alarm: AlarmRun) -> Json:
    return {
        "id": alarm.id,
        "subject": alarm.subject,
        "priority": alarm.priority.value,
        "raised": utc_text(record, alarm.raised_at),
        "acknowledged": utc_text(record, alarm.acknowledged_at),
        "acknowledged_by": alarm.acknowledged_by,
        "returned": utc_text(record, alarm.returned_at),
        "measured": _rounded(alarm.measured),
        "limit": _rounded(alarm.limit),
        "text": alarm.what,
        "action": alarm.action,
    }


def _entry(record: Record, entry: Entry) -> Json:
    return {
        "record": entry.seq,
        "at": utc_text(record, entry.at),
        "by": entry.by,
        "kind": entry.kind,
        "diver": entry.diver,
        "dive": entry.dive or None,
        "details": entry.details,
        "refused": entry.refused,
    }


def _told(record: Record, told: Told) -> Json:
    return {
        "key": told.key,
        "value": told.value,
        "at": utc_text(record, told.at),
        "by": told.by,
        "record": told.seq,
    }


def _gaps(record: Record, of: Record | Dive) -> list[Json]:
    return [
        {"start": utc_text(record, gap.start), "end": utc_text(record, gap.end), "known": gap.known}
        for gap in of.gaps
    ]


def _completeness(found: Completeness) -> Json:
    return {
        "rules": found.profile.name,
        "title": found.profile.title,
        "standing": found.standing.value,
        "missing": [
            {
                "key": one.required.key,
                "what": one.required.what,
                "source": one.required.source,
                "evidence": [tag.value for tag in one.required.evidence],
                "stated": one.stated,
            }
            for one in found.missing
        ],
    }


def _numbers(values: Floats) -> list[float | None]:
    return [value if isfinite(value) else None for value in values.tolist()]


def _rounded(value: float | None) -> float | None:
    return None if value is None else round(value, 2)
