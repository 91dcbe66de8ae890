"""Keys are found on their lines, however the TOML is laid out."""

import tomllib

from hypothesis import given
from hypothesis import strategies as st

from shared.toml_lines import key_lines

LAID_OUT = '''# a comment with [brackets] and = signs
name = "text with # and ] and , inside"
a.b . "c d" = 1

[station]   # the table
long = """
[not.a.table]
key = "no"
"""
lines = [
  1, 2,   # two
  { x = 3, y = [4, 5] },
  "six",
]
when = 2031-05-02 08:14:07Z
[[gauge]]
name = 'C:\\'
format = { kind = "nmea-xdr", unit = "bar" }
[[gauge]]
name = """quo\\"""te"""
[gauge.range]
low = -1.5e3
[[gauge.point]]
at = 1
[[gauge.point]]
at = 2
["quoted.table".x]
k = {}
'''


def test_every_key_of_a_much_varied_file_is_found():
    """Dotted and quoted keys, long texts and arrays, inline tables, arrays of tables."""
    tomllib.loads(LAID_OUT)
    lines = key_lines(LAID_OUT)
    for path, token in {
        ("name",): "name =",
        ("a",): "a.b",
        ("a", "b"): "a.b",
        ("a", "b", "c d"): "a.b",
        ("station",): "[station]",
        ("station", "long"): "long =",
        ("station", "lines"): "lines =",
        ("station", "lines", 0): "1, 2,",
        ("station", "lines", 2, "x"): "{ x = 3",
        ("station", "lines", 2, "y", 1): "{ x = 3",
        ("station", "lines", 3): '"six"',
        ("station", "when"): "when =",
        ("gauge", 0, "name"): "name = 'C",
        ("gauge", 0, "format", "unit"): "format =",
        ("gauge", 1, "name"): 'name = """quo',
        ("gauge", 1, "range"): "[gauge.range]",
        ("gauge", 1, "range", "low"): "low =",
        ("gauge", 1, "point", 1, "at"): "at = 2",
        ("quoted.table", "x", "k"): "k = {}",
    }.items():
        line = next(n for n, text in enumerate(LAID_OUT.splitlines(), 1) if text.strip().startswith(token))
        assert lines[path] == line, path
    assert ("station", "key") not in lines
    assert ("not",) not in lines


def leaves(value, path=()):
    """Every key path of a parsed text."""
    items = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for key, inner in items:
        yield (*path, key)
        yield from leaves(inner, (*path, key))


KEYS = st.sampled_from(["a", "b", "long-key", '"q u"', "'x.y'", "n_1"])
VALUES = st.recursive(
    st.sampled_from(["1", "-2.5", "true", '"t # ]"', "'l}'", "2031-03-02", '"""m\nl"""', "inf", '""']),
    lambda inner: st.one_of(
        st.lists(inner, max_size=3).map(lambda parts: "[" + ",\n".join(parts) + "]"),
        st.dictionaries(KEYS, inner, max_size=3).map(
            lambda pairs: "{" + ", ".join(f"{k} = {v}" for k, v in pairs.items()) + "}"
        ),
    ),
    max_leaves=8,
)


@given(
    st.dictionaries(KEYS, VALUES, max_size=3),
    st.lists(st.tuples(st.sampled_from(["t", "u"]), st.dictionaries(KEYS, VALUES, max_size=3)), max_size=4),
)
def test_the_index_has_exactly_the_keys_of_the_file(top, tables):
    """Whatever is written, each key path of the parsed text has a line, and no other path has one."""
    text = "".join(f"{key} = {value}\n" for key, value in top.items())
    for name, pairs in tables:
        text += f"[[{name}]] # c\n" + "".join(f"{key} = {value}\n" for key, value in pairs.items())
    assert set(key_lines(text)) == set(leaves(tomllib.loads(text)))
