"""Units, calibration, range: what a number on the wire becomes, and what is refused."""

from dataclasses import dataclass, replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drivers.decode import hear
from shared.arrivals import Received
from shared.clock import Instant
from shared.gauges import Calibration, Channel, Gauge, NmeaXdr, XdrUnit
from shared.readings import LinkFaultKind
from shared.wire.nmea0183 import XdrGroup, sentence, xdr_sentence

AT = Instant(3)
LINE = "socket://127.0.0.1:4001"
PNEUMO = Gauge("pneumo-1", Channel.DEPTH, "Diver 1", LINE, NmeaXdr("PNEUMO1", XdrUnit.BAR), 0.0, 250.0)


def told(gauge: Gauge, *groups: tuple[str, str, str, str]):
    """What one sentence of `groups` says of one gauge."""
    data = xdr_sentence("YX", [XdrGroup(*group) for group in groups])
    return hear((gauge,), b"", Received(AT, LINE, data))


def only_fault(decoded):
    """The one fault; there is no reading."""
    assert decoded.readings == ()
    (fault,) = decoded.faults
    return fault


@pytest.mark.parametrize(
    ("channel", "unit", "letter", "text", "value"),
    [
        # 33 fsw are 33 x 0.445 psi = 14.685 psi = 101 249.5 Pa = 1.012495 bar (NIST SP 811, B.8).
        (Channel.DEPTH, XdrUnit.BAR, "B", "1.012495", 33.0),
        (Channel.DEPTH, XdrUnit.PASCAL, "P", "101249.5", 33.0),
        # 100 psi are 6.894757 bar (NIST SP 811, B.8).
        (Channel.SUPPLY, XdrUnit.BAR, "B", "6.894757", 100.0),
        (Channel.BANK, XdrUnit.PASCAL, "P", "689475.7", 100.0),
    ],
)
def test_pressures_come_in_the_unit_of_the_channel(channel, unit, letter, text, value):
    """Depth is fsw, supply and bank are psig, from bar and from pascal."""
    gauge = replace(PNEUMO, channel=channel, format=NmeaXdr("PNEUMO1", unit))
    (reading,) = told(gauge, ("P", text, letter, "PNEUMO1")).readings
    assert reading.value == pytest.approx(value, rel=1e-6)
    assert reading.raw == float(text)


def test_calibration_takes_zero_off_before_it_stretches():
    """True is (shown - zero) times span, in the channel's unit: (33 - 3) x 1.1 = 33."""
    gauge = replace(PNEUMO, calibration=Calibration(zero=3.0, span=1.1))
    (reading,) = told(gauge, ("P", "1.012495", "B", "PNEUMO1")).readings
    assert reading.value == pytest.approx(33.0, rel=1e-6)
    assert reading.raw == 1.012495


def test_the_range_holds_after_the_calibration_and_both_ends_belong_to_it():
    """A value outside the range is a fault that names gauge, bytes and value; at its ends it is none."""
    at_zero = told(PNEUMO, ("P", "0.0", "B", "PNEUMO1"))
    assert [reading.value for reading in at_zero.readings] == [0.0]
    fault = only_fault(told(PNEUMO, ("P", "-0.1", "B", "PNEUMO1")))
    assert fault.kind is LinkFaultKind.OUT_OF_RANGE
    assert (fault.gauge, fault.port, fault.at) == ("pneumo-1", LINE, AT)
    assert fault.detail == "pneumo-1: -0.1 bar on the wire is -3.3 fsw, outside 0 to 250 fsw"
    assert fault.data.startswith(b"$YXXDR,P,-0.1,B,PNEUMO1*")
    raised = replace(PNEUMO, calibration=Calibration(zero=-4.0))
    assert told(raised, ("P", "-0.1", "B", "PNEUMO1")).faults == ()


