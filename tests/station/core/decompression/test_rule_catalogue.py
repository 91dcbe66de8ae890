"""The catalogue of rules: each says what, from where, how well known, and names the code that computes it."""

from importlib import import_module

import pytest

from station.core.decompression.rule import EVIDENCE_WORDS, Evidence, Rule
from station.core.decompression.rules import RULES


@pytest.mark.parametrize("rule", RULES.values(), ids=RULES)
def test_a_rule_tells_its_source_and_evidence(rule: Rule) -> None:
    """Sentence, source and at least one tag; a rule that rests on nothing read says so."""
    assert rule.sentence.endswith(".")
    assert rule.source
    assert rule.evidence
    assert rule.tag.startswith("[")
    if set(rule.evidence) <= {Evidence.OWN, Evidence.MEMORY}:
        assert "own choice" in rule.source or "from memory" in rule.source


@pytest.mark.parametrize("rule", RULES.values(), ids=RULES)
def test_a_rule_is_computed_by_code_that_cites_it(rule: Rule) -> None:
    """Each function named by a rule exists and cites its id."""
    assert rule.computed_by
    for path in rule.computed_by:
        module, _, name = path.rpartition(".")
        function = getattr(import_module(f"station.core.{module}"), name)
        assert rule.id in (function.__doc__ or "")


def test_every_tag_has_its_words() -> None:
    """No tag is shown without what it means."""
    assert set(EVIDENCE_WORDS) == set(Evidence)
