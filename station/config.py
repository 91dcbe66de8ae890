"""Reads a station file: TOML, each key with its unit, everything that is wrong told at once.

[station]      name; job, supervisor, units ("us" or "metric") may be left out; see `station.config_tables`
               rules ("USN", "29 CFR 1910" or "46 CFR 197"): the profile of the air kept back
               horn: see `station.config_horn`
               copy_to: a folder on a second medium that the log is copied to while it is written
[[supply]]     see `station.config_air`
[[diver]]      name, person, equipment, supply; role ("diver" or "standby"), planned_depth_fsw,
               planned_bottom_min, tender may be left out; history: see `station.config_tables`; hose_ft,
               emergency_gas: see `station.config_air`
[[gauge]]      see `station.config_gauges`
[limits]       numbers of `station.core.parameters` by their own names, within `limit_bounds`
"""

from collections.abc import Callable, Collection, Iterable, Mapping
from dataclasses import dataclass, field, fields, replace
from pathlib import Path
from typing import Any, Final

from shared.gauges import ports_of
from shared.toml_file import Section, parse_toml, read_text
from station.config_air import read_emergency_gas, read_hose_ft, read_supply
from station.config_formats import Presets
from station.config_gauges import read_gauges
from station.config_horn import read_horn
from station.config_tables import read_history, read_tables
from station.core.air.reserve import RESERVES
from station.core.parameters import Parameters
from station.core.settings import (
    DEFAULT_RULES,
    DEFAULT_TABLES,
    DiverSettings,
    Role,
    Settings,
    SupplySettings,
    Units,
)

DEEPEST_PLAN_FSW: Final = 300.0
LONGEST_PLAN_MIN: Final = 720
"""Depth and bottom time that a plan may name: beyond any air table, own choice."""

LIMIT_FACTOR: Final = 2.0
"""A number of the rules may be halved or doubled: own choice."""

TIGHTER_ONLY: Final = {
    "descent_limit_fsw_min": (30.0, 75.0),
    "ascent_limit_fsw_min": (30.0, 40.0),
    "ascent_danger_fsw_min": (40.0, 60.0),
    "gauge_rounding_fsw": (0.0, 0.2),
    "least_window_share": (0.8, 1.0),
}
"""Numbers that a station may make stricter than the rules, never laxer: own choice. Sources: their home."""


@dataclass(frozen=True, slots=True)
class Known:
    """What a station file is checked against.

    `equipment` holds the classes of dress; `check_port` raises ValueError, saying why, for what is no
    address of a line; `presets` are ready-made formats that a gauge may name. `tables` holds the groups of
    every table set. `check_horn` is to a horn's line what `check_port` is to a gauge's.
    """

    equipment: Collection[str]
    check_port: Callable[[str], object]
    presets: Presets = field(default_factory=dict)
    tables: Mapping[str, tuple[str, ...]] = field(
        default_factory=lambda: {DEFAULT_TABLES: tuple("ABCDEFGHIJKLMNOZ")}
    )
    check_horn: Callable[[str], object] = str


def read_station(path: Path, known: Known) -> tuple[Settings, str]:
    """The settings of the station file at `path`, and its text. Raises FileFault with every problem."""
    text = read_text(path)
    return parse_station(str(path), text, known), text


def parse_station(path: str, text: str, known: Known) -> Settings:
    """The settings of a station file's text; `path` names it. Raises FileFault with every problem."""
    top = parse_toml(path, text)
    station = top.table("station")
    by_tables = read_tables(station, known.tables)
    supplies = _read_supplies(top)
    divers = _read_divers(top, {supply.name for supply in supplies}, known, by_tables["tables"])
    gauges = read_gauges(top, _names(divers), _names(supplies), known.check_port, known.presets)
    settings = Settings(
        station=station.text("name"),
        job=station.text("job", ""),
        supervisor=station.text("supervisor", ""),
        units=station.choice("units", Units, Units.US),
        divers=divers,
        supplies=supplies,
        gauges=gauges,
        parameters=_read_limits(top.table("limits", required=False)),
        rules=station.one_of("rules", RESERVES, DEFAULT_RULES),
        horn=read_horn(station, known.check_horn, ports_of(gauges)),
        copy_to=station.text("copy_to", ""),
        **by_tables,
    )
    top.finish()
    return settings


def _names(named: Iterable[DiverSettings | SupplySettings]) -> tuple[str, ...]:
    return tuple(one.name for one in named)


def _read_supplies(top: Section) -> tuple[SupplySettings, ...]:
    sections = top.tables("supply", least=1)
    supplies = tuple(read_supply(section) for section in sections)
    _refuse_twins(sections, _names(supplies))
    return supplies


def _read_divers(
    top: Section, supplies: Collection[str], known: Known, tables: str
) -> tuple[DiverSettings, ...]:
    sections = top.tables("diver", least=1)
    divers = tuple(_read_diver(section, supplies, known, tables) for section in sections)
    _refuse_twins(sections, _names(divers))
    return divers


def _read_diver(section: Section, supplies: Collection[str], known: Known, tables: str) -> DiverSettings:
    depth_fsw = bottom_min = None
    if section.has("planned_depth_fsw"):
        depth_fsw = section.number("planned_depth_fsw", 1.0, DEEPEST_PLAN_FSW)
    if section.has("planned_bottom_min"):
        bottom_min = section.integer("planned_bottom_min", 1, LONGEST_PLAN_MIN)
    supply = section.text("supply")
    if section.has("supply") and supply and supply not in supplies:
        section.complain("supply", f"no supply is named {supply!r}")
    return DiverSettings(
        name=section.text("name"),
        person=section.text("person"),
        role=section.choice("role", Role, Role.DIVER),
        equipment=section.one_of("equipment", known.equipment),
        supply=supply,
        planned_depth_fsw=depth_fsw,
        planned_bottom_min=bottom_min,
        tender=section.text("tender", ""),
        hose_ft=read_hose_ft(section),
        emergency_gas=read_emergency_gas(section),
        history=read_history(section, known.tables, tables),
    )


def _refuse_twins(sections: Iterable[Section], names: Iterable[str]) -> None:
    """Complain of every name that an earlier section bears."""
    lines: dict[str, int] = {}
    for section, name in zip(sections, names, strict=True):
        if name and name in lines:
            section.complain("name", f"{name!r} is the name on line {lines[name]} too")
        lines.setdefault(name, section.line("name"))


def limit_bounds(name: str, default: float) -> tuple[float, float]:
    """The lowest and the highest value that a station file may give to a number of the rules."""
    return TIGHTER_ONLY.get(name, (default / LIMIT_FACTOR, default * LIMIT_FACTOR))


def _read_limits(section: Section) -> Parameters:
    parameters = Parameters()
    changed: dict[str, Any] = {}
    for each in fields(Parameters):
        default = getattr(parameters, each.name)
        if isinstance(default, int | float) and section.has(each.name):
            low, high = limit_bounds(each.name, default)
            if isinstance(default, int):
                changed[each.name] = section.integer(each.name, int(low), int(high))
            else:
                changed[each.name] = section.number(each.name, low, high)
    return replace(parameters, **changed)
