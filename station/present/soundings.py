"""The geometry of a diver in the water: the common scale, his line on it, the frame of his trace."""

from datetime import timedelta
from math import ceil
from typing import Final

from shared.clock import Instant
from shared.units import NS_PER_S, S_PER_MIN
from station.core.books import Books
from station.core.by_table.bottom import schedule_of
from station.core.by_table.coming_up import Ascent, ascent_of
from station.core.decompression.altitude import whole_stop_fsw
from station.core.decompression.schedule import Schedule
from station.core.depth import depth_of
from station.core.phase import Phase
from station.core.settings import Units
from station.core.state import DiverState, State, Trust
from station.core.timekeeping import phase_of, times_of
from station.present.figures import depth_unit, shown_depth
from station.present.looks import MarkStyle, Rung, Scale, SoundingLine, TraceFrame
from station.present.rates import tail_of
from station.present.sentences import utc_of

_OVER_PLAN: Final = 1.1
_LEAST_SCALE_FSW: Final = 30.0
_STEP_FSW: Final = 10.0
"""The scale ends a tenth below the deepest plan; where somebody is deeper, at the next ten below him."""

_STEPS: Final = ((120.0, 2.0, 10.0), (260.0, 5.0, 20.0), (1000.0, 10.0, 50.0))
"""Scale to this depth, its ticks and numerals, in fsw; msw take a half, a fifth as many feet."""

_MARK_STYLES: Final = {
    Trust.GOOD: MarkStyle.SOLID,
    Trust.SUSPECT: MarkStyle.SOLID,
    Trust.AT_LEAST: MarkStyle.HOLLOW,
    Trust.STALE: MarkStyle.HATCHED,
    Trust.LOST: MarkStyle.GONE,
}

_LEAD_IN_S: Final = 120
_LEAST_SPAN_MIN: Final = 30
_SPAN_STEP_MIN: Final = 30
_AHEAD_MIN: Final = 3
_TICK_MINUTES: Final = (5, 10, 15, 30, 60, 120)
_MOST_TICKS: Final = 7


def scale_of(state: State) -> Scale:
    """The one scale of all divers: from the deepest plan, or the deepest diver where he is below it."""
    plans = [d.planned_depth_fsw for d in state.divers if d.planned_depth_fsw is not None]
    depths = [fsw for d in state.divers for fsw in (d.deepest_fsw, d.shown_fsw) if fsw is not None]
    end_fsw = max([_LEAST_SCALE_FSW, *(plan * _OVER_PLAN for plan in plans)])
    if depths and max(depths) > end_fsw:
        end_fsw = ceil(max(depths) * _OVER_PLAN / _STEP_FSW) * _STEP_FSW
    tick, numeral = next((t, n) for to, t, n in _STEPS if end_fsw <= to or to == _STEPS[-1][0])
    units = state.settings.units
    if units is Units.METRIC:
        tick, numeral = tick / 2, numeral / 2
    return Scale(depth_unit(units), shown_depth(end_fsw, units), tick, numeral)


def line_of(state: State, diver: DiverState, books: Books) -> SoundingLine:
    """The diver on his line; where his gauge is silent, where he was last seen."""
    depth, units = depth_of(state, diver.name), state.settings.units
    fsw = depth.last_fsw if depth.gauge_fsw is None else depth.gauge_fsw
    if fsw is not None:
        fsw = max(0.0, fsw)
    return SoundingLine(
        None if diver.planned_depth_fsw is None else shown_depth(diver.planned_depth_fsw, units),
        None if fsw is None else shown_depth(fsw, units),
        _MARK_STYLES[depth.trust],
        depth.trust is Trust.AT_LEAST,
        None if diver.deepest_fsw is None else shown_depth(diver.deepest_fsw, units),
        rungs_of(state, diver, books),
        tail_of(state, diver, fsw, depth.rate_fsw_min),
    )


