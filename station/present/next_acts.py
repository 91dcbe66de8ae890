"""What is due next for a diver: one sentence for every phase of his dive."""

from shared.clock import Instant, after, seconds_between
from shared.units import S_PER_MIN
from station.core.books import Books
from station.core.by_table.afterwards import Afterwards, afterwards_of
from station.core.by_table.asked import Place
from station.core.by_table.bottom import IfHeLeft, schedule_of
from station.core.by_table.coming_up import Ascent, ascent_of
from station.core.decompression.answers import Gas, NotCovered
from station.core.decompression.legs import DueStop
from station.core.decompression.parameters import SURFACE_INTERVAL_S
from station.core.decompression.surface import interval_verdict
from station.core.finding import diver_named
from station.core.phase import Phase
from station.core.state import DiverState, Priority, Standing, State
from station.core.timekeeping import phase_of, times_of
from station.present.depth_words import hose_words
from station.present.figures import clock_digits, span_text
from station.present.schedule_words import cost_words, due_words, row_words
from station.present.sentences import AlarmRow, NextAct, clock_text, standing_alarms

UNTOLD = "History not entered: counted as bringing nothing along."


def next_act(state: State, diver_name: str, books: Books) -> NextAct:
    """What is due next for a diver. An emergency of his goes before everything."""
    diver = diver_named(state, diver_name)
    act = _by_phase(state, diver, books)
    for row in standing_alarms(state):
        if row.subject == diver_name and row.priority is Priority.EMERGENCY and _holds(row):
            return NextAct(row.action.split(". ")[0].rstrip("."), "Then:", f"{act.head}.")
    return _with_hose(act, hose_words(state, diver))


def _with_hose(act: NextAct, asked: str) -> NextAct:
    """The act, and behind it what is asked of the hose."""
    if not asked:
        return act
    line = f"{act.line}. {asked}" if act.line else ""
    return NextAct(act.head, act.lead, f"{act.detail} {asked}".strip(), line)


def _holds(row: AlarmRow) -> bool:
    return row.standing in (Standing.UNACKNOWLEDGED, Standing.ACKNOWLEDGED)


def _by_phase(state: State, diver: DiverState, books: Books) -> NextAct:
    match phase_of(diver):
        case Phase.DRESSED if not diver.history_known:
            return NextAct("Enter his history", "Group and time, or none.", "Then mark left surface.")
        case Phase.DRESSED:
            return NextAct("Mark left surface when he goes", "", _brought(state, diver, books))
        case Phase.DESCENDING:
            found = schedule_of(state, diver, books)
            return NextAct("Mark reached bottom", "Blow his hose there and read it.", _now(found))
        case Phase.ON_BOTTOM:
            return _on_bottom(state, diver, schedule_of(state, diver, books))
        case Phase.ASCENDING | Phase.AT_STOP | Phase.SURFACED | Phase.CHAMBER | Phase.DONE:
            return _after_bottom(state, diver, books)


def _brought(state: State, diver: DiverState, books: Books) -> str:
    if not diver.past:
        return "He brings nothing along."
    found = afterwards_of(state, diver, books)
    if found is None:
        return f"He begins in group {diver.past[-1].group}."
    if isinstance(found.now, NotCovered):
        return found.now.sentence
    return f"Now {found.now.standing.value}" + (f", group {found.now.group}." if found.now.group else ".")


def _now(found: IfHeLeft | None) -> str:
    if found is None or found.entry is None:
        return ""
    if isinstance(found.answer, NotCovered):
        return f"No schedule: {found.answer.sentence}"
    return f"Now {row_words(found.answer)}: {due_words(found.answer)}."


def _refused(state: State, answer: NotCovered) -> NextAct:
    call = state.settings.medical_officer
    number = f" Call {call}." if call else ""
    short = answer.too_short
    row = "" if short is None else f" The last row, {short.depth_fsw}/{short.time_min}, is TOO SHORT."
    return NextAct(f"No schedule: {answer.sentence.rstrip('.')}", "", f"Ask {answer.consult}.{number}{row}")


