"""The ascent in words: legs planned and as dived, the stop clock, changes of the plan side by side, cards."""

from shared.clock import Instant
from shared.units import S_PER_MIN
from station.core.books import Books
from station.core.by_table.asked import Change, Place
from station.core.by_table.cards import HOLDS_FOR, cards_of
from station.core.by_table.coming_up import Ascent, ascent_of
from station.core.by_table.plan_facts import brief_of
from station.core.decompression.answers import Gas, NotCovered
from station.core.decompression.durations import clock_words
from station.core.decompression.legs import Leg, What
from station.core.decompression.parameters import SURFACE_INTERVAL_S
from station.core.facts import PlanBrief
from station.core.settings import Units
from station.core.state import DiverState, State
from station.present.ascent_looks import (
    AscentLook,
    AscentRow,
    CardLook,
    CardsLook,
    ChangeLook,
    PlanLook,
    RowState,
)
from station.present.figure_looks import Number, NumberState, Sign
from station.present.figures import clock_digits, level_text
from station.present.sentences import clock_text

_NOTHING = "–"


def ascent_look(state: State, diver: DiverState, books: Books, sign: Sign | None = None) -> AscentLook | None:
    """The ascent of a diver; None while he has not left the bottom. `sign` is the mark of his time."""
    ascent = ascent_of(state, diver, books)
    if ascent is None:
        return None
    if isinstance(ascent, NotCovered):
        clock = Number("No schedule", "", "", "min", NumberState.NONE, sign)
        return AscentLook("", clock, "", "", "", "", (), (), None, ascent.sentence)
    found = ascent.found
    plan = found.plan or found.first
    ends_s = found.ends_s
    return AscentLook(
        "" if plan is None else f"{plan.schedule.table}, {brief_of(ascent, plan).row}",
        stop_clock(ascent, sign),
        found.gas.value,
        _next_stop(state, ascent),
        "" if ends_s is None else clock_text(state, ascent.at(ends_s)),
        "" if ends_s is None else clock_words(max(0, ends_s - ascent.now_s)),
        _rows(state, ascent),
        tuple(_change(state, ascent, each) for each in found.changes),
        _cards(state, ascent),
        "" if found.refused is None else found.refused.sentence,
        *_served(ascent),
    )


def stop_clock(ascent: Ascent, sign: Sign | None) -> Number:
    """The clock that runs on the way up: time left at the stop, over it, the surface interval, the ascent."""
    found = ascent.found
    if found.interval_runs and found.interval_s is not None:
        limit = f"at most {clock_digits(SURFACE_INTERVAL_S)} to 50 fsw"
        return _clock("Surface interval", limit, found.interval_s, sign)
    if found.place is Place.CHAMBER and found.chamber_leg is not None and found.stop_left_s is not None:
        leg = found.chamber_leg
        return _clock(f"Chamber, {leg.to_fsw:g} fsw", f"left on {leg.gas}", found.stop_left_s, sign)
    if found.place is Place.STOP and found.stop is not None and found.stop_left_s is not None:
        where = f"{found.stop.level_fsw:g} fsw"
        if found.waits_for_oxygen:
            return _clock(f"Stop at {where}", "oxygen not confirmed", found.stop_left_s, sign)
        if found.over_s and not found.stop_left_s:
            return _clock(f"Stop at {where}, over", "leave it", found.over_s, sign)
        gas = " on oxygen" if found.stop.gas is Gas.OXYGEN else ""
        detail = f"of {clock_words(found.stop.due_s)} at {where}{gas}"
        return _clock("Stop time left", detail, found.stop_left_s, sign)
    late = f"{clock_words(found.late_s)} late" if found.late_s else "in time"
    return _clock("Since left bottom", late, ascent.now_s, sign)


