"""A quantity is a float in the live watch and an array in a plan; the gas rules take both alike."""

from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

Quantity = TypeVar("Quantity", float, NDArray[np.float64])
"""A plain float, or an array of them; what goes in comes out."""


def lesser(one: Quantity, other: Quantity) -> Quantity:
    """The smaller of two, element by element in arrays."""
    if isinstance(one, np.ndarray):
        return np.minimum(one, other)
    return min(one, other)


def not_below_zero(value: Quantity) -> Quantity:
    """The value, 0 where it is less."""
    if isinstance(value, np.ndarray):
        return np.maximum(value, 0.0)
    return max(value, 0.0)
