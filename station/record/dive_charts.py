"""The curves of a dive: depth with what happened, supply with what was needed."""

from typing import Final

from shared.clock import EPOCH
from shared.units import NS_PER_S, bar_from_psi, msw_from_fsw
from station.core.settings import Units
from station.present.figures import clock_digits, depth_unit, pressure_unit
from station.record.model import Dive, MarkMade, Record
from station.record.sheet import Chart, Moment, Span

DEPTH_MM: Final = 42.0
SUPPLY_MM: Final = 11.0
"""Heights of the two charts: own choice, a page then holds an ordinary dive."""

_SHORT: Final = {
    "left_surface": "LS",
    "reached_bottom": "RB",
    "left_bottom": "LB",
    "reached_stop": "R",
    "left_stop": "L",
    "reached_surface": "RS",
}


def depth_chart(record: Record, dive: Dive) -> Chart:
    """The depth by the gauge over the dive, its marks, stops and alarms, where the station was off watch."""
    factor = 1.0 if record.settings.units is Units.US else msw_from_fsw(1.0)
    planned = dive.planned_depth_fsw
    marks = tuple(
        Moment(mark.at / NS_PER_S, _short(mark, factor)) for mark in dive.marks if mark.at is not None
    )
    alarms = tuple(Moment(run.raised_at / NS_PER_S, str(n)) for n, run in enumerate(dive.alarms, 1))
    gaps = tuple(Span(gap.start / NS_PER_S, gap.end / NS_PER_S, "off watch") for gap in dive.gaps)
    return Chart(
        f"Depth by the gauge, {depth_unit(record.settings.units)} (times in UTC)",
        depth_unit(record.settings.units),
        dive.profile.at_s,
        dive.profile.depth_fsw * factor,
        True,
        _utc_at_zero_s(record),
        DEPTH_MM,
        plan=None if planned is None else planned * factor,
        marks=marks,
        alarms=alarms,
        spans=(*gaps, *_stops(record, dive, factor)),
    )


def _short(mark: MarkMade, factor: float) -> str:
    short = _SHORT.get(mark.kind, mark.kind.replace("_", " "))
    return short if mark.stop_fsw is None else f"{short}{mark.stop_fsw * factor:.0f}"


def _stops(record: Record, dive: Dive, factor: float) -> list[Span]:
    """The stops as they were marked; one that nobody marked as left runs to the next mark."""
    marks = sorted((mark.at, mark) for mark in dive.marks if mark.at is not None)
    spans = []
    for place, (at, mark) in enumerate(marks):
        if mark.kind == "reached_stop" and mark.stop_fsw is not None:
            end = marks[place + 1][0] if place + 1 < len(marks) else record.ends
            label = f"{mark.stop_fsw * factor:.0f}: {clock_digits((end - at) // NS_PER_S)}"
            spans.append(Span(at / NS_PER_S, end / NS_PER_S, label, mark.stop_fsw * factor))
    return spans


def _utc_at_zero_s(record: Record) -> float:
    begins = record.utc(EPOCH)
    return begins.hour * 3600 + begins.minute * 60 + begins.second + begins.microsecond / 1e6


def supply_chart(record: Record, dive: Dive) -> Chart:
    """The pressure that he breathed from, and the least that it had to have."""
    factor = 1.0 if record.settings.units is Units.US else bar_from_psi(1.0)
    unit = pressure_unit(record.settings.units)
    return Chart(
        f"Supply pressure and the least allowed (dashed), {unit}",
        unit,
        dive.profile.at_s,
        dive.profile.supply_psig * factor,
        False,
        _utc_at_zero_s(record),
        SUPPLY_MM,
        limit=dive.profile.required_psig * factor,
        alarms=tuple(
            Moment(run.raised_at / NS_PER_S, str(n))
            for n, run in enumerate(dive.alarms, 1)
            if "supply" in run.id
        ),
    )
