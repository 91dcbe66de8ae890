"""Lines of text in the invented styles of the presets: echo, implied point, status, unit, address."""

from dataclasses import replace

import pytest

from drivers.decode import hear
from drivers.formats.asking import is_answer, reply_bytes_of, request_of
from drivers.formats.decoded import Decoded
from shared.arrivals import Exchanged, Received
from shared.clock import Instant
from shared.gauges import (
    AsciiText,
    Channel,
    Gauge,
    LineEnding,
    Loop,
    Meaning,
    NmeaDepth,
    Status,
    WireUnit,
)
from shared.readings import LinkFaultKind

AT = Instant(9)
LINE = "serial:///dev/ttyUSB0?baud=9600"
ECHOED = AsciiText(r"(?P<value>[+-]\d{4})", WireUnit.PSI, LineEnding.CR, poll="PV", echo=True, decimals=2)
STREAM = AsciiText(
    r"(?P<status>\d);(?P<value>[+-]\d\.\d{4}E[+-]\d\d)",
    WireUnit.PSI,
    statuses=(Status("0", Meaning.GOOD), Status("1", Meaning.OUT_OF_RANGE)),
)


def gauge_of(wire: AsciiText, name: str = "supply-1") -> Gauge:
    """A supply gauge of this format."""
    return Gauge(name, Channel.SUPPLY, "Diver 1", LINE, wire, -15.0, 300.0)


def asked(wire: AsciiText, reply: bytes) -> Decoded:
    """What a reply says of the gauge that was asked."""
    return hear((gauge_of(wire),), b"", Exchanged(AT, LINE, AT, request_of(wire), reply))


def streamed(wire: AsciiText, *lines: bytes) -> Decoded:
    """What whole lines say of a gauge that speaks by itself."""
    return hear((gauge_of(wire),), b"\r\n", Received(AT, LINE, b"".join(line + b"\r\n" for line in lines)))


def only_fault(decoded: Decoded) -> tuple[LinkFaultKind, str]:
    """Kind and words of the one fault; there is no reading."""
    assert decoded.readings == ()
    (fault,) = decoded.faults
    return fault.kind, fault.detail.removeprefix("supply-1: ")


def test_an_echo_is_stripped_and_a_point_put_in():
    """Asked "PV", the gauge repeats it and says -0025: a quarter psi below nothing."""
    (reading,) = asked(ECHOED, b"PV\r-0025\r").readings
    assert (reading.value, reading.raw) == (-0.25, -0.25)


@pytest.mark.parametrize(
    ("reply", "kind", "words"),
    [
        (b"-0025\r", LinkFaultKind.GARBLED, "does not repeat the poll before its answer"),
        (b"PV\r", LinkFaultKind.NO_REPLY, "repeats the poll, but does not answer"),
        (b"PV\r-0025", LinkFaultKind.GARBLED, "5 bytes that are not one line"),
        (b"PV\r-0025\r-0026\r", LinkFaultKind.GARBLED, "12 bytes that are not one line"),
        (b"PV\r-0.25\r", LinkFaultKind.GARBLED, "an answer that does not fit its pattern"),
        (b"PV\r-00\xb25\r", LinkFaultKind.GARBLED, "5 bytes that are no line of text"),
        (b"PV\r" + b"5" * 300 + b"\r", LinkFaultKind.TOO_LONG, "an answer of 300 bytes"),
        (b"", LinkFaultKind.NO_REPLY, "does not answer"),
    ],
)
def test_what_is_no_answer_says_why(reply, kind, words):
    """Each thing that can be wrong with a polled reply, with the bytes that showed it."""
    decoded = asked(ECHOED, reply)
    assert only_fault(decoded) == (kind, words)
    assert decoded.faults[0].data == reply


def test_an_answer_of_another_address_does_not_fit():
    """The address in the answer is part of the pattern."""
    wire = AsciiText(r"07:(?P<value>[+-]\d+\.\d)", WireUnit.PSI, poll="V07")
    assert [reading.value for reading in asked(wire, b"07:+0123.4\r\n").readings] == [123.4]
    assert only_fault(asked(wire, b"08:+0123.4\r\n"))[0] is LinkFaultKind.GARBLED


def test_an_empty_line_before_an_answer_does_no_harm():
    """Some gauges send an ending before and behind their answer."""
    wire = AsciiText(r"(?P<value>\d+)", WireUnit.PSI, poll="Q")
    assert [reading.value for reading in asked(wire, b"\r\n12\r\n").readings] == [12.0]


