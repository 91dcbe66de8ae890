"""Entering the tables: equal or next, never between."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.core.tables.lookup import (
    altitude_wait_min,
    arrival_group,
    depth_block,
    entries,
    group_after_interval,
    no_stop_row,
    residual_cell,
    schedule_row,
    table_depth_fsw,
)
from station.core.tables.table_set import ResidualMark, TableSet
from station.table_files import load_tables

TABLES = load_tables()


@given(st.floats(0, 300))
def test_table_depth_is_never_shallower_and_always_the_next(max_fsw: float) -> None:
    """No tabulated depth lies between the dive and its table depth."""
    found = table_depth_fsw(max_fsw, TABLES.depths)
    assert found is not None
    assert found >= max_fsw
    assert not [depth for depth in TABLES.depths if max_fsw <= depth < found]


def test_depths_of_both_tables_count() -> None:
    """10 to 25 fsw stand in Table 9-7 only, 200 to 300 in Table 9-9 only."""
    assert TABLES.depths[:5] == (10, 15, 20, 25, 30)
    assert TABLES.depths[-5:] == (200, 210, 220, 250, 300)
    assert depth_block(TABLES, 25) is None
    assert no_stop_row(TABLES, 200) is None


def test_a_schedule_is_the_equal_or_next_longer_row(tables: TableSet) -> None:
    """120/56 is row 60 and 120/60 too (Table 9-9); past the last row there is none."""
    for time_min in (56, 60):
        row = schedule_row(tables, 120, time_min)
        assert row is not None
        assert row.time_min == 60
    assert schedule_row(tables, 120, 121) is None
    assert schedule_row(tables, 20, 5) is None


def test_entries_ascend_without_a_double(tables: TableSet) -> None:
    """At every depth the times grow strictly, no-stop first; only the last may be unlimited."""
    for shallow in (False, True):
        for depth in tables.shallow_depths if shallow else tables.depths:
            found = entries(tables, depth, shallow=shallow)
            times = [entry.time_min for entry in found if entry.time_min is not None]
            assert times == sorted(set(times))
            assert all(entry.time_min is not None for entry in found[:-1])
            stops = [entry.has_stops for entry in found]
            assert stops == sorted(stops)


@pytest.mark.parametrize(
    ("group", "interval_min", "answer"),
    # USN Diving Manual Rev 7, Table 9-8, the edges of its spans
    [
        ("Z", 10, ("Z", True)),
        ("Z", 52, ("Z", True)),
        ("Z", 53, ("O", True)),
        ("Z", 950, ("A", True)),
        ("Z", 951, (None, True)),
        ("A", 140, ("A", True)),
        ("A", 141, (None, True)),
        ("B", 9, (None, False)),
    ],
)
def test_surface_interval_credit(group: str, interval_min: int, answer: tuple[str | None, bool]) -> None:
    """Each span holds from its first to its last minute; under ten minutes the table is silent."""
    assert group_after_interval(TABLES, group, interval_min) == answer


@given(st.sampled_from(TABLES.groups), st.integers(10, 2000), st.integers(0, 500))
def test_a_longer_interval_never_leaves_a_higher_group(group: str, interval_min: int, more_min: int) -> None:
    """Nitrogen only goes: the group after a longer interval is the same or lower, or none."""
    ranks = []
    for minutes in (interval_min, interval_min + more_min):
        after, covered = group_after_interval(TABLES, group, minutes)
        assert covered
        ranks.append(-1 if after is None else TABLES.groups.index(after))
    assert ranks[0] >= ranks[1]


def test_residual_cells(tables: TableSet) -> None:
    """USN Diving Manual Rev 7, Table 9-8: B at 100 fsw 8 min; marks where no time is given; no such depth."""
    assert residual_cell(tables, "B", 100) == 8
    assert residual_cell(tables, "Z", 10) is ResidualMark.UNDEFINED
    assert residual_cell(tables, "Z", 25) is ResidualMark.USE_30_FSW
    assert residual_cell(tables, "B", 101) is None
    assert residual_cell(tables, "B", 41, shallow=True) == 20


def test_altitude_cells(tables: TableSet) -> None:
    """USN Diving Manual Rev 7, Tables 9-5 and 9-6: 8,000 ft is G; Z waits 21:01 before 8,000 ft."""
    assert arrival_group(tables, 8000) == "G"
    assert arrival_group(tables, 8500) is None
    assert altitude_wait_min(tables, "Z", 8000) == 21 * 60 + 1
    assert altitude_wait_min(tables, "Z", 8500) is None
