"""One page on what a watch was: times, depth and least margin of each diver, alarms, where the log lies."""

from dataclasses import dataclass, field

from shared.clock import Instant
from station.caution import CAUTION
from station.core.air.supply import supply_of
from station.core.alarms.catalogue import BY_ID
from station.core.books import Books
from station.core.by_table.bottom import schedule_of
from station.core.by_table.coming_up import Ascent, ascent_of
from station.core.decompression.answers import NotCovered
from station.core.depth import depth_of
from station.core.facts import AlarmChanged, Fact, PlanChanged, Refused
from station.core.inputs import Arrival, Tick
from station.core.state import DiverState, Standing, State
from station.core.timekeeping import effective_marks, in_water, phase_of, times_of
from station.present.figures import clock_digits, depth_text, figure_text, pressure_text
from station.present.schedule_words import due_words, row_words
from station.present.sentences import clock_text, utc_text


@dataclass(slots=True)
class Tally:
    """What is counted while the watch runs; a listener of the pump."""

    least_margin: dict[str, tuple[float, Instant]] = field(default_factory=dict)
    raised: list[AlarmChanged] = field(default_factory=list)
    refused: list[Refused] = field(default_factory=list)
    planned: list[PlanChanged] = field(default_factory=list)

    def __call__(self, state: State, arrival: Arrival, facts: tuple[Fact, ...]) -> None:
        """Count what this step brought."""
        for fact in facts:
            if isinstance(fact, AlarmChanged) and fact.standing is Standing.UNACKNOWLEDGED:
                self.raised.append(fact)
            if isinstance(fact, Refused):
                self.refused.append(fact)
            if isinstance(fact, PlanChanged):
                self.planned.append(fact)
        if isinstance(arrival, Tick):
            for diver in state.divers:
                self._margin(state, diver)

    def _margin(self, state: State, diver: DiverState) -> None:
        if not in_water(diver):
            return
        margin_psi = supply_of(state, diver.name).margin_psi
        least = self.least_margin.get(diver.name)
        if margin_psi is not None and (least is None or margin_psi < least[0]):
            self.least_margin[diver.name] = (margin_psi, state.now)


def summary(state: State, tally: Tally, closing: tuple[str, ...], books: Books) -> str:
    """The page; `closing` are lines about the log and the pictures."""
    lines = [
        f"{state.settings.station}: {state.settings.job}".rstrip(": "),
        f"{utc_text(state, Instant(0))} to {utc_text(state, state.now)}",
        "",
    ]
    for diver in state.divers:
        lines += _of_diver(state, diver, tally, books)
    lines += ["Alarms raised:", *(_alarm_line(state, fact) for fact in tally.raised)]
    if not tally.raised:
        lines.append("  none")
    lines += [f"  refused: {fact.act}: {fact.reason}" for fact in tally.refused]
    return "\n".join([*lines, "", *closing, "", f"{CAUTION}.", ""])


def _of_diver(state: State, diver: DiverState, tally: Tally, books: Books) -> list[str]:
    units, times, depth = state.settings.units, times_of(diver, state.now), depth_of(state, diver.name)
    lines = [f"{diver.name}, dive {diver.dive}: {phase_of(diver).value.replace('_', ' ')}"]
    if times.left_surface is None:
        return [*lines, "  did not leave the surface", ""]
    events = (
        ("left surface", times.left_surface),
        ("reached bottom", times.reached_bottom),
        ("left bottom", times.left_bottom),
        ("reached surface", times.reached_surface),
    )
    told = ", ".join(f"{name} {clock_text(state, at)}" for name, at in events if at is not None)
    lines.append(f"  {told}{' (start by the trace)' if times.presumed else ''}")
    if times.bottom_s is not None:
        lines.append(f"  bottom time {clock_digits(times.bottom_s)}, counts as {times.bottom_min} min")
    read_fsw = diver.deepest_fsw if diver.deepest_read_fsw is None else diver.deepest_read_fsw
    if depth.max_fsw is not None and read_fsw is not None:
        lines.append(
            f"  deepest reading {depth_text(read_fsw, units)}, maximum depth "
            f"{depth_text(depth.max_fsw, units)}, table depth {depth.table_fsw} fsw"
        )
    least = tally.least_margin.get(diver.name)
    if least is not None:
        lines.append(f"  least air margin {pressure_text(least[0], units)} at {clock_text(state, least[1])}")
    return [*lines, *_by_tables(state, diver, tally, books), ""]


def _by_tables(state: State, diver: DiverState, tally: Tally, books: Books) -> list[str]:
    """The row that he came up by, the stops as kept, every change of the plan, his group."""
    ascent, found = ascent_of(state, diver, books), schedule_of(state, diver, books)
    answer = None if found is None else found.answer
    if isinstance(ascent, Ascent) and ascent.found.plan is not None:
        answer = ascent.found.plan.schedule
    lines = []
    if isinstance(answer, NotCovered):
        lines.append(f"  no schedule: {answer.sentence}")
    elif answer is not None:
        group = f"group {answer.group}" if answer.group else "no group given"
        lines.append(f"  {answer.table}: {row_words(answer)}, {due_words(answer)}, {group}")
    marks = [mark for mark in effective_marks(diver) if mark.stop_fsw is not None]
    if marks:
        told = ", ".join(
            f"{mark.kind.value.replace('_', ' ')} {mark.stop_fsw:g} fsw {clock_text(state, mark.at)}"
            for mark in marks
        )
        lines.append(f"  {told}")
    lines += [
        f"  {clock_text(state, fact.at)} rule {fact.rule}: {fact.sentence}"
        for fact in tally.planned
        if fact.diver == diver.name
    ]
    return lines


def _alarm_line(state: State, fact: AlarmChanged) -> str:
    entry = BY_ID[fact.id]
    what = entry.sentence.format(
        subject=fact.subject,
        measured=figure_text(entry.figure, fact.measured, state.settings.units),
        limit=figure_text(entry.figure, fact.limit, state.settings.units),
    )
    return f"  {clock_text(state, fact.at)} {fact.priority.value.upper():9} {fact.subject}: {what}"
