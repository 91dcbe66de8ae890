"""Every wire format of the catalogue passes the same suite, the day it is added."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from math import isfinite
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drivers.decode import hear
from drivers.formats import FORMATS
from drivers.formats.decoded import Decoded
from shared.arrivals import Exchanged, Received
from shared.clock import Instant
from shared.gauges import (
    AsciiText,
    ByteOrder,
    Channel,
    Format,
    Gauge,
    LineEnding,
    Loop,
    Meaning,
    ModbusRegister,
    NmeaDepth,
    NmeaGeneric,
    NmeaProprietary,
    NmeaXdr,
    NumberKind,
    RegisterTable,
    Status,
    WireUnit,
    XdrUnit,
    is_polled,
)
from shared.readings import LinkFaultKind

AT = Instant(7_000_000_000)
ASKED_AT = Instant(6_980_000_000)
LINE = "serial:///dev/ttyUSB0?baud=9600"
FUZZ_BYTES = 200_000


@dataclass(frozen=True)
class Spoken:
    """A frame that carries all gauges of a line; `lead` must stand before it.

    `unguarded` are the places of digits that no checksum guards: another digit there is another value, and
    nobody can know. It is a list that may not grow: formats with a checksum have none.
    """

    gauges: tuple[Gauge, ...]
    frame: bytes
    values: tuple[float, ...]
    raws: tuple[float, ...]
    lead: bytes = b""
    unguarded: frozenset[int] = frozenset()


@dataclass(frozen=True)
class Answered:
    """A request to the first of two gauges on one line, and its reply; `unguarded` as above, in the reply."""

    gauges: tuple[Gauge, ...]
    request: bytes
    reply: bytes
    value: float
    unguarded: frozenset[int] = frozenset()


def depth_of(wire: Format) -> Gauge:
    """The depth gauge of a line."""
    return Gauge("pneumo-1", Channel.DEPTH, "Diver 1", LINE, wire, -5.0, 250.0)


def supply_of(wire: Format) -> Gauge:
    """The supply gauge of a line."""
    return Gauge("supply-1", Channel.SUPPLY, "Diver 1", LINE, wire, -5.0, 300.0)


_OK = (Status("OK", Meaning.GOOD), Status("ER", Meaning.FAULT))

SPOKEN: dict[type[Format], Spoken] = {
    # 1 bar is 14.503774 psi (NIST SP 811, B.8), 1 fsw is 0.445 psi: 34.02107 psi are 76.4518 fsw.
    NmeaXdr: Spoken(
        (depth_of(NmeaXdr("PNEUMO1", XdrUnit.BAR)), supply_of(NmeaXdr("SUPPLY1", XdrUnit.BAR))),
        b"$YXXDR,P,2.34567,B,PNEUMO1,P,11.20,B,SUPPLY1,C,14.5,C,GAS*18\r\n",
        (76.4518, 162.4423),
        (2.34567, 11.20),
    ),
    # 10.4 mA of 0 to 400 psi are 160 psi.
    NmeaGeneric: Spoken(
        (
            depth_of(NmeaGeneric("PNEUMO1", WireUnit.FSW, "F")),
            supply_of(NmeaGeneric("SUPPLY1", WireUnit.PSI, loop=Loop(0.0, 400.0))),
        ),
        b"$YXXDR,G,58.2,F,PNEUMO1,G,10.40,,SUPPLY1*2C\r\n",
        (58.2, 160.0),
        (58.2, 10.4),
    ),
    NmeaProprietary: Spoken(
        (
            depth_of(NmeaProprietary("PDSM", 3, WireUnit.FSW, 2, "PNEUMO", 4, "FSW")),
            supply_of(NmeaProprietary("PDSM", 5, WireUnit.PSI, status_field=6, statuses=_OK)),
        ),
        b"$PDSM,1,PNEUMO,23.45,FSW,142.0,OK*76\r\n",
        (23.45, 142.0),
        (23.45, 142.0),
    ),
    # 18.4 msw are 184 000 Pa, and 1 fsw is 3068.167 Pa: 59.9707 fsw.
    NmeaDepth: Spoken((depth_of(NmeaDepth("SD")),), b"$SDDPT,18.4,0.0,100.0*69\r\n", (59.9707,), (18.4,)),
    AsciiText: Spoken(
        (
            depth_of(AsciiText(r"D:(?P<value>\d+\.\d+) (?P<unit>fsw|msw)", WireUnit.FSW, unit_text="fsw")),
            supply_of(
                AsciiText(r"S;(?P<status>\w\w);(?P<value>\d{4})", WireUnit.PSI, decimals=1, statuses=_OK)
            ),
        ),
        b"D:058.2 fsw\r\nS;OK;1420\r\n",
        (58.2, 142.0),
        (58.2, 142.0),
        lead=b"\r\n",
        unguarded=frozenset({2, 3, 4, 5, 6, 18, 19, 20, 21}),
    ),
}

_FLOAT = ModbusRegister(
    1, RegisterTable.HOLDING, 0, NumberKind.FLOAT32, WireUnit.FSW, ByteOrder.ABCD, "2031-03-02"
)
ANSWERED: dict[type[Format], Answered] = {
    ModbusRegister: Answered(
        (
            depth_of(_FLOAT),
            supply_of(ModbusRegister(1, RegisterTable.HOLDING, 4, NumberKind.INT16, WireUnit.PSI, scale=0.5)),
        ),
        bytes.fromhex("010300000002C40B"),
        bytes.fromhex("01030442F6E979800B"),
        123.456,
    ),
    AsciiText: Answered(
        (
            depth_of(
                AsciiText(
                    r"07:(?P<value>[+-]\d{4}\.\d);(?P<status>[A-Z]+)", WireUnit.FSW, poll="V07", statuses=_OK
                )
            ),
            supply_of(AsciiText(r"(?P<value>[+-]\d{4})", WireUnit.PSI, LineEnding.CR, poll="PV", echo=True)),
        ),
        b"V07\r",
        b"07:+0123.4;OK\r\n",
        123.4,
        frozenset({3, 4, 5, 6, 7, 8, 9}),
    ),
}
each_spoken = pytest.mark.parametrize("specimen", SPOKEN.values(), ids=[kind.__name__ for kind in SPOKEN])
each_answered = pytest.mark.parametrize(
    "specimen", ANSWERED.values(), ids=[kind.__name__ for kind in ANSWERED]
)


def heard(specimen: Spoken, data: bytes, pending: bytes = b"") -> Decoded:
    """What the decoder makes of `data` on the specimen's line."""
    return hear(specimen.gauges, pending, Received(AT, LINE, data))


