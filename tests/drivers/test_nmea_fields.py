"""Proprietary sentences, generic XDR groups and DPT: what is read, and what a gauge says against itself."""

from dataclasses import replace

import pynmea2
import pynmeagps
import pytest
from hypothesis import given
from hypothesis import strategies as st

from drivers.decode import hear
from drivers.formats.decoded import Decoded
from shared.arrivals import Exchanged, Received
from shared.clock import Instant
from shared.gauges import (
    AsciiText,
    Channel,
    Format,
    Gauge,
    Loop,
    Meaning,
    NmeaDepth,
    NmeaGeneric,
    NmeaProprietary,
    NmeaXdr,
    Status,
    WireUnit,
    XdrUnit,
)
from shared.readings import LinkFaultKind
from shared.wire.nmea0183 import XdrGroup, sentence, xdr_sentence

AT = Instant(3)
LINE = "socket://127.0.0.1:4001"
STATUSES = (
    Status("OK", Meaning.GOOD),
    Status("NA", Meaning.NO_VALUE),
    Status("OL", Meaning.OUT_OF_RANGE),
    Status("ER", Meaning.FAULT),
)
FIELD = NmeaProprietary("PDSM", 3, WireUnit.FSW, 2, "PNEUMO", 4, "FSW", 5, STATUSES)


def gauge_of(wire: Format, name: str = "pneumo-1", channel: Channel = Channel.DEPTH) -> Gauge:
    """A gauge of this format."""
    return Gauge(name, channel, "Diver 1", LINE, wire, -5.0, 250.0)


def told(wire: Format, data: bytes) -> Decoded:
    """What a line says of one gauge."""
    return hear((gauge_of(wire),), b"", Received(AT, LINE, data))


def only_fault(decoded: Decoded) -> tuple[LinkFaultKind, str]:
    """Kind and words of the one fault; there is no reading."""
    assert decoded.readings == ()
    (fault,) = decoded.faults
    assert (fault.gauge, fault.at) == ("pneumo-1", AT)
    return fault.kind, fault.detail.removeprefix("pneumo-1: ")


@pytest.mark.parametrize(
    ("fields", "kind", "words"),
    [
        (("1", "PNEUMO", "", "FSW", "OK"), LinkFaultKind.NO_VALUE, "sends no value"),
        (("1", "PNEUMO", "inf", "FSW", "OK"), LinkFaultKind.NOT_FINITE, "'inf' is not finite"),
        (("1", "PNEUMO", "1e1", "FSW", "OK"), LinkFaultKind.GARBLED, "'1e1' is no decimal number"),
        (
            ("1", "PNEUMO", "2.0", "MSW", "OK"),
            LinkFaultKind.WRONG_UNIT,
            "unit 'MSW', the station file says 'FSW'",
        ),
        (("1", "PNEUMO", "2.0", "FSW", "NA"), LinkFaultKind.NO_VALUE, "says 'NA': it has no value"),
        (("1", "PNEUMO", "2.0", "FSW", "OL"), LinkFaultKind.OUT_OF_RANGE, "says 'OL': outside its range"),
        (("1", "PNEUMO", "2.0", "FSW", "ER"), LinkFaultKind.GAUGE_FAULT, "says 'ER': it is broken"),
        (
            ("1", "PNEUMO", "2.0", "FSW", "XY"),
            LinkFaultKind.GAUGE_FAULT,
            "says 'XY', which the station file does not know",
        ),
        (
            ("1", "PNEUMO", "2.0", "FSW"),
            LinkFaultKind.GAUGE_FAULT,
            "says '', which the station file does not know",
        ),
        (
            ("1", "PNEUMO", "251", "FSW", "OK"),
            LinkFaultKind.OUT_OF_RANGE,
            "251 fsw on the wire is 251.0 fsw, outside -5 to 250 fsw",
        ),
    ],
)
def test_a_field_is_read_only_when_all_beside_it_is_as_written(fields, kind, words):
    """Status before unit before value: each thing that is not as the station file says is told by name."""
    assert only_fault(told(FIELD, sentence("PDSM", fields))) == (kind, words)


def test_a_field_that_is_not_there_is_told():
    """A shorter sentence of the same address."""
    wire = NmeaProprietary("PDSM", 9, WireUnit.FSW)
    assert only_fault(told(wire, sentence("PDSM", ["1", "2"]))) == (
        LinkFaultKind.GARBLED,
        "no field 9 among 2",
    )


def test_other_addresses_and_names_say_nothing():
    """A sentence of another maker, and one of another channel of the same box."""
    for data in (
        sentence("PDSN", ["1", "PNEUMO", "2.0", "FSW", "OK"]),
        sentence("PDSM", ["1", "OTHER", "2.0", "FSW", "OK"]),
        sentence("PDSM", ["1"]),
    ):
        assert told(FIELD, data) == Decoded()


def test_a_value_in_the_unit_of_its_channel_stays_to_the_last_bit():
    """250 fsw is 250 fsw at the end of the range, not a hair beyond it."""
    data = sentence("PDSM", ["1", "PNEUMO", "250", "FSW", "OK"])
    assert [reading.value for reading in told(FIELD, data).readings] == [250.0]


