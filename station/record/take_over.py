"""The take-over sheet: one page from which a team finishes the dive on paper when the machine dies.

A pure function of a state and the tables, so that a window, a key and a change of phase can call it.
Whatever runs is given with the time of day at which it was right: a clock is read on from there by hand.
"""

from typing import Final

from shared.clock import Instant, after
from shared.units import NS_PER_S
from station.caution import CAUTION
from station.core.air.supply import banks_of, supply_of
from station.core.books import Books
from station.core.by_table.bottom import IfHeLeft, schedule_of
from station.core.by_table.coming_up import Ascent, ascent_of
from station.core.decompression.answers import Mode, NotCovered
from station.core.decompression.ascent import ascent_plan
from station.core.decompression.legs import Leg
from station.core.decompression.schedule import Schedule
from station.core.depth import depth_of
from station.core.finding import diver_settings
from station.core.phase import IN_WATER, Phase
from station.core.state import DiverState, State
from station.core.timekeeping import effective_marks, phase_of, times_of
from station.present.figures import clock_digits, depth_text, pressure_text, span_text
from station.present.next_acts import next_act
from station.present.sentences import clock_text, standing_alarms, utc_text
from station.record.dive_sheet import UNKNOWN, banner_of
from station.record.sheet import Blanks, Block, Facts, Lines, Pair, Sheet, Table, bounded
from station.record.words import shown

BY_HAND: Final = "__________"
ENLARGED: Final = {0: 1.4, 1: 1.4, 2: 1.15}
"""How much the sheet is enlarged, by the divers on it who are not merely dressed: own choice, one page."""


def take_over_sheet(state: State, books: Books, *, mode: str, log: str = "", head: str = "") -> Sheet:
    """The sheet of the state's instant.

    `mode` is live, rehearsal or replay, `log` the name of the log, `head` the head of its chain.
    """
    settings = state.settings
    blocks: list[Block] = [
        Facts(
            "",
            (
                ("Supervisor", shown(settings.supervisor, 60) or UNKNOWN),
                ("Work", shown(settings.job, 120) or UNKNOWN),
                ("Tables", shown(books.edition, 80)),
            ),
        )
    ]
    for diver in state.divers:
        blocks += _of_diver(state, diver, books)
    blocks += [_banks(state), _alarms(state)]
    blocks.append(Blanks("Taken over by hand", ("Name, time of day", "Stopwatch started at (time of day)")))
    blocks.append(Lines("Notes", ("_" * 70, "_" * 70)))
    foot = f"Log {shown(log, 60)}, record {state.seq}" + (f", head digest {head}" if head else "")
    return Sheet(
        f"Take over by hand: {shown(settings.station, 60)}",
        f"Everything here stood at {clock_text(state, state.now)} UTC. Read each clock on from there.",
        utc_text(state, state.now),
        banner_of(mode),
        tuple(blocks),
        (f"{CAUTION}.", foot),
        ENLARGED.get(sum(phase_of(diver) is not Phase.DRESSED for diver in state.divers), 1.0),
    )


def _of_diver(state: State, diver: DiverState, books: Books) -> list[Block]:
    post, times = diver_settings(state, diver.name), times_of(diver, state.now)
    name = f"{shown(diver.name, 40)}: {shown(post.person, 60)}, dive {diver.dive}, "
    phase = phase_of(diver).value.replace("_", " ")
    if times.left_surface is None:
        act = next_act(state, diver.name, books).sentence()
        return [Lines(f"{name}{phase}", (f"on {shown(post.supply, 40)}; {act}",))]
    return [
        Facts(f"{name}{phase}", (*_clocks(state, diver), *_depths(state, diver), *_air(state, diver)), 2),
        Lines("", (f"Next: {next_act(state, diver.name, books).sentence()}",)),
        Pair((_marks(state, diver),), (_schedule(state, diver, books),), 0.46),
        *_legs(state, diver, books),
    ]


