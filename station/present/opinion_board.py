"""The second opinion in words: the model's stops beside the table's, only where something checks it.

It stands in the plan and in replay, never on the watch: a second schedule on a live deck invites argument.
"""

from functools import lru_cache

from station.core.books import Books
from station.core.by_table.bottom import schedule_of
from station.core.by_table.coming_up import Ascent, ascent_of
from station.core.decompression.answers import Mode
from station.core.decompression.gas_model.opinion import WHAT_IT_IS, WHAT_IT_IS_NOT, Opinion, second_opinion
from station.core.decompression.schedule import Schedule
from station.core.state import DiverState, State
from station.present.labels import MODEL_AGREES, MODEL_DIFFERS
from station.present.opinion_looks import OpinionLook, OpinionStop
from station.present.schedule_words import row_words

_KEPT = 256


def opinion_look(state: State, diver: DiverState, books: Books) -> OpinionLook | None:
    """The model beside the row that the diver is on; None while he is on none."""
    found, ascent = schedule_of(state, diver, books), ascent_of(state, diver, books)
    if found is None:
        return None
    answer = found.answer
    if isinstance(ascent, Ascent) and ascent.found.plan is not None:
        answer = ascent.found.plan.schedule
    omitted = isinstance(ascent, Ascent) and ascent.found.missed is not None
    why = _why_hidden(state, diver, answer if isinstance(answer, Schedule) else None, omitted=omitted)
    if why or not isinstance(answer, Schedule) or answer.time_min is None:
        return OpinionLook("", (), "", (WHAT_IT_IS, WHAT_IT_IS_NOT), why)
    printed = tuple((stop.depth_fsw, stop.minutes) for stop in answer.stops)
    said = opinion_of(answer.depth_fsw, answer.time_min, printed, answer.mode is Mode.AIR_OXYGEN)
    verdict = MODEL_AGREES if said.agrees else f"{MODEL_DIFFERS} {abs(said.difference_min)} min"
    return OpinionLook(
        f"{answer.table}, {row_words(answer)}", _stops(printed, said.stops), verdict, said.sentences
    )


@lru_cache(maxsize=_KEPT)
def opinion_of(depth_fsw: int, time_min: int, printed: tuple[tuple[int, int], ...], oxygen: bool) -> Opinion:
    """The model at one row, kept: a replay asks for it twenty times a second."""
    return second_opinion(depth_fsw, time_min, printed, oxygen=oxygen)


def _why_hidden(state: State, diver: DiverState, answer: Schedule | None, *, omitted: bool) -> str:
    """Why nothing published checks the model here; nothing where it may be shown."""
    if answer is None:
        return "The table has no answer, and the model is not asked in its place."
    if diver.past:
        return "A repetitive dive: nothing printed checks the model's residual load."
    if not diver.history_known:
        return "His history is not entered: the model is not asked."
    if state.settings.altitude_ft > 0:
        return "A dive at altitude: nothing printed checks the model here."
    if omitted:
        return "A stop was omitted: the model gives no advice on that."
    if answer.mode is Mode.CHAMBER:
        return "Surface decompression: the model is not held against it."
    if answer.time_min is None:
        return "No limit at this depth: there is nothing to compare."
    return ""


def _stops(table: tuple[tuple[int, int], ...], model: tuple[tuple[int, int], ...]) -> tuple[OpinionStop, ...]:
    by_table, by_model = dict(table), dict(model)
    depths = sorted({*by_table, *by_model}, reverse=True)
    return tuple(OpinionStop(f"{fsw} fsw", by_table.get(fsw, 0), by_model.get(fsw, 0)) for fsw in depths)
