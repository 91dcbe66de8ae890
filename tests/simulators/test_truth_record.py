"""The truth file: a head, a line a slice, an end."""

import io
import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from simulators.handheld import slices
from simulators.scenario_file import read_scenario
from simulators.truth_record import TruthRecord


def _written(path: Path, some: int | None = None) -> list[dict[str, Any]]:
    scenario = read_scenario(path)
    out = io.StringIO()
    record = TruthRecord(out, scenario)
    for piece in list(slices(scenario))[:some]:
        record.add(piece.moment)
    record.finish()
    return [json.loads(line) for line in out.getvalue().splitlines()]


def test_the_head_tells_which_dive_it_was(small_scenario: Callable[..., Path]):
    """Schema, scenario, seed, start, length, and the true moments of each diver."""
    head = _written(small_scenario())[0]
    assert head == {
        "schema": "overbottom-truth/1",
        "scenario": "small",
        "title": "Small",
        "seed": 7,
        "starts_utc": "2031-05-02T08:00:00Z",
        "end_ms": 3000,
        "slice_ms": 100,
        "moments": {"Diver 1": {"left_surface": 0.0}},
    }


def test_every_slice_has_its_line(small_scenario: Callable[..., Path]):
    """Thirty slices; after one second at 60 fsw/min the diver is at 1 fsw."""
    lines = _written(small_scenario())[1:-1]
    assert [line["at_ms"] for line in lines] == list(range(100, 3001, 100))
    assert lines[9]["divers"]["Diver 1"]["depth_fsw"] == 1.0
    assert set(lines[9]["divers"]["Diver 1"]) == {"depth_fsw", "hose_fsw", "supply_psig"}
    assert set(lines[9]["banks"]) == {"primary"}


def test_the_end_tells_the_extremes(small_scenario: Callable[..., Path]):
    """Deepest depth, least supply (35 / 33 x 1.4 = 1.4848 scfm, a psi for each), banks as they are left."""
    *_, last, end = _written(small_scenario({"set_psig = 147": "set_psig = 147\ndroop_psi_per_scfm = 1"}))
    assert end["end"]["complete"] is True
    assert end["end"]["divers"]["Diver 1"]["deepest_fsw"] == 2.0
    assert end["end"]["divers"]["Diver 1"]["least_supply_psig"] == 145.5152
    assert end["end"]["banks"] == last["banks"]
    assert end["end"]["banks"]["primary"] == pytest.approx(2000.0, abs=0.5)


def test_a_rehearsal_that_was_left_off_says_so(small_scenario: Callable[..., Path]):
    """The file ends in good order, but not complete."""
    end = _written(small_scenario(), some=5)[-1]["end"]
    assert (end["at_ms"], end["complete"]) == (500, False)
