"""Every folder of tables that comes with the program: read whole, every cell in its place."""

import csv
from io import StringIO

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from station.core.tables import parse_groups as sheets
from station.core.tables.faults import TableFault
from station.core.tables.lookup import notes_on
from station.core.tables.parse import FILES, SHEETS, parse_table_set
from station.core.tables.parse_schedules import FILE as SCHEDULES
from station.core.tables.table_set import ResidualMark, TableSet
from station.table_files import DEFAULT_TABLES, load_tables, table_set_names, table_texts

TEXTS = dict(table_texts())


def cells(text: str) -> list[dict[str, str]]:
    """The rows of a sheet by column."""
    return list(csv.DictReader(StringIO(text)))


@pytest.fixture(params=table_set_names())
def named(request: pytest.FixtureRequest) -> str:
    """Each set in turn."""
    return str(request.param)


def test_the_default_set_is_among_those_that_come_along() -> None:
    """The set named as the default is there, and an unknown name lists those that are."""
    assert DEFAULT_TABLES in table_set_names()
    with pytest.raises(LookupError, match=DEFAULT_TABLES):
        table_texts("another")


def test_every_set_has_its_sources(named: str) -> None:
    """A set says which document it is, how it was read, and what each sheet is called in print."""
    tables = load_tables(named)
    assert tables.id == named
    assert all((tables.title, tables.document, tables.dated, tables.rights, tables.read))
    assert all(tables.name_of(sheet.removesuffix(".csv")).startswith(tables.title) for sheet in SHEETS)


def test_every_schedule_cell_is_read(named: str) -> None:
    """Each printed line of the schedules stands in its row, stop by stop."""
    tables = load_tables(named)
    rows = {(row.depth_fsw, row.time_min): row for block in tables.blocks for row in block.rows}
    lines = cells(table_texts(named)[SCHEDULES])
    assert len(lines) == 2 * len(rows)
    for line in lines:
        row = rows[int(line["depth_fsw"]), int(line["bottom_time_min"])]
        profile = row.air if line["gas"] == "AIR" else row.oxygen
        printed = [
            (int(column.removeprefix("stop_")), int(cell))
            for column, cell in line.items()
            if column.startswith("stop_") and cell not in {"", "0"}
        ]
        assert [(stop.depth_fsw, stop.minutes) for stop in profile.stops] == printed
        assert profile.total_ascent_s == int(line["total_ascent_s"])
        assert row.first_stop_s == int(line["time_to_first_stop_s"])
        assert row.chamber_periods == float(line["chamber_o2_periods"])
        assert (row.group or "", str(row.category)) == (line["repet_group"], line["category"])


def test_every_cell_of_limits_and_groups_is_read(named: str) -> None:
    """Limits and times of groups stand as printed; empty cells are no group, a star is any time."""
    tables, texts = load_tables(named), table_texts(named)
    for file, rows in (
        (sheets.NO_STOP_FILE, tables.no_stop),
        (sheets.SHALLOW_NO_STOP_FILE, tables.shallow_no_stop),
    ):
        for line, row in zip(cells(texts[file]), rows, strict=True):
            assert row.depth_fsw == int(line["depth_fsw"])
            assert line["no_stop_limit_min"] == ("unlimited" if row.limit_min is None else str(row.limit_min))
            printed = {group: line[group] for group in tables.groups if line[group]}
            assert {
                time.group: "*" if time.longest_min is None else str(time.longest_min) for time in row.groups
            } == printed


def test_every_cell_of_intervals_and_residual_times_is_read(named: str) -> None:
    """Spans and residual times stand as printed, marks as marks."""
    tables, texts = load_tables(named), table_texts(named)
    for line, span in zip(cells(texts[sheets.CREDIT_FILE]), tables.credit, strict=True):
        assert line == {
            "from_group": span.from_group,
            "to_group": span.to_group or "none",
            "min_min": str(span.first_min),
            "max_min": "" if span.last_min is None else str(span.last_min),
        }
    for file, rows in (
        (sheets.RESIDUAL_FILE, tables.residual),
        (sheets.SHALLOW_RESIDUAL_FILE, tables.shallow_residual),
    ):
        for line, row in zip(cells(texts[file]), rows, strict=True):
            assert [line[group] for group in tables.groups] == [str(cell) for cell in row.cells]


