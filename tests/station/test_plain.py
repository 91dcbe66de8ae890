"""Plain JSON of the core's values: what goes out comes back the same, and nothing else comes in."""

import json
import math
from typing import Any, get_args

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from shared.arrivals import Received
from shared.clock import Instant
from shared.gauges import Format
from station import plain
from station.core.facts import Fact
from station.core.inputs import Act, Arrival, MarkKind, OperatorEvent, Section, SetMark, Tick
from station.core.settings import Settings, Units
from station.core.state import State

# Text as the system may hand it over: whole characters, and bytes that it could not decode.
_TEXTS = st.text(
    st.one_of(st.characters(codec="utf-8"), st.characters(min_codepoint=0xDC80, max_codepoint=0xDCFF)),
    max_size=20,
)
_WHOLES = st.integers(-(2**63), 2**63 - 1)
for _kind, _strategy in (
    (float, st.floats(allow_nan=False, allow_infinity=False)),
    (int, _WHOLES),
    (Instant, _WHOLES.map(Instant)),
    (str, _TEXTS),
):
    st.register_type_strategy(_kind, _strategy)


# A busy machine draws large values slowly: that is no fault of theirs.
_PATIENT = settings(deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large])


def _through(value: plain.Plain) -> plain.Plain:
    return plain.parse(plain.canonical(value))


@_PATIENT
@given(st.from_type(Arrival))
def test_arrivals_come_back(arrival: Arrival) -> None:
    """Every arrival is the same after it was written and read."""
    assert plain.arrival_from_plain(_through(plain.arrival_to_plain(arrival))) == arrival


@_PATIENT
@given(st.from_type(Act))
def test_acts_come_back(act: Act) -> None:
    """Every act is the same after it was written and read."""
    assert plain.act_from_plain(_through(plain.act_to_plain(act))) == act


@_PATIENT
@given(st.from_type(Fact))
def test_facts_come_back(fact: Fact) -> None:
    """Every fact is the same after it was written and read."""
    assert plain.fact_from_plain(_through(plain.fact_to_plain(fact))) == fact


@settings(_PATIENT, max_examples=30)
@given(st.from_type(State))
def test_states_come_back(state: State) -> None:
    """Every state is the same after it was written and read, and is written alike the second time."""
    written = plain.canonical(plain.state_to_plain(state))
    again = plain.state_from_plain(plain.parse(written))
    assert again == state
    assert plain.canonical(plain.state_to_plain(again)) == written


@_PATIENT
@given(st.from_type(Settings))
def test_settings_come_back(value: Settings) -> None:
    """Settings are the same after they were written and read."""
    assert plain.settings_from_plain(_through(plain.settings_to_plain(value))) == value


@_PATIENT
@given(st.from_type(Arrival))
def test_plain_is_what_json_gives_back(arrival: Arrival) -> None:
    """The plain form holds only what JSON holds: lists, not tuples; words, not enum members."""
    written = plain.arrival_to_plain(arrival)
    assert json.loads(plain.canonical(written)) == written
    assert _kinds_in(written) <= {list, dict, str, int, float, bool, type(None)}


def _kinds_in(value: Any) -> set[type]:
    inner = (
        list(value.values()) + list(value)
        if isinstance(value, dict)
        else value
        if isinstance(value, list)
        else []
    )
    return {type(value)}.union(*(_kinds_in(one) for one in inner))


@pytest.mark.parametrize(
    ("whole", "names"),
    [
        (Act, plain.ACTS),
        (Fact, plain.FACTS),
        (Section, plain.SECTIONS),
        (Format, plain.FORMATS),
        (Arrival, plain.ARRIVALS | plain.FREQUENT),
    ],
)
def test_every_member_has_one_stored_name(whole: Any, names: dict[str, type]) -> None:
    """A new act, fact, format or arrival without a stored name is noticed here."""
    assert set(names.values()) == set(get_args(whole) or (whole,))
    assert len(set(names.values())) == len(names)


def test_the_stored_form_stands() -> None:
    """Literal texts of the first version: old logs must stay readable whatever happens to the classes."""
    line = Received(Instant(1_500_000_000), "serial:///dev/ttyUSB0", b"$WIXDR\xff\r\n")
    packed = '["received",1500000000,"serial:///dev/ttyUSB0","$WIXDRÿ\\r\\n"]'.encode()
    assert plain.canonical(plain.arrival_to_plain(line)) == packed
    assert plain.canonical(plain.arrival_to_plain(Tick(Instant(7)))) == b'["tick",7]'
    press = OperatorEvent(Instant(5), "Tender", 3, SetMark("Diver 1", 1, MarkKind.REACHED_STOP, 20))
    assert plain.canonical(plain.arrival_to_plain(press)) == (
        b'{"act":{"act":"set_mark","back_s":0,"dive":1,"diver":"Diver 1","kind":"reached_stop",'
        b'"stop_fsw":20.0},"arrival":"operator_event","at":5,"by":"Tender","seen_seq":3}'
    )


