"""What the tables need from a station file: read, defaulted, refused with its line."""

import pytest

from shared.toml_file import FileFault
from station.config import Known, parse_station
from station.core.settings import History, Settings

HEAD = '[station]\nname = "Quay"\n{station}\n[[supply]]\nname = "primary"\n'
DIVER = (
    '[[diver]]\nname = "Diver 1"\nperson = "A. Body"\nequipment = "demand-helmet"\n'
    'supply = "primary"\n{diver}\n'
)
GAUGE = (
    '[[gauge]]\nname = "pneumo"\nchannel = "depth"\ndiver = "Diver 1"\nport = "p"\nevery_s = 1.0\n'
    'format = { kind = "nmea-xdr", transducer = "P1", unit = "bar" }\n'
    "range = { low_fsw = -5, high_fsw = 250 }\n"
)


def read(station: str = "", diver: str = "") -> Settings:
    """The settings of a small station with these lines more."""
    text = HEAD.format(station=station) + DIVER.format(diver=diver) + GAUGE
    return parse_station("quay.toml", text, Known({"demand-helmet"}, str))


def test_what_is_left_out_has_its_default():
    """The tables that come with the program, a minute from order to leaving, sea level; no history told."""
    settings = read()
    assert (settings.tables, settings.order_lead_s, settings.altitude_ft) == ("usn_rev7", 60, 0.0)
    assert settings.gauges_zeroed
    assert settings.divers[0].history is None


def test_what_is_given_is_read():
    """Altitude, lead, resources, whom to call; a history with its moment in UTC."""
    settings = read(
        "altitude_ft = 6000\norder_lead_s = 90\nchamber = true\noxygen = true\n"
        'medical_officer = "channel 12"',
        'history = { group = "C", surfaced = 2031-05-02T05:10:00+02:00 }',
    )
    assert (settings.altitude_ft, settings.order_lead_s) == (6000.0, 90)
    assert (settings.chamber, settings.oxygen, settings.medical_officer) == (True, True, "channel 12")
    assert settings.divers[0].history == History("C", "2031-05-02T03:10:00+00:00")


@pytest.mark.parametrize("group", ["none", "not given"])
def test_no_group_is_told_in_words(group: str):
    """Bringing nothing along, and a dive that ended in no group, are two things."""
    assert read(diver=f'history = {{ group = "{group}" }}').divers[0].history == History(group)


@pytest.mark.parametrize(
    ("station", "diver", "word"),
    [
        ("altitude_ft = 10001", "", "altitude_ft"),
        ("order_lead_s = -1", "", "order_lead_s"),
        ('tables = "another"', "", "another"),
        ("", 'history = { group = "Q" }', "no repetitive group"),
        ("", 'history = { group = "C", surfaced = 2031-05-02T05:10:00 }', "offset"),
        ("", "history = {}", "group"),
        ("", 'history = { group = "C", since = 3 }', "since"),
    ],
)
def test_what_cannot_be_is_told_with_its_key(station: str, diver: str, word: str):
    """A sentence that names what and where."""
    with pytest.raises(FileFault, match=word):
        read(station, diver)
