"""A TOML file is read key by key, and everything wrong with it is told at once."""

import datetime
from enum import StrEnum
from pathlib import Path

import pytest

from shared.toml_file import FileFault, Problem, parse_toml, read_toml


class Ground(StrEnum):
    """Words for a choice."""

    DAY = "day"
    NIGHT = "night"


def problems_of(text: str, read) -> list[str]:
    """The sentences of the problems found while `read` reads `text`."""
    top = parse_toml("lock.toml", text)
    read(top)
    with pytest.raises(FileFault) as caught:
        top.finish()
    return str(caught.value).splitlines()


def test_a_sound_file_gives_its_values():
    """Every kind of value is read as it stands, and nothing is complained of."""
    top = parse_toml(
        "lock.toml",
        """
        name = "Lock gate 3"
        every_s = 1
        count = 3
        on = true
        ground = "night"
        proved = 2031-03-02
        starts = 2031-05-02T08:14:07Z
        words = ["a", "b"]
        steps = [0, 15.5]
        raw = { kind = "x" }
        [inner]
        depth_fsw = 60.5
        [[gauge]]
        name = "g1"
        [[gauge]]
        name = "g2"
        """,
    )
    assert top.text("name") == "Lock gate 3"
    assert top.number("every_s", 0.05, 60.0) == 1.0
    assert top.integer("count", 0, 5) == 3
    assert top.flag("on") is True
    assert top.choice("ground", Ground) is Ground.NIGHT
    assert top.day("proved") == "2031-03-02"
    assert top.moment("starts") == datetime.datetime(2031, 5, 2, 8, 14, 7, tzinfo=datetime.UTC)
    assert top.texts("words") == ("a", "b")
    assert top.numbers("steps", 0.0, 60.0) == (0.0, 15.5)
    assert top.plain("raw") == {"kind": "x"}
    assert top.table("inner").number("depth_fsw", 0.0, 300.0) == 60.5
    assert [gauge.text("name") for gauge in top.tables("gauge")] == ["g1", "g2"]
    top.finish()


def test_defaults_stand_in_for_keys_left_out():
    """A key with a default may be left out, also where the default is 0, false or blank."""
    top = parse_toml("lock.toml", "")
    assert top.text("name", "") == ""
    assert top.number("zero", -1.0, 1.0, default=0.0) == 0.0
    assert top.integer("count", -1, 1, default=0) == 0
    assert top.flag("on", default=False) is False
    assert top.choice("ground", Ground, Ground.NIGHT) is Ground.NIGHT
    assert top.texts("words", ()) == ()
    assert top.table("inner", required=False).text("x", "y") == "y"
    assert top.tables("gauge") == ()
    assert not top.has("due")
    top.finish()


def test_every_problem_is_told_at_once_with_file_line_and_key():
    """Wrong values, missing keys and unknown keys of one file come in one message, in the order of lines."""

    def read(top):
        station = top.table("station")
        station.text("name")
        station.choice("ground", Ground)
        for gauge in top.tables("gauge"):
            gauge.text("name")
            gauge.number("every_s", 0.05, 60.0, default=1.0)
            gauge.number("high_fsw", 0.0, 400.0)

    text = '[station]\nname = " "\nground = "nigth"\n[[gauge]]\nname = "a"\nevery_s = 0\nhigh_fsw = nan\n'
    text += "[[gauge]]\nname = 7\nevery = 2\nhigh_fsw = 401\n[sation]\n"
    assert problems_of(text, read) == [
        "lock.toml:2: station.name: must not be blank",
        "lock.toml:3: station.ground: 'nigth' is none of day, night; did you mean night?",
        "lock.toml:6: gauge[1].every_s: 0 is below 0.05 s",
        "lock.toml:7: gauge[1].high_fsw: nan is not a finite number",
        "lock.toml:9: gauge[2].name: 7 is not a text",
        "lock.toml:10: gauge[2].every: unknown key; did you mean every_s?",
        "lock.toml:11: gauge[2].high_fsw: 401 is above 400 fsw",
        "lock.toml:12: sation: unknown key; did you mean station?",
    ]


def test_a_missing_key_is_told_at_its_table():
    """A missing key has no line of its own: the line of its table is named."""
    text = "\n[station]\nunits = 1\n"
    assert problems_of(text, lambda top: [top.table("station").text(key) for key in ("name", "units")]) == [
        "lock.toml:2: station.name: missing: a text is needed",
        "lock.toml:3: station.units: 1 is not a text",
    ]


def test_a_missing_table_is_told_once():
    """The keys of a table that is missing are not complained of one by one."""

    def read(top):
        station = top.table("station")
        station.text("name")
        station.table("inner").text("x")
        station.complain("name", "nor this")

    assert problems_of("", read) == ["lock.toml: station: missing: a table is needed"]


@pytest.mark.parametrize(
    ("line", "what"),
    [
        ("k = true", "true is not a number"),
        ('k = "5"', "'5' is not a number"),
        ("k = inf", "inf is not a finite number"),
        ("k = 2031-03-02", "2031-03-02 is not a number"),
        ("k = [1]", "an array is not a number"),
        ("k = {a = 1}", "a table is not a number"),
        ("k = -0.1", "-0.1 is below 0"),
    ],
)
def test_what_is_no_number(line, what):
    """A number is a finite integer or float within its bounds, and true is none."""
    assert problems_of(line, lambda top: top.number("k", 0.0, 9.0)) == [f"lock.toml:1: k: {what}"]


