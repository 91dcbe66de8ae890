"""Patterns pick lines apart, refuse what they do not know, and never run away."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shared.wire.pattern import MOST_PATTERN, PatternFault, compile_pattern

LONGEST_LINE = 256


def groups(pattern: str, line: bytes) -> dict[str, bytes | None] | None:
    """What a pattern takes of a line, None when it does not fit."""
    found = compile_pattern(pattern).fullmatch(line)
    return None if found is None else found.groupdict()


@pytest.mark.parametrize(
    ("pattern", "line", "taken"),
    [
        (r"(?P<value>[+-]?\d+\.\d+)", b"+12.5", {"value": b"+12.5"}),
        (r"(?P<value>\d{2,3})x", b"123x", {"value": b"123"}),
        (r"(?P<value>\d{2})", b"123", None),
        (r"07:(?P<value>\d+);(?P<status>OK|OL)", b"07:5;OL", {"value": b"5", "status": b"OL"}),
        (r"07:(?P<value>\d+);(?P<status>OK|OL)", b"08:5;OL", None),
        (r"(?P<value>\d+)(?: (?P<unit>[a-z]+))?", b"5", {"value": b"5", "unit": None}),
        (r"(?P<value>\d+)(?: (?P<unit>[a-z]+))?", b"5 psi", {"value": b"5", "unit": b"psi"}),
        (r"a.c (?P<value>\d+)", b"axc 5", {"value": b"5"}),
        (r"a\.c (?P<value>\d+)", b"axc 5", None),
        (r"#\[(?P<value>[^\]]*)\]", b"#[1 2]", {"value": b"1 2"}),
        (r"(?P<value>\d+)\s*\w?", b"7  q", {"value": b"7"}),
        (r"(?P<value>\d+)", b"7\n", None),
        (r"(?P<value>.+)", b"caf\xe9", None),
        (r"(?P<value>1)|(?P<unit>2)", b"2", {"value": None, "unit": b"2"}),
        (r"(?P<value>-)-&|x", b"--&", {"value": b"-"}),
    ],
)
def test_a_line_is_picked_apart(pattern, line, taken):
    """The whole line must fit; groups give what they cover."""
    assert groups(pattern, line) == taken


@pytest.mark.parametrize(
    ("pattern", "words"),
    [
        (r"\d+", "no group (?P<value>...)"),
        (r"(?P<value>\d+)(?P<value>\d)", "at character 15: group 'value' is none of"),
        (r"(?P<depth>\d+)", "group 'depth' is none of value, unit, status"),
        (r"(\d+)", "at character 1: a group begins with (?: or (?P<name>"),
        (r"(?=x)(?P<value>\d)", "a group begins with"),
        (r"(?i:x)(?P<value>\d)", "a group begins with"),
        (r"(?P=value)", "a group begins with"),
        (r"(?P<value>\d+", "a group is not closed"),
        (r"(?P<value>\d))", "at character 14: closes no group"),
        (r"(?P<value>(?:a+)+)", "'+': a group may be followed by ? only"),
        (r"(?P<value>\d)*", "'*': a group may be followed by ? only"),
        (r"(?P<value>\d){3}", "'{': a group may be followed by ? only"),
        (r"(?P<value>\d+?)", "'?': repeats nothing"),
        (r"(?P<value>\d++)", "'+': repeats nothing"),
        (r"*(?P<value>\d)", "at character 1: '*': repeats nothing"),
        (r"(?P<value>\d{65})", "up to 64"),
        (r"(?P<value>\d{3,2})", "braces hold a number or two"),
        (r"(?P<value>\d{,2})", "braces hold a number or two"),
        (r"(?P<value>\1)", r"only \d, \s, \w and escaped signs"),
        (r"(?P<value>\b)", r"only \d, \s, \w and escaped signs"),
        ("(?P<value>\\", r"only \d, \s, \w and escaped signs"),
        (r"^(?P<value>\d)$", "'^' must be escaped"),
        (r"(?P<value>[])", "no class of printable characters"),
        (r"(?P<value>[[a])", "no class of printable characters"),
        (r"(?P<value>[a--b])", "no class of printable characters"),
        (r"(?P<value>[z-a])", "[z-a]: bad character range z-a"),
        (r"(?P<value>\d)ü", "'ü' is no printable ASCII character"),
        ("(?P<value>\\d)\n", "is no printable ASCII character"),
        ("x" * (MOST_PATTERN + 1), "longer than 200 characters"),
    ],
)
def test_what_a_pattern_is_refused_for(pattern, words):
    """Whatever could repeat a repetition, look around, refer back or run on is told with its place."""
    with pytest.raises(PatternFault, match=re.escape(words)):
        compile_pattern(pattern)


@pytest.mark.parametrize(
    "pattern",
    [
        "(?P<value>" + "a*" * 60 + "b)",
        "(?P<value>" + "(?:a|a|a?)?" * 16 + "b)",
        "(?P<value>" + "a{0,64}" * 20 + "b)",
        "(?P<value>[a-z]*[a-z]*[a-z]*[a-z]*[a-z]*[a-z]*[a-z]*[a-z]*1)",
        "(?P<value>(?:(?:(?:(?:a*|a*)|a*)|a*)|a*)b)",
    ],
)
def test_no_pattern_runs_away(pattern):
    """Patterns that would try 60 repetitions in every way end at once: a plain engine never would."""
    assert groups(pattern, b"a" * LONGEST_LINE) is None


def test_a_repetition_gives_nothing_back():
    """What the bounds cost: a repetition takes all that fits, and what follows must stand behind it."""
    assert groups(r"(?P<value>\d*\d)", b"123") is None


@given(
    st.text(st.sampled_from("ad0(?:P<value>)|[]{}12,*+?.\\^$-"), max_size=40),
    st.binary(max_size=LONGEST_LINE),
)
def test_any_text_is_a_pattern_or_a_fault(text, line):
    """Nothing else comes out of a station file, and no line is too much for what is taken."""
    try:
        compiled = compile_pattern(text)
    except PatternFault:
        return
    found = compiled.fullmatch(line)
    assert found is None or found.end() == len(line)
