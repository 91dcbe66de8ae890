"""Chance that can be called again: a number for each place and moment, the same for the same seed.

No generator carries a state from one draw to the next, so a noise sample depends on its own name alone:
leaving out a gauge or a fault changes nothing else in the dive.
"""

import hashlib
from statistics import NormalDist
from typing import Final

_STANDARD: Final = NormalDist()
_HASH_BYTES: Final = 6
_STEPS: Final = 1 << (8 * _HASH_BYTES)


def uniform(seed: int, *place: str | int) -> float:
    """A number between 0 and 1, never either of them, for this seed and place."""
    name = "/".join(map(str, (seed, *place))).encode()
    drawn = int.from_bytes(hashlib.blake2b(name, digest_size=_HASH_BYTES).digest(), "big")
    return (drawn + 0.5) / _STEPS


def normal(seed: int, *place: str | int) -> float:
    """A number from the standard normal distribution for this seed and place."""
    return _STANDARD.inv_cdf(uniform(seed, *place))


def whole(below: int, seed: int, *place: str | int) -> int:
    """A whole number from 0 up to, and not with, `below` for this seed and place."""
    return int(uniform(seed, *place) * below)