def test_one_answer_may_serve_two_gauges():
    """Two gauges of one poll read different fields of the same line."""
    first = AsciiText(r"T (?P<value>\d+) \d+", WireUnit.PSI, poll="T", poll_ending=LineEnding.NONE)
    second = replace(first, pattern=r"T \d+ (?P<value>\d+)")
    gauges = (gauge_of(first), gauge_of(second, "supply-2"))
    decoded = hear(gauges, b"", Exchanged(AT, LINE, AT, b"T", b"T 120 95\r\n"))
    assert [(reading.gauge, reading.value) for reading in decoded.readings] == [
        ("supply-1", 120.0),
        ("supply-2", 95.0),
    ]


def test_a_status_code_goes_before_its_value():
    """A stream with exponents; a status that is not good, and one that is not known, give no value."""
    assert [reading.value for reading in streamed(STREAM, b"0;+1.2340E+02").readings] == [123.4]
    assert only_fault(streamed(STREAM, b"1;+1.2340E+02")) == (
        LinkFaultKind.OUT_OF_RANGE,
        "says '1': outside its range",
    )
    assert only_fault(streamed(STREAM, b"7;+1.2340E+02")) == (
        LinkFaultKind.GAUGE_FAULT,
        "says '7', which the station file does not know",
    )


def test_a_line_that_fits_no_pattern_is_a_fault_of_the_line():
    """A greeting, or another field order: nobody is named, the bytes are told."""
    kind, words = only_fault(streamed(STREAM, b"gauge ready"))
    assert (kind, words) == (LinkFaultKind.GARBLED, "a line that fits no gauge's pattern")
    assert streamed(STREAM, b"gauge ready").faults[0].gauge == ""


def test_the_unit_that_is_sent_must_be_the_one_that_is_written():
    """Somebody has set the gauge to bar: no value, and a fault that says so."""
    wire = AsciiText(r"S, *(?P<value>\d+\.\d+),(?P<unit>[a-z]+)", WireUnit.PSI, unit_text="psi")
    assert [reading.value for reading in streamed(wire, b"S,  123.4,psi").readings] == [123.4]
    assert only_fault(streamed(wire, b"S,  8.5,bar")) == (
        LinkFaultKind.WRONG_UNIT,
        "unit 'bar', the station file says 'psi'",
    )


def test_scale_and_offset_make_the_unit_of_the_wire():
    """Counts of an adapter become mA, and the loop makes them a pressure; raw is the current."""
    wire = AsciiText(
        r"(?P<value>\d+)", WireUnit.PSI, scale=0.001, offset=2.0, loop=Loop(0.0, 320.0), decimals=0
    )
    (reading,) = streamed(wire, b"10000").readings
    assert reading.raw == pytest.approx(12.0)
    assert reading.value == pytest.approx(160.0)
    assert only_fault(streamed(wire, b"1000"))[0] is LinkFaultKind.GAUGE_FAULT


def test_a_number_that_is_none_is_told():
    """What the pattern takes for a value may still hold no number."""
    wire = AsciiText(r"D=(?P<value>.*)", WireUnit.PSI)
    assert only_fault(streamed(wire, b"D=")) == (LinkFaultKind.NO_VALUE, "sends no value")
    assert only_fault(streamed(wire, b"D=nan")) == (LinkFaultKind.NOT_FINITE, "'nan' is not finite")
    assert only_fault(streamed(wire, b"D=1-2")) == (LinkFaultKind.GARBLED, "'1-2' is no decimal number")


def test_two_endings_on_one_line_are_a_mistake_of_ours():
    """The check of the station file forbids it."""
    gauges = (gauge_of(STREAM), gauge_of(replace(STREAM, ending=LineEnding.LF), "supply-2"))
    with pytest.raises(ValueError, match="more than one line ending"):
        hear(gauges, b"", Received(AT, LINE, b""))


def test_what_is_never_asked_has_no_request():
    """A gauge that speaks by itself is asked by nobody."""
    for wire in (STREAM, NmeaDepth("SD")):
        with pytest.raises(ValueError, match="never asked"):
            request_of(wire)
        with pytest.raises(ValueError, match="never replies"):
            reply_bytes_of(wire)


@pytest.mark.parametrize(
    ("reply", "whole"),
    [(b"PV\r-0025\r", True), (b"PV\rrubbish\r", True), (b"PV\r", False), (b"PV\r-00", False), (b"", False)],
)
def test_a_reply_is_awaited_until_its_line_has_ended(reply, whole):
    """Whether a value stands in the line is for the decoder; that it has ended is for the reader."""
    assert is_answer(ECHOED, reply) is whole
