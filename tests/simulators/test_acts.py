"""Scripted acts are those that the station knows."""

import re
from dataclasses import MISSING, fields
from typing import Any, get_args

import pytest

from simulators.acts import ACTS, MAY_BE_LEFT_OUT, faults_of_act
from station.core.inputs import Act

KNOWN = {re.sub(r"(?<!^)(?=[A-Z])", "_", act.__name__).lower(): act for act in get_args(Act)}


def test_every_act_of_the_station_can_be_scripted_and_no_other():
    """Names are the snake case of the station's acts, and their fields the same."""
    assert {name: set(given) for name, given in ACTS.items()} == {
        name: {field.name for field in fields(act)} for name, act in KNOWN.items()
    }


def test_fields_with_a_default_at_the_station_may_be_left_out():
    """And no others."""
    with_default = {
        (name, field.name)
        for name, act in KNOWN.items()
        for field in fields(act)
        if field.default is not MISSING
    }
    assert with_default == MAY_BE_LEFT_OUT


@pytest.mark.parametrize(
    "act",
    [
        {"act": "set_mark", "diver": "Diver 1", "dive": 1, "kind": "left_surface"},
        {"act": "set_mark", "diver": "Diver 1", "dive": 1, "kind": "reached_stop", "stop_fsw": 20},
        {"act": "remark", "diver": "", "text": "calm"},
        {"act": "line_pull", "diver": "Diver 1", "pulls": "2-1", "from_diver": True},
    ],
)
def test_an_act_with_all_its_fields_has_no_fault(act: dict[str, Any]):
    """Defaults may stay out; an empty diver of a remark is the station."""
    assert faults_of_act(act) == ()


def test_everything_wrong_with_an_act_is_told_at_once():
    """A stranger, a missing field and a field of the wrong kind, each in a sentence of its own."""
    faults = faults_of_act({"act": "set_mark", "diver": "Diver 1", "dive": True, "depth": 3})
    assert faults == (
        "set_mark has no field 'depth'",
        "set_mark needs 'kind'",
        "set_mark: dive cannot be True",
    )


def test_an_unknown_act_is_told_with_those_there_are():
    """The list helps whoever writes the scenario."""
    (fault,) = faults_of_act({"act": "jump"})
    assert "'jump' is none of" in fault
    assert "set_mark" in fault
