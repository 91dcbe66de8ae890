"""What the tables say of a diver, as plain JSON for the status: schedule, ascent, surface interval.

What is not known is null, never 0; `stops` is empty only where none is due.
"""

from typing import Any

from shared.clock import Instant, after
from station.core.books import Books
from station.core.by_table.afterwards import afterwards_of
from station.core.by_table.bottom import IfHeLeft, schedule_of
from station.core.by_table.cards import HOLDS_FOR, cards_of
from station.core.by_table.coming_up import Ascent, ascent_of
from station.core.by_table.plan_facts import brief_of
from station.core.decompression.answers import NotCovered
from station.core.decompression.legs import DueStop, Leg
from station.core.decompression.schedule import Schedule
from station.core.facts import PlanBrief
from station.core.phase import IN_WATER
from station.core.state import DiverState, State
from station.core.timekeeping import phase_of, times_of
from station.present.next_acts import order_by
from station.present.sentences import utc_text

Json = dict[str, Any]


def schedule_status(state: State, diver: DiverState, books: Books) -> Json | None:
    """The schedule of a diver: if he left now, and from leaving the bottom the one that he comes up by."""
    ascent = ascent_of(state, diver, books)
    found = schedule_of(state, diver, books)
    if found is None:
        return None
    answer = found.answer
    if isinstance(ascent, Ascent):
        plan = ascent.found.plan or ascent.found.first
        answer = plan.schedule if plan is not None else answer
        found = IfHeLeft(found.entry, answer)
    return {
        **_answer(answer),
        "mode": diver.mode.value,
        "row": diver.row.value,
        "cold": diver.cold,
        "history": "entered" if diver.history_known else "not entered",
        "bound": list(state.bound) if diver.name in state.bound else [],
        **_ahead(state, diver, found),
        "rule": answer.rule.id if isinstance(answer, NotCovered) else "S2",
        "notes": _notes(answer, books),
        "not_covered": _not_covered(answer),
    }


def _answer(answer: Schedule | NotCovered) -> Json:
    found = answer if isinstance(answer, Schedule) else None
    return {
        "table": found.table if found else None,
        "depth_fsw": found.depth_fsw if found else None,
        "time_min": found.time_min if found else None,
        "residual_min": found.residual_min if found else None,
        "equivalent_min": found.equivalent_min if found else None,
        "stops": [[stop.depth_fsw, stop.minutes] for stop in found.stops] if found else None,
        "total_ascent_s": found.total_ascent_s if found else None,
        "chamber_periods": found.chamber_periods if found else None,
        "group": found.group if found else None,
        "category": found.category.value if found else None,
        "exceptional": found.exceptional if found else None,
    }


def _ahead(state: State, diver: DiverState, found: IfHeLeft) -> Json:
    row, depth, times = found.next_row, found.next_depth, times_of(diver, state.now)
    leave: Instant | None = None
    if row is not None and times.left_surface is not None and times.bottom_s is not None:
        leave = after(times.left_surface, times.bottom_s + row.in_s)
    return {
        "no_stop_left_s": found.no_stop_left_s,
        "next_row_in_s": row.in_s if row else None,
        "leave_by": utc_text(state, leave) if leave is not None else None,
        "order_by": utc_text(state, order_by(state, leave)) if leave is not None else None,
        "next_longer": {"in_s": row.in_s, **_cost(row.cost)} if row else None,
        "next_deeper": {"in_fsw": round(depth.in_fsw, 2), **_cost(depth.cost)} if depth else None,
    }


def _cost(cost: Schedule | NotCovered) -> Json:
    keys = (
        "depth_fsw",
        "time_min",
        "stops",
        "total_ascent_s",
        "chamber_periods",
        "group",
        "category",
        "exceptional",
    )
    made = _answer(cost)
    return {**{key: made[key] for key in keys}, "not_covered": _not_covered(cost)}


def _notes(answer: Schedule | NotCovered, books: Books) -> list[Json]:
    if isinstance(answer, NotCovered):
        return []
    return [
        {"id": note.id, "row": f"{books.tables.name_of(note.file)}, {note.row}", "text": note.sentence}
        for note in answer.notes
    ]


