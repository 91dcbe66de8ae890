"""What an ascent is worked out from: the moments since the bottom was left, as plain values."""

from dataclasses import dataclass
from enum import StrEnum

from shared.clock import Instant
from shared.units import NS_PER_S
from station.core.books import Books
from station.core.by_table.entry import DiveEntry, companions, entry_of
from station.core.decompression.answers import Mode, NotCovered
from station.core.decompression.change import PlanChange
from station.core.decompression.schedule import TableEntry
from station.core.inputs import MarkKind
from station.core.state import DiverState, Mark, State
from station.core.timekeeping import Holding, holding_of, whole_seconds


class Place(StrEnum):
    """Where a diver who has left the bottom is, by his marks."""

    WAY = "on his way"
    STOP = "at a stop"
    HELD = "held where no stop is due"
    SURFACE = "at the surface"
    CHAMBER = "in the chamber"
    LEFT_CHAMBER = "coming out of the chamber"
    UP = "up"


@dataclass(frozen=True, slots=True)
class Step:
    """One moment of an ascent, in whole seconds from leaving the bottom, a begun one counted.

    `kind` is the mark, or the mode that the supervisor took; `number` is the mark's.
    """

    kind: MarkKind | Mode
    at_s: int
    number: int
    stop_fsw: float | None = None
    depth_fsw: float | None = None


@dataclass(frozen=True, slots=True)
class Away:
    """A time above the due stop by more than its band, in seconds from leaving the bottom. Rule A7."""

    from_s: int
    to_s: int


@dataclass(frozen=True, slots=True)
class AscentAsked:
    """Everything that an ascent follows from. `now_s` is cut, so that no clock reads too far.

    `passed_50_s` and `passed_40_s` are when he came shallower than that, None where it is not known.
    `shown_fsw` is where he is now, to a whole foot.
    """

    entry: TableEntry
    ratio: float
    stage_fsw: float
    steps: tuple[Step, ...]
    now_s: int
    passed_50_s: int | None
    passed_40_s: int | None
    shown_fsw: float | None
    early_s: int
    away: tuple[Away, ...] = ()


@dataclass(frozen=True, slots=True)
class Change:
    """One change of a plan: by which mark (0: a delay that still runs), when, what the rule made of it."""

    number: int
    at_s: int
    change: PlanChange


@dataclass(frozen=True, slots=True)
class Left:
    """How a diver left the bottom: when, and the marks since."""

    at: Instant
    mark: Mark
    later: tuple[Mark, ...]


def left_bottom(marks: Holding) -> Left | None:
    """The leaving of the bottom that holds; None while he is on it or never left it by a mark."""
    found: Left | None = None
    for mark, _ in marks:
        if mark.kind is MarkKind.LEFT_BOTTOM:
            found = Left(mark.at, mark, ())
        elif mark.kind is MarkKind.REACHED_BOTTOM:
            found = None
        elif found is not None:
            found = Left(found.at, found.mark, (*found.later, mark))
    return found


def asked_of(
    state: State, diver: DiverState, books: Books
) -> tuple[Left, DiveEntry, AscentAsked] | NotCovered | None:
    """What the ascent of a diver follows from; None while he has not left the bottom."""
    left = left_bottom(holding_of(diver))
    if left is None:
        return None
    entered = entry_of(state, diver, books)
    if entered is None or isinstance(entered, NotCovered):
        return entered
    stage_fsw = left.mark.depth_fsw
    if stage_fsw is None:
        stage_fsw = entered.max_fsw if diver.deepest_fsw is None else diver.deepest_fsw
    shown = diver.shown_fsw
    asked = AscentAsked(
        entered.entry,
        entered.ratio,
        max(0.0, stage_fsw),
        _steps(state, diver, left),
        max(0, (state.now - left.at) // NS_PER_S),
        _passed_s(state, left.at, diver.deeper_50_at),
        _passed_s(state, left.at, diver.deeper_40_at),
        None if shown is None else float(max(0, round(shown))),
        round(state.settings.parameters.stop_early_s),
        tuple(
            Away(_second(left.at, span.start) or 0, whole_seconds(left.at, span.end or state.now))
            for span in diver.away
            if span.start >= left.at
        ),
    )
    return left, entered, asked


def _passed_s(state: State, start: Instant, deeper_at: Instant | None) -> int | None:
    """When he came shallower; None while the last tick still had him deeper, and where nothing is known."""
    return None if deeper_at is None or deeper_at >= state.ticked else _second(start, deeper_at)


def _second(start: Instant, at: Instant | None) -> int | None:
    return None if at is None or at < start else whole_seconds(start, at)


def _steps(state: State, diver: DiverState, left: Left) -> tuple[Step, ...]:
    """Marks and shifts of mode in order of time; oxygen counts when everybody of the stage is on it."""
    steps = [
        Step(mark.kind, whole_seconds(left.at, mark.at), mark.number, mark.stop_fsw, mark.depth_fsw)
        for mark in left.later
        if mark.kind is not MarkKind.ON_OXYGEN
    ]
    steps += _on_oxygen(state, diver, left)
    steps += [
        Step(shift.mode, whole_seconds(left.at, shift.at), 0)
        for shift in diver.shifts
        if shift.dive == diver.dive and shift.at >= left.at
    ]
    return tuple(sorted(steps, key=lambda step: step.at_s))


def _on_oxygen(state: State, diver: DiverState, left: Left) -> list[Step]:
    """The n-th going on oxygen is the latest of the n-th of all who are bound; one who lacks it, none."""
    marked = []
    for each in companions(state, diver):
        his = left if each is diver else left_bottom(holding_of(each))
        later = () if his is None else his.later
        marked.append([mark for mark in later if mark.kind is MarkKind.ON_OXYGEN])
    found = []
    for together in zip(*marked, strict=False):
        last = max(together, key=lambda mark: mark.at)
        found.append(Step(MarkKind.ON_OXYGEN, whole_seconds(left.at, last.at), last.number, last.stop_fsw))
    return found