def _on_bottom(state: State, diver: DiverState, found: IfHeLeft | None) -> NextAct:
    times = times_of(diver, state.now)
    if found is None or times.left_surface is None or times.bottom_s is None:
        return NextAct("Mark left surface", "", "No bottom time is known.")
    if isinstance(found.answer, NotCovered):
        return _refused(state, found.answer)
    told = f" {UNTOLD}" if found.entry is not None and found.entry.untold else ""
    if found.next_row is None:
        return NextAct("No limit at this depth", "", f"{_now(found)}{told}")
    leave = after(times.left_surface, times.bottom_s + found.next_row.in_s)
    cost = cost_words(found.next_row.cost)
    planned = _planned(diver, times.left_surface)
    if planned is not None and state.now <= planned <= leave:
        left = span_text(seconds_between(state.now, planned))
        covers = f"{row_words(found.answer)}, {due_words(found.answer)}, covers it until"
        detail = f"{covers} {clock_text(state, leave)}; a second later: {cost}.{told}"
        return NextAct(f"Leave bottom by {clock_text(state, planned)} as planned", f"{left} left.", detail)
    stay = "without stops" if found.answer.no_stop else f"on {row_words(found.answer)}"
    head = f"Leave bottom by {clock_text(state, leave)} to stay {stay}"
    return NextAct(
        head,
        f"{_order(state, leave)}",
        f"A second later: {cost}.{told}",
        f"{head}; a second later: {cost}{f'. {UNTOLD}' if told else ''}",
    )


def _planned(diver: DiverState, left_surface: Instant) -> Instant | None:
    if diver.planned_bottom_min is None:
        return None
    return after(left_surface, diver.planned_bottom_min * S_PER_MIN)


def order_by(state: State, leave: Instant) -> Instant:
    """When the order to come up has to be given, with the lead that the team needs."""
    return after(leave, -state.settings.order_lead_s)


def _order(state: State, leave: Instant) -> str:
    order = order_by(state, leave)
    left_s = seconds_between(state.now, order)
    if left_s < 0:
        return f"Order up now: {span_text(seconds_between(state.now, leave))} left."
    return f"Order up by {clock_text(state, order)}: {span_text(left_s)} left."


def _after_bottom(state: State, diver: DiverState, books: Books) -> NextAct:
    ascent = ascent_of(state, diver, books)
    if isinstance(ascent, NotCovered):
        return _refused(state, ascent)
    if ascent is None:
        return _at_surface(state, diver, books)
    if ascent.found.refused is not None:
        return _refused(state, ascent.found.refused)
    match ascent.found.place:
        case Place.STOP:
            return _at_stop(state, ascent)
        case Place.WAY | Place.HELD:
            return _on_the_way(state, ascent)
        case Place.SURFACE if ascent.found.interval_runs:
            return _interval(state, ascent)
        case Place.CHAMBER | Place.LEFT_CHAMBER:
            return _in_chamber(state, ascent)
        case _:
            return _at_surface(state, diver, books)


def _stop_words(stop: DueStop) -> str:
    gas = " on oxygen" if stop.gas is Gas.OXYGEN else ""
    return f"{clock_digits(stop.due_s)} at {stop.level_fsw:g} fsw{gas}"


def _then(state: State, ascent: Ascent) -> str:
    stop, ends_s = ascent.found.next_stop, ascent.found.ends_s
    following = f"Then {_stop_words(stop)}." if stop is not None else "Then to the surface."
    if ascent.found.plan is not None and ascent.found.plan.chamber is not None and stop is None:
        following = "Then to the chamber."
    return following if ends_s is None else f"{following} Surface at {clock_text(state, ascent.at(ends_s))}."


