"""The air board: what each supply's bank shows, who breathes from it, and what is not worked out here yet."""

from shared.gauges import Channel
from station.core.air.supply import Bank, banks_of
from station.core.finding import gauge_of
from station.core.state import State
from station.present.figures import pressure_digits, pressure_unit
from station.present.looks import AirBoard, BankLook, Number, NumberState, Sentence
from station.present.numbers import number_state, sign_or_own


def air_board(state: State) -> AirBoard:
    """Every supply of the station. Minutes are a figure of their own; until it is worked out, dashes."""
    return AirBoard(
        "",
        tuple(_bank(state, bank) for bank in banks_of(state)),
        (),
        Sentence(
            "Minutes by hand", "", "No endurance is worked out here yet: bank pressure, depth and table."
        ),
    )


def _bank(state: State, bank: Bank) -> BankLook:
    gauge = gauge_of(state, Channel.BANK, bank.name)
    on_it = [diver.name for diver in state.settings.divers if diver.supply == bank.name]
    role = f"to {', '.join(on_it)}" if on_it else "ready"
    minutes = Number("Minutes", "", "", "min", NumberState.NONE)
    unit = pressure_unit(state.settings.units)
    if gauge is None:
        none = Number("Pressure", "no gauge", "", unit, NumberState.NONE)
        return BankLook(bank.title, role, none, minutes, "no gauge", "read it by hand")
    shown = number_state(bank.trust)
    sign = sign_or_own(None, shown)
    if bank.pressure_psig is None:
        lost = Number("Pressure", "not heard", "", unit, shown, sign)
        return BankLook(bank.title, role, lost, minutes, "not heard", "read it by hand")
    digits = pressure_digits(bank.pressure_psig, state.settings.units)
    full = round(min(1.0, max(0.0, bank.pressure_psig / gauge.high)), 3)
    pressure = Number("Pressure", "", digits, unit, shown, sign)
    return BankLook(bank.title, role, pressure, minutes, "", "minutes not worked out", full)
