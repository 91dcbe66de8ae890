"""A planned dive as plain JSON values: the object `overbottom-plan/1`."""

from station.caution import CAUTION
from station.core.tables.lookup import notes_on
from station.core.tables.parse_groups import RESIDUAL_FILE, SHALLOW_RESIDUAL_FILE
from station.core.tables.table_set import Note, ScheduleRow, Stop, TableSet

from .answers import NotCovered
from .ascent import AscentPlan
from .gas_model.opinion import Opinion
from .legs import Leg
from .planning import Plan, PlanAsked, PlanDepth, plan_dive
from .rule import EVIDENCE_WORDS, Rule
from .schedule import NextDepth, NextRow, Schedule

SCHEMA = "overbottom-plan/1"
TOO_SHORT = "TOO SHORT"

Json = dict[str, object]


def plan(tables: TableSet, asked: PlanAsked) -> Json:
    """The plan of a dive as `overbottom-plan/1`, without the air, which the caller adds."""
    return plan_json(tables, plan_dive(tables, asked))


def plan_json(tables: TableSet, planned: Plan, air: object = None) -> Json:
    """A plan as JSON values. What is not known is None, never 0; `stops` is empty only where none is due."""
    found = planned.answer if isinstance(planned.answer, Schedule) else None
    return {
        "schema": SCHEMA,
        "caution": CAUTION,
        "inputs": _inputs(planned.asked),
        "depth": _depth(planned.depth, found),
        "time": _time(found),
        "group_before": planned.asked.group,
        "group_at_dive": planned.group_at_dive,
        **_result(found),
        "stops_at_altitude": _stops_at_altitude(planned.ascent),
        "planned_travel_s": planned.ascent.first_stop_travel_s if planned.ascent else None,
        "ascent": [_leg(leg) for leg in planned.ascent.legs] if planned.ascent else None,
        "air": air,
        "model": _model(planned.opinion),
        "notes": [
            *(_table_note(tables, note) for note in _doubts(tables, planned, found)),
            *(_rule_note(rule) for rule in planned.rules),
        ],
        "next_deeper": _next_deeper(planned.next_deeper),
        "next_longer": _next_longer(planned.next_longer),
        "not_covered": _not_covered(planned.answer) if isinstance(planned.answer, NotCovered) else None,
    }


def _inputs(asked: PlanAsked) -> Json:
    return {
        "depth_fsw": asked.depth_fsw,
        "corrected": asked.corrected,
        "bottom_s": asked.bottom_s,
        "mode": str(asked.mode),
        "group": asked.group,
        "interval_s": asked.interval_s,
        "altitude_ft": asked.altitude_ft,
        "cold": asked.cold,
        "shallow": asked.shallow,
        "zeroed": asked.zeroed,
    }


def _depth(depth: PlanDepth | None, found: Schedule | None) -> Json:
    return {
        "gauge_fsw": depth.gauge_fsw if depth else None,
        "correction_fsw": depth.correction_fsw if depth else None,
        "max_fsw": depth.max_fsw if depth else None,
        "altitude_equivalent_fsw": depth.equivalent_fsw if depth else None,
        "table_fsw": found.depth_fsw if found else None,
    }


def _time(found: Schedule | None) -> Json:
    return {
        "bottom_min": found.bottom_min if found else None,
        "residual_min": found.residual_min if found else None,
        "equivalent_min": found.equivalent_min if found else None,
        "table_min": found.time_min if found else None,
    }


def _result(found: Schedule | None) -> Json:
    """What a schedule comes to; the same keys for the plan itself and for the next row and depth."""
    return {
        "table": found.table if found else None,
        "group_after": found.group if found else None,
        "stops": _stops(found.stops) if found else None,
        "total_ascent_s": found.total_ascent_s if found else None,
        "time_to_first_stop_s": found.first_stop_s if found else None,
        "chamber_periods": found.chamber_periods if found else None,
        "category": str(found.category) if found else None,
        "exceptional": found.exceptional if found else None,
    }


def _stops(stops: tuple[Stop, ...]) -> list[list[int]]:
    return [[stop.depth_fsw, stop.minutes] for stop in stops]


def _stops_at_altitude(ascent: AscentPlan | None) -> list[list[float]] | None:
    """Where the stops are taken at altitude, in the order of `stops`; None at sea level."""
    if ascent is None or ascent.ratio == 1:
        return None
    return [
        [due.level_fsw, stop.minutes] for due, stop in zip(ascent.due, ascent.schedule.stops, strict=True)
    ]


def _leg(leg: Leg) -> Json:
    return {
        "from_fsw": leg.from_fsw,
        "to_fsw": leg.to_fsw,
        "start_s": leg.start_s,
        "end_s": leg.end_s,
        "gas": str(leg.gas),
        "what": str(leg.what),
        "reason": leg.reason,
    }


def _model(opinion: Opinion | None) -> Json | None:
    if opinion is None:
        return None
    return {
        "stops": [list(stop) for stop in opinion.stops],
        "agrees": opinion.agrees,
        "difference_min": opinion.difference_min,
        "sentences": list(opinion.sentences),
    }


def _doubts(tables: TableSet, planned: Plan, found: Schedule | None) -> tuple[Note, ...]:
    if found is None:
        return ()
    if planned.group_at_dive is None:
        return found.notes
    sheets = (RESIDUAL_FILE, SHALLOW_RESIDUAL_FILE) if planned.asked.shallow else (RESIDUAL_FILE,)
    residual = (notes_on(tables, sheet.removesuffix(".csv"), str(found.depth_fsw)) for sheet in sheets)
    return found.notes + tuple(note for notes in residual for note in notes)


def _table_note(tables: TableSet, note: Note) -> Json:
    return {
        "id": note.id,
        "text": f"{tables.name_of(note.file)}, {note.row}: {note.sentence}",
        "source": f"{tables.document} ({tables.dated}), {tables.read}",
        "evidence": ["table note"],
    }


def _rule_note(rule: Rule) -> Json:
    return {
        "id": rule.id,
        "text": rule.sentence,
        "source": rule.source,
        "evidence": [f"{tag}: {EVIDENCE_WORDS[tag]}" for tag in rule.evidence],
    }


def _next_deeper(following: NextDepth | None) -> Json | None:
    return None if following is None else {"in_fsw": following.in_fsw, **_short(following.cost)}


def _next_longer(following: NextRow | None) -> Json | None:
    return None if following is None else {"in_s": following.in_s, **_short(following.cost)}


def _short(cost: Schedule | NotCovered) -> Json:
    found = cost if isinstance(cost, Schedule) else None
    return {
        "table_fsw": found.depth_fsw if found else None,
        "table_min": found.time_min if found else None,
        **_result(found),
        "not_covered": _not_covered(cost) if isinstance(cost, NotCovered) else None,
    }


def _not_covered(answer: NotCovered) -> Json:
    return {
        "rule": answer.rule.id,
        "sentence": answer.sentence,
        "consult": answer.consult,
        "too_short": _too_short(answer.too_short) if answer.too_short else None,
    }


def _too_short(row: ScheduleRow) -> Json:
    """The last row of the depth, marked: it is no schedule for this dive."""
    return {
        "marked": TOO_SHORT,
        "depth_fsw": row.depth_fsw,
        "time_min": row.time_min,
        "air_stops": _stops(row.air.stops),
        "oxygen_stops": _stops(row.oxygen.stops),
    }
