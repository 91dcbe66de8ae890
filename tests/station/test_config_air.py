"""What a station file says of air, hoses and pairs of gauges becomes settings, or a list of what is wrong."""

import pytest

from drivers.addresses import parse_address
from shared.gauges import GaugeRole
from shared.toml_file import FileFault
from station.config import Known, parse_station
from station.config_air import DEFAULT_HOSE_FT
from station.core.settings import EmergencyGas, SupplyKind, SupplyRole, SupplySettings

KNOWN = Known({"helmet"}, parse_address)
STATION = """\
[station]
name = "Quay"
rules = "46 CFR 197"
[[supply]]
name = "primary"
title = "Bank A"
flasks = 4
floodable_cuft = 1.62
temperature_f = 50
[[supply]]
name = "compressor"
role = "secondary"
kind = "compressor"
volume_tank_cuft = 12
[[diver]]
name = "Diver 1"
person = "A. Reed"
equipment = "helmet"
supply = "primary"
hose_ft = 300
emergency_gas = { cylinder = "72", pressure_psig = 2250 }
[[diver]]
name = "Diver 2"
person = "B. Weir"
equipment = "helmet"
supply = "primary"
hose_ft = 0
[[diver]]
name = "Standby"
person = "C. Moor"
equipment = "helmet"
supply = "compressor"
[[gauge]]
name = "pneumo-1"
channel = "depth"
diver = "Diver 1"
port = "socket://127.0.0.1:4001"
format = { kind = "nmea-xdr", transducer = "P1", unit = "bar" }
range = { low_fsw = -5, high_fsw = 250 }
[[gauge]]
name = "pneumo-1b"
channel = "depth"
role = "check"
diver = "Diver 1"
port = "socket://127.0.0.1:4002"
format = { kind = "nmea-xdr", transducer = "P2", unit = "bar" }
range = { low_fsw = -5, high_fsw = 250 }
"""


def test_supplies_are_read_with_what_they_hold():
    """A bank by its flasks, a compressor by its volume tank; a role by its name where none is given."""
    settings = parse_station("quay.toml", STATION, KNOWN)
    bank, compressor = settings.supplies
    assert bank.volume_cuft == pytest.approx(4 * 1.62)
    assert (bank.kind, bank.role, bank.temperature_f) == (SupplyKind.BANK, SupplyRole.PRIMARY, 50.0)
    assert compressor == SupplySettings(
        "compressor", "compressor", SupplyKind.COMPRESSOR, SupplyRole.SECONDARY, 12.0
    )
    assert settings.rules == "46 CFR 197"


def test_hoses_and_cylinders_are_read():
    """A length is a length, 0 is no hose, and one that is left out is the longest: it hides the most."""
    one, two, standby = parse_station("quay.toml", STATION, KNOWN).divers
    assert (one.hose_ft, two.hose_ft, standby.hose_ft) == (300.0, None, DEFAULT_HOSE_FT)
    assert (one.emergency_gas, two.emergency_gas) == (EmergencyGas("72", 2250.0, 135.0), None)


def test_a_second_depth_gauge_is_a_check():
    """Two depth gauges on one diver stand when one is the check; without that they are twins."""
    assert parse_station("quay.toml", STATION, KNOWN).gauges[1].role is GaugeRole.CHECK
    with pytest.raises(FileFault, match="has a gauge of channel depth"):
        parse_station("quay.toml", STATION.replace('role = "check"', ""), KNOWN)


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("flasks = 4", "volume_tank_cuft = 4", "a bank has no volume_tank_cuft"),
        ("volume_tank_cuft = 12", "flasks = 2", "a compressor has no flasks"),
        ("floodable_cuft = 1.62", "", "floodable_cuft"),
        ("floodable_cuft = 1.62", "floodable_cuft = 0", "floodable_cuft"),
        ('cylinder = "72"', 'cylinder = "73"', "cylinder"),
        ('"46 CFR 197"', '"mine"', "rules"),
        ('channel = "depth"\nrole', 'channel = "supply"\nrole', "only a depth gauge"),
    ],
)
def test_what_is_wrong_with_air_is_told(old: str, new: str, told: str):
    """A key of another kind of supply, half a bank, an unknown cylinder or profile, a check that is none."""
    assert STATION.count(old) == 1
    with pytest.raises(FileFault, match=told):
        parse_station("quay.toml", STATION.replace(old, new), KNOWN)
