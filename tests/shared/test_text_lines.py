"""Lines of text come whole or not at all, however the bytes are cut."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shared.readings import LinkFaultKind
from shared.wire.frame_fault import FrameFault
from shared.wire.text_lines import MOST_LINE_BYTES, TextLine, feed_lines


def test_a_first_line_may_be_a_tail_and_is_not_taken():
    """What comes first after the opening of a port may be the end of a longer number."""
    found, pending = feed_lines(b"", b"3.4\r\n123.4\r\n56", b"\r\n")
    first, second = found
    assert isinstance(first, FrameFault)
    assert (first.kind, first.data) == (LinkFaultKind.GARBLED, b"3.4")
    assert second == TextLine(b"123.4")
    assert pending == b"\r\n56"


def test_empty_lines_say_nothing():
    """Endings without a line between them bring neither a line nor a fault."""
    assert feed_lines(b"", b"\r\r\r1\r", b"\r") == ((TextLine(b"1"),), b"\r")


def test_a_line_without_end_is_told_and_the_next_but_one_is_taken():
    """Too many bytes without an ending: told once, and the rest of that line is not taken for a line."""
    found, _ = feed_lines(b"\n", b"9" * (MOST_LINE_BYTES + 40) + b"\n5\n", b"\n")
    long, tail, line = found
    assert (long.kind, len(long.data)) == (LinkFaultKind.TOO_LONG, MOST_LINE_BYTES)
    assert (tail.kind, len(tail.data)) == (LinkFaultKind.GARBLED, 40)
    assert line == TextLine(b"5")


def test_the_longest_line_is_taken():
    """A line of exactly the limit is whole."""
    line = b"9" * MOST_LINE_BYTES
    assert feed_lines(b"\r\n", line + b"\r\n", b"\r\n") == ((TextLine(line),), b"\r\n")


def test_what_is_not_printable_is_no_line():
    """Control characters and bytes beyond ASCII are a fault that carries them."""
    ((fault,), _) = feed_lines(b"\r", b"1\x002\xff\r", b"\r")
    assert (fault.kind, fault.data) == (LinkFaultKind.GARBLED, b"1\x002\xff")


def test_an_ending_of_no_bytes_is_a_mistake_of_ours():
    """Without an ending nothing could ever be told whole."""
    with pytest.raises(ValueError, match="without an ending"):
        feed_lines(b"", b"1", b"")


@given(
    data=st.text(st.sampled_from("12\r\n\x00"), max_size=900).map(str.encode),
    cuts=st.lists(st.integers(0, 900), max_size=8),
    ending=st.sampled_from([b"\r", b"\n", b"\r\n"]),
)
def test_any_cutting_gives_the_same_lines(data, cuts, ending):
    """The pieces in which bytes arrive change nothing, and little stays pending."""
    whole = feed_lines(b"", data, ending)
    found, pending = (), b""
    for start, end in pairwise([0, *sorted(min(cut, len(data)) for cut in cuts), len(data)]):
        more, pending = feed_lines(pending, data[start:end], ending)
        found += more
        assert len(pending) < MOST_LINE_BYTES + 2 * len(ending)
    assert (found, pending) == whole
