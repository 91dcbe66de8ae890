"""Sentences are taken whole and sound or not at all, and independent parsers read the same."""

from itertools import pairwise
from pathlib import Path

import pynmea2
import pynmeagps
import pytest
from hypothesis import given
from hypothesis import strategies as st

from shared.readings import LinkFaultKind
from shared.wire.nmea0183 import (
    GARBAGE_BYTES,
    MOST_BYTES,
    FrameFault,
    Sentence,
    XdrGroup,
    decimal,
    feed,
    is_xdr,
    parse_xdr,
    sentence,
    xdr_sentence,
)

VECTORS = [
    line.encode() + b"\r\n"
    for line in (Path(__file__).parents[1] / "data/wire/nmea0183.txt").read_text("ascii").splitlines()
]
XDR = VECTORS[0]
GROUPS = (
    XdrGroup("P", "2.34567", "B", "PNEUMO1"),
    XdrGroup("P", "11.20", "B", "SUPPLY1"),
    XdrGroup("C", "14.5", "C", "GAS"),
)
NOISE = st.lists(
    st.one_of(st.binary(max_size=40), st.sampled_from([*VECTORS, b"$", b"\r\n", b"*18", b"$YXXDR,"])),
    max_size=12,
).map(b"".join)


def only(data: bytes) -> Sentence | FrameFault:
    """The one thing that `data` holds."""
    (found,), pending = feed(b"", data)
    assert pending == b""
    return found


def test_literal_sentences_are_read():
    """Sentences that our codec did not make give their address and fields."""
    assert [only(vector) for vector in VECTORS] == [
        Sentence(
            "YXXDR",
            ("P", "2.34567", "B", "PNEUMO1", "P", "11.20", "B", "SUPPLY1", "C", "14.5", "C", "GAS"),
            XDR,
        ),
        Sentence("SDDPT", ("18.4", "0.0", "100.0"), VECTORS[1]),
        Sentence("PDSM", ("1", "PNEUMO", "23.45", "FSW"), VECTORS[2]),
    ]


def test_the_literal_xdr_sentence_gives_its_groups_and_is_written_again():
    """Reading and writing the literal sentence agree with it to the byte."""
    assert parse_xdr(only(XDR)) == GROUPS
    assert xdr_sentence("YX", GROUPS) == XDR
    assert sentence("SDDPT", ["18.4", "0.0", "100.0"]) == VECTORS[1]


def accepted(data: bytes) -> list[Sentence]:
    """The sentences in `data`, fed whole."""
    return [found for found in feed(b"", data)[0] if isinstance(found, Sentence)]


def damaged(frame: bytes) -> list[bytes]:
    """Every change, loss and insertion of one byte, and every cut at either end."""
    places = range(len(frame))
    changed = [frame[:i] + bytes([b]) + frame[i + 1 :] for i in places for b in range(256) if b != frame[i]]
    lost = [frame[:i] + frame[i + 1 :] for i in places]
    inserted = [frame[:i] + bytes([b]) + frame[i:] for i in range(len(frame) + 1) for b in range(256)]
    cut = [frame[:i] for i in places] + [frame[i:] for i in range(1, len(frame))]
    return changed + lost + inserted + cut


@pytest.mark.parametrize("frame", VECTORS, ids=lambda frame: frame[1:6].decode())
def test_one_damaged_byte_never_gives_another_sentence(frame):
    """Whatever single byte is changed, lost or added, and wherever it is cut: refused, or the same."""
    whole = only(frame)
    for data in damaged(frame):
        for found in accepted(data):
            assert (found.address, found.fields) == (whole.address, whole.fields), data


def test_the_sentence_behind_a_damaged_one_is_read():
    """One damaged sentence costs no other one."""
    follower = only(VECTORS[1])
    for data in damaged(XDR):
        assert accepted(data + VECTORS[1])[-1] == follower, data


