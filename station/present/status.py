"""The status object: one JSON object per station second, the public door for other programs.

Schema "overbottom-status/1". Keys are only added, never changed in meaning. Depths are fsw and pressures
psig whatever the station shows; a number that is not known is null, never 0. `mode` and `log` tell of the
run, all other keys of the watch: a replay gives them again, line for line.
"""

from dataclasses import dataclass
from typing import Any

from shared.clock import Instant
from shared.units import NS_PER_S
from station.caution import CAUTION
from station.core.air.supplies import air_of
from station.core.air.supply import supply_of
from station.core.alarms.catalogue import BY_ID
from station.core.books import Books
from station.core.depth import depth_of
from station.core.state import Aside, DiverState, State
from station.core.timekeeping import phase_of, times_of
from station.core.trust import age_s
from station.present.air_status import air_status, depth_status, emergency_status, hose_status
from station.present.looks import Mode
from station.present.next_acts import next_act
from station.present.sentences import standing_alarms, utc_text
from station.present.sound_words import sound_status
from station.present.table_status import ascent_status, schedule_status, surface_status

SCHEMA = "overbottom-status/1"
OF_THE_RUN = frozenset({"mode", "log"})
"""Keys that tell of the run and not of the watch: a replay may differ in them."""


@dataclass(frozen=True, slots=True)
class LogLine:
    """What the status says of the log: its file, records committed, seconds since the last commit."""

    file: str
    records: int
    committed_s_ago: float | None


Status = dict[str, Any]


def status(state: State, mode: Mode, log: LogLine, books: Books) -> Status:
    """The status object of a state, ready for JSON."""
    return {
        "schema": SCHEMA,
        "caution": CAUTION,
        "mode": mode.value,
        "utc": utc_text(state, state.now),
        "elapsed_s": state.now // NS_PER_S,
        "divers": [_diver(state, diver, books) for diver in state.divers],
        "air": air_status(state, air_of(state, books)),
        "alarms": _alarms(state),
        "out_of_service": _out_of_service(state),
        "sound": sound_status(state),
        "links": _links(state),
        "log": {
            "file": log.file,
            "records": log.records,
            "committed_s_ago": _rounded(log.committed_s_ago, 1),
        },
    }


def watch_part(made: Status) -> Status:
    """The keys of a status that tell of the watch: what a replay must give again."""
    return {key: value for key, value in made.items() if key not in OF_THE_RUN}


def _rounded(value: float | None, digits: int) -> float | None:
    return None if value is None else round(value, digits) + 0.0


def _utc(state: State, at: Instant | None) -> str | None:
    return None if at is None else utc_text(state, at)


def _diver(state: State, diver: DiverState, books: Books) -> Status:
    times = times_of(diver, state.now)
    return {
        "name": diver.name,
        "dive": diver.dive,
        "phase": phase_of(diver).value,
        "depth": _depth(state, diver),
        "hose": hose_status(state, diver),
        "times": {
            "left_surface": _utc(state, times.left_surface),
            "reached_bottom": _utc(state, times.reached_bottom),
            "left_bottom": _utc(state, times.left_bottom),
            "reached_surface": _utc(state, times.reached_surface),
            "bottom_s": times.bottom_s,
            "bottom_min": times.bottom_min,
            "presumed": times.presumed,
        },
        "schedule": schedule_status(state, diver, books),
        "ascent": ascent_status(state, diver, books),
        "surface": surface_status(state, diver, books),
        "supply": _supply(state, diver),
        "emergency_gas": emergency_status(state, diver),
        "next": next_act(state, diver.name, books).sentence(),
    }


def _depth(state: State, diver: DiverState) -> Status:
    depth = depth_of(state, diver.name)
    return {
        "gauge_fsw": _rounded(depth.gauge_fsw, 2),
        "corrected_fsw": _rounded(depth.corrected_fsw, 2),
        "max_fsw": _rounded(depth.max_fsw, 2),
        "table_fsw": depth.table_fsw,
        "rate_fsw_min": _rounded(depth.rate_fsw_min, 1),
        "trust": depth.trust.value,
        **depth_status(state, diver, depth),
    }


def _supply(state: State, diver: DiverState) -> Status:
    supply = supply_of(state, diver.name)
    return {
        "source": supply.source,
        "pressure_psig": _rounded(supply.pressure_psig, 1),
        "required_psig": _rounded(supply.required_psig, 1),
        "margin_psi": _rounded(supply.margin_psi, 1),
        "trust": supply.trust.value,
        "typed": supply.typed,
    }


def _alarms(state: State) -> list[Status]:
    known = {(alarm.id, alarm.subject): alarm for alarm in state.alarms}
    return [
        {
            "id": row.id,
            "subject": row.subject,
            "priority": BY_ID[row.id].priority.value,
            "state": row.standing.value,
            "since": _utc(state, known[row.id, row.subject].since),
            "text": row.what,
            "action": row.action,
            "occurrence": row.occurrence,
            "first_out": row.first_out,
            "escalated": known[row.id, row.subject].escalated_at is not None,
            "aside": None if row.aside is None else _aside(state, row.aside),
        }
        for row in standing_alarms(state)
    ]


def _aside(state: State, aside: Aside) -> Status:
    return {"by": aside.by, "reason": aside.reason, "until": _utc(state, aside.until)}


def _out_of_service(state: State) -> list[Status]:
    return [
        {"gauge": out.gauge, "by": out.by, "reason": out.reason, "since": _utc(state, out.at)}
        for out in state.out_of_service
    ]


def _links(state: State) -> list[Status]:
    return [
        {
            "name": heard.name,
            "trust": heard.trust.value,
            "age_s": _rounded(age_s(heard, state.now), 1),
            "faults": heard.faults,
        }
        for heard in state.gauges
    ]