def answered(specimen: Answered, reply: bytes) -> Decoded:
    """What the decoder makes of a reply on the specimen's line."""
    return hear(specimen.gauges, b"", Exchanged(AT, LINE, ASKED_AT, specimen.request, reply))


def damaged(frame: bytes, unguarded: frozenset[int]) -> Iterator[bytes]:
    """Every frame with one byte changed, added or lost, but for digits that nothing guards."""
    for place in range(len(frame)):
        if place not in unguarded:
            yield frame[:place] + frame[place + 1 :]
            yield from (
                frame[:place] + bytes([b]) + frame[place + 1 :] for b in range(256) if b != frame[place]
            )
        if not {place, place - 1} & unguarded:
            yield from (frame[:place] + bytes([b]) + frame[place:] for b in range(256))


def test_every_format_has_a_specimen():
    """The catalogue and this suite name the same formats; polled ones have an exchange, too."""
    assert set(SPOKEN) | set(ANSWERED) == set(FORMATS)
    assert not any(is_polled(gauge.format) for one in SPOKEN.values() for gauge in one.gauges)
    assert all(is_polled(gauge.format) for one in ANSWERED.values() for gauge in one.gauges)


def test_only_lines_of_text_are_without_a_checksum():
    """The excuse for digits that nothing guards is AsciiText's alone, and may not grow."""
    excused = {kind for kind, one in [*SPOKEN.items(), *ANSWERED.items()] if one.unguarded}
    assert excused == {AsciiText}


