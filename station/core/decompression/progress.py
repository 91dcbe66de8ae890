"""An ascent followed mark by mark: which rule a mark comes under."""

from station.core.tables.table_set import TableSet

from .answers import Gas
from .ascent import AscentPlan
from .change import PlanChange
from .delays import late_at_first_stop, late_between_stops, late_leaving_stop, oxygen_overstay


def reached_stop(
    tables: TableSet,
    plan: AscentPlan,
    at_s: int,
    *,
    deep_delay_s: int = 0,
    present_fsw: float | None = None,
    delay_fsw: float | None = None,
    on_oxygen_s: int | None = None,
) -> PlanChange:
    """The diver has reached his next stop, `at_s` after leaving the bottom. Rule A4 at the first, A5 later.

    `deep_delay_s` of a delay to the first stop was deeper than 50 fsw; `delay_fsw` is where a later one was.
    """
    if not plan.done:
        return late_at_first_stop(
            tables, plan, at_s, deep_s=deep_delay_s, present_fsw=present_fsw, on_oxygen_s=on_oxygen_s
        )
    return late_between_stops(tables, plan, at_s, delay_fsw=delay_fsw, on_oxygen_s=on_oxygen_s)


def left_stop(
    tables: TableSet, plan: AscentPlan, at_s: int, *, oxygen_overstay_s: int | None = None
) -> PlanChange:
    """The diver has left his stop, `at_s` after leaving the bottom. Rule A6 on oxygen, A5 on air."""
    if plan.due and plan.due[0].gas is Gas.OXYGEN:
        return oxygen_overstay(plan, at_s, oxygen_s=oxygen_overstay_s)
    return late_leaving_stop(tables, plan, at_s)
