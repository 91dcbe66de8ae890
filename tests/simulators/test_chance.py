"""Chance is a function of seed and place."""

from statistics import fmean, stdev

from hypothesis import given
from hypothesis import strategies as st

from simulators.chance import normal, uniform, whole

SEEDS = st.integers(0, 2**63 - 1)


@given(SEEDS, st.text(max_size=8), st.integers())
def test_uniform_is_repeatable_and_open_at_both_ends(seed: int, name: str, count: int):
    """The same seed and place give the same number, strictly between 0 and 1."""
    drawn = uniform(seed, name, count)
    assert drawn == uniform(seed, name, count)
    assert 0.0 < drawn < 1.0


@given(SEEDS, st.integers(1, 1000))
def test_whole_numbers_stay_below_their_bound(seed: int, below: int):
    """A whole number is one of those from 0 up to, not with, the bound."""
    assert whole(below, seed, "place") in range(below)


def test_normal_has_the_mean_and_spread_of_the_standard_one():
    """Ten thousand draws: mean within 4 standard errors of 0, spread within 4 % of 1."""
    drawn = [normal(1, "noise", count) for count in range(10_000)]
    assert abs(fmean(drawn)) < 0.04
    assert abs(stdev(drawn) - 1.0) < 0.04


def test_places_and_seeds_are_told_apart():
    """Another seed or another place is another number."""
    assert len({uniform(seed, name) for seed in range(50) for name in "abcd"}) == 200
