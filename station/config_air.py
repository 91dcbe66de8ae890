"""Reads what a station file says of air: supplies, and what a diver carries.

[[supply]]   name; title, and from here on may be left out:
             role = "primary" | "secondary" | "reserve"    by its name when left out
             kind = "bank" with flasks = 4, floodable_cuft = 1.62 (of one flask)
             kind = "compressor" with volume_tank_cuft = 12.0
             temperature_f = 70          of the bank
[[diver]]    hose_ft = 300               of the pneumofathometer hose; 0: his depth gauge stands at none
             emergency_gas = { cylinder = "72", pressure_psig = 2250, regulator_psi = 135 }

Without the volume no content is worked out, only the measured fall.
"""

from typing import Final

from shared.toml_file import Section
from station.core.air.emergency_gas import FLOODABLE_CUFT_OF
from station.core.air.numbers import BANK_TEMPERATURE_F, EMERGENCY_REGULATOR_PSI
from station.core.settings import EmergencyGas, SupplyKind, SupplyRole, SupplySettings

DEFAULT_HOSE_FT: Final = 600.0
"""A hose whose length nobody has told is taken for the longest of TM 5-4220-225-14, para 2-15."""

LONGEST_HOSE_FT: Final = 2_000.0
MOST_FLASKS: Final = 200
LEAST_CUFT: Final = 0.05
MOST_CUFT: Final = 1_000.0
MOST_PSIG: Final = 6_000.0
MOST_REGULATOR_PSI: Final = 400.0
COLDEST_F: Final = -10.0
HOTTEST_F: Final = 150.0
"""What keys may say, own choice: slips of the pen are kept out. Temperatures: where real air is known."""

_OF_BANK: Final = ("flasks", "floodable_cuft")
_OF_COMPRESSOR: Final = ("volume_tank_cuft",)


def read_supply(section: Section) -> SupplySettings:
    """One supply of the station."""
    name = section.text("name")
    named = SupplyRole(name) if name in set(SupplyRole) else SupplyRole.PRIMARY
    kind = section.choice("kind", SupplyKind, SupplyKind.BANK)
    foreign = _OF_COMPRESSOR if kind is SupplyKind.BANK else _OF_BANK
    for key in foreign:
        if section.has(key):
            section.complain(key, f"a {kind.value} has no {key}")
    return SupplySettings(
        name,
        section.text("title", name),
        kind,
        section.choice("role", SupplyRole, named),
        _bank_cuft(section) if kind is SupplyKind.BANK else _tank_cuft(section),
        section.number("temperature_f", COLDEST_F, HOTTEST_F, default=BANK_TEMPERATURE_F),
    )


def _bank_cuft(section: Section) -> float | None:
    """The floodable volume of all flasks, None where neither key is given."""
    given = [section.has(key) for key in _OF_BANK]
    if not any(given):
        return None
    flasks = section.integer("flasks", 1, MOST_FLASKS)
    return flasks * section.number("floodable_cuft", LEAST_CUFT, MOST_CUFT)


def _tank_cuft(section: Section) -> float | None:
    return (
        section.number("volume_tank_cuft", LEAST_CUFT, MOST_CUFT) if section.has("volume_tank_cuft") else None
    )


def read_hose_ft(section: Section) -> float | None:
    """The length of a diver's pneumofathometer hose; None where his gauge stands at none."""
    return section.number("hose_ft", 0.0, LONGEST_HOSE_FT, default=DEFAULT_HOSE_FT) or None


def read_emergency_gas(section: Section) -> EmergencyGas | None:
    """The cylinder that a diver carries; None where the file names none."""
    if not section.has("emergency_gas"):
        return None
    gas = section.table("emergency_gas")
    return EmergencyGas(
        gas.one_of("cylinder", FLOODABLE_CUFT_OF),
        gas.number("pressure_psig", 0.0, MOST_PSIG),
        gas.number("regulator_psi", 0.0, MOST_REGULATOR_PSI, default=EMERGENCY_REGULATOR_PSI),
    )
