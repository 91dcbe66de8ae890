"""Registers become numbers in every kind and order; the four orders can be laid side by side."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shared.gauges import ByteOrder, NumberKind
from shared.readings import LinkFaultKind
from shared.wire.modbus_numbers import WORDS_IN, four_decodings, number_in, words_of

ABCD, CDAB, BADC, DCBA = ByteOrder


@pytest.mark.parametrize(
    ("order", "wire"),
    [(ABCD, "42F6E979"), (CDAB, "E97942F6"), (BADC, "F64279E9"), (DCBA, "79E9F642")],
)
def test_a_float_comes_in_four_orders(order, wire):
    """123.456 as a float of 32 bits, written by hand in each order."""
    words = (int(wire[:4], 16), int(wire[4:], 16))
    assert number_in(words, NumberKind.FLOAT32, order) == pytest.approx(123.456, abs=1e-5)
    assert words_of(123.456, NumberKind.FLOAT32, order) == words


@pytest.mark.parametrize(
    ("kind", "words", "number"),
    [
        (NumberKind.INT16, (0xFFFE,), -2),
        (NumberKind.UINT16, (0xFFFE,), 65534),
        (NumberKind.INT32, (0xFFFF, 0xFFFE), -2),
        (NumberKind.UINT32, (0xFFFF, 0xFFFE), 4294967294),
        (NumberKind.INT32, (0x0001, 0x0002), 65538),
    ],
)
def test_whole_numbers(kind, words, number):
    """Two's complement, the most significant byte first."""
    assert number_in(words, kind, ABCD) == number
    assert words_of(number, kind, ABCD) == words


def test_sixteen_bits_have_one_order():
    """An order of four bytes does not touch a single register."""
    assert {number_in((0x0102,), NumberKind.UINT16, order) for order in ByteOrder} == {258}


@pytest.mark.parametrize("words", [(0x7FC0, 0), (0x7F80, 0), (0xFF80, 0)])
def test_what_is_no_number_is_refused(words):
    """NaN and both infinities."""
    assert number_in(words, NumberKind.FLOAT32, ABCD) is LinkFaultKind.NOT_FINITE


def test_a_wrong_count_is_a_mistake_of_ours():
    """One register makes no float, two make no int16."""
    with pytest.raises(ValueError, match="1 registers do not make one float32"):
        number_in((1,), NumberKind.FLOAT32, ABCD)
    with pytest.raises(ValueError, match="2 registers do not make one int16"):
        number_in((1, 2), NumberKind.INT16, ABCD)


def test_the_four_decodings_stand_side_by_side():
    """Each order by name, so that a person can hold them against the gauge; None where it is no number."""
    told = dict(four_decodings((0x42F6, 0xE979)))
    assert list(told) == [ABCD, CDAB, BADC, DCBA]
    assert told[ABCD] == pytest.approx(123.456, abs=1e-5)
    assert told[CDAB] == pytest.approx(-1.88337e25, rel=1e-4)
    assert dict(four_decodings((0x7FC0, 0)))[ABCD] is None
    assert four_decodings((0, 5), NumberKind.UINT32)[0] == (ABCD, 5.0)


@given(
    kind=st.sampled_from(NumberKind),
    order=st.sampled_from(ByteOrder),
    words=st.tuples(*[st.integers(0, 65535)] * 2),
)
def test_numbers_survive_the_way(kind, order, words):
    """What a device packs in any kind and order is unpacked the same."""
    number = number_in(words[: WORDS_IN[kind]], kind, order)
    if not isinstance(number, LinkFaultKind):
        assert words_of(number, kind, order) == words[: WORDS_IN[kind]]