def _not_covered(answer: Schedule | NotCovered) -> Json | None:
    if isinstance(answer, Schedule):
        return None
    short = answer.too_short
    return {
        "rule": answer.rule.id,
        "sentence": answer.sentence,
        "consult": answer.consult,
        "too_short": None if short is None else f"TOO SHORT: {short.depth_fsw}/{short.time_min}",
    }


def ascent_status(state: State, diver: DiverState, books: Books) -> Json:
    """The ascent of a diver; empty legs and nulls while he has not left the bottom."""
    ascent = ascent_of(state, diver, books)
    if not isinstance(ascent, Ascent):
        return {"legs": [], "stop_left_s": None, "surface_utc": None}
    found = ascent.found
    stop, ends_s = found.stop, found.ends_s
    return {
        "legs": [_leg(leg, ascent.now_s) for leg in found.legs],
        "stop_left_s": found.stop_left_s,
        "surface_utc": None if ends_s is None else utc_text(state, ascent.at(ends_s)),
        "place": found.place.value,
        "stop_fsw": None if stop is None else stop.level_fsw,
        "stop_over_s": found.over_s,
        "late_s": found.late_s,
        "next_stop": _stop(found.next_stop),
        "gas": found.gas.value,
        "waits_for_oxygen": found.waits_for_oxygen,
        "interval_s": found.interval_s,
        "planned": [_leg(leg, ascent.now_s) for leg in found.first.legs] if found.first else [],
        "changes": [
            {
                "rule": each.change.rule.id,
                "text": each.change.sentence,
                "delay_min": each.change.delay_min,
                "running": each.number == 0,
                "old": _brief(state, brief_of(ascent, each.change.old)),
                "new": _brief(state, brief_of(ascent, each.change.new)),
            }
            for each in found.changes
        ],
        "cards": _cards(state, ascent),
        "not_covered": None if found.refused is None else _not_covered(found.refused),
    }


def _leg(leg: Leg, now_s: int) -> Json:
    return {
        "from_fsw": leg.from_fsw,
        "to_fsw": leg.to_fsw,
        "start_s": leg.start_s,
        "end_s": leg.end_s,
        "gas": leg.gas.value,
        "what": leg.what.value,
        "reason": leg.reason,
        "done": leg.end_s <= now_s,
    }


def _stop(stop: DueStop | None) -> Json | None:
    if stop is None:
        return None
    return {
        "depth_fsw": stop.depth_fsw,
        "level_fsw": stop.level_fsw,
        "due_s": stop.due_s,
        "gas": stop.gas.value,
    }


def _brief(state: State, brief: PlanBrief) -> Json:
    return {
        "row": brief.row,
        "stops": [list(stop) for stop in brief.stops],
        "surface_utc": None if brief.ends_at is None else utc_text(state, brief.ends_at),
        "not_covered": brief.not_covered or None,
    }


def _cards(state: State, ascent: Ascent) -> Json | None:
    cards = cards_of(state, ascent)
    if cards is None:
        return None
    return {
        "rule": cards.rule,
        "holds": HOLDS_FOR,
        "deepest_missed_fsw": cards.deepest_missed_fsw,
        "clock_s": cards.clock_s,
        "cards": [
            {"id": card.id, "text": card.action, "medical_officer_first": card.medical_officer_first}
            for card in cards.cards
        ],
        "call": cards.call or None,
    }


def surface_status(state: State, diver: DiverState, books: Books) -> Json | None:
    """How a diver stands at the surface after a dive; null in the water and where no dive is known."""
    found = None if phase_of(diver) in IN_WATER else afterwards_of(state, diver, books)
    if found is None:
        return None
    now = found.now
    return {
        "group": found.last.group,
        "interval_s": found.interval_s,
        "standing": None if isinstance(now, NotCovered) else now.standing.value,
        "group_now": None if isinstance(now, NotCovered) else now.group,
        "drops_utc": _utc(state, found.drops_at),
        "drops_to": found.drops_to,
        "not_repetitive_utc": _utc(state, found.clean_at),
        "fly_utc": _utc(state, found.fly_at),
    }


def _utc(state: State, at: Instant | None) -> str | None:
    return None if at is None else utc_text(state, at)
