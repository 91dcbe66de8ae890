"""Any act at any moment: taken or refused with words, never a fault of ours; and it can be stored."""

import types
from collections.abc import Callable
from dataclasses import fields, is_dataclass
from enum import StrEnum
from functools import cache
from typing import Any, Union, get_args, get_origin, get_type_hints

from hypothesis import given, settings
from hypothesis import strategies as st

from shared.clock import Instant
from station.demo.crew import DEMO_DAY, DIVER, STANDBY, SUPERVISOR
from station.plain import canonical, parse
from station.prepare.acts import DESK_ACTS, DeskAct
from station.prepare.desk import Desk, Moment
from station.prepare.page import page_of
from station.prepare.ready import Sight
from station.prepare.refusal import Refusal
from station.prepare.taking import take_act
from station.register.codec import from_plain, to_plain

WORDS = (
    "", " ", DIVER, STANDBY, SUPERVISOR, "P. Rusk", "H. Brask", "T. Osk", "J. Lindal", "Outfit A", "Outfit B",
    "A-HOSE", "A-NRV", "T-17", "water_entry", "air_plant", "voice_check", "ladder", "intake", "both_ways",
    DEMO_DAY, "2031-02-30", "1", "7", "x",
)  # fmt: skip
UTC = f"{DEMO_DAY}T08:00:00Z"


@cache
def _any(kind: Any) -> st.SearchStrategy[Any]:
    """Any value of a plain type, with words that mean something here."""
    if kind is str:
        return st.sampled_from(WORDS)
    if kind in (float, int, bool, types.NoneType):
        plain = {float: st.floats(-1, 1e4), int: st.integers(-1, 9), bool: st.booleans()}
        return plain.get(kind, st.none())
    if isinstance(kind, type) and issubclass(kind, StrEnum):
        return st.sampled_from(tuple(kind))
    if is_dataclass(kind):
        hints = get_type_hints(kind)
        return st.builds(kind, **{each.name: _any(hints[each.name]) for each in fields(kind)})
    if get_origin(kind) in (Union, types.UnionType):
        return st.one_of(*(_any(each) for each in get_args(kind)))
    if get_origin(kind) is tuple:
        inner = get_args(kind)
        if inner[-1] is Ellipsis:
            return st.lists(_any(inner[0]), max_size=2).map(tuple)
        return st.tuples(*(_any(each) for each in inner))
    return st.integers(0, 10**12).map(Instant)


@settings(max_examples=40, deadline=None)
@given(st.data())
def test_no_act_is_a_fault_of_ours(make_deck: Callable[..., Any], data: st.DataObject) -> None:
    """Acts of any kind with any words: each is taken, or refused with its reason; the page is drawn."""
    desk: Desk = make_deck(sound=data.draw(st.booleans())).desk
    for turn in range(12):
        act = data.draw(_any(data.draw(st.sampled_from(tuple(DESK_ACTS.values())))))
        by = data.draw(st.sampled_from((SUPERVISOR, "P. Rusk", "T. Osk", "")))
        water = data.draw(st.sampled_from(((), (DIVER,), (DIVER, STANDBY))))
        moment = Moment(Instant(turn), UTC, by, ((DIVER, 1), (STANDBY, 1)), water)
        assert from_plain(parse(canonical(to_plain(act))), DeskAct) == act
        taken = take_act(desk, act, moment)
        if isinstance(taken, Refusal):
            assert taken.reason
        else:
            desk = taken
        page = page_of(desk, DIVER, 1, Sight(Instant(turn), DEMO_DAY, moment.dives))
        assert page.board.may_leave == (all(each.overridden_by for each in page.board.missing))
    assert from_plain(parse(canonical(to_plain(desk))), Desk) == desk
