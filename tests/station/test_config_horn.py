"""The horn of a station file: a relay on a line of its own, or none."""

import pytest

from drivers.addresses import parse_address
from drivers.horn_line import horn_address
from shared.toml_file import FileFault
from station.config import Known, parse_station
from station.core.settings import HornSettings, HornSignal

KNOWN = Known({"helmet"}, parse_address, check_horn=horn_address)
STATION = """\
[station]
name = "Lock gate 3"
{horn}
[[supply]]
name = "primary"
[[diver]]
name = "Diver 1"
person = "A. Reed"
equipment = "helmet"
supply = "primary"
[[gauge]]
name = "pneumo-1"
channel = "depth"
diver = "Diver 1"
port = "serial:///dev/ttyUSB0?baud=9600"
format = {{ kind = "nmea-xdr", transducer = "PNEUMO1", unit = "bar" }}
range = {{ low_fsw = -5, high_fsw = 250 }}
"""


def _read(horn: str):
    return parse_station("lock.toml", STATION.format(horn=horn), KNOWN).horn


def test_a_horn_has_a_line_and_a_signal() -> None:
    """RTS where none is named; none at all where the station has no horn."""
    assert _read("") is None
    line = "serial:///dev/ttyUSB7"
    assert _read(f'horn = {{ port = "{line}" }}') == HornSettings(line, HornSignal.RTS)
    assert _read(f'horn = {{ port = "{line}", signal = "dtr" }}') == HornSettings(line, HornSignal.DTR)


@pytest.mark.parametrize(
    ("horn", "why"),
    [
        ('{ port = "socket://192.0.2.1:4001" }', "a horn needs a serial line of its own"),
        ('{ port = "serial:///dev/ttyUSB0?baud=9600" }', "is the line of a gauge"),
        ('{ port = "serial:///dev/ttyUSB7", signal = "cts" }', "station.horn.signal"),
        ('{ signal = "rts" }', "station.horn.port"),
        ('{ port = "serial:///dev/ttyUSB7", loud = true }', "loud"),
    ],
)
def test_a_horn_that_cannot_sound_is_refused(horn, why) -> None:
    """Told with file, line and key."""
    with pytest.raises(FileFault, match=why) as fault:
        _read(f"horn = {horn}")
    assert "lock.toml:3" in str(fault.value)