def test_every_cell_of_altitude_and_air_depth_is_read(named: str) -> None:
    """Arrival groups, waits and equivalent air depths stand as printed."""
    tables, texts = load_tables(named), table_texts(named)
    arrivals = [(str(row.altitude_ft), row.group) for row in tables.altitude_groups]
    assert [tuple(line.values()) for line in cells(texts[sheets.ALTITUDE_GROUPS_FILE])] == arrivals
    for line, wait in zip(cells(texts[sheets.WAIT_FILE]), tables.altitude_waits, strict=True):
        assert list(line.values()) == [wait.group, *map(str, wait.minutes)]
    for line, cell in zip(cells(texts[sheets.AIR_DEPTH_FILE]), tables.equivalent_air_depths, strict=True):
        assert (line["depth_fsw"], line["o2_percent"]) == (str(cell.depth_fsw), str(cell.oxygen_percent))
        assert line["ead_fsw"] == ("" if cell.ead_fsw is None else str(cell.ead_fsw))
        assert line["max_exposure_min"] == (
            "" if cell.longest_exposure_min is None else str(cell.longest_exposure_min)
        )
        assert line["status"] == cell.status


def test_the_parts_have_the_printed_numbers() -> None:
    """USN Diving Manual Rev 7: 382 schedules, 24 and 21 no-stop depths, 136 intervals, 16 groups."""
    tables = load_tables()
    assert sum(len(block.rows) for block in tables.blocks) == 382
    assert (len(tables.no_stop), len(tables.shallow_no_stop)) == (24, 21)
    assert sum(span.to_group is not None for span in tables.credit) == 136
    assert tables.groups == tuple("ABCDEFGHIJKLMNOZ")
    marks = [cell for row in tables.residual for cell in row.cells if isinstance(cell, ResidualMark)]
    assert len(marks) == 26


def test_every_note_lies_on_a_row_that_is_there(named: str) -> None:
    """No doubt points past the tables: each names a row of its sheet, or all of it."""
    tables, texts = load_tables(named), table_texts(named)
    for note in tables.notes:
        lines = cells(texts[f"{note.file}.csv"])
        keys = {next(iter(line.values())) for line in lines}
        if note.file == "air_decompression":
            keys = {f"{line['depth_fsw']}/{line['bottom_time_min']}" for line in lines}
            keys |= {f"{key} {line['gas']}" for key in keys for line in lines[:2]}
        if note.file == "equivalent_air_depth":
            keys = {f"{line['depth_fsw']}/{line['o2_percent']}" for line in lines}
        assert note.row == "*" or note.row in keys
        assert note.column == "*" or note.column in lines[0]
        assert note in notes_on(tables, note.file, note.row)


def test_the_list_of_doubts_is_whole() -> None:
    """The doubts of the copy: single rows and cells, Table 10-1, the rows by feet, 21 waits."""
    notes = load_tables().notes
    by_file = {file: sum(note.file == file for note in notes) for file in {note.file for note in notes}}
    assert by_file == {
        "air_decompression": 5,
        "no_stop_limits_and_groups": 1,
        "shallow_no_stop_limits_and_groups": 17,
        "shallow_residual_nitrogen_time": 16,
        "equivalent_air_depth": 2,
        "surface_interval_before_altitude": 21,
    }


def faults_of(texts: dict[str, str]) -> list[str]:
    """What the parser says of a folder that does not hold."""
    with pytest.raises(TableFault) as caught:
        parse_table_set(texts)
    return [str(fault) for fault in caught.value.faults]


def changed(file: str, before: str, after: str) -> dict[str, str]:
    """The files with one text put for another, which must be there."""
    assert before in TEXTS[file]
    return {**TEXTS, file: TEXTS[file].replace(before, after, 1)}


