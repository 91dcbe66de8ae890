"""Where from? For every figure by the tables: rule, source, evidence, what went in, the notes of its row."""

from station.core.books import Books
from station.core.by_table.bottom import schedule_of
from station.core.by_table.coming_up import Ascent, ascent_of
from station.core.decompression.durations import clock_words
from station.core.decompression.rule import EVIDENCE_WORDS
from station.core.decompression.rules import RULES
from station.core.decompression.schedule import Schedule
from station.core.state import DiverState, State
from station.present.ascent_looks import Origin
from station.present.schedule_words import cost_words, due_words, row_words


def origins_of(state: State, diver: DiverState, books: Books) -> tuple[Origin, ...]:
    """Every figure of a diver that the tables stand behind."""
    found, ascent = schedule_of(state, diver, books), ascent_of(state, diver, books)
    if found is None:
        return ()
    answer = found.answer
    if isinstance(ascent, Ascent) and ascent.found.plan is not None:
        answer = ascent.found.plan.schedule
    if not isinstance(answer, Schedule) or found.entry is None:
        return (
            (origin(answer.rule.id, "Schedule", answer.sentence, ""),)
            if not isinstance(answer, Schedule)
            else ()
        )
    made = [*_entered(state, diver, answer, found.entry.max_fsw), *_scheduled(answer, books)]
    if isinstance(ascent, Ascent):
        made += _coming_up(ascent)
    elif found.next_row is not None:
        cost = cost_words(found.next_row.cost)
        made.append(
            origin(
                "S3", "Next row", f"in {clock_words(max(0, found.next_row.in_s))}: {cost}", row_words(answer)
            )
        )
    return tuple(made)


def origin(rule: str, figure: str, value: str, inputs: str, notes: tuple[str, ...] = ()) -> Origin:
    """One figure with its rule's words."""
    known = RULES[rule]
    evidence = ", ".join(f"{tag}: {EVIDENCE_WORDS[tag]}" for tag in known.evidence)
    return Origin(figure, value, rule, known.sentence, known.source, evidence, inputs, notes)


def _entered(state: State, diver: DiverState, answer: Schedule, max_fsw: float) -> list[Origin]:
    deepest = "" if diver.deepest_fsw is None else f"deepest {diver.deepest_fsw:.1f} fsw"
    made = [
        origin("D2", "Maximum depth", f"{max_fsw:g} fsw", deepest),
        origin("T2", "Bottom time", f"{answer.bottom_min} min", "left surface to left bottom, delays added"),
        origin(
            "S1",
            "Equivalent time",
            f"{answer.equivalent_min} min",
            f"{answer.bottom_min} min and {answer.residual_min} min of residual nitrogen",
        ),
    ]
    if state.settings.altitude_ft > 0:
        made.append(
            origin("N4", "Altitude", f"{state.settings.altitude_ft:g} ft", f"maximum depth {max_fsw:g} fsw")
        )
    if diver.past:
        last = diver.past[-1]
        made.append(
            origin(
                "N2", "Residual nitrogen", f"{answer.residual_min} min", f"group {last.group or 'not given'}"
            )
        )
    return made


def _scheduled(answer: Schedule, books: Books) -> list[Origin]:
    notes = tuple(f"{books.tables.name_of(note.file)}, {note.row}: {note.sentence}" for note in answer.notes)
    row = f"{answer.table}, {row_words(answer)}"
    return [
        origin("S2", "Schedule", due_words(answer), row, notes),
        origin("S4", "Group", answer.group or "none given", row),
        origin("S6", "Category", answer.category.value.replace("_", " "), row),
    ]


def _coming_up(ascent: Ascent) -> list[Origin]:
    found = ascent.found
    made = []
    if found.first is not None:
        travel = clock_words(found.first.first_stop_travel_s)
        made.append(
            origin("A1", "Travel to the first stop", travel, f"stage depth {found.first.stage_fsw:.1f} fsw")
        )
    if found.stop_left_s is not None and found.stop is not None:
        due = f"{clock_words(found.stop.due_s)} due at {found.stop.depth_fsw} fsw"
        made.append(origin("A2", "Stop time left", clock_words(found.stop_left_s), due))
    if found.interval_s is not None:
        made.append(origin("X4", "Surface interval", clock_words(found.interval_s), ""))
    made += [
        origin(each.change.rule.id, "Change of plan", each.change.sentence, "") for each in found.changes
    ]
    return made
