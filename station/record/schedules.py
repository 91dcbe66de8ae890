"""The row that a dive came up by, and its ascent as planned and as done, worked out from the log again."""

from station.core.books import Books
from station.core.by_table.bottom import schedule_of
from station.core.by_table.coming_up import Ascent, ascent_of
from station.core.decompression.answers import NotCovered
from station.core.decompression.legs import Leg
from station.core.decompression.schedule import Schedule
from station.core.state import DiverState, State
from station.record.model import LegLine, ScheduleRow


def schedule_row(state: State, diver: DiverState, books: Books) -> ScheduleRow | str:
    """The row of a dive from the last state of it; words where the tables have no answer.

    From leaving the bottom it is the row that he comes up by, before that the one if he left then.
    """
    ascent = ascent_of(state, diver, books)
    found = schedule_of(state, diver, books)
    if found is None:
        return "he did not leave the surface"
    answer = found.answer
    if isinstance(ascent, Ascent):
        plan = ascent.found.plan or ascent.found.first
        answer = plan.schedule if plan is not None else answer
    if isinstance(answer, NotCovered):
        return f"{answer.sentence} Ask {answer.consult}."
    return _row(answer, books.edition, ascent if isinstance(ascent, Ascent) else None)


def _row(found: Schedule, edition: str, ascent: Ascent | None) -> ScheduleRow:
    first = None if ascent is None else ascent.found.first
    done = () if ascent is None else ascent.found.legs
    return ScheduleRow(
        table=found.table,
        edition=edition,
        depth_fsw=found.depth_fsw,
        time_min=found.time_min,
        residual_min=found.residual_min,
        stops=tuple((stop.depth_fsw, stop.minutes) for stop in found.stops),
        total_ascent_s=found.total_ascent_s,
        group=found.group,
        category=found.category.value,
        exceptional=found.exceptional,
        planned=() if first is None else _lines(first.legs),
        done=_lines(tuple(leg for leg in done if ascent is not None and leg.end_s <= ascent.now_s)),
    )


def _lines(legs: tuple[Leg, ...]) -> tuple[LegLine, ...]:
    return tuple(
        LegLine(leg.from_fsw, leg.to_fsw, leg.start_s, leg.end_s, leg.gas.value, leg.what.value, leg.reason)
        for leg in legs
    )
