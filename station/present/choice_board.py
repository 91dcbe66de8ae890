"""What a supervisor may choose of a diver, from the state: way of decompressing, row, supply, history."""

from typing import Final

from shared.gauges import Channel
from station.core.air.breathing import supply_in_use
from station.core.books import Books
from station.core.by_table.history import NONE, NOT_GIVEN
from station.core.decompression.answers import Mode
from station.core.finding import diver_settings
from station.core.inputs import EMERGENCY_GAS, RowChoice
from station.core.state import DiverState, State
from station.present.choice_looks import ChoicesLook, Option, TypedPlace
from station.present.figures import depth_unit, pressure_unit

COLD: Final = "cold"
NOT_COLD: Final = "not cold"

_MODES: Final = {
    Mode.AIR: "On air",
    Mode.AIR_OXYGEN: "Air and oxygen",
    Mode.CHAMBER: "Surface decompression",
}
_ROWS: Final = {
    RowChoice.NORMAL: "Normal row",
    RowChoice.NEXT_LONGER: "Next longer",
    RowChoice.NEXT_DEEPER: "Next deeper",
}


def choices_look(state: State, diver: DiverState, books: Books) -> ChoicesLook:
    """What is in force for a diver, and what may be taken instead."""
    settings = state.settings
    return ChoicesLook(
        _history(diver),
        (NONE, NOT_GIVEN, *books.tables.groups),
        _modes(state, diver),
        tuple(Option(row.value, title, "", diver.row is row) for row, title in _ROWS.items()),
        (
            Option(NOT_COLD, "Neither", "his own time", not diver.cold),
            Option(COLD, "Cold or strenuous", "next longer time", diver.cold),
        ),
        _supplies(state, diver),
        f"with {_others(state, diver)}" if diver.name in state.bound else "",
        depth_unit(settings.units),
        pressure_unit(settings.units),
        (
            *(
                TypedPlace(Channel.SUPPLY.value, each.name, f"Supply, {each.name}")
                for each in settings.divers
            ),
            *(TypedPlace(Channel.BANK.value, each.name, each.title) for each in settings.supplies),
        ),
    )


def _history(diver: DiverState) -> str:
    if not diver.history_known:
        return "not entered"
    if not diver.past:
        return "brings nothing along"
    return f"group {diver.past[-1].group or 'not given'}"


def _modes(state: State, diver: DiverState) -> tuple[Option, ...]:
    missing = {
        Mode.AIR: "",
        Mode.AIR_OXYGEN: "" if state.settings.oxygen else "no oxygen in the station file",
        Mode.CHAMBER: "" if state.settings.chamber else "no chamber in the station file",
    }
    now = diver.mode if not diver.shifts else diver.shifts[-1].mode
    return tuple(Option(mode.value, title, missing[mode], mode is now) for mode, title in _MODES.items())


def _supplies(state: State, diver: DiverState) -> tuple[Option, ...]:
    now = supply_in_use(state, diver)
    options = [
        Option(each.name, each.title, each.role.value, each.name == now) for each in state.settings.supplies
    ]
    if diver_settings(state, diver.name).emergency_gas is not None:
        options.append(Option(EMERGENCY_GAS, "His own cylinder", "ends his work", now == EMERGENCY_GAS))
    return tuple(options)


def _others(state: State, diver: DiverState) -> str:
    return " and ".join(name for name in state.bound if name != diver.name)
