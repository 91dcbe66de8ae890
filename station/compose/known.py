"""What a station file may name: the classes of dress, and the addresses that a line may have."""

from drivers.addresses import parse_address
from station.config import Known
from station.core.air.equipment import EQUIPMENT


def known_to_watch() -> Known:
    """What a real station's file may name."""
    return Known(EQUIPMENT, parse_address)


def known_to_rehearsal() -> Known:
    """What a rehearsal's station file may name: also lines that the simulator provides."""
    return Known(EQUIPMENT, lambda text: parse_address(text, rehearsal=True))