@each_spoken
def test_literal_bytes_give_their_readings(specimen):
    """The gauges of a line are told apart, each in the unit of its channel, with the number of the wire."""
    decoded = heard(specimen, specimen.lead + specimen.frame)
    assert decoded.faults == ()
    assert decoded.pending == specimen.lead
    assert [reading.gauge for reading in decoded.readings] == [gauge.name for gauge in specimen.gauges]
    assert [reading.value for reading in decoded.readings] == pytest.approx(specimen.values, rel=1e-6)
    assert [reading.raw for reading in decoded.readings] == pytest.approx(specimen.raws, rel=1e-12)
    assert {reading.at for reading in decoded.readings} == {AT}


@each_spoken
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


@each_spoken
def test_one_damaged_byte_gives_the_same_values_or_none(specimen):
    """Whatever single byte is changed, lost or added: no reading differs from the true one."""
    true = set(heard(specimen, specimen.lead + specimen.frame).readings)
    for frame in damaged(specimen.frame, specimen.unguarded):
        decoded = heard(specimen, specimen.lead + frame)
        assert set(decoded.readings) <= true, frame
        assert decoded.readings or decoded.faults or decoded.pending, frame


@each_spoken
def test_a_cut_frame_gives_nothing_and_costs_little(specimen):
    """A frame cut anywhere, at either end, gives no false reading; the next gives all of its own.

    Where a frame has no mark at its start, the next but one does.
    """
    true = heard(specimen, specimen.lead + specimen.frame).readings
    following = specimen.frame * (2 if specimen.lead else 1)
    for place in range(1, len(specimen.frame)):
        for cut in (specimen.lead + specimen.frame[:place], specimen.frame[place:]):
            decoded = heard(specimen, cut + following)
            assert set(decoded.readings) <= set(true), cut
            assert decoded.readings[-len(true) :] == true, cut


@each_spoken
def test_garbage_inside_a_frame_is_told(specimen):
    """Bytes pushed into a frame cost that frame, and a fault shows them."""
    middle = len(specimen.frame) // 2
    torn = specimen.frame[:middle] + b"\x00\xff" + specimen.frame[middle:]
    decoded = heard(specimen, specimen.lead + torn + specimen.frame)
    assert len(decoded.readings) == len(specimen.gauges)
    assert any(b"\x00\xff" in fault.data for fault in decoded.faults)
    assert {fault.port for fault in decoded.faults} == {LINE}


@each_spoken
def test_noise_never_fills_the_memory(specimen):
    """What stays pending is bounded, whatever comes."""
    pending = b""
    for _ in range(100):
        pending = heard(specimen, b"\x55" * 997, pending).pending
        assert len(pending) <= 4096


@each_spoken
def test_bytes_of_another_line_say_nothing(specimen):
    """Only gauges of the line that spoke are read."""
    decoded = hear(specimen.gauges, b"", Received(AT, "serial:///dev/other", specimen.lead + specimen.frame))
    assert (decoded.readings, decoded.faults, decoded.pending) == ((), (), b"")


@each_answered
def test_a_literal_answer_gives_its_reading(specimen):
    """The gauge that was asked is read, at the instant of its answer; its neighbour says nothing."""
    decoded = answered(specimen, specimen.reply)
    (reading,) = decoded.readings
    assert (decoded.faults, decoded.pending) == ((), b"")
    assert (reading.gauge, reading.at) == ("pneumo-1", AT)
    assert reading.value == pytest.approx(specimen.value, rel=1e-6)
    assert reading.raw == pytest.approx(specimen.value, rel=1e-6)


@each_answered
def test_a_damaged_answer_gives_the_same_value_or_none(specimen):
    """Whatever single byte of an answer is changed, lost or added: the true value or a fault."""
    true = set(answered(specimen, specimen.reply).readings)
    for reply in damaged(specimen.reply, specimen.unguarded):
        decoded = answered(specimen, reply)
        assert set(decoded.readings) <= true, reply
        assert decoded.readings or decoded.faults, reply


