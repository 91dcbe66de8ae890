"""The catalogue of air rules: what "where from?" shows must exist."""

from importlib import import_module

import pytest

from station.core.air.rules import AIR_RULES
from station.core.decompression.rule import Evidence
from station.core.decompression.rules import RULES


@pytest.mark.parametrize("rule_id", AIR_RULES)
def test_a_rule_is_computed_by_functions_that_exist(rule_id: str) -> None:
    """Every path leads to a function of the core that cites the rule."""
    assert AIR_RULES[rule_id].computed_by
    for path in AIR_RULES[rule_id].computed_by:
        module, _, name = path.rpartition(".")
        function = getattr(import_module(f"station.core.{module}"), name)
        assert rule_id in (function.__doc__ or ""), path


@pytest.mark.parametrize("rule_id", AIR_RULES)
def test_a_rule_says_where_it_comes_from(rule_id: str) -> None:
    """A sentence, a source, and evidence; what is from memory or our own says so in its source."""
    rule = AIR_RULES[rule_id]
    assert rule.sentence.endswith(".")
    assert rule.source
    assert rule.evidence
    if rule.evidence == (Evidence.OWN,):
        assert "our own" in rule.source


def test_no_rule_stands_in_two_catalogues() -> None:
    """An id leads to one rule."""
    assert not set(AIR_RULES) & set(RULES)