def test_a_press_may_leave_out_what_has_a_default() -> None:
    """A script's press need not say that nothing is set back."""
    short: plain.Plain = {"act": "set_mark", "diver": "Diver 1", "dive": 1, "kind": "left_surface"}
    assert plain.act_from_plain(short) == SetMark("Diver 1", 1, MarkKind.LEFT_SURFACE)


_MARK = {"act": "set_mark", "diver": "Diver 1", "dive": 1, "kind": "left_surface"}


@pytest.mark.parametrize(
    ("broken", "what"),
    [
        (None, "NoneType"),
        ([], "list"),
        ({}, "act is NoneType"),
        ({"act": "sing"}, "sing"),
        ({"act": ["set_mark"]}, "list"),
        ({"act": "set_mark"}, "the key diver is missing"),
        (_MARK | {"colour": 1}, "unknown keys colour"),
        (_MARK | {"diver": 7}, r"int '7' where text belongs @ \$.diver"),
        (_MARK | {"dive": True}, r"bool 'True' where a whole number belongs @ \$.dive"),
        (_MARK | {"dive": 1.0}, r"float '1.0' where a whole number belongs @ \$.dive"),
        (_MARK | {"dive": 2**63}, r"9223372036854775808 does not fit into 64 bits @ \$.dive"),
        (_MARK | {"kind": "sideways"}, r"'sideways' is not one of left_surface, .* @ \$.kind"),
        (_MARK | {"stop_fsw": "20"}, r"str '20' where a number belongs @ \$.stop_fsw"),
        (_MARK | {"stop_fsw": math.nan}, r"nan is not a finite number @ \$.stop_fsw"),
        (_MARK | {"stop_fsw": -math.inf}, r"-inf is not a finite number @ \$.stop_fsw"),
    ],
)
def test_a_broken_act_is_refused_with_its_place(broken: Any, what: str) -> None:
    """Whatever is no act is refused, naming what is wrong and where."""
    with pytest.raises(ValueError, match=what):
        plain.act_from_plain(broken)


@pytest.mark.parametrize(
    "broken",
    [
        ["tick"],
        ["tick", True],
        ["tick", 1.0],
        ["tick", 2**63],
        ["tick", 1, 2],
        ["received", 1, "p", 5],
        ["received", 1, None, "x"],
        ["received", 1, "p", "\u0100"],
        ["exchanged", 1, "p", True, "x", "y"],
        ["exchanged", 1, "p", 1, "x", "€"],
        ["bell", 1],
        {"arrival": "tick", "at": 1.5},
        {"arrival": "bell", "at": 1},
        {"arrival": "operator_event", "at": 1, "by": "x", "seen_seq": 1, "act": {"act": "sing"}},
        "tick",
    ],
)
def test_a_broken_arrival_is_refused(broken: Any) -> None:
    """Whatever is no arrival is refused."""
    with pytest.raises(ValueError, match=r"."):
        plain.arrival_from_plain(broken)


def test_places_inside_lists_are_named() -> None:
    """A fault deep in a state names the way to it, and every fault is told at once."""
    whole: Any = plain.settings_to_plain(
        Settings("Lock gate 3", "sill", "A. Example", Units.US, divers=(), supplies=(), gauges=())
    )
    whole["supplies"] = [{"name": "primary", "title": "HP"}, {"name": 3, "title": "LP"}]
    whole["divers"] = {"name": "x"}
    with pytest.raises(ValueError, match=r"divers.*\$\.supplies\[1\]\.name"):
        plain.settings_from_plain(whole)


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_no_number_without_value_is_written(value: float) -> None:
    """NaN and infinity are refused on the way out as on the way in."""
    with pytest.raises(ValueError, match="JSON compliant"):
        plain.canonical(value)
    with pytest.raises(ValueError, match="finite"):
        plain.act_to_plain(SetMark("Diver 1", 1, MarkKind.REACHED_STOP, value))


@pytest.mark.parametrize(
    "text", ["NaN", "[Infinity]", "-Infinity", "", "{", '{"a":1}x', "[" * 100_000, b"\xff"]
)
def test_text_that_is_no_json_is_refused(text: str | bytes) -> None:
    """A text that is no JSON, or is nested without end, is refused with ValueError."""
    with pytest.raises(ValueError, match=r"."):
        plain.parse(text)


def test_canonical_sorts_and_saves_space() -> None:
    """Keys stand sorted at every depth, without spaces, in UTF-8."""
    assert plain.canonical({"b": [1, {"z": None, "ä": 1.5}], "a": True}) == (
        '{"a":true,"b":[1,{"z":null,"ä":1.5}]}'.encode()
    )


def test_what_has_no_stored_name_is_refused() -> None:
    """A value that is no member of the closed set is a mistake of ours and loud."""
    stranger: Any = Tick(Instant(1))
    with pytest.raises(ValueError, match="Tick has no stored name"):
        plain.act_to_plain(stranger)
