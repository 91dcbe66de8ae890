"""A station file becomes settings, or a list of everything that is wrong with it."""

from dataclasses import fields
from functools import partial
from pathlib import Path

import pytest

from drivers.addresses import parse_address
from shared.gauges import Calibration, Channel, Gauge, NmeaXdr, XdrUnit
from shared.toml_file import FileFault
from station.config import TIGHTER_ONLY, Known, limit_bounds, parse_station, read_station
from station.config_air import DEFAULT_HOSE_FT as HOSE_FT
from station.core.parameters import Parameters
from station.core.settings import DiverSettings, Role, Settings, SupplyRole, SupplySettings, Units

KNOWN = Known({"helmet", "mask"}, parse_address)
WHOLE = """\
[station]
name = "Lock gate 3"
job = "Clear the sill"
supervisor = "M. Sand"
units = "metric"
[[supply]]
name = "primary"
title = "HP bank A"
[[supply]]
name = "reserve"
[[diver]]
name = "Diver 1"
person = "A. Reed"
role = "diver"
equipment = "helmet"
supply = "primary"
planned_depth_fsw = 60
planned_bottom_min = 40
tender = "K. Holm"
[[diver]]
name = "Standby"
person = "B. Weir"
role = "standby"
equipment = "mask"
supply = "primary"
[[gauge]]
name = "pneumo-1"
channel = "depth"
diver = "Diver 1"
port = "serial:///dev/ttyUSB0?baud=9600"
every_s = 0.2
format = { kind = "nmea-xdr", transducer = "PNEUMO1", unit = "bar" }
range = { low_fsw = -5, high_fsw = 250 }
calibration = { zero = 0.5, span = 1.01, on = 2031-03-02, due = 2031-09-01, by = "Reed", certificate = "7" }
[[gauge]]
name = "supply-1"
channel = "supply"
diver = "Diver 1"
port = "serial:///dev/ttyUSB0?baud=9600"
format = { kind = "nmea-xdr", transducer = "SUPPLY1", unit = "pascal" }
range = { low_psi = 0, high_psi = 300 }
[[gauge]]
name = "bank-1"
channel = "bank"
supply = "primary"
port = "socket://127.0.0.1:4001"
format = { kind = "nmea-xdr", transducer = "BANK1", unit = "bar" }
range = { low_psi = 0, high_psi = 3500 }
[limits]
lost_after_s = 4
history_s = 700
"""


def problems_of(text: str, known: Known = KNOWN) -> list[str]:
    """What is told of a station file."""
    with pytest.raises(FileFault) as caught:
        parse_station("lock.toml", text, known)
    return [line.removeprefix("lock.toml:") for line in str(caught.value).splitlines()]


def changed(old: str, new: str) -> list[str]:
    """What is told of the whole file with one thing changed."""
    assert WHOLE.count(old) >= 1
    return problems_of(WHOLE.replace(old, new, 1))


def test_a_whole_file_is_read_to_the_last_key():
    """Every key of the file stands in the settings, in the unit of its name."""
    line = "serial:///dev/ttyUSB0?baud=9600"
    proved = Calibration(0.5, 1.01, "2031-03-02", "2031-09-01", "Reed", "7")
    assert parse_station("lock.toml", WHOLE, KNOWN) == Settings(
        "Lock gate 3",
        "Clear the sill",
        "M. Sand",
        Units.METRIC,
        (
            DiverSettings(
                "Diver 1", "A. Reed", Role.DIVER, "helmet", "primary", 60.0, 40, "K. Holm", hose_ft=HOSE_FT
            ),
            DiverSettings("Standby", "B. Weir", Role.STANDBY, "mask", "primary", hose_ft=HOSE_FT),
        ),
        (
            SupplySettings("primary", "HP bank A"),
            SupplySettings("reserve", "reserve", role=SupplyRole.RESERVE),
        ),
        (
            Gauge(
                "pneumo-1",
                Channel.DEPTH,
                "Diver 1",
                line,
                NmeaXdr("PNEUMO1", XdrUnit.BAR),
                -5.0,
                250.0,
                0.2,
                proved,
            ),
            Gauge(
                "supply-1", Channel.SUPPLY, "Diver 1", line, NmeaXdr("SUPPLY1", XdrUnit.PASCAL), 0.0, 300.0
            ),
            Gauge(
                "bank-1",
                Channel.BANK,
                "primary",
                "socket://127.0.0.1:4001",
                NmeaXdr("BANK1", XdrUnit.BAR),
                0.0,
                3500.0,
            ),
        ),
        Parameters(lost_after_s=4.0, history_s=700),
    )


