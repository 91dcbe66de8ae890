"""What a station file may name: dress, addresses of lines, ready-made formats, table sets."""

from functools import partial

from drivers.addresses import parse_address
from drivers.horn_line import horn_address
from drivers.presets import load_presets
from station.config import Known
from station.core.air.equipment import EQUIPMENT
from station.table_files import load_tables, table_set_names


def known_to_watch() -> Known:
    """What a real station's file may name."""
    return Known(EQUIPMENT, parse_address, load_presets(), _groups(), horn_address)


def known_to_rehearsal() -> Known:
    """What a rehearsal's station file may name: also lines that the simulator provides."""
    ports = partial(parse_address, rehearsal=True)
    return Known(EQUIPMENT, ports, load_presets(), _groups(), horn_address)


def _groups() -> dict[str, tuple[str, ...]]:
    return {name: load_tables(name).groups for name in table_set_names()}
