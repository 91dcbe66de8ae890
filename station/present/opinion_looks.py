"""What the window of the second opinion draws, as frozen values: words already worded."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class OpinionStop:
    """One stop: its depth, minutes by the table and by the model, 0 where one has none."""

    depth: str
    table_min: int
    model_min: int


@dataclass(frozen=True, slots=True)
class OpinionLook:
    """The model beside the row of the table that governs. `hidden` says why there is none to be had."""

    row: str
    stops: tuple[OpinionStop, ...]
    verdict: str
    sentences: tuple[str, ...]
    hidden: str = ""