def _served(ascent: Ascent) -> tuple[float | None, float]:
    """The share of the running stop that is served, and its whole length in minutes."""
    found = ascent.found
    if found.stop_left_s is None or found.waits_for_oxygen:
        return None, 0.0
    due_s = found.stop.due_s if found.stop is not None else 0
    if found.place is Place.CHAMBER and found.chamber_leg is not None:
        due_s = found.chamber_leg.end_s - found.chamber_leg.start_s
    if due_s <= 0:
        return None, 0.0
    return round(min(1.0, max(0.0, 1.0 - found.stop_left_s / due_s)), 3), due_s / S_PER_MIN


def _clock(caption: str, detail: str, seconds: int, sign: Sign | None) -> Number:
    return Number(caption, detail, clock_digits(seconds), "min", NumberState.GOOD, sign)


def _next_stop(state: State, ascent: Ascent) -> str:
    stop, plan = ascent.found.next_stop, ascent.found.plan
    if stop is None and (plan is None or ascent.found.place is Place.UP):
        return ""
    if stop is None:
        return "the chamber" if plan is not None and plan.chamber is not None else "the surface"
    gas = " on oxygen" if stop.gas is Gas.OXYGEN else ""
    return f"{level_text(stop.level_fsw, state.settings.units)}, {clock_words(stop.due_s)}{gas}"


def _rows(state: State, ascent: Ascent) -> tuple[AscentRow, ...]:
    """The legs as dived and foreseen, each beside the planned one for the same place and purpose."""
    planned = list(ascent.found.first.legs) if ascent.found.first is not None else []
    rows = []
    for leg in ascent.found.legs:
        twin = next((each for each in planned if _same(each, leg)), None)
        if twin is not None:
            planned.remove(twin)
        rows.append(_row(state, ascent, leg, twin))
    return tuple(rows)


def _same(planned: Leg, leg: Leg) -> bool:
    return (planned.what, planned.to_fsw) == (leg.what, leg.to_fsw)


def _row(state: State, ascent: Ascent, leg: Leg, planned: Leg | None) -> AscentRow:
    units: Units = state.settings.units
    where = level_text(leg.to_fsw, units)
    if leg.what in (What.TRAVEL, What.COMPRESSION, What.CHAMBER_TRAVEL):
        where = f"to {where}" if leg.to_fsw > 0 else "to the surface"
    done = leg.end_s <= ascent.now_s
    here = leg.start_s <= ascent.now_s < leg.end_s
    return AscentRow(
        where,
        leg.reason if leg.what is What.DELAY else leg.what.value,
        leg.gas.value,
        clock_words(leg.end_s - leg.start_s),
        _NOTHING if planned is None else _span(state, ascent, planned),
        _span(state, ascent, leg),
        RowState.DONE if done else RowState.HERE if here else RowState.DUE,
    )


def _span(state: State, ascent: Ascent, leg: Leg) -> str:
    return f"{clock_text(state, ascent.at(leg.start_s))} to {clock_text(state, ascent.at(leg.end_s))}"


def _change(state: State, ascent: Ascent, each: Change) -> ChangeLook:
    change = each.change
    return ChangeLook(
        change.rule.id,
        change.sentence,
        _plan(state, brief_of(ascent, change.old)),
        _plan(state, brief_of(ascent, change.new)),
        each.number == 0,
    )


def _plan(state: State, brief: PlanBrief) -> PlanLook:
    if brief.not_covered:
        return PlanLook("", brief.not_covered, "")
    stops = ", ".join(f"{clock_words(due_s)} at {fsw}" for fsw, due_s in brief.stops) or "no stop"
    ends: Instant | None = brief.ends_at
    return PlanLook(brief.row, stops, "" if ends is None else clock_text(state, ends))


def _cards(state: State, ascent: Ascent) -> CardsLook | None:
    cards = cards_of(state, ascent)
    if cards is None:
        return None
    missed = (
        "" if cards.deepest_missed_fsw is None else f"deepest stop missed {cards.deepest_missed_fsw} fsw, "
    )
    return CardsLook(
        f"Rule {cards.rule}: {missed}{clock_words(cards.clock_s)} since",
        HOLDS_FOR,
        f"Call {cards.call}" if cards.call else "no number of a diving medical officer is entered",
        tuple(CardLook(card.id, card.action, card.medical_officer_first) for card in cards.cards),
    )