@pytest.mark.parametrize(
    ("text", "read", "what"),
    [
        ("k = 1.0", lambda top: top.integer("k", 0, 9), "k: 1.0 is not a whole number"),
        ("k = true", lambda top: top.integer("k", 0, 9), "k: true is not a whole number"),
        ("k = 10", lambda top: top.integer("k", 0, 9), "k: 10 is above 9"),
        ("k = 1", lambda top: top.flag("k"), "k: 1 is not true or false"),
        ("k = 2031-03-02T08:00:00Z", lambda top: top.day("k"), None),
        ("k = 2031-03-02T08:00:00", lambda top: top.moment("k"), None),
        ("k = 2031-03-02", lambda top: top.moment("k"), None),
        ("k = 1", lambda top: top.texts("k"), "k: 1 is not an array, a text each"),
        ("k = ['a', 1]", lambda top: top.texts("k"), "k[2]: 1 is not a text"),
        ("k = [1, 12]", lambda top: top.numbers("k", 0, 9), "k: 12 is above 9"),
        ("k = [1]", lambda top: top.tables("k"), "k[1]: 1 is not a table"),
        ("k = []", lambda top: top.tables("k", least=1), "k: at least 1 [[k]] must be given"),
        ("", lambda top: top.tables("k", least=1), None),
        ("k = 1", lambda top: top.tables("k", least=1), "k: 1 is not an array, a table each"),
        ("k = 1", lambda top: top.plain("k"), "k: 1 is not a table"),
    ],
)
def test_what_is_refused(text, read, what):
    """Each reader refuses what is not of its kind, once."""
    (sentence,) = problems_of(text, read)
    if what is not None:
        assert sentence == f"lock.toml:1: {what}"


def test_a_key_is_sound_when_nothing_was_found_wrong_with_it():
    """What hangs on a key can be left alone when the key itself is wrong or missing."""
    top = parse_toml("lock.toml", "good = 1\nbad = 'x'\n[inner]\nbad = 1\n")
    for key in ("good", "bad", "none"):
        top.integer(key, 0, 9)
    assert [top.sound(key) for key in ("good", "bad", "none")] == [True, False, False]
    assert top.table("inner").sound("bad")


def test_a_text_that_is_no_toml_is_told_with_its_line():
    """Broken TOML is one problem with its line; an unfinished text names its last."""
    with pytest.raises(FileFault) as caught:
        parse_toml("lock.toml", 'a = 1\nb = \nc = "x"\n')
    assert caught.value.problems == (Problem(2, "", "not TOML: Invalid value"),)
    with pytest.raises(FileFault, match=r"lock\.toml:2: not TOML: ") as caught:
        parse_toml("lock.toml", "a = 1\n[b")
    assert caught.value.problems[0].line == 2
    with pytest.raises(FileFault, match=r"lock\.toml:2: not TOML: Cannot overwrite a value"):
        parse_toml("lock.toml", "a = 1\na = 2\n")


def test_a_file_that_cannot_be_read_is_told_by_name(tmp_path: Path):
    """A missing file and bytes that are no UTF-8 are faults of the file."""
    missing = tmp_path / "none.toml"
    with pytest.raises(FileFault, match="No such file"):
        read_toml(missing)
    torn = tmp_path / "torn.toml"
    torn.write_bytes(b"a = 1\nb = '\xff'\n")
    with pytest.raises(FileFault) as caught:
        read_toml(torn)
    assert str(caught.value) == f"{torn}:2: byte 0xff is not UTF-8"


def test_a_byte_order_mark_and_foreign_line_ends_do_no_harm(tmp_path: Path):
    """A file from another system reads the same, with the same line numbers."""
    path = tmp_path / "lock.toml"
    path.write_bytes(b"\xef\xbb\xbfa = 1\r\nb = 2\r\n")
    top = read_toml(path)
    assert (top.integer("a", 0, 9), top.integer("b", 0, 9), top.line("b")) == (1, 2, 2)
    top.finish()


def test_defaults_fill_in_what_is_left_out():
    """A key of the file goes before the default; a default that is wrong is told on the table's line."""
    top = parse_toml("lock.toml", 'name = "A"\n\n[inner]\nkind = "x"\n')
    inner = top.table("inner")
    inner.fill({"kind": "y", "count": "many"})
    assert inner.present() == ("kind", "count")
    assert inner.text("kind") == "x"
    inner.integer("count", 0, 5)
    assert top.text("name") == "A"
    with pytest.raises(FileFault, match=r"lock\.toml:3: inner\.count: 'many' is not a whole number"):
        top.finish()


def test_a_table_is_sound_when_all_inside_it_is():
    """A fault deep inside is a fault of the table; one of a key with a longer name beside it is not."""
    top = parse_toml("lock.toml", "[a.b]\nc = 1\n[ab]\nc = 2\n")
    inner = top.table("a").table("b")
    top.table("ab").integer("c", 0, 1)
    assert (top.sound_within("a"), top.sound_within("ab")) == (True, False)
    inner.integer("c", 5, 9)
    assert (top.sound_within("a"), top.sound("a")) == (False, True)


def test_what_is_passed_over_is_not_complained_of():
    """Keys that hang on one that is wrong are neither read nor strange."""
    top = parse_toml("lock.toml", "a = 1\nb = 2\n")
    top.pass_over()
    top.finish()
    assert top.sound("a")
