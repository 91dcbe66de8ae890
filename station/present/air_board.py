"""The air board: each supply with its pressure and minutes, against what bringing everybody up takes."""

from typing import Final

from shared.clock import after
from shared.gauges import Channel
from station.core.air.carried import carried_by
from station.core.air.endurance import LeftBy
from station.core.air.supplies import Air, SupplyAir, air_of
from station.core.books import Books
from station.core.finding import gauge_of
from station.core.settings import SupplyKind, SupplyRole, SupplySettings
from station.core.state import State, Trust
from station.present.figures import pressure_digits, pressure_text, pressure_unit
from station.present.looks import AirBoard, BankLook, Fact, Number, NumberState, Sentence
from station.present.numbers import age_text, number_state, sign_of, sign_or_own
from station.present.sentences import clock_text

BANK_ALARMS: Final = frozenset(
    {"air-too-short", "bank-low", "air-nearly-short", "air-not-enough", "bank-reading-due"}
)
"""Alarms of a supply: they stand at its pressure."""

_BY: Final = {LeftBy.MEASURED: "by measured fall", LeftBy.COMPUTED: "by computed use"}


def air_board(state: State, books: Books) -> AirBoard:
    """Every supply of the station, and the sentence that says whether it brings everybody up."""
    air = air_of(state, books)
    return AirBoard(
        state.settings.rules,
        tuple(_bank(state, supply) for supply in air.supplies),
        _carried(state),
        air_sentence(state, air),
    )


def air_sentence(state: State, air: Air) -> Sentence:
    """When everybody would be up if called now, and until when each supply in use covers that."""
    if air.up_s is None:
        return Sentence("Nobody in the water", "", "Minutes are worked out from leaving the surface.")
    up = f"All up by {clock_text(state, after(state.now, air.up_s))}"
    used = [supply for supply in air.supplies if supply.breathing]
    covers = " ".join(_covers(state, supply) for supply in used) or "Nobody breathes from a supply."
    lead = f"If called now. {covers}"
    direct = [one.diver.name for one in air.in_water if not one.ascent.by_schedule]
    detail = f"Without stops for {' and '.join(direct)}: no schedule." if direct else ""
    return Sentence(up, lead, detail)


def _covers(state: State, supply: SupplyAir) -> str:
    title = supply.settings.title
    if supply.covers_until is None:
        return f"{title}: minutes not known, read it by hand."
    if supply.covers_until <= state.now:
        return f"{title} does not cover it."
    return f"{title} covers it until {clock_text(state, supply.covers_until)[:5]}."


def _bank(state: State, supply: SupplyAir) -> BankLook:
    settings, pressure = supply.settings, supply.pressure
    gauge, unit = gauge_of(state, Channel.BANK, settings.name), pressure_unit(state.settings.units)
    shown = NumberState.MANUAL if pressure.typed else number_state(pressure.trust)
    sign = sign_of(state, settings.name, BANK_ALARMS)
    if gauge is None and not pressure.typed:
        number = Number("Pressure", "no gauge", "", unit, NumberState.NONE, sign)
    elif pressure.psig is None:
        number = Number("Pressure", "not heard", "", unit, shown, sign_or_own(sign, shown))
    else:
        detail = f"read by hand {age_text(pressure.age_s)} ago" if pressure.typed else ""
        digits = pressure_digits(pressure.psig, state.settings.units)
        number = Number("Pressure", detail, digits, unit, shown, sign_or_own(sign, shown))
    note, detail = _note(supply)
    full, needed = _shares(state, supply)
    return BankLook(settings.title, _role(supply), number, _minutes(supply), note, detail, full, needed)


def _role(supply: SupplyAir) -> str:
    if supply.breathing:
        return f"on line, to {', '.join(supply.breathing)}"
    if supply.posts and supply.settings.role is SupplyRole.PRIMARY:
        return f"to {', '.join(supply.posts)}"
    return "ready"


def _minutes(supply: SupplyAir) -> Number:
    left = supply.left
    if left.left_min is None or left.left_by is None:
        return Number("Minutes", "", "", "min", NumberState.NONE)
    shown = NumberState.GOOD if supply.pressure.trust is Trust.GOOD else number_state(supply.pressure.trust)
    return Number("Minutes", _BY[left.left_by], str(left.left_min), "min", shown)


def _note(supply: SupplyAir) -> tuple[str, str]:
    """What coming up takes, in minutes and in air."""
    if supply.needed_min is None:
        return _store(supply.settings), ""
    note = f"{supply.needed_min} min needed"
    if supply.need is None or supply.usable_scf is None:
        return note, "content not known" if supply.settings.volume_cuft is None else "read it by hand"
    return note, f"{supply.need.total_scf} of {supply.usable_scf:.0f} scf"


def _store(settings: SupplySettings) -> str:
    if settings.volume_cuft is None:
        return "volume not told"
    tank = settings.kind is SupplyKind.COMPRESSOR
    return f"volume tank {settings.volume_cuft:g} ft³" if tank else f"{settings.volume_cuft:g} ft³"


def _shares(state: State, supply: SupplyAir) -> tuple[float | None, float | None]:
    """How full the bar is by its gauge's scale, and how much of it bringing everybody up takes."""
    gauge, psig = gauge_of(state, Channel.BANK, supply.settings.name), supply.pressure.psig
    if psig is None:
        return None, None
    scale_psig = psig if gauge is None else gauge.high
    full = _share(psig, scale_psig)
    usable = supply.usable_scf
    if supply.need is None or supply.least_psig is None or not usable or full is None:
        return full, None
    above = max(0.0, psig - supply.least_psig) * min(1.0, supply.need.total_scf / usable)
    return full, _share(min(psig, supply.least_psig + above), scale_psig)


def _share(psig: float, scale_psig: float) -> float | None:
    return None if scale_psig <= 0 else round(min(1.0, max(0.0, psig / scale_psig)), 3)


def _carried(state: State) -> tuple[Fact, ...]:
    """The emergency gas of each diver, with its minutes where he is."""
    facts = []
    for diver in state.divers:
        carried = carried_by(state, diver)
        if carried is None:
            continue
        minutes = carried.endurance.minutes
        have = pressure_text(carried.gas.pressure_psig, state.settings.units)
        told = "no figure" if minutes is None else f"{minutes} min at {carried.depth_fsw:.0f} fsw"
        facts.append(Fact(f"{diver.name} carries", f"{have}, {told}"))
    return tuple(facts)