@each_answered
def test_a_cut_answer_is_a_fault_of_the_gauge(specimen):
    """An answer cut anywhere, at either end, names the gauge that was asked, with its bytes."""
    for place in range(1, len(specimen.reply)):
        for cut in (specimen.reply[:place], specimen.reply[place:]):
            decoded = answered(specimen, cut)
            assert decoded.readings == (), cut
            (fault,) = decoded.faults
            assert (fault.gauge, fault.port, fault.at, fault.data) == ("pneumo-1", LINE, AT, cut)


@each_answered
def test_silence_is_a_fault_of_the_gauge_that_was_asked(specimen):
    """An empty reply says that nothing came; the neighbour on the line is not blamed."""
    decoded = answered(specimen, b"")
    assert [(fault.gauge, fault.kind) for fault in decoded.faults] == [("pneumo-1", LinkFaultKind.NO_REPLY)]


@each_answered
def test_an_answer_that_nobody_asked_for_is_never_a_reading(specimen):
    """A late answer comes as bytes without a request: a fault of the line."""
    decoded = hear(specimen.gauges, b"", Received(AT, LINE, specimen.reply))
    assert (decoded.readings, decoded.pending) == ((), b"")
    (fault,) = decoded.faults
    assert (fault.gauge, fault.kind, fault.data) == ("", LinkFaultKind.GARBLED, specimen.reply)


@each_answered
def test_an_answer_to_a_strange_request_says_nothing(specimen):
    """A request that no gauge of the line makes: its answer is kept in the log and read by nobody."""
    strange = Exchanged(AT, LINE, ASKED_AT, b"?", specimen.reply)
    assert hear(specimen.gauges, b"", strange) == Decoded()


def noise(random: Random, frame: bytes) -> bytes:
    """Something that a bad line might bring: noise, a frame, a piece of one, a frame with holes."""
    match random.randrange(4):
        case 0:
            return random.randbytes(random.randrange(1, 60))
        case 1:
            return frame
        case 2:
            start = random.randrange(len(frame))
            return frame[start : start + random.randrange(1, len(frame))]
        case _:
            bad = bytearray(frame)
            for _ in range(random.randrange(1, 6)):
                bad[random.randrange(len(bad))] = random.randrange(256)
            return bytes(bad)


def is_bounded(decoded: Decoded) -> bool:
    """Whether readings are finite and within their gauge's range, and little is pending."""
    sound = all(isfinite(one.value) and -5.0 <= one.value <= 300.0 for one in decoded.readings)
    return sound and len(decoded.pending) <= 4096


def fuzz_spoken(specimen: Spoken, total_bytes: int, seed: int) -> int:
    """Feed a bad line in random pieces; how many readings came through. Raises AssertionError."""
    random, pending, fed, readings = Random(seed), b"", 0, 0
    while fed < total_bytes:
        data = noise(random, specimen.frame)
        decoded = heard(specimen, data, pending)
        assert is_bounded(decoded), data
        pending, fed, readings = decoded.pending, fed + len(data), readings + len(decoded.readings)
    return readings


def fuzz_answered(specimen: Answered, total_bytes: int, seed: int) -> int:
    """Answer with what a bad line makes of it; how many readings came through. Raises AssertionError."""
    random, fed, readings = Random(seed), 0, 0
    while fed < total_bytes:
        reply = noise(random, specimen.reply)
        decoded = answered(specimen, reply)
        assert is_bounded(decoded), reply
        assert decoded.readings or decoded.faults, reply
        fed, readings = fed + len(reply), readings + len(decoded.readings)
    return readings


@each_spoken
def test_a_bad_line_never_breaks_the_decoder(specimen):
    """Much noise with frames in it: nothing is raised, sound frames come through."""
    assert fuzz_spoken(specimen, FUZZ_BYTES, seed=20310502) > 100


@each_answered
def test_bad_answers_never_break_the_decoder(specimen):
    """Many damaged answers: each gives its reading or a fault, sound ones come through."""
    assert fuzz_answered(specimen, FUZZ_BYTES, seed=20310502) > 100
