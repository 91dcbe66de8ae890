"""What became of a plan: the rule that changed it, the old plan, the new one."""

from dataclasses import dataclass

from .answers import NotCovered
from .ascent import AscentPlan
from .rule import Rule


@dataclass(frozen=True, slots=True)
class PlanChange:
    """One step of an ascent. `changed`: what is due has changed; `delay_min`: what the rule counted.

    `new` goes on from what was done; NotCovered where the table has no answer any more.
    """

    rule: Rule
    sentence: str
    delay_min: int
    changed: bool
    old: AscentPlan
    new: AscentPlan | NotCovered