@given(NOISE, st.lists(st.integers(0, 600), max_size=8))
def test_any_cutting_into_pieces_gives_the_same(data, cuts):
    """Sentences, faults and pending bytes do not depend on how the bytes arrive."""
    found, pending = [], b""
    edges = [0, *sorted(min(cut, len(data)) for cut in cuts), len(data)]
    for start, end in pairwise(edges):
        more, pending = feed(pending, data[start:end])
        found += more
    assert (tuple(found), pending) == feed(b"", data)


@given(NOISE)
def test_no_byte_is_lost(data):
    """Every byte but line ends stands in a sentence, in a fault, or is pending."""
    found, pending = feed(b"", data)
    told = b"".join(one.data for one in found) + pending
    assert told.translate(None, b"\r\n") == data.translate(None, b"\r\n")


@given(st.integers(7, len(XDR) - 6), st.integers(7, len(XDR) - 6), st.integers(1, 255))
def test_paired_damage_that_passes_reads_the_same_to_an_independent_parser(first, second, mask):
    """Two errors that cancel out in the checksum may pass; then another parser that checks reads the same."""
    damaged_twice = bytearray(XDR)
    damaged_twice[first] ^= mask
    damaged_twice[second] ^= mask
    for found in accepted(bytes(damaged_twice)):
        theirs = pynmea2.parse(found.data.decode("ascii"), check=True)
        assert list(theirs.data) == list(found.fields)


NAMES = st.text("ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789_- ", min_size=1, max_size=10)
VALUES = st.decimals(-99999, 99999, places=4).map(lambda value: f"{value:f}")


@given(
    st.lists(st.builds(XdrGroup, st.just("P"), VALUES, st.sampled_from("BP"), NAMES), min_size=1, max_size=5)
)
def test_what_we_write_independent_parsers_read(groups):
    """Our sentences carry the same groups to two other parsers, and to ourselves."""
    data = xdr_sentence("YX", groups)
    fields = [field for group in groups for field in (group.kind, group.text, group.unit, group.name)]
    assert parse_xdr(only(data)) == tuple(groups)
    assert list(pynmea2.parse(data.decode(), check=True).data) == fields
    theirs = pynmeagps.NMEAReader.parse(data)
    assert theirs.msgID == "XDR"
    assert [getattr(theirs, f"data_{n:02d}") for n in range(1, len(groups) + 1)] == [
        float(group.text) for group in groups
    ]


def test_the_second_parser_refuses_the_wrong_checksum_too():
    """The oracle is one: it refuses what we refuse for its checksum."""
    wrong = XDR.replace(b"*18", b"*19")
    assert only(wrong).kind is LinkFaultKind.CHECKSUM
    with pytest.raises(pynmea2.ChecksumError):
        pynmea2.parse(wrong.decode(), check=True)
    with pytest.raises(pynmeagps.NMEAParseError):
        pynmeagps.NMEAReader.parse(wrong)


@pytest.mark.parametrize(
    ("data", "kind", "words"),
    [
        (b"$YXXDR,P,1.0,B,PNEUMO1\r\n", LinkFaultKind.CHECKSUM, "without a checksum"),
        (b"$YXXDR,P,1\r\n", LinkFaultKind.CHECKSUM, "without a checksum"),
        (XDR.replace(b"2.3", b"2.4"), LinkFaultKind.CHECKSUM, "checksum 18, but its bytes give 1F"),
        (VECTORS[2].replace(b"5B", b"5b"), LinkFaultKind.GARBLED, "no sentence"),
        (VECTORS[1].replace(b"\r", b""), LinkFaultKind.GARBLED, "no sentence"),
        (b"$yxxdr,P*00\r\n", LinkFaultKind.CHECKSUM, "checksum 00"),
        (b"$*00\r\n", LinkFaultKind.GARBLED, "no address"),
        (b"!AIVDM,1*6A\r\n", LinkFaultKind.GARBLED, "13 bytes outside any sentence"),
        (b"\x00\xff\x81\n", LinkFaultKind.GARBLED, "4 bytes outside any sentence"),
    ],
)
def test_what_is_refused_and_why(data, kind, words):
    """Each refusal carries its kind, its reason and its bytes."""
    fault = only(data)
    assert isinstance(fault, FrameFault)
    assert (fault.kind, fault.data) == (kind, data)
    assert words in fault.detail