@pytest.mark.parametrize(
    ("file", "before", "after", "said"),
    [
        (SCHEDULES, "30,380,AIR,20", "30,380,AIR,x", f"{SCHEDULES}:4: time_to_first_stop_s is 'x'"),
        (SCHEDULES, "30,380,AIR,20", "30,380,HELIUM,20", f"{SCHEDULES}:4: gas is 'HELIUM'"),
        (SCHEDULES, "30,380,AIR,20", "30,360,AIR,20", "30/360 is not one line AIR, one AIR/O2"),
        (SCHEDULES, "5,360,0.5,Z,normal", "5,360,0.3,Z,normal", "chamber_o2_periods is '0.3'"),
        (SCHEDULES, "5,360,0.5,Z,normal", "5,360,1,Z,normal", "30/380 differs from its AIR line"),
        (SCHEDULES, "5,360,0.5,Z,normal", "5,360,0.5,Y,normal", "repet_group is 'Y'"),
        (SCHEDULES, "5,360,0.5,Z,normal", "5,360,0.5,Z,easy", "category is 'easy'"),
        (SCHEDULES, "30,380,AIR,20", "30,38\r0,AIR,20", "does not read as comma-separated values"),
        (SCHEDULES, "stop_130", "stop_deep", "has no columns stop_"),
        (SCHEDULES, "30,371,AIR,60,", "30,371,AIR,60,,", f"{SCHEDULES}:2: has 21 cells, not 20"),
        (sheets.NO_STOP_FILE, "60,63,7,12", "60,64,7,12", "the last group is not the no-stop limit"),
        (sheets.NO_STOP_FILE, "60,63,7,12", "60,63,12,12", "the times of the groups do not grow"),
        (sheets.NO_STOP_FILE, "60,63,7,12", "45,63,7,12", "its rows do not ascend"),
        (sheets.NO_STOP_FILE, "N,O,Z", "N,N,Z", "has no groups, or one twice"),
        (sheets.CREDIT_FILE, "Z,O,53,104", "Z,O,54,104", "the spans of group Z do not join"),
        (sheets.CREDIT_FILE, "Z,none,951,", "Z,none,951,999", "or do not end with none"),
        (sheets.CREDIT_FILE, "Z,O,53,104", "Z,Q,53,104", "names a group"),
        (sheets.RESIDUAL_FILE, "use_30fsw", "use_20fsw", "is 'use_20fsw', not minutes"),
        (sheets.RESIDUAL_FILE, "\n60,101", "\n61,101", "its depths are not those of the no-stop sheet"),
        (sheets.ALTITUDE_GROUPS_FILE, "3000,B", "3000,b", f"{sheets.ALTITUDE_GROUPS_FILE}:4: repet_group is"),
        (sheets.WAIT_FILE, "\nB,0", "\nQ,0", "its rows are not the groups"),
        (sheets.WAIT_FILE, "alt_1000_ft_min", "alt_low_ft_min", "has no columns alt_"),
        (
            sheets.AIR_DEPTH_FILE,
            "20,25,20,,normal",
            "20,25,20,,",
            f"{sheets.AIR_DEPTH_FILE}:2: status is empty",
        ),
        ("notes.csv", "air_decompression,150/30", "air_compression,150/30", "not a sheet of this set"),
        ("table_set.toml", 'title = "USN Rev 7"', "title = ", "table_set.toml: "),
        ("table_set.toml", 'air_decompression = "9-9"', "", "printed.air_decompression is missing"),
    ],
)
def test_an_odd_cell_is_named_with_file_and_line(file: str, before: str, after: str, said: str) -> None:
    """What is wrong is said where it stands."""
    assert any(said in fault for fault in faults_of(changed(file, before, after)))


def test_rows_out_of_order_are_told() -> None:
    """Two depths that have changed places are found by their rows."""
    lines = TEXTS[SCHEDULES].splitlines(keepends=True)
    swapped = "".join([lines[0], *lines[3:5], *lines[1:3], *lines[5:]])
    assert f"{SCHEDULES}: 30/371 stands after 30/380" in faults_of({**TEXTS, SCHEDULES: swapped})


def test_everything_that_is_wrong_is_told_at_once() -> None:
    """Three faults in three files make one exception with all of them."""
    texts = changed(SCHEDULES, "30,380,AIR,20", "30,380,AIR,x")
    texts[sheets.CREDIT_FILE] = TEXTS[sheets.CREDIT_FILE].replace("Z,O,53", "Z,O,54")
    del texts[sheets.WAIT_FILE]
    said = faults_of(texts)
    assert any(fault.startswith(f"{SCHEDULES}:4") for fault in said)
    assert any(sheets.CREDIT_FILE in fault for fault in said)
    assert f"{sheets.WAIT_FILE}: is missing" in said


def test_no_files_at_all_are_a_list_of_missing_files() -> None:
    """An empty folder names every file it lacks."""
    assert {f"{name}: is missing" for name in FILES} <= set(faults_of({}))


@settings(max_examples=100, deadline=None)
@given(st.data())
def test_whatever_a_file_holds_it_reads_or_is_a_table_fault(data: st.DataObject) -> None:
    """A line cut, doubled, or overwritten anywhere never ends in another exception."""
    file = data.draw(st.sampled_from(FILES))
    text = TEXTS[file]
    start = data.draw(st.integers(0, len(text)))
    end = data.draw(st.integers(start, min(len(text), start + 80)))
    damaged = text[:start] + data.draw(st.text(max_size=20)) + text[end:]
    try:
        read: TableSet | None = parse_table_set({**TEXTS, file: damaged})
    except TableFault:
        read = None
    assert read is None or len(read.groups) > 0
