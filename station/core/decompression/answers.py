"""What the rules answer when there is no figure: a fact to show, not a fault."""

from dataclasses import dataclass
from enum import StrEnum

from station.core.tables.table_set import ScheduleRow

from .rule import Rule


class Mode(StrEnum):
    """How the diver decompresses. Rule S8: one table, one group for all three."""

    AIR = "air"
    AIR_OXYGEN = "air-o2"
    CHAMBER = "chamber"


class Gas(StrEnum):
    """What is breathed on a leg."""

    AIR = "air"
    OXYGEN = "oxygen"


@dataclass(frozen=True, slots=True)
class NotCovered:
    """The tables have no answer: what is not covered, whom to ask.

    `too_short` is the last row of the depth, to be shown only marked TOO SHORT, never as a schedule.
    """

    rule: Rule
    sentence: str
    consult: str
    too_short: ScheduleRow | None = None


MANUAL = "the diving manual in force and the supervisor"
MEDICAL_OFFICER = "the diving medical officer"