def _at_stop(state: State, ascent: Ascent) -> NextAct:
    found = ascent.found
    stop, left_s = found.stop, found.stop_left_s
    if stop is None or left_s is None:
        raise ValueError("a diver at a stop without one")
    then = _then(state, ascent)
    if found.waits_for_oxygen:
        return NextAct(f"Confirm oxygen at {stop.level_fsw:g} fsw", "The stop clock has not started.", then)
    if left_s > 0:
        until = clock_text(state, ascent.at(ascent.now_s + left_s))
        head = f"Keep at {stop.level_fsw:g} fsw until {until}"
        return NextAct(head, f"{span_text(left_s)} left.", then)
    over = f"The stop has been over for {span_text(found.over_s)}." if found.over_s else "The stop is over."
    return NextAct(f"Leave {stop.level_fsw:g} fsw", over, then)


def _on_the_way(state: State, ascent: Ascent) -> NextAct:
    found = ascent.found
    late = f"{span_text(found.late_s)} late." if found.late_s else ""
    stop = found.next_stop
    if found.early is not None and stop is not None:
        head = f"Back to {stop.level_fsw:g} fsw: the stop was left too early"
        return NextAct(head, "Time above it does not count.", _then(state, ascent))
    if stop is not None:
        there = next((leg.end_s for leg in found.legs if leg.to_fsw == stop.level_fsw), ascent.now_s)
        when = clock_text(state, ascent.at(max(there, ascent.now_s)))
        head = f"Reach {stop.level_fsw:g} fsw at {when}, 30 fsw a minute"
        return NextAct(head, late, f"{_stop_words(stop)}.")
    if found.plan is not None and found.plan.chamber is not None:
        if found.interval_runs:
            return _interval(state, ascent)
        return NextAct(
            "Bring him up at 30 fsw a minute to 40 fsw", late, "The surface interval begins there."
        )
    ends_s = ascent.now_s if found.ends_s is None else max(found.ends_s, ascent.now_s)
    return NextAct(
        f"Surface at {clock_text(state, ascent.at(ends_s))}, 30 fsw a minute", late, "No stop is due."
    )


def _interval(state: State, ascent: Ascent) -> NextAct:
    found = ascent.found
    runs_s = found.interval_s or 0
    by = clock_text(state, ascent.at(ascent.now_s - runs_s + SURFACE_INTERVAL_S))
    periods = 0.0 if found.plan is None or found.plan.chamber is None else found.plan.chamber.periods
    verdict = interval_verdict(runs_s, periods)
    lead = f"Surface interval {clock_digits(runs_s)}: {verdict.value}."
    return NextAct(f"50 fsw in the chamber by {by}", lead, f"{periods:g} oxygen periods there.")


def _in_chamber(state: State, ascent: Ascent) -> NextAct:
    found, leg = ascent.found, ascent.found.chamber_leg
    ends = "" if found.ends_s is None else f"Surface at {clock_text(state, ascent.at(found.ends_s))}."
    if found.waits_for_oxygen:
        return NextAct("Confirm oxygen at 50 fsw in the chamber", "The periods have not started.", ends)
    if leg is None or found.stop_left_s is None:
        return NextAct("Bring the chamber up at 30 fsw a minute", "", ends)
    until = clock_text(state, ascent.at(leg.end_s))
    head = f"Chamber at {leg.to_fsw:g} fsw on {leg.gas} until {until}"
    return NextAct(head, f"{span_text(found.stop_left_s)} left.", ends)


def _at_surface(state: State, diver: DiverState, books: Books) -> NextAct:
    up = times_of(diver, state.now).reached_surface
    ago = "" if up is None else f"Up for {span_text(seconds_between(up, state.now))}."
    found = afterwards_of(state, diver, books)
    ask = "Ask him how he is; tell him what symptoms to report."
    return NextAct("Watch the diver", ago, " ".join(part for part in (_group(state, found), ask) if part))


def _group(state: State, found: Afterwards | None) -> str:
    if found is None:
        return ""
    if found.last.group is None:
        return "No group is given: no further dive by these tables."
    parts = [f"Group {found.last.group}"]
    if found.drops_at is not None:
        parts.append(f"{found.drops_to or 'not repetitive'} from {clock_text(state, found.drops_at)}")
    if found.fly_at is not None:
        parts.append(f"no flight before {clock_text(state, found.fly_at)}")
    return ", ".join(parts) + "."