@pytest.mark.parametrize(
    ("unit", "text", "fsw"),
    [
        # One fsw is 0.445 psi = 3068.167 Pa (NIST SP 811, B.8); one msw is 10 kPa by definition.
        (WireUnit.PSI, "44.5", 100.0),
        (WireUnit.KILOPASCAL, "306.8167", 100.0),
        (WireUnit.MEGAPASCAL, "0.3068167", 100.0),
        (WireUnit.MSW, "30.68167", 100.0),
        (WireUnit.BAR, "3.068167", 100.0),
        (WireUnit.PASCAL, "306816.7", 100.0),
        (WireUnit.FSW, "100", 100.0),
    ],
)
def test_every_unit_of_the_wire_becomes_fsw(unit, text, fsw):
    """A depth in any unit that a gauge may send."""
    data = sentence("PDSM", ["1", "PNEUMO", text, "FSW", "OK"])
    (reading,) = told(replace(FIELD, unit=unit), data).readings
    assert reading.value == pytest.approx(fsw, rel=1e-6)
    assert reading.raw == float(text)


@pytest.mark.parametrize(
    ("current", "kind", "words"),
    [
        ("3.5", LinkFaultKind.GAUGE_FAULT, "3.5 mA is the current of a broken gauge or wire"),
        ("21.5", LinkFaultKind.GAUGE_FAULT, "21.5 mA is the current of a broken gauge or wire"),
        ("3.7", LinkFaultKind.OUT_OF_RANGE, "3.7 mA is outside 3.8 to 20.5 mA"),
        ("20.3", LinkFaultKind.OUT_OF_RANGE, "20.3 mA on the wire is 254.7 fsw, outside -5 to 250 fsw"),
    ],
)
def test_a_broken_loop_is_never_a_depth_of_zero(current, kind, words):
    """4-20 mA in a generic group: a cut wire and a short are faults of the gauge."""
    wire = NmeaGeneric("PNEUMO1", WireUnit.FSW, loop=Loop(0.0, 250.0))
    data = xdr_sentence("YX", [XdrGroup("G", current, "", "PNEUMO1")])
    found_kind, found = only_fault(told(wire, data))
    assert found_kind is kind
    assert found.startswith(words)


def test_a_loop_keeps_its_current_as_raw():
    """12 mA of 0 to 250 fsw is 125 fsw, and the log holds the 12 mA."""
    wire = NmeaGeneric("PNEUMO1", WireUnit.FSW, loop=Loop(0.0, 250.0))
    data = xdr_sentence("YX", [XdrGroup("G", "12.0", "", "PNEUMO1")])
    (reading,) = told(wire, data).readings
    assert (reading.value, reading.raw) == (125.0, 12.0)


def test_a_pressure_is_no_generic_value():
    """A group of another type under the name is refused, not converted."""
    data = xdr_sentence("YX", [XdrGroup("P", "1.0", "B", "PNEUMO1")])
    assert only_fault(told(NmeaGeneric("PNEUMO1", WireUnit.FSW), data)) == (
        LinkFaultKind.WRONG_UNIT,
        "type 'P' is no generic value ('G')",
    )


def test_depth_of_water_is_read_from_the_talker_that_is_mapped():
    """Another talker's DPT says nothing, an empty one has no value; the offset is not added."""
    assert told(NmeaDepth("YX"), b"$SDDPT,18.4,0.0,100.0*69\r\n") == Decoded()
    assert only_fault(told(NmeaDepth("SD"), sentence("SDDPT", ["", "", ""])))[0] is LinkFaultKind.NO_VALUE
    assert only_fault(told(NmeaDepth("SD"), sentence("SDDPT", [])))[0] is LinkFaultKind.NO_VALUE
    (reading,) = told(NmeaDepth("SD"), sentence("SDDPT", ["10.0", "-3.0"])).readings
    assert reading.raw == 10.0


@given(value=st.decimals(0, 200, places=2).map(str), bar=st.decimals(0, 7, places=4).map(str))
def test_sentences_of_independent_writers_are_read(value, bar):
    """What two public libraries write, one line carrying three formats, comes out as it went in."""
    written = pynmeagps.NMEAMessage(
        "YX", "XDR", pynmeagps.GET, payload=["P", bar, "B", "A", "G", value, "", "B"]
    )
    deep = pynmeagps.NMEAMessage("SD", "DPT", pynmeagps.GET, payload=[value, "0.0", "0.0"])
    own = str(pynmea2.ProprietarySentence("DSM", [",1", "PNEUMO", value, "FSW", "OK"])).encode() + b"\r\n"
    gauges = (
        gauge_of(NmeaXdr("A", XdrUnit.BAR), "a"),
        gauge_of(NmeaGeneric("B", WireUnit.FSW), "b"),
        gauge_of(FIELD, "c"),
        replace(gauge_of(NmeaDepth("SD"), "d"), high=700.0),
    )
    data = written.serialize() + deep.serialize() + own
    decoded = hear(gauges, b"", Received(AT, LINE, data))
    assert decoded.faults == ()
    assert {reading.gauge: reading.raw for reading in decoded.readings} == {
        "a": float(bar),
        "b": float(value),
        "c": float(value),
        "d": float(value),
    }


def test_gauges_that_cannot_share_a_line_are_a_mistake_of_ours():
    """The check of the station file forbids them: mixed ways of speaking, an exchange on a free line."""
    mixed = (gauge_of(FIELD), gauge_of(AsciiText("(?P<value>.)", WireUnit.FSW), "other"))
    with pytest.raises(ValueError, match="more than one format"):
        hear(mixed, b"", Received(AT, LINE, b""))
    with pytest.raises(ValueError, match="not polled"):
        hear((gauge_of(FIELD),), b"", Exchanged(AT, LINE, AT, b"?", b""))
    half = (
        gauge_of(AsciiText("(?P<value>.)", WireUnit.FSW)),
        gauge_of(AsciiText("(?P<value>.)", WireUnit.FSW, poll="Q"), "other"),
    )
    with pytest.raises(ValueError, match="more than one format"):
        hear(half, b"", Received(AT, LINE, b""))
