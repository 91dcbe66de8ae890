"""The phases of a dive as a transition table."""

from enum import StrEnum
from typing import Final

from station.core.inputs import MarkKind


class Phase(StrEnum):
    """Where a diver is in his dive. USN Diving Manual Rev 4, p. 9-3: the events between the phases."""

    DRESSED = "dressed"
    DESCENDING = "descending"
    ON_BOTTOM = "on_bottom"
    ASCENDING = "ascending"
    AT_STOP = "at_stop"
    SURFACED = "surfaced"
    CHAMBER = "chamber"
    DONE = "done"


TRANSITIONS: Final[dict[tuple[Phase, MarkKind], Phase]] = {
    (Phase.DRESSED, MarkKind.LEFT_SURFACE): Phase.DESCENDING,
    (Phase.DESCENDING, MarkKind.REACHED_BOTTOM): Phase.ON_BOTTOM,
    # A dive called off before the bottom, or a bottom that nobody marked: bottom time is still LS to LB.
    (Phase.DESCENDING, MarkKind.LEFT_BOTTOM): Phase.ASCENDING,
    (Phase.ON_BOTTOM, MarkKind.LEFT_BOTTOM): Phase.ASCENDING,
    # A working descent after leaving the bottom: back on the bottom, the old LEFT_BOTTOM is void.
    (Phase.ASCENDING, MarkKind.REACHED_BOTTOM): Phase.ON_BOTTOM,
    (Phase.AT_STOP, MarkKind.REACHED_BOTTOM): Phase.ON_BOTTOM,
    (Phase.ASCENDING, MarkKind.REACHED_STOP): Phase.AT_STOP,
    (Phase.AT_STOP, MarkKind.LEFT_STOP): Phase.ASCENDING,
    # A stop whose leaving nobody marked: the next stop, or the surface, ends it.
    (Phase.AT_STOP, MarkKind.REACHED_STOP): Phase.AT_STOP,
    (Phase.AT_STOP, MarkKind.REACHED_SURFACE): Phase.SURFACED,
    (Phase.ASCENDING, MarkKind.REACHED_SURFACE): Phase.SURFACED,
    # A bottom whose leaving nobody marked: at the surface all the same; bottom time runs to the surface.
    (Phase.ON_BOTTOM, MarkKind.REACHED_SURFACE): Phase.SURFACED,
    (Phase.DESCENDING, MarkKind.REACHED_SURFACE): Phase.SURFACED,
    # What is breathed changes no phase.
    (Phase.ASCENDING, MarkKind.ON_OXYGEN): Phase.ASCENDING,
    (Phase.ASCENDING, MarkKind.OFF_OXYGEN): Phase.ASCENDING,
    (Phase.AT_STOP, MarkKind.ON_OXYGEN): Phase.AT_STOP,
    (Phase.AT_STOP, MarkKind.OFF_OXYGEN): Phase.AT_STOP,
    (Phase.CHAMBER, MarkKind.ON_OXYGEN): Phase.CHAMBER,
    (Phase.CHAMBER, MarkKind.OFF_OXYGEN): Phase.CHAMBER,
    # Surface decompression: the dive ends at the surface after the chamber.
    (Phase.SURFACED, MarkKind.REACHED_CHAMBER): Phase.CHAMBER,
    (Phase.CHAMBER, MarkKind.LEFT_CHAMBER): Phase.CHAMBER,
    (Phase.CHAMBER, MarkKind.REACHED_SURFACE): Phase.DONE,
}
"""What each mark does in each phase; a pair that is not here is refused, with its reason."""

IN_WATER: Final = frozenset({Phase.DESCENDING, Phase.ON_BOTTOM, Phase.ASCENDING, Phase.AT_STOP})


def next_phase(phase: Phase, kind: MarkKind) -> Phase | None:
    """The phase after a mark, None where the mark has no place in this phase."""
    return TRANSITIONS.get((phase, kind))
