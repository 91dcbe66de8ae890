"""How long the tables take: a look-up, a plan, one schedule by the model, all of them in one batch.

Run as a script it prints one JSON object, seconds per call; nothing here asserts a time.
"""

import json
import sys
from collections.abc import Callable
from time import perf_counter

import numpy as np

from station.core.decompression.answers import Mode
from station.core.decompression.gas_model.schedules import model_stops
from station.core.decompression.plan import plan
from station.core.decompression.planning import PlanAsked
from station.core.decompression.schedule import TableEntry, enter, next_deeper, next_longer
from station.table_files import load_tables
from station.tables_check import check_tables

TABLES = load_tables()
ROWS = tuple(row for block in TABLES.blocks for row in block.rows)
DEPTHS = np.array([row.depth_fsw for row in ROWS])
TIMES = np.array([row.time_min for row in ROWS], dtype=np.float64)
ENTRY = TableEntry(120.0, 3559)


def lookup() -> None:
    """The schedule of one table entry."""
    enter(TABLES, ENTRY)


def each_second() -> None:
    """What the watch asks each second: the row, the next longer, the next deeper."""
    enter(TABLES, ENTRY)
    next_longer(TABLES, ENTRY)
    next_deeper(TABLES, ENTRY)


def full_plan() -> None:
    """A whole plan with legs, model and notes."""
    plan(TABLES, PlanAsked(119.0, 3559, Mode.AIR_OXYGEN))


def one_model_schedule() -> None:
    """One schedule by the gas model."""
    model_stops(DEPTHS[200:201], TIMES[200:201])


def all_in_one_batch() -> None:
    """All 382 schedules by the gas model at once."""
    model_stops(DEPTHS, TIMES)


def all_one_by_one() -> None:
    """All 382 schedules by the gas model, one after the other."""
    for place in range(len(ROWS)):
        model_stops(DEPTHS[place : place + 1], TIMES[place : place + 1])


def whole_check() -> None:
    """Every relation and every recomputation."""
    check_tables(TABLES)


BENCHES: dict[str, tuple[Callable[[], None], int]] = {
    "lookup": (lookup, 2000),
    "each_second": (each_second, 500),
    "full_plan": (full_plan, 20),
    "one_model_schedule": (one_model_schedule, 20),
    "all_in_one_batch": (all_in_one_batch, 5),
    "all_one_by_one": (all_one_by_one, 1),
    "whole_check": (whole_check, 1),
}
"""Each bench with how often it is called."""


def seconds_per_call(bench: Callable[[], None], calls: int) -> float:
    """Mean wall seconds of a call."""
    start = perf_counter()
    for _ in range(calls):
        bench()
    return (perf_counter() - start) / calls


if __name__ == "__main__":
    measured = {name: seconds_per_call(bench, calls) for name, (bench, calls) in BENCHES.items()}
    sys.stdout.write(json.dumps(measured, indent=1) + "\n")
