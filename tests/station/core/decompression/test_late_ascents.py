"""However late, and wherever: legs join, and nobody is up sooner than the plan had him up."""

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from station.core.decompression.answers import Mode, NotCovered
from station.core.decompression.ascent import AscentPlan, ascent_plan
from station.core.decompression.delays import late_at_first_stop
from station.core.decompression.legs import legs_join
from station.core.decompression.progress import left_stop, reached_stop
from station.core.decompression.schedule import TableEntry
from station.core.tables.table_set import ScheduleRow, TableSet
from station.table_files import load_tables

TABLES = load_tables()
ROWS = tuple(row for block in TABLES.blocks for row in block.rows)


def planned(depth_fsw: float, bottom_min: int, mode: Mode = Mode.AIR) -> AscentPlan:
    """The ascent of a dive from its own depth."""
    plan = ascent_plan(TABLES, TableEntry(depth_fsw, bottom_min * 60, mode), depth_fsw)
    assert isinstance(plan, AscentPlan)
    return plan


@given(st.sampled_from(ROWS), st.sampled_from(Mode), st.integers(0, 60), st.integers(0, 1200))
def test_being_late_never_makes_an_ascent_end_sooner(
    row: ScheduleRow, mode: Mode, ignored_s: int, more_s: int
) -> None:
    """However late at the first stop, deep or not, the diver is never up before the plan had him up."""
    plan = planned(row.depth_fsw, row.time_min, mode)
    where = plan.due[0].level_fsw if plan.due else 0.0
    late_s = ignored_s + more_s
    for deep_s in (0, late_s):
        change = late_at_first_stop(TABLES, plan, plan.first_stop_travel_s + late_s, deep_s=deep_s)
        if isinstance(change.new, AscentPlan):
            assert legs_join(change.new.legs)
            assert change.new.ends_s >= plan.ends_s
            assert change.new.done[0].to_fsw == where or mode is Mode.CHAMBER
        assert change.changed == (late_s > 60) or not plan.due


@given(st.sampled_from(ROWS), st.sampled_from((Mode.AIR, Mode.AIR_OXYGEN)), st.lists(st.integers(0, 900)))
def test_a_delayed_ascent_never_ends_before_the_planned_one(
    row: ScheduleRow, mode: Mode, late: list[int]
) -> None:
    """Late at every stop and on every way: legs join and the diver is never up sooner."""
    plan = planned(row.depth_fsw, row.time_min, mode)
    ends_s = plan.ends_s
    lates = iter(late)
    step: AscentPlan | NotCovered = plan
    while isinstance(step, AscentPlan) and step.due:
        way_s = 20 if step.done else step.first_stop_travel_s
        step = reached_stop(TABLES, step, step.start.at_s + way_s + next(lates, 0)).new
        if isinstance(step, AscentPlan) and step.due:
            step = left_stop(TABLES, step, step.served().at_s + next(lates, 0)).new
        if isinstance(step, AscentPlan):
            assert legs_join(step.legs)
            assert step.ends_s >= ends_s


def test_a_plan_is_not_changed_by_asking(tables: TableSet) -> None:
    """The old plan stays as it was: it is what the journal shows beside the new one."""
    plan = planned(120, 60)
    change = late_at_first_stop(tables, plan, 400)
    assert change.old == plan == planned(120, 60)
    assert replace(plan) == plan
