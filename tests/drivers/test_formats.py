"""Every wire format of the catalogue passes the same suite, the day it is added."""

from dataclasses import dataclass
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drivers.decode import hear
from drivers.formats import FORMATS
from shared.arrivals import Received
from shared.clock import Instant
from shared.gauges import Channel, Gauge, NmeaXdr, XdrUnit
from shared.readings import Reading

AT = Instant(7_000_000_000)
LINE = "serial:///dev/ttyUSB0?baud=9600"


@dataclass(frozen=True)
class Specimen:
    """Two gauges on one line, literal bytes of one frame that carries both, and what they say."""

    gauges: tuple[Gauge, Gauge]
    frame: bytes
    values: tuple[float, float]
    raws: tuple[float, float]


SPECIMENS = {
    # 1 bar is 14.503774 psi (NIST SP 811, B.8), 1 fsw is 0.445 psi: 34.02107 psi are 76.4518 fsw.
    NmeaXdr: Specimen(
        (
            Gauge("pneumo-1", Channel.DEPTH, "Diver 1", LINE, NmeaXdr("PNEUMO1", XdrUnit.BAR), 0.0, 250.0),
            Gauge("supply-1", Channel.SUPPLY, "Diver 1", LINE, NmeaXdr("SUPPLY1", XdrUnit.BAR), 0.0, 300.0),
        ),
        b"$YXXDR,P,2.34567,B,PNEUMO1,P,11.20,B,SUPPLY1,C,14.5,C,GAS*18\r\n",
        (76.4518, 162.4423),
        (2.34567, 11.20),
    ),
}
each_format = pytest.mark.parametrize(
    "specimen", SPECIMENS.values(), ids=[kind.__name__ for kind in SPECIMENS]
)


def heard(specimen: Specimen, data: bytes, pending: bytes = b""):
    """What the decoder makes of `data` on the specimen's line."""
    return hear(specimen.gauges, pending, Received(AT, LINE, data))


def test_every_format_has_a_specimen():
    """The catalogue and this suite name the same formats."""
    assert set(SPECIMENS) == set(FORMATS)


@each_format
def test_literal_bytes_give_their_readings(specimen):
    """Two gauges on one line are told apart, each in the unit of its channel, with the number of the wire."""
    decoded = heard(specimen, specimen.frame)
    assert decoded.faults == ()
    assert decoded.pending == b""
    assert [reading.gauge for reading in decoded.readings] == [gauge.name for gauge in specimen.gauges]
    assert [reading.value for reading in decoded.readings] == pytest.approx(specimen.values, rel=1e-6)
    assert [reading.raw for reading in decoded.readings] == list(specimen.raws)
    assert {reading.at for reading in decoded.readings} == {AT}


@each_format
@given(
    cuts=st.lists(st.integers(0, 400), max_size=6),
    noise=st.lists(st.binary(max_size=30), min_size=3, max_size=3),
)
def test_any_cutting_into_pieces_gives_the_same_readings(specimen, cuts, noise):
    """How the bytes arrive changes neither readings nor faults, with garbage before, between and behind."""
    data = noise[0] + specimen.frame + noise[1] + specimen.frame + noise[2]
    whole = heard(specimen, data)
    readings, faults, pending = (), (), b""
    for start, end in pairwise([0, *sorted(min(cut, len(data)) for cut in cuts), len(data)]):
        piece = heard(specimen, data[start:end], pending)
        readings, faults, pending = readings + piece.readings, faults + piece.faults, piece.pending
    assert (readings, faults, pending) == (whole.readings, whole.faults, whole.pending)


@each_format
def test_one_damaged_byte_gives_the_same_values_or_none(specimen):
    """Whatever single byte is changed, lost or added: no reading differs from the true one."""
    frame, true = specimen.frame, set(heard(specimen, specimen.frame).readings)
    places = range(len(frame))
    damaged = [frame[:i] + bytes([b]) + frame[i + 1 :] for i in places for b in range(256) if b != frame[i]]
    damaged += [frame[:i] + bytes([b]) + frame[i:] for i in places for b in range(256)]
    damaged += [frame[:i] + frame[i + 1 :] for i in places]
    for data in damaged:
        decoded = heard(specimen, data)
        assert set(decoded.readings) <= true, data
        assert decoded.readings or decoded.faults or decoded.pending, data


@each_format
def test_a_cut_frame_gives_nothing_and_costs_nothing(specimen):
    """A frame cut anywhere, at either end, gives no reading; the next frame gives all of its own."""
    for place in range(1, len(specimen.frame)):
        for cut in (specimen.frame[:place], specimen.frame[place:]):
            decoded = heard(specimen, cut + specimen.frame)
            assert len(decoded.readings) == 2, cut
            assert all(isinstance(reading, Reading) for reading in decoded.readings)


@each_format
def test_garbage_inside_a_frame_is_told(specimen):
    """Bytes pushed into a frame cost that frame, and a fault shows them."""
    middle = len(specimen.frame) // 2
    torn = specimen.frame[:middle] + b"\x00\xff" + specimen.frame[middle:]
    decoded = heard(specimen, torn + specimen.frame)
    assert len(decoded.readings) == 2
    assert any(b"\x00\xff" in fault.data for fault in decoded.faults)
    assert {fault.port for fault in decoded.faults} == {LINE}


@each_format
def test_noise_never_fills_the_memory(specimen):
    """What stays pending is bounded, whatever comes."""
    pending = b""
    for _ in range(100):
        pending = heard(specimen, b"\x55" * 997, pending).pending
        assert len(pending) <= 4096


@each_format
def test_bytes_of_another_line_say_nothing(specimen):
    """Only gauges of the line that spoke are read."""
    decoded = hear(specimen.gauges, b"", Received(AT, "serial:///dev/other", specimen.frame))
    assert (decoded.readings, decoded.faults, decoded.pending) == ((), (), b"")