def _clocks(state: State, diver: DiverState) -> tuple[tuple[str, str], ...]:
    times = times_of(diver, state.now)
    if times.left_surface is None or times.bottom_s is None:
        return ()
    began = f"began {clock_text(state, times.left_surface)}{' by the trace' if times.presumed else ''}"
    over = times.left_bottom is not None or times.reached_surface is not None
    runs = "over" if over else f"runs, at {clock_text(state, state.now)}"
    rows = [("Bottom time, min:s", f"{clock_digits(times.bottom_s)} ({runs}); {began}")]
    if times.left_bottom is not None:
        since = clock_digits((state.now - times.left_bottom) // NS_PER_S)
        rows.append(("Since leaving the bottom", f"{since} at {clock_text(state, state.now)}"))
    if times.reached_surface is not None:
        since = span_text((state.now - times.reached_surface) / NS_PER_S)
        rows.append(("At the surface for", since))
    return tuple(rows)


def _depths(state: State, diver: DiverState) -> tuple[tuple[str, str], ...]:
    units, depth = state.settings.units, depth_of(state, diver.name)
    now = "not heard: read the hand gauge"
    if depth.gauge_fsw is not None:
        now = f"{depth_text(depth.gauge_fsw, units)} by the gauge, {depth.trust.value.replace('_', ' ')}"
    max_text = UNKNOWN if depth.max_fsw is None else depth_text(depth.max_fsw, units)
    table = f"{max_text}; enters the table at {depth.table_fsw or UNKNOWN} fsw"
    return (("Depth", now), ("Maximum, corrected", table))


def _air(state: State, diver: DiverState) -> tuple[tuple[str, str], ...]:
    units, supply = state.settings.units, supply_of(state, diver.name)
    pressure = "not heard" if supply.pressure_psig is None else pressure_text(supply.pressure_psig, units)
    least = UNKNOWN if supply.required_psig is None else pressure_text(supply.required_psig, units)
    return (("Supply", f"{shown(supply.source, 40)}, {pressure}; least {least}"),)


def _marks(state: State, diver: DiverState) -> Table:
    rows = [
        (
            mark.kind.value.replace("_", " ").capitalize()
            + ("" if mark.stop_fsw is None else f" {mark.stop_fsw:g} fsw"),
            clock_text(state, mark.at),
            shown(mark.by, 40),
        )
        for mark in effective_marks(diver)
    ]
    rows += [(BY_HAND, BY_HAND, BY_HAND)] * 3
    return Table("Marks (UTC), go on by hand", ("Mark", "Time", "By"), (3, 2, 3), bounded(tuple(rows)))


def _schedule(state: State, diver: DiverState, books: Books) -> Table | Lines:
    """The row that he comes up by; before he leaves the bottom that of now and of the next ones."""
    ascent = ascent_of(state, diver, books)
    if isinstance(ascent, Ascent):
        plan = ascent.found.plan
        answer = (ascent.found.refused or _NO_ROW) if plan is None else plan.schedule
        return _rows((("comes up by", answer),))
    found = schedule_of(state, diver, books)
    return Lines("Schedule", (_NO_ROW,)) if found is None else _rows(_ahead(state, diver, found))


_NO_ROW: Final = "No row: read the printed table in force."


def _ahead(state: State, diver: DiverState, found: IfHeLeft) -> tuple[tuple[str, Schedule | NotCovered], ...]:
    rows: list[tuple[str, Schedule | NotCovered]] = [("if he left now", found.answer)]
    left_at, bottom_s = times_of(diver, state.now).left_surface, times_of(diver, state.now).bottom_s
    if found.next_row is not None and left_at is not None and bottom_s is not None:
        past = after(left_at, bottom_s + found.next_row.in_s)
        rows.append((f"after {clock_text(state, past)}", found.next_row.cost))
    if found.next_depth is not None:
        rows.append((f"when {found.next_depth.in_fsw:.1f} fsw deeper", found.next_depth.cost))
    return tuple(rows)


def _rows(answers: tuple[tuple[str, Schedule | NotCovered | str], ...]) -> Table:
    head = ("When", "Row", "Stops: fsw/min", "Ascent", "Group")
    return Table("Schedule by the tables", head, (3, 2, 4, 1.6, 1.4), tuple(map(_row, answers)))


def _row(named: tuple[str, Schedule | NotCovered | str]) -> tuple[str, ...]:
    when, answer = named
    if isinstance(answer, str):
        return (when, "none", answer, "", "")
    if isinstance(answer, NotCovered):
        return (when, "none", shown(f"{answer.sentence} Ask {answer.consult}.", 300), "", "")
    stops = ", ".join(f"{stop.depth_fsw}/{stop.minutes}" for stop in answer.stops) or "none"
    if answer.mode is Mode.CHAMBER and answer.chamber_periods:
        stops += f"; chamber {answer.chamber_periods:g} periods"
    row = f"{answer.depth_fsw}/{answer.time_min or 'no limit'}"
    return (when, row, stops, clock_digits(answer.total_ascent_s), answer.group or "none")


def _legs(state: State, diver: DiverState, books: Books) -> list[Block]:
    """The legs of the ascent with the time of day; on the bottom from leaving it."""
    ascent = ascent_of(state, diver, books)
    if isinstance(ascent, Ascent):
        ahead = tuple(leg for leg in ascent.found.legs if leg.end_s > ascent.now_s)
        rows = tuple((clock_text(state, _at(ascent, leg)), *_leg(leg), BY_HAND) for leg in ahead)
        return [_leg_table("Ascent still due (UTC)", "Until", rows)] if rows else []
    found = schedule_of(state, diver, books)
    if found is None or found.entry is None or phase_of(diver) not in IN_WATER:
        return []
    stage_fsw = diver.shown_fsw if diver.shown_fsw is not None else found.entry.max_fsw
    plan = ascent_plan(books.tables, found.entry.entry, max(0.0, round(stage_fsw)), found.entry.ratio)
    if isinstance(plan, NotCovered):
        return []
    rows = tuple((clock_digits(leg.end_s), *_leg(leg), BY_HAND) for leg in plan.legs)
    return [_leg_table("Ascent if he left now", "min:s from leaving", rows)]


def _at(ascent: Ascent, leg: Leg) -> Instant:
    return ascent.at(leg.end_s)


def _leg(leg: Leg) -> tuple[str, str]:
    where = (
        f"{leg.from_fsw:g} to {leg.to_fsw:g} fsw" if leg.from_fsw != leg.to_fsw else f"at {leg.to_fsw:g} fsw"
    )
    return where, f"{leg.what.value}, {leg.gas.value}{': ' if leg.reason else ''}{shown(leg.reason, 120)}"


def _leg_table(title: str, until: str, rows: tuple[tuple[str, ...], ...]) -> Table:
    return Table(title, (until, "Where", "What", "Done at"), (2, 2.4, 6, 2), bounded(rows))


def _banks(state: State) -> Table:
    units = state.settings.units
    rows = tuple(
        (
            shown(bank.title, 60),
            "not heard: read it by hand"
            if bank.pressure_psig is None
            else pressure_text(bank.pressure_psig, units),
            BY_HAND,
        )
        for bank in banks_of(state)
    )
    return Table("Air", ("Supply", "Pressure", "Minutes left, by hand"), (3, 3, 3), bounded(rows))


def _alarms(state: State) -> Table:
    rows = tuple(
        (row.priority.value.upper(), shown(row.subject, 40), shown(row.what, 200), shown(row.action, 200))
        for row in standing_alarms(state)
    )
    return Table("Alarms that stand", ("Priority", "Who", "What", "What to do"), (2, 2, 5, 7), bounded(rows))
