"""Reads the horn of a station file: a relay on one signal of a serial line of its own.

[station] horn = { port = "serial:///dev/ttyUSB1", signal = "rts" }     signal: "rts" or "dtr"
"""

from collections.abc import Callable, Iterable

from shared.toml_file import Section
from station.core.settings import HornSettings, HornSignal


def read_horn(
    station: Section, check_horn: Callable[[str], object], taken: Iterable[str]
) -> HornSettings | None:
    """The horn, None where the station has none; `taken` are the lines of the gauges."""
    if not station.has("horn"):
        return None
    section = station.table("horn")
    port = section.text("port")
    if section.has("port") and port:
        if port in taken:
            section.complain("port", f"{port!r} is the line of a gauge; a horn needs one of its own")
        try:
            check_horn(port)
        except ValueError as fault:
            section.complain("port", str(fault))
    return HornSettings(port, section.choice("signal", HornSignal, HornSignal.RTS))