@pytest.mark.parametrize(
    ("group", "kind", "words"),
    [
        (("P", "", "B", "PNEUMO1"), LinkFaultKind.NO_VALUE, "pneumo-1: sends no value"),
        (("P", "nan", "B", "PNEUMO1"), LinkFaultKind.NOT_FINITE, "pneumo-1: 'nan' is not finite"),
        (("P", "-inf", "B", "PNEUMO1"), LinkFaultKind.NOT_FINITE, "pneumo-1: '-inf' is not finite"),
        (("P", "1e1", "B", "PNEUMO1"), LinkFaultKind.GARBLED, "pneumo-1: '1e1' is no decimal number"),
        (
            ("P", "1.0", "P", "PNEUMO1"),
            LinkFaultKind.WRONG_UNIT,
            "pneumo-1: unit 'P', the station file says 'B'",
        ),
        (
            ("P", "1.0", "", "PNEUMO1"),
            LinkFaultKind.WRONG_UNIT,
            "pneumo-1: unit '', the station file says 'B'",
        ),
        (("C", "14.5", "C", "PNEUMO1"), LinkFaultKind.WRONG_UNIT, "pneumo-1: type 'C' is no pressure ('P')"),
        (("P", "9" * 200, "B", "PNEUMO1"), LinkFaultKind.OUT_OF_RANGE, None),
    ],
)
def test_what_a_group_is_refused_for(group, kind, words):
    """A group that gives no pressure in the unit of the station file is a fault of its gauge."""
    fault = only_fault(told(PNEUMO, group))
    assert (fault.kind, fault.gauge) == (kind, "pneumo-1")
    assert words is None or fault.detail == words


def test_a_temperature_under_the_same_name_is_passed_over():
    """A transducer that sends pressure and temperature under one name is read for its pressure."""
    decoded = told(PNEUMO, ("C", "14.5", "C", "PNEUMO1"), ("P", "1.0", "B", "PNEUMO1"))
    assert [reading.raw for reading in decoded.readings] == [1.0]
    assert decoded.faults == ()


def test_two_pressures_under_one_name_are_refused():
    """Which of two values is the depth cannot be told."""
    fault = only_fault(told(PNEUMO, ("P", "1.0", "B", "PNEUMO1"), ("P", "2.0", "B", "PNEUMO1")))
    assert (fault.kind, fault.detail) == (LinkFaultKind.GARBLED, "pneumo-1: 2 pressures in one sentence")


def test_one_bad_group_leaves_its_neighbour():
    """A gauge without a value does not silence another one in the same sentence."""
    supply = replace(
        PNEUMO, name="supply-1", channel=Channel.SUPPLY, format=NmeaXdr("SUPPLY1", XdrUnit.BAR), high=300.0
    )
    data = b"$YXXDR,P,,B,PNEUMO1,P,11.20,B,SUPPLY1*7C\r\n"
    decoded = hear((PNEUMO, supply), b"", Received(AT, LINE, data))
    assert [(reading.gauge, reading.raw) for reading in decoded.readings] == [("supply-1", 11.2)]
    assert [(fault.gauge, fault.kind) for fault in decoded.faults] == [("pneumo-1", LinkFaultKind.NO_VALUE)]


def test_other_sentences_and_strange_names_say_nothing():
    """The depth under a boat's transducer is never taken for a diver's, nor another transducer's pressure."""
    data = b"$SDDPT,18.4,0.0,100.0*69\r\n" + xdr_sentence("YX", [XdrGroup("P", "1", "B", "pneumo1")])
    decoded = hear((PNEUMO,), b"", Received(AT, LINE, data))
    assert (decoded.readings, decoded.faults) == ((), ())


def test_faults_of_the_line_name_no_gauge():
    """A broken frame cannot say whose it was; it carries the bytes."""
    decoded = hear(
        (PNEUMO,), b"", Received(AT, LINE, b"$YXXDR,P,1.0,B,PNEUMO1*00\r\n" + sentence("YXXDR", ["P"]))
    )
    assert [(fault.kind, fault.gauge) for fault in decoded.faults] == [
        (LinkFaultKind.CHECKSUM, ""),
        (LinkFaultKind.GARBLED, ""),
    ]
    assert decoded.faults[0].data == b"$YXXDR,P,1.0,B,PNEUMO1*00\r\n"


def test_two_formats_on_one_line_are_a_mistake_of_ours():
    """The check of the station file forbids it, so that here it stops loudly."""

    @dataclass(frozen=True)
    class Other:
        """Another format."""

    other = replace(PNEUMO, name="other", format=Other())
    with pytest.raises(ValueError, match="more than one format"):
        hear((PNEUMO, other), b"", Received(AT, LINE, b""))


@given(st.floats(0.0, 250.0))
def test_a_depth_survives_the_way_over_the_wire(depth_fsw):
    """A depth written in bar with five decimals comes back within their rounding: 0.0004 fsw."""
    bar = depth_fsw * 0.445 * 6894.757293168 / 100_000
    (reading,) = told(replace(PNEUMO, high=251.0), ("P", f"{bar:.5f}", "B", "PNEUMO1")).readings
    assert reading.value == pytest.approx(depth_fsw, abs=0.0004)
