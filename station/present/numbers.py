"""The three large numbers of a diver: depth, time, air margin, each in the state that its gauge leaves it."""

from typing import Final

from shared.clock import Instant, seconds_between
from station.core.air.supply import Supply, supply_of
from station.core.alarms.table_entries import TABLE_ENTRIES
from station.core.books import Books
from station.core.by_table.coming_up import Ascent, ascent_of
from station.core.depth import Depth, depth_of
from station.core.phase import Phase
from station.core.state import DiverState, Priority, Standing, State, Trust
from station.core.timekeeping import effective_marks, phase_of, times_of
from station.present.ascent_board import stop_clock
from station.present.depth_words import caption_of, doubt_of, is_blowing, typed_depth
from station.present.figures import (
    clock_digits,
    depth_digits,
    depth_text,
    depth_unit,
    pressure_digits,
    pressure_text,
    pressure_unit,
    span_text,
)
from station.present.looks import Flash, Number, NumberState, Sign
from station.present.sentences import AlarmRow, clock_text, standing_alarms

DEPTH_ALARMS: Final = frozenset(
    {
        "deeper-than-planned",
        "depth-not-heard",
        "ascent-dangerous",
        "ascent-fast",
        "descent-fast",
        "deep-after-surfacing",
        "above-stop",
        "oxygen-too-deep",
        "blow-asked",
        "depth-unproven",
        "hose-flows",
        "gauges-differ",
        "reading-due",
    }
)
TIME_ALARMS: Final = frozenset(
    {
        "start-not-marked",
        "descent-after-leaving",
        "surface-not-marked",
        *(entry.id for entry in TABLE_ENTRIES if entry.id not in DEPTH_ALARMS),
    }
)
AIR_ALARMS: Final = frozenset({"supply-below-minimum", "supply-not-heard", "supply-falling", "on-reserve"})
"""Which number each alarm of a diver stands at. Every such alarm of the catalogue is in one of the three."""

_COMING_UP: Final = (Phase.ASCENDING, Phase.AT_STOP)
_OF_TRUST: Final = {
    Trust.GOOD: NumberState.GOOD,
    Trust.AT_LEAST: NumberState.AT_LEAST,
    Trust.SUSPECT: NumberState.SUSPECT,
    Trust.STALE: NumberState.STALE,
    Trust.LOST: NumberState.LOST,
}
_SIGNED: Final = (NumberState.SUSPECT, NumberState.STALE, NumberState.LOST)
"""States that carry a mark of their own, whether or not an alarm has had its dwell."""


def flash_of(row: AlarmRow) -> Flash:
    """How the mark of an alarm flashes; what asks for no acknowledgement does not."""
    match row.standing:
        case Standing.UNACKNOWLEDGED:
            return Flash.FAST if row.to_see else Flash.STEADY
        case Standing.RETURNED:
            return Flash.SLOW
        case _:
            return Flash.STEADY


def sign_of(state: State, subject: str, ids: frozenset[str]) -> Sign | None:
    """The mark of the gravest of these alarms that holds on a subject."""
    for row in standing_alarms(state):
        if row.subject == subject and row.id in ids and _holds(row):
            return Sign(row.priority, flash_of(row))
    return None


def _holds(row: AlarmRow) -> bool:
    return row.standing in (Standing.UNACKNOWLEDGED, Standing.ACKNOWLEDGED)


def number_state(trust: Trust) -> NumberState:
    """How a number of this trust is drawn."""
    return _OF_TRUST[trust]


def sign_or_own(sign: Sign | None, number: NumberState) -> Sign | None:
    """The alarm's mark; else the WARNING that a number in trouble carries by itself."""
    return sign or (Sign(Priority.WARNING) if number in _SIGNED else None)


def age_text(age_s: float | None) -> str:
    """An age: tenths of a second below ten seconds."""
    if age_s is None:
        return "never"
    return f"{age_s:.1f} s" if age_s < 10 else span_text(age_s)


def signed(digits: str) -> str:
    """A figure with its sign, plus or a true minus."""
    return f"−{digits[1:]}" if digits.startswith("-") else f"+{digits}"


def depth_number(state: State, diver: DiverState) -> Number:
    """The depth of the gauge, with the deepest and the table depth that it enters."""
    depth, units = depth_of(state, diver.name), state.settings.units
    shown = number_state(depth.trust)
    sign = sign_of(state, diver.name, DEPTH_ALARMS)
    if shown is not NumberState.SUSPECT or not is_blowing(diver):
        sign = sign_or_own(sign, shown)
    unit = depth_unit(units)
    typed = typed_depth(state, diver) if depth.gauge_fsw is None else None
    if typed is not None:
        return Number("Depth by hand", typed[1], typed[0], unit, NumberState.MANUAL, sign)
    if shown in (NumberState.STALE, NumberState.LOST) or depth.gauge_fsw is None:
        struck = "" if depth.last_fsw is None else depth_digits(depth.last_fsw, units)
        caption, detail = _silence("Depth", depth.age_s, state, shown)
        return Number(caption, detail, "", unit, _silent(shown), sign, struck)
    short = sign is not None
    detail = doubt_of(state, diver, depth, short=short) or _deepest(state, diver, depth, short=short)
    return Number(
        caption_of(diver, depth.trust), detail, depth_digits(depth.gauge_fsw, units), unit, shown, sign
    )


