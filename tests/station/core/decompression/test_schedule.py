"""Which row a dive is on, and what the next one costs: equal or next, never between, never past the table."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.core.decompression.answers import Mode, NotCovered
from station.core.decompression.category import is_exceptional
from station.core.decompression.schedule import (
    NextRow,
    Schedule,
    TableEntry,
    enter,
    next_deeper,
    next_longer,
    no_stop_left_s,
    schedule,
)
from station.core.tables.lookup import depth_block
from station.core.tables.table_set import Category, Profile, TableSet
from station.table_files import load_tables

TABLES = load_tables()
ENTRIES = st.builds(
    TableEntry,
    max_fsw=st.floats(1, 310),
    bottom_s=st.integers(1, 1200 * 60),
    mode=st.sampled_from(Mode),
    group=st.none() | st.sampled_from(TABLES.groups),
    added_min=st.integers(0, 10),
    longer=st.booleans(),
    shallow=st.booleans(),
)


def cost_s(entry: TableEntry) -> float:
    """Total ascent, infinite where the table has none."""
    found = enter(TABLES, entry)
    return found.total_ascent_s if isinstance(found, Schedule) else float("inf")


def found(entry: TableEntry) -> Schedule:
    """The schedule of an entry that has one."""
    answer = enter(TABLES, entry)
    assert isinstance(answer, Schedule)
    return answer


def following(entry: TableEntry) -> NextRow:
    """The next row of an entry that has one."""
    answer = next_longer(TABLES, entry)
    assert answer is not None
    return answer


def test_no_stop_to_the_limit_and_the_first_row_a_second_later() -> None:
    """60 fsw: 63:00 has no stop (Table 9-7), 63:01 two minutes at 20 (Table 9-9, 60/65)."""
    at_limit, past = found(TableEntry(60.0, 63 * 60)), found(TableEntry(60.0, 63 * 60 + 1))
    assert at_limit.no_stop
    assert (at_limit.table, at_limit.time_min, at_limit.total_ascent_s) == ("USN Rev 7 9-7", 63, 120)
    assert [(stop.depth_fsw, stop.minutes) for stop in past.stops] == [(20, 2)]
    assert (past.table, past.time_min, past.total_ascent_s) == ("USN Rev 7 9-9", 65, 240)


def test_seconds_to_the_next_row_count_to_the_limit() -> None:
    """431 s into a dive to 60 fsw the limit of 63 min is 3349 s away."""
    answer = following(TableEntry(60.0, 431))
    assert answer.in_s == 3349
    assert isinstance(answer.cost, Schedule)
    assert answer.cost.time_min == 65


def test_time_left_without_a_stop() -> None:
    """Rule S3: known only on a no-stop dive with a limit."""
    assert no_stop_left_s(TABLES, TableEntry(60.0, 431)) == 3349
    assert no_stop_left_s(TABLES, TableEntry(60.0, 431, group="C")) == 3349 - 19 * 60
    for entry in (TableEntry(60.0, 64 * 60), TableEntry(18.0, 600), TableEntry(310.0, 600)):
        assert no_stop_left_s(TABLES, entry) is None


def test_what_cannot_be_a_dive_is_a_mistake() -> None:
    """A negative time or a depth that is no number never enters a table as something shallow."""
    with pytest.raises(ValueError, match="cannot enter"):
        TableEntry(60.0, -1)
    with pytest.raises(ValueError, match="no number"):
        enter(TABLES, TableEntry(float("nan"), 600))
    assert isinstance(schedule(TABLES, 301.0, 600, 0, Mode.AIR), NotCovered)


def test_every_row_of_every_mode_is_reached_by_its_own_time(tables: TableSet) -> None:
    """Each of the 382 schedules is found by exactly its depth and time, with its printed figures."""
    rows = [row for block in tables.blocks for row in block.rows if row.air.stops]
    for row in rows:
        air, oxygen, chamber = (found(TableEntry(row.depth_fsw, row.time_min * 60, mode)) for mode in Mode)
        assert air.row == oxygen.row == chamber.row == row
        assert (air.stops, air.total_ascent_s) == (row.air.stops, row.air.total_ascent_s)
        assert (oxygen.stops, oxygen.total_ascent_s) == (row.oxygen.stops, row.oxygen.total_ascent_s)
        assert chamber.stops == tuple(stop for stop in row.air.stops if stop.depth_fsw >= 40)
        assert {air.group, oxygen.group, chamber.group} == {row.group}


def test_every_group_time_of_the_no_stop_tables_is_reached(tables: TableSet) -> None:
    """Each printed time of Tables 9-7 and 2A-1 ends in its group, a minute more does not."""
    for rows, shallow in ((tables.no_stop, False), (tables.shallow_no_stop, True)):
        for row in rows:
            for time in row.groups:
                if time.longest_min is not None:
                    entry = TableEntry(row.depth_fsw, time.longest_min * 60, shallow=shallow)
                    assert found(entry).group == time.group
                    longer = enter(tables, replace(entry, bottom_s=entry.bottom_s + 1))
                    assert isinstance(longer, NotCovered) or longer.group != time.group or longer.stops


def test_shallow_water_has_a_group_but_no_limit() -> None:
    """To 20 fsw a day on the bottom ends in the highest group reachable, and no row is ever next."""
    entry = TableEntry(18.0, 24 * 3600)
    answer = found(entry)
    assert (answer.depth_fsw, answer.time_min, answer.group) == (20, None, "L")
    assert next_longer(TABLES, entry) is None
    # Group E at 10 fsw is 427 min, past the last time that has a figure: cold or not, no row is next.
    assert next_longer(TABLES, TableEntry(10.0, 60, group="E", longer=True)) is None


@pytest.mark.parametrize(
    ("entry", "words"),
    [
        (TableEntry(300.5, 60), "deeper than the table"),
        (TableEntry(25.0, 1103 * 60), "longer than the table, which ends at 1102"),
        (TableEntry(60.0, 1201 * 60), "longer than the table"),
        (TableEntry(20.0, 60, group="Z"), "No residual nitrogen time"),
    ],
)
def test_past_the_table_there_is_a_sentence_and_no_figure(entry: TableEntry, words: str) -> None:
    """Too deep, too long or without a residual time: what is not covered and whom to ask."""
    answer = enter(TABLES, entry)
    assert isinstance(answer, NotCovered)
    assert words in answer.sentence
    assert "manual in force" in answer.consult
    assert next_longer(TABLES, entry) is None
    assert next_deeper(TABLES, entry) is None


def test_the_last_row_is_handed_over_only_as_too_short() -> None:
    """Past the last time of a depth its last row comes along, apart from any schedule."""
    answer = enter(TABLES, TableEntry(150.0, 500 * 60))
    assert isinstance(answer, NotCovered)
    block = depth_block(TABLES, 150)
    assert block is not None
    assert answer.too_short == block.rows[-1]


def test_cold_takes_the_next_longer_time_to_the_end_of_the_table() -> None:
    """Rule S7: the limit itself becomes the first row with stops; the last row has none after it."""
    assert found(TableEntry(60.0, 57 * 60, longer=True)).no_stop
    assert found(TableEntry(60.0, 58 * 60, longer=True)).time_min == 65
    assert found(TableEntry(60.0, 64 * 60, longer=True)).time_min == 70
    block = depth_block(TABLES, 60)
    assert block is not None
    last_min = block.rows[-1].time_min
    assert isinstance(enter(TABLES, TableEntry(60.0, last_min * 60, longer=True)), NotCovered)


def test_residual_time_is_added_at_the_table_depth() -> None:
    """Group M at 50 fsw is 99 min (Table 9-8): 20 min more are past the limit of 92."""
    answer = found(TableEntry(50.0, 20 * 60, group="M"))
    assert (answer.residual_min, answer.equivalent_min) == (99, 119)
    assert answer.stops


def test_residual_time_that_refers_to_30_fsw_takes_its_rows() -> None:
    """Group O at 25 fsw: 308 min and the rows of 30 fsw (Table 9-8)."""
    answer = found(TableEntry(25.0, 10 * 60, group="O"))
    assert (answer.depth_fsw, answer.residual_min, answer.time_min) == (30, 308, 371)


def test_tables_by_single_feet_hold_for_no_stop_dives_only() -> None:
    """41 fsw for 150 min is free by Table 2A-1; a minute past its limit of 155 the 45-fsw rows hold."""
    free = TableEntry(41.0, 150 * 60, shallow=True)
    assert (found(free).table, found(free).depth_fsw) == ("USN Rev 7 2A-1", 41)
    assert found(replace(free, shallow=False)).depth_fsw == 45
    past = found(replace(free, bottom_s=155 * 60 + 1))
    assert (past.table, past.depth_fsw) == ("USN Rev 7 9-9", 45)
    assert found(TableEntry(51.0, 60, shallow=True)).depth_fsw == 55


def test_tables_by_single_feet_take_their_own_residual_time() -> None:
    """Group C at 41 fsw is 28 min in Table 2A-2, 25 at the 45 fsw of Table 9-8."""
    assert found(TableEntry(41.0, 60, group="C", shallow=True)).residual_min == 28
    assert found(TableEntry(41.0, 60, group="C")).residual_min == 25


def test_a_doubtful_row_carries_its_note() -> None:
    """150/30 shows its doubt in every mode, 170/180 only on oxygen, 160/30 none."""
    for mode in Mode:
        assert [note.id for note in found(TableEntry(150.0, 30 * 60, mode)).notes] == ["chamber_150_30"]
    assert not found(TableEntry(170.0, 180 * 60)).notes
    oxygen = found(TableEntry(170.0, 180 * 60, Mode.AIR_OXYGEN))
    assert [note.id for note in oxygen.notes] == ["total_ascent_170_180"]
    assert not found(TableEntry(160.0, 30 * 60)).notes


@pytest.mark.parametrize(
    ("depth_fsw", "time_min", "exceptional"),
    [
        # total ascents on air and on oxygen of USN Diving Manual Rev 7, Table 9-9
        (90, 90, {Mode.AIR}),
        (170, 45, {Mode.AIR, Mode.AIR_OXYGEN}),
        (200, 5, set(Mode)),
        (60, 65, set()),
    ],
)
def test_what_is_exceptional_depends_on_the_mode(
    depth_fsw: int, time_min: int, exceptional: set[Mode]
) -> None:
    """Rule S6: over 90:00 in that mode, or in any mode from 200 fsw."""
    assert {
        mode for mode in Mode if found(TableEntry(depth_fsw, time_min * 60, mode)).exceptional
    } == exceptional


def test_exactly_ninety_minutes_is_not_exceptional() -> None:
    """Rule S6: over 90:00, not 90:00 itself, on either line."""
    row = found(TableEntry(90.0, 90 * 60)).row
    assert row is not None
    for total_s, exceptional in ((90 * 60, False), (90 * 60 + 1, True)):
        edge = replace(row, air=Profile(row.air.stops, total_s), oxygen=Profile(row.oxygen.stops, total_s))
        assert is_exceptional(edge, Mode.AIR) is is_exceptional(edge, Mode.AIR_OXYGEN) is exceptional
        assert not is_exceptional(edge, Mode.CHAMBER)


def test_more_than_four_periods_are_exceptional_in_the_chamber() -> None:
    """Rule S6: a schedule with 4.5 chamber periods is exceptional in any mode."""
    row = next(
        row for block in TABLES.blocks for row in block.rows if row.category is Category.EXCEPTIONAL_ANY_MODE
    )
    assert row.chamber_periods > 4
    assert found(TableEntry(row.depth_fsw, row.time_min * 60, Mode.CHAMBER)).exceptional


def test_the_next_depth_counts_from_the_maximum_depth() -> None:
    """At 57.5 fsw the table depth is 60 and 2.5 fsw are left to the 70-fsw rows."""
    answer = next_deeper(TABLES, TableEntry(57.5, 50 * 60))
    assert answer is not None
    assert answer.in_fsw == 2.5
    assert isinstance(answer.cost, Schedule)
    assert answer.cost.depth_fsw == 70
    deepest = next_deeper(TABLES, TableEntry(300.0, 5 * 60))
    assert deepest is not None
    assert isinstance(deepest.cost, NotCovered)


def test_an_explicit_residual_time_counts_like_a_group(tables: TableSet) -> None:
    """The same row is found with the residual time given in minutes."""
    by_minutes = schedule(tables, 100.0, 20 * 60, 23, Mode.AIR)
    assert by_minutes == enter(tables, TableEntry(100.0, 20 * 60, group="G"))


@given(ENTRIES)
def test_the_next_row_is_due_exactly_when_it_says(entry: TableEntry) -> None:
    """To that second the row holds; a second later it is the one that was announced, and never cheaper."""
    now = enter(TABLES, entry)
    answer = next_longer(TABLES, entry)
    if isinstance(now, NotCovered) or answer is None:
        assert answer is None
        return
    last = enter(TABLES, replace(entry, bottom_s=entry.bottom_s + answer.in_s))
    assert isinstance(last, Schedule)
    assert (last.stops, last.depth_fsw, last.time_min) == (now.stops, now.depth_fsw, now.time_min)
    after = replace(entry, bottom_s=entry.bottom_s + answer.in_s + 1)
    assert enter(TABLES, after) == answer.cost
    assert cost_s(after) >= now.total_ascent_s


@given(ENTRIES, st.integers(0, 7200))
def test_later_is_never_cheaper(entry: TableEntry, more_s: int) -> None:
    """The total ascent never falls as bottom time grows."""
    assert cost_s(replace(entry, bottom_s=entry.bottom_s + more_s)) >= cost_s(entry)


@given(ENTRIES, st.floats(0, 60))
def test_deeper_is_never_cheaper(entry: TableEntry, more_fsw: float) -> None:
    """The total ascent of a diver who is not repetitive never falls as depth grows.

    Where a depth has no row that long there is no figure to compare: 180 fsw ends at 70 min, 190 at 120.
    """
    clean = replace(entry, group=None, shallow=False)
    deeper = cost_s(replace(clean, max_fsw=entry.max_fsw + more_fsw))
    assert deeper >= cost_s(clean) or cost_s(clean) == float("inf")


@given(ENTRIES)
def test_cold_is_never_cheaper(entry: TableEntry) -> None:
    """The next longer time never shortens the ascent."""
    assert cost_s(replace(entry, longer=True)) >= cost_s(replace(entry, longer=False))