def test_the_shortest_file_has_its_defaults():
    """What may be left out is, and the rules stand as they are."""
    text = '[station]\nname = "S"\n[[supply]]\nname = "p"\n[[diver]]\nname = "D"\nperson = "P"\n'
    settings = parse_station("s.toml", text + 'equipment = "mask"\nsupply = "p"\n', KNOWN)
    assert settings == Settings(
        "S",
        "",
        "",
        Units.US,
        (DiverSettings("D", "P", Role.DIVER, "mask", "p", hose_ft=HOSE_FT),),
        (SupplySettings("p", "p"),),
        (),
    )


def test_a_file_is_read_with_its_text(tmp_path: Path):
    """The text goes into the log as it stands."""
    path = tmp_path / "lock.toml"
    path.write_text(WHOLE)
    assert read_station(path, KNOWN) == (parse_station("lock.toml", WHOLE, KNOWN), WHOLE)
    with pytest.raises(FileFault, match=r"none\.toml: No such file"):
        read_station(tmp_path / "none.toml", KNOWN)


def test_everything_wrong_is_told_at_once():
    """One reading of the message mends the whole file."""
    text = WHOLE.replace('"metric"', '"metres"').replace(
        'supply = "primary"\nplanned', 'supply = "main"\nplanned'
    )
    text = text.replace("every_s = 0.2", "every_s = 0").replace('equipment = "mask"', 'equipment = "maskk"')
    text = text.replace('channel = "bank"', 'channel = "bunk"').replace("lost_after_s", "lost_afer_s")
    assert problems_of(text) == [
        "5: station.units: 'metres' is none of metric, us; did you mean metric?",
        "16: diver[1].supply: no supply is named 'main'",
        "24: diver[2].equipment: 'maskk' is none of helmet, mask; did you mean mask?",
        "31: gauge[1].every_s: 0 is below 0.05 s",
        "44: gauge[3].channel: 'bunk' is none of bank, depth, supply; did you mean bank?",
        "50: limits.lost_afer_s: unknown key; did you mean lost_after_s?",
    ]


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ('name = "reserve"', 'name = "primary"', ["10: supply[2].name: 'primary' is the name on line 7 too"]),
        ('name = "Standby"', 'name = "Diver 1"', ["21: diver[2].name: 'Diver 1' is the name on line 12 too"]),
        (
            'name = "bank-1"',
            'name = "pneumo-1"',
            ["43: gauge[3].name: 'pneumo-1' is the name on line 27 too"],
        ),
        (
            'channel = "supply"',
            'channel = "depth"',
            [
                "37: gauge[2].channel: 'Diver 1' has a gauge of channel depth on line 28 too",
                "41: gauge[2].range.low_fsw: missing: a number is needed",
                "41: gauge[2].range.high_fsw: missing: a number is needed",
                "41: gauge[2].range.low_psi: unknown key; did you mean low_fsw?",
                "41: gauge[2].range.high_psi: unknown key; did you mean high_fsw?",
            ],
        ),
        (
            'diver = "Diver 1"\nport = "serial:///dev/ttyUSB0?baud=9600"\nevery',
            'diver = "Diver 9"\nport = "serial:///dev/ttyUSB0?baud=9600"\nevery',
            ["29: gauge[1].diver: no diver is named 'Diver 9'"],
        ),
        (
            'supply = "primary"\nport',
            'supply = "tertiary"\nport',
            ["45: gauge[3].supply: no supply is named 'tertiary'"],
        ),
        (
            'supply = "primary"\nport',
            'diver = "Diver 1"\nport',
            [
                "42: gauge[3].supply: missing: a text is needed",
                "45: gauge[3].diver: a gauge of channel bank belongs to a supply",
            ],
        ),
        (
            "SUPPLY1",
            "PNEUMO1",
            ["40: gauge[2].format: transducer 'PNEUMO1' is read from this line on line 32 too"],
        ),
        (
            "socket://127.0.0.1:4001",
            "serial:///dev/ttyUSB0?baud=4800",
            [
                "46: gauge[3].port: the same line stands with other settings on line 30 too",
                "46: gauge[3].port: the same line stands with other settings on line 39 too",
            ],
        ),
        (
            "socket://127.0.0.1:4001",
            "socket://127.0.0.1",
            ["46: gauge[3].port: 'socket://127.0.0.1': must be socket://host:port"],
        ),
        (
            "socket://127.0.0.1:4001",
            "rehearsal://bank",
            ["46: gauge[3].port: 'rehearsal://bank': rehearsal lines exist only in a rehearsal"],
        ),
        (
            '"nmea-xdr"',
            '"nmea"',
            [
                "32: gauge[1].format.kind: 'nmea' is none of ascii, modbus, nmea-dpt, nmea-generic, "
                "nmea-proprietary, nmea-xdr; did you mean nmea-xdr?"
            ],
        ),
        ('"bar"', '"psi"', ["32: gauge[1].format.unit: 'psi' is none of bar, pascal"]),
        (
            '"PNEUMO1"',
            '"PNEUMO,1"',
            [
                "32: gauge[1].format.transducer: 'PNEUMO,1' cannot stand in a sentence: "
                "printable ASCII without ! $ * \\ ^ ~ ,"
            ],
        ),
        (
            "high_fsw = 250",
            "high_fsw = -5",
            ["33: gauge[1].range.high_fsw: -5 is not above low_fsw = -5"],
        ),
        ("span = 1.01", "span = 0", ["34: gauge[1].calibration.span: 0 is below 0.5"]),
        (
            "due = 2031-09-01",
            "due = 2031-02-01",
            ["34: gauge[1].calibration.due: 2031-02-01 is before on = 2031-03-02"],
        ),
        (
            "planned_depth_fsw = 60",
            "planned_depth_fsw = 301",
            ["17: diver[1].planned_depth_fsw: 301 is above 300 fsw"],
        ),
        (
            "planned_bottom_min = 40",
            "planned_bottom_min = 40.5",
            ["18: diver[1].planned_bottom_min: 40.5 is not a whole number"],
        ),
        ("lost_after_s = 4", "lost_after_s = 11", ["50: limits.lost_after_s: 11 is above 10 s"]),
        ("lost_after_s = 4", "mark_steps_back_s = 4", ["50: limits.mark_steps_back_s: unknown key"]),
        (
            "lost_after_s = 4",
            "ascent_limit_fsw_min = 41",
            ["50: limits.ascent_limit_fsw_min: 41 is above 40 fsw/min"],
        ),
    ],
)
def test_what_a_file_is_refused_for(old, new, told):
    """One wrong thing is told, where it stands, and nothing beside it."""
    assert changed(old, new) == told


def test_a_rehearsal_file_may_name_rehearsal_lines():
    """The caller says which addresses are good."""
    text = WHOLE.replace("socket://127.0.0.1:4001", "rehearsal://bank")
    known = Known(KNOWN.equipment, partial(parse_address, rehearsal=True))
    assert parse_station("lock.toml", text, known).gauges[2].port == "rehearsal://bank"


def test_an_empty_file_says_what_it_needs():
    """Each missing table is told once."""
    assert problems_of("") == [
        " station: missing: a table is needed",
        " supply: at least 1 [[supply]] must be given",
        " diver: at least 1 [[diver]] must be given",
    ]


def test_every_number_of_the_rules_stands_within_its_own_bounds():
    """The default is one that the file could have given; where it may only be stricter, it is the edge."""
    numbers = {
        field.name: getattr(Parameters(), field.name)
        for field in fields(Parameters)
        if isinstance(getattr(Parameters(), field.name), int | float)
    }
    assert set(TIGHTER_ONLY) <= set(numbers)
    for name, default in numbers.items():
        low, high = limit_bounds(name, default)
        assert low <= default <= high, name
        assert low < high, name
    for name, bounds in TIGHTER_ONLY.items():
        assert numbers[name] in bounds, name
