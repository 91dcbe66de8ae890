"""`tables --check`: exactly the known cells differ, and any other change of a cell is found."""

from dataclasses import replace

import pytest

from station.core.tables.parse import parse_table_set
from station.core.tables.table_set import KnownDifference
from station.table_files import load_tables, table_set_names, table_texts
from station.tables_check import TablesReport, check_tables


@pytest.fixture(scope="module")
def report() -> TablesReport:
    """The check of the tables that come with the program."""
    return check_tables(load_tables())


@pytest.mark.parametrize("name", table_set_names())
def test_every_set_holds(name: str) -> None:
    """Of every set that comes along exactly the known cells differ."""
    found = check_tables(load_tables(name))
    assert found.ok, "\n".join(found.lines())


@pytest.mark.parametrize(
    ("check", "agreed", "checked"),
    # counts of relations that USN Diving Manual Rev 7, Tables 9-5 to 9-9, 2A-1 and 2A-2, obey
    [
        ("first-stop", 764, 764),
        ("contiguous", 764, 764),
        ("total-no-stop", 46, 46),
        ("total-air", 359, 359),
        ("total-oxygen", 358, 359),
        ("deep-stops", 382, 382),
        ("chamber-periods", 381, 382),
        ("category", 382, 382),
        ("model-limits", 24, 24),
        ("model-limits-by-feet", 21, 21),
        ("model-limits-deep", 3, 3),
        ("model-air", 356, 359),
        ("model-oxygen", 358, 359),
        ("model-intervals", 136, 136),
        ("model-residual", 358, 358),
        ("model-residual-marks", 25, 26),
        ("model-residual-by-feet", 336, 336),
        ("model-groups", 218, 219),
        ("model-groups-by-feet", 313, 314),
        ("model-printed-groups", 222, 222),
        ("model-blank-groups", 160, 161),
        ("model-waits", 105, 105),
    ],
)
def test_so_many_cells_agree(report: TablesReport, check: str, agreed: int, checked: int) -> None:
    """Each relation and each recomputation holds for so many cells."""
    found = next(done for done in report.checks if done.id == check)
    assert (found.agreed, found.checked) == (agreed, checked)


def test_relations_that_hold_everywhere_have_no_difference(report: TablesReport) -> None:
    """Totals never fall, limits are first rows, tables by feet agree, residual times lie 0 to 3 min above."""
    whole = {"never-cheaper", "limits", "by-feet", "residual"}
    found = [done for done in report.checks if done.id in whole]
    assert {done.id for done in found} == whole
    assert all(done.checked and not done.differences for done in found)


def test_single_stops_do_fall(report: TablesReport) -> None:
    """In 54 places a single stop falls by a minute as time grows: nobody may assert that each stop grows."""
    assert report.falling_stops == 54


def test_the_three_air_schedules_that_differ_are_a_minute_shorter_by_the_model(report: TablesReport) -> None:
    """130/55, 180/20 and 200/40: the 20-fsw stop only, the model the less conservative."""
    found = next(done for done in report.checks if done.id == "model-air").differences
    assert [one.row for one in found] == ["130/55", "180/20", "200/40"]
    for one in found:
        printed, derived = (words.split() for words in (one.printed, one.derived))
        assert printed[:-1] == derived[:-1]
        assert int(printed[-1].removeprefix("20:")) - int(derived[-1].removeprefix("20:")) == 1


def test_one_wrong_digit_is_found() -> None:
    """A stop of 142 written 124 fails the check and is named."""
    texts = dict(table_texts())
    name = "air_decompression.csv"
    assert ",27,142," in texts[name]
    texts[name] = texts[name].replace(",27,142,", ",27,124,")
    found = check_tables(parse_table_set(texts))
    assert not found.ok
    assert {"total-air", "model-air"} <= {one.check for one in found.unexpected}
    assert any("120/60" in line for line in found.lines())


def test_a_known_difference_that_is_gone_is_found() -> None:
    """A cell that was corrected without striking it from the list fails the check too."""
    tables = load_tables()
    stale = KnownDifference("model-air", "60/65", "20:2", "20:1")
    found = check_tables(replace(tables, known_differences=(*tables.known_differences, stale)))
    assert found.vanished == (stale,)
    assert not found.ok
    assert any("EXPECTED, NOT FOUND" in line for line in found.lines())


def test_the_report_tells_what_the_model_is_not(report: TablesReport) -> None:
    """Lines and JSON carry counts, the known cells, and that the printed table governs."""
    lines = list(report.lines())
    assert any("356 of 359" in line for line in lines)
    assert any("printed table governs" in line for line in lines)
    assert lines[-1] == "Exactly the known cells differ."
    told = report.as_json()
    assert told["ok"] is True
    assert told["unexpected"] == told["vanished"] == []
