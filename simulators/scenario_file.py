"""Reads scenario files: everything that is wrong with one is told at once, with file, line and key."""

import datetime
import math
import re
from pathlib import Path
from typing import Final

from shared.conductor import SLICE_MS
from shared.toml_file import FileFault, Problem, Section, read_toml
from simulators.acts import faults_of_act
from simulators.dive_tables import read_banks, read_divers, read_sea
from simulators.line_tables import read_faults, read_instruments, read_lines
from simulators.scenario import Picture, Press, Scenario
from simulators.truth.dive import Truth

SCENARIOS: Final = Path(__file__).parent / "scenarios"
"""Where the scenarios that come with the program stand."""

LONGEST_S: Final = 43_200.0
"""Longest scenario: twelve hours, a station's day. Own choice."""

_STATION_ENDING: Final = ".station.toml"
_MOST_SEED: Final = 2**63 - 1
_PICTURE_NAME: Final = re.compile(r"[a-z0-9_]+")


def list_scenarios(folder: Path = SCENARIOS) -> tuple[tuple[str, str, str], ...]:
    """Name, title and purpose of every scenario in a folder, by name. Raises FileFault for a bad one."""
    read = [read_scenario(path) for path in _scenario_files(folder)]
    return tuple((scenario.name, scenario.title, scenario.purpose) for scenario in read)


def find_scenario(name_or_path: str) -> Path:
    """The file of a scenario by its name or path. Raises FileFault, naming those there are."""
    path = SCENARIOS / f"{name_or_path}.toml"
    if path in _scenario_files(SCENARIOS):
        return path
    if Path(name_or_path).is_file():
        return Path(name_or_path)
    names = ", ".join(found.stem for found in _scenario_files(SCENARIOS))
    raise FileFault(name_or_path, (Problem(0, "", f"no such file, and no scenario of ours: {names}"),))


def _scenario_files(folder: Path) -> list[Path]:
    return sorted(path for path in folder.glob("*.toml") if not path.name.endswith(_STATION_ENDING))


def read_scenario(path: Path, seed: int | None = None) -> Scenario:
    """The scenario of a file, with its own seed or another. Raises FileFault with every problem."""
    top = read_toml(path)
    own_seed = top.integer("seed", 0, _MOST_SEED)
    seed = own_seed if seed is None else seed
    end_s = top.number("end_s", SLICE_MS / 1000.0, LONGEST_S)
    banks = read_banks(top)
    divers = read_divers(top, seed, end_s)
    truth = Truth(read_sea(top, seed), divers, banks)
    lines = read_lines(top)
    instruments = read_instruments(top, lines, truth)
    scenario = Scenario(
        name=path.stem,
        title=top.text("title"),
        purpose=top.text("purpose"),
        seed=seed,
        starts_utc=_starts_utc(top),
        end_ms=slice_end_ms(end_s),
        station_file=_station_file(top, path),
        truth=truth,
        lines=lines,
        instruments=instruments,
        faults=read_faults(top, lines, end_s),
        presses=_presses(top, end_s, frozenset(diver.name for diver in divers)),
        pictures=_pictures(top, end_s),
    )
    top.finish()
    return scenario


def slice_end_ms(at_s: float) -> int:
    """The end of the slice in which an instant lies, in milliseconds; the first slice ends at 100."""
    return max(math.ceil(round(at_s * 1000.0) / SLICE_MS), 1) * SLICE_MS


def _starts_utc(top: Section) -> str:
    return top.moment("starts_utc").astimezone(datetime.UTC).isoformat().replace("+00:00", "Z")


def _station_file(top: Section, path: Path) -> Path:
    name = top.text("station")
    station = path.parent / name
    if name and not station.is_file():
        top.complain("station", f"there is no file {station.name} beside the scenario")
    return station.resolve()


def _presses(top: Section, end_s: float, divers: frozenset[str]) -> tuple[Press, ...]:
    found = [_press(press, end_s, divers) for press in top.tables("press")]
    return tuple(sorted(found, key=lambda press: press.at_ms))


def _press(press: Section, end_s: float, divers: frozenset[str]) -> Press:
    act = press.plain("act")
    for fault in faults_of_act(act) if act else ():
        press.complain("act", fault)
    if act.get("diver") and act["diver"] not in divers:
        press.complain("act", f"no diver is named {act['diver']!r}")
    at_ms = slice_end_ms(press.number("at_s", 0.0, end_s))
    return Press(at_ms, {**act, "by": press.text("by")})


def _pictures(top: Section, end_s: float) -> tuple[Picture, ...]:
    return tuple(_picture(picture, end_s) for picture in top.tables("picture"))


def _picture(picture: Section, end_s: float) -> Picture:
    name = picture.text("name")
    if name and not _PICTURE_NAME.fullmatch(name):
        picture.complain("name", f"{name!r} becomes a file's name: only a to z, 0 to 9 and _")
    return Picture(slice_end_ms(picture.number("at_s", 0.0, end_s)), name)