def rungs_of(state: State, diver: DiverState, books: Books) -> tuple[Rung, ...]:
    """The stops that are due, deepest first; on the bottom also those that the next row would add."""
    units, ascent = state.settings.units, ascent_of(state, diver, books)
    if isinstance(ascent, Ascent):
        plan = ascent.found.plan
        due = () if plan is None else tuple((s.level_fsw, -(-s.due_s // S_PER_MIN)) for s in plan.due)
        return tuple(Rung(shown_depth(fsw, units), f"{minutes}", True) for fsw, minutes in due)
    found = None if phase_of(diver) is Phase.DRESSED else schedule_of(state, diver, books)
    if found is None or not isinstance(found.answer, Schedule) or found.entry is None:
        return ()
    ratio = found.entry.ratio
    now = {stop.depth_fsw: stop.minutes for stop in found.answer.stops}
    cost = None if found.next_row is None else found.next_row.cost
    later = {stop.depth_fsw: stop.minutes for stop in cost.stops} if isinstance(cost, Schedule) else {}
    rungs = [(fsw, minutes, True) for fsw, minutes in now.items()]
    rungs += [(fsw, minutes, False) for fsw, minutes in later.items() if fsw not in now]
    return tuple(
        Rung(shown_depth(float(whole_stop_fsw(fsw, ratio)), units), f"{minutes}", due)
        for fsw, minutes, due in sorted(rungs, reverse=True)
    )


def frame_of(state: State, diver: DiverState, scale: Scale) -> TraceFrame:
    """The span of the trace: from just before he left, to past the plan, growing by whole steps."""
    times = times_of(diver, state.now)
    now_s = state.now // NS_PER_S
    start_s = _floor_min(state, now_s - _LEAD_IN_S, 5)
    if times.left_surface is not None:
        start_s = _floor_min(state, times.left_surface // NS_PER_S - _LEAD_IN_S, 1)
    wanted_min = (now_s - start_s) / S_PER_MIN + _AHEAD_MIN
    if diver.planned_bottom_min is not None:
        wanted_min = max(wanted_min, diver.planned_bottom_min + 2 * _AHEAD_MIN)
    span_min = max(_LEAST_SPAN_MIN, ceil(wanted_min / _SPAN_STEP_MIN) * _SPAN_STEP_MIN)
    end_s = start_s + span_min * S_PER_MIN
    left_s = None if times.left_surface is None else times.left_surface / NS_PER_S
    return TraceFrame(
        float(start_s),
        float(end_s),
        float(now_s),
        _ticks(state, start_s, end_s, span_min),
        scale.end,
        2 * scale.numeral_step,
        _plan(state, diver, left_s),
    )


def _floor_min(state: State, at_s: int, minutes: int) -> int:
    """The whole minute of the wall at or before a second of station time."""
    utc = utc_of(state, Instant(at_s * NS_PER_S))
    return at_s - (utc.minute % minutes * S_PER_MIN + utc.second)


def _ticks(state: State, start_s: int, end_s: int, span_min: int) -> tuple[tuple[float, str], ...]:
    every = next((m for m in _TICK_MINUTES if span_min / m <= _MOST_TICKS), _TICK_MINUTES[-1])
    utc = utc_of(state, Instant(start_s * NS_PER_S))
    past = timedelta(minutes=utc.hour * 60 + utc.minute) % timedelta(minutes=every)
    first = start_s + (every * S_PER_MIN - int(past.total_seconds())) % (every * S_PER_MIN)
    return tuple(
        (float(at_s), utc_of(state, Instant(at_s * NS_PER_S)).strftime("%H:%M"))
        for at_s in range(first, end_s + 1, every * S_PER_MIN)
    )


def _plan(state: State, diver: DiverState, left_s: float | None) -> tuple[tuple[float, float], ...]:
    """Down at the permitted rate, then along the planned depth to the planned bottom time."""
    if left_s is None or diver.planned_depth_fsw is None or diver.planned_bottom_min is None:
        return ()
    depth = shown_depth(diver.planned_depth_fsw, state.settings.units)
    down_s = diver.planned_depth_fsw / state.settings.parameters.descent_limit_fsw_min * S_PER_MIN
    leave_s = left_s + diver.planned_bottom_min * S_PER_MIN
    return ((left_s, 0.0), (left_s + down_s, depth), (leave_s, depth))
