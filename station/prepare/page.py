"""What the page of preparing shows of one diver: his lists, the step in hand, and his board row by row.

Plain values for the windows' process; words of the trade and sizes are the window's business.
"""

from dataclasses import dataclass

from shared.clock import Instant
from station.prepare.checklist import About, Checklist
from station.prepare.desk import Desk
from station.prepare.progress import Progress, StepView, progress_of, step_view
from station.prepare.ready import Board, Condition, Group, Sight, board_of, required_lists
from station.prepare.run import Run


@dataclass(frozen=True, slots=True)
class ListRow:
    """One list of the column of lists. `subject` is whom its presses name; `last_by` who pressed last."""

    key: str
    title: str
    subject: str
    progress: Progress
    begun: bool
    last_by: str
    last_at: Instant | None


@dataclass(frozen=True, slots=True)
class BoardRow:
    """One row of the board: empty `missing` is met."""

    group: Group
    missing: tuple[Condition, ...]


@dataclass(frozen=True, slots=True)
class Page:
    """The page of one diver. `passed` of `of` steps over all lists; `step` is None until a list is begun."""

    diver: str
    lists: tuple[ListRow, ...]
    passed: int
    of: int
    chosen: str
    stands_above: str
    step: StepView | None
    board: Board
    rows: tuple[BoardRow, ...]


def page_of(
    desk: Desk, diver: str, dive: int, sight: Sight, *, chosen: str = "", place: int | None = None
) -> Page:
    """The page with the list `chosen` open at `place`; else the first list and step that are not done."""
    lists = required_lists(desk, diver, dive)
    runs = {each.key: desk.run_of(each, diver, dive) for each in lists}
    rows = tuple(_row(each, runs[each.key], diver) for each in lists)
    in_hand = _in_hand(lists, rows, chosen)
    run = runs[in_hand.key] if in_hand else None
    board = board_of(desk, diver, dive, sight)
    return Page(
        diver,
        rows,
        sum(row.progress.passed for row in rows),
        sum(row.progress.of for row in rows),
        in_hand.key if in_hand else "",
        in_hand.stands_above if in_hand else "",
        _step(in_hand, run, place, sight.now),
        board,
        tuple(
            BoardRow(group, tuple(each for each in board.missing if each.group is group)) for group in Group
        ),
    )


def _in_hand(lists: tuple[Checklist, ...], rows: tuple[ListRow, ...], chosen: str) -> Checklist | None:
    named = next((each for each in lists if each.key == chosen), None)
    if named is not None:
        return named
    unfinished = (each for each, row in zip(lists, rows, strict=True) if not row.progress.complete)
    return next(unfinished, next(iter(lists), None))


def _row(checklist: Checklist, run: Run | None, diver: str) -> ListRow:
    subject = diver if checklist.about is About.DIVER else ""
    progress = progress_of(checklist, run)
    pressed = [step for step in run.steps if step.at is not None] if run else []
    last = max(pressed, key=lambda step: step.at or 0, default=None)
    by = (last.signed_by or next(reversed(last.names), "")) if last else ""
    return ListRow(
        checklist.key, checklist.title, subject, progress, run is not None, by, last.at if last else None
    )


def _step(checklist: Checklist | None, run: Run | None, place: int | None, now: Instant) -> StepView | None:
    if checklist is None or run is None:
        return None
    shown = progress_of(checklist, run).next_place if place is None else place
    return step_view(checklist, run, len(run.steps) - 1 if shown is None else shown, now)
