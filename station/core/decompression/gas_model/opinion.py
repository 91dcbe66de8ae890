"""What the program may say about a row of the table by the model, in so many words.

The table governs: a schedule of the model is never shown in its place, and never the shorter of the two.
No word on altitude, repetitive loads, other gases or treatment.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np

from .schedules import model_stops

WHAT_IT_IS: Final = (
    "Second opinion: our own implementation of the exponential-linear model with the VVal-79 values quoted "
    "from NEDU TR 12-01, read second hand."
)
WHAT_IT_IS_NOT: Final = (
    "Not Navy software, not approved, certified, validated or tested on divers; agreement with a "
    "copy of the table says nothing of the risk to a given diver. The printed table governs."
)
OXYGEN_CAVEAT: Final = "Oxygen taken as 80 %, a value fitted to the table."
CHECK_THE_COPY: Final = "Follow the table, and have this copy of it checked against the printed page."


@dataclass(frozen=True, slots=True)
class Opinion:
    """Stops by the model at the depth and time of a row, deepest first, beside the table's.

    `difference_min` is model less table, over all stops: below 0 the model is the less conservative.
    """

    stops: tuple[tuple[int, int], ...]
    agrees: bool
    difference_min: int
    sentences: tuple[str, ...]


def second_opinion(
    depth_fsw: int, time_min: int, printed: tuple[tuple[int, int], ...], *, oxygen: bool = False
) -> Opinion:
    """The model beside the printed stops of one row, at exactly its depth and time."""
    found = model_stops(np.array([depth_fsw]), np.array([float(time_min)]), oxygen=oxygen)
    minutes = (int(stop) for stop in found.minutes[0])
    stops = tuple((depth, stop) for depth, stop in zip(found.depths_fsw, minutes, strict=True) if stop)
    difference_min = sum(stop for _, stop in stops) - sum(stop for _, stop in printed)
    agrees = stops == printed
    said = [WHAT_IT_IS, _compared(difference_min, agrees=agrees), WHAT_IT_IS_NOT]
    if oxygen:
        said.insert(1, OXYGEN_CAVEAT)
    if not agrees:
        said.append(CHECK_THE_COPY)
    return Opinion(stops, agrees, difference_min, tuple(said))


def _compared(difference_min: int, *, agrees: bool) -> str:
    if agrees:
        return "The printed table and this model agree at this depth and time."
    if difference_min == 0:
        return "The printed table and this model differ in single stops at this depth and time."
    way = "shorter" if difference_min < 0 else "longer"
    return (
        f"The printed table and this model differ by {abs(difference_min)} min at this depth and time: "
        f"the model is {way}."
    )