def _silent(shown: NumberState) -> NumberState:
    return NumberState.STALE if shown is NumberState.STALE else NumberState.LOST


def _deepest(state: State, diver: DiverState, depth: Depth, *, short: bool) -> str:
    if diver.deepest_fsw is None:
        return ""
    read_fsw = diver.deepest_fsw if diver.deepest_read_fsw is None else diver.deepest_read_fsw
    deepest = f"deepest {depth_digits(read_fsw, state.settings.units)}"
    if short or depth.table_fsw is None:
        return deepest
    return f"{deepest}, table depth {depth.table_fsw}"


def _silence(what: str, age_s: float | None, state: State, shown: NumberState) -> tuple[str, str]:
    """Caption and detail of a number whose gauge is silent."""
    if age_s is None:
        return f"{what} lost", "never heard"
    if shown is NumberState.STALE:
        return f"{what}, {age_s:.0f} s old", "last read"
    since = clock_text(state, Instant(state.now - round(age_s * 1e9)))
    return f"{what} lost", f"since {since[:5]}, last"


def time_number(state: State, diver: DiverState, books: Books) -> Number:
    """The clock that runs in this phase: bottom time, then ascent, stop, time at the surface."""
    times = times_of(diver, state.now)
    sign = sign_of(state, diver.name, TIME_ALARMS)
    phase = phase_of(diver)
    bottom = "" if times.bottom_min is None else f"bottom time {times.bottom_min} min"
    if times.bottom_s is None:
        return Number("Bottom time", "not begun", "", "min", NumberState.NONE, sign)
    if phase in (Phase.DESCENDING, Phase.ON_BOTTOM) or (times.left_bottom is None and phase in _COMING_UP):
        detail = "by the trace, not marked" if times.presumed else f"counts as {times.bottom_min} min"
        return Number("Bottom time", detail, clock_digits(times.bottom_s), "min", NumberState.GOOD, sign)
    ascent = ascent_of(state, diver, books)
    if isinstance(ascent, Ascent) and _counts(ascent):
        return stop_clock(ascent, sign)
    if phase is Phase.AT_STOP:
        stop = effective_marks(diver)[-1]
        caption = "At the stop" if stop.stop_fsw is None else f"At {stop.stop_fsw:g} fsw"
        return Number(caption, bottom, _since(state, stop.at), "min", NumberState.GOOD, sign)
    if phase is Phase.ASCENDING and times.left_bottom is not None:
        return Number(
            "Since left bottom", bottom, _since(state, times.left_bottom), "min", NumberState.GOOD, sign
        )
    if times.reached_surface is not None:
        return Number(
            "At the surface", bottom, _since(state, times.reached_surface), "min", NumberState.GOOD, sign
        )
    return Number("Bottom time", bottom, clock_digits(times.bottom_s), "min", NumberState.GOOD, sign)


def _counts(ascent: Ascent) -> bool:
    """Whether a clock by the tables runs: at a stop, in the surface interval, in the chamber."""
    return ascent.found.stop_left_s is not None or ascent.found.interval_runs


def _since(state: State, at: Instant) -> str:
    return clock_digits(max(0, int(seconds_between(at, state.now))))


def air_number(state: State, diver: DiverState) -> Number:
    """Over-bottom pressure above what is required."""
    supply, units = supply_of(state, diver.name), state.settings.units
    shown = NumberState.MANUAL if supply.typed else number_state(supply.trust)
    sign = sign_or_own(sign_of(state, diver.name, AIR_ALARMS), shown)
    unit = pressure_unit(units)
    if shown in (NumberState.STALE, NumberState.LOST) or supply.pressure_psig is None:
        struck = "" if supply.last_psig is None else pressure_digits(supply.last_psig, units)
        caption, detail = _silence("Air margin", supply.age_s, state, shown)
        return Number(caption, detail.replace("last", "last supply"), "", unit, _silent(shown), sign, struck)
    detail = _supply_detail(supply, state, short=sign is not None)
    if supply.margin_psi is None:
        return Number("Air margin", detail, "", unit, NumberState.NONE, sign)
    return Number("Air margin", detail, signed(pressure_digits(supply.margin_psi, units)), unit, shown, sign)


def _supply_detail(supply: Supply, state: State, *, short: bool) -> str:
    units = state.settings.units
    have = "---" if supply.pressure_psig is None else pressure_digits(supply.pressure_psig, units)
    need = "not known" if supply.required_psig is None else pressure_digits(supply.required_psig, units)
    return f"{have}, minimum {need}" if short else f"supply {have}, minimum {need}"


def short_depth(state: State, name: str) -> str:
    """A depth for a narrow place, dashes where it is not known."""
    depth = depth_of(state, name)
    return "---" if depth.gauge_fsw is None else depth_text(depth.gauge_fsw, state.settings.units)


def short_supply(state: State, name: str) -> str:
    """A supply pressure for a narrow place, dashes where it is not known."""
    pressure_psig = supply_of(state, name).pressure_psig
    return "---" if pressure_psig is None else pressure_text(pressure_psig, state.settings.units)


def short_number(number: Number) -> str:
    """A number with its unit for a narrow place, dashes where it is not known."""
    return f"{number.value} {number.unit}" if number.value else "---"