def test_a_cut_sentence_is_told_when_the_next_begins():
    """A sentence without its end is a fault of its own, and the next one is read."""
    torn, whole = feed(b"", XDR[:20] + XDR)[0]
    assert (torn.kind, torn.detail) == (
        LinkFaultKind.GARBLED,
        "20 bytes that are no sentence, cut off by the next",
    )
    assert whole.data == XDR


def padded(size: int) -> bytes:
    """A sentence of `size` bytes."""
    return sentence("YXXDR", ["P", "1.0", "B", "N" * (size - len("$YXXDR,P,1.0,B,*00\r\n"))])


def test_a_sentence_over_the_standard_is_taken_and_says_so():
    """82 bytes are standard, 256 are taken."""
    assert not only(padded(82)).over_long
    assert only(padded(83)).over_long
    assert only(padded(MOST_BYTES)).over_long
    with pytest.raises(ValueError, match="cannot be sent"):
        padded(MOST_BYTES + 1)


def test_a_line_that_never_ends_is_told_at_its_limit_and_stays_small():
    """An endless sentence and endless noise become faults; the pending bytes stay bounded."""
    (fault,), pending = feed(b"", b"$" + b"A" * (MOST_BYTES - 1))
    assert (fault.kind, pending) == (LinkFaultKind.TOO_LONG, b"")
    found, pending = feed(b"", b"\x55" * (2 * GARBAGE_BYTES + 10))
    assert [len(one.data) for one in found] == [GARBAGE_BYTES, GARBAGE_BYTES]
    assert pending == b"\x55" * 10
    assert accepted(pending + XDR) == [only(XDR)]


@pytest.mark.parametrize("count", [0, 1, 2, 3, 5, 6, 11])
def test_xdr_fields_that_do_not_come_in_fours_are_a_fault(count):
    """A sound frame with half a group is refused as a whole."""
    fault = parse_xdr(only(sentence("YXXDR", ["1"] * count)))
    assert isinstance(fault, FrameFault)
    assert fault.detail == f"{count} XDR fields, not in fours"


def test_only_xdr_sentences_have_groups():
    """Asking another sentence for groups is a mistake of ours."""
    assert [is_xdr(only(vector)) for vector in VECTORS] == [True, False, False]
    assert not is_xdr(only(sentence("PABXDR", ["1"])))
    with pytest.raises(ValueError, match="not an XDR"):
        parse_xdr(only(VECTORS[1]))


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("2.34567", 2.34567),
        ("-0.25", -0.25),
        ("007", 7.0),
        (".5", 0.5),
        ("5.", 5.0),
        ("", LinkFaultKind.NO_VALUE),
        ("nan", LinkFaultKind.NOT_FINITE),
        ("NaN", LinkFaultKind.NOT_FINITE),
        ("-inf", LinkFaultKind.NOT_FINITE),
        ("Infinity", LinkFaultKind.NOT_FINITE),
        ("9" * 400, LinkFaultKind.NOT_FINITE),
        ("1e5", LinkFaultKind.GARBLED),
        ("1_0", LinkFaultKind.GARBLED),
        (" 1", LinkFaultKind.GARBLED),
        ("0x1", LinkFaultKind.GARBLED),
        ("+1", LinkFaultKind.GARBLED),
        ("-", LinkFaultKind.GARBLED),
        (".", LinkFaultKind.GARBLED),
        ("1,5", LinkFaultKind.GARBLED),
        ("٣", LinkFaultKind.GARBLED),
    ],
)
def test_decimal_fields(text, value):
    """A field is a plain decimal number, or it says why it holds none."""
    assert decimal(text) == value


@pytest.mark.parametrize("name", ["A,B", "A*B", "A$B", "A\nB", "A!"])
def test_what_no_reader_would_take_cannot_be_written(name):
    """Writing a reserved character is a mistake of ours."""
    with pytest.raises(ValueError, match=r"cannot be sent|a comma"):
        xdr_sentence("YX", [XdrGroup("P", "1", "B", name)])
