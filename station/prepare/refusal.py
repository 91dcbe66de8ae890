"""An act that cannot be taken, with its reason in words for the person who pressed."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Refusal:
    """Nothing was changed, and why; the press itself stands in the log all the same."""

    reason: str
