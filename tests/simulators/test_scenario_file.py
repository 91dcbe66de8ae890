"""Scenario files: everything wrong is told at once, with file, line and key."""

from collections.abc import Callable
from pathlib import Path

import pytest

from shared.toml_file import FileFault
from simulators.line_faults import FaultKind
from simulators.scenario_file import SCENARIOS, find_scenario, list_scenarios, read_scenario, slice_end_ms

Written = Callable[..., Path]


def _complaints(path: Path) -> list[str]:
    with pytest.raises(FileFault) as told:
        read_scenario(path)
    return str(told.value).splitlines()


def test_a_sound_scenario_is_read_whole(small_scenario: Written):
    """Each table is where it belongs, seconds are slices, and the mark carries who pressed it."""
    scenario = read_scenario(small_scenario())
    assert (scenario.name, scenario.title, scenario.seed) == ("small", "Small", 7)
    assert scenario.starts_utc == "2031-05-02T08:00:00Z"
    assert scenario.end_ms == 3000
    assert scenario.station_file.name == "small.station.toml"
    assert [line.port for line in scenario.lines] == ["rehearsal://PNEUMO", "rehearsal://SUPPLY"]
    assert [instrument.every_ms for instrument in scenario.instruments] == [100, 500]
    (fault,) = scenario.faults
    assert (fault.kind, fault.from_ms, fault.to_ms) == (FaultKind.PULLED, 1000, 2000)
    (press,) = scenario.presses
    assert press.at_ms == 200
    assert press.act == {
        "act": "set_mark",
        "diver": "Diver 1",
        "dive": 1,
        "kind": "left_surface",
        "by": "Mira Kestrel",
    }
    assert scenario.pictures[0].name == "under"
    assert scenario.truth.divers[0].moments == (("left_surface", 0.0),)
    assert scenario.truth.divers[0].profile.depth_fsw(3.0) == 2.0


def test_another_seed_takes_the_place_of_the_files(small_scenario: Written):
    """Sea and heave take it, too: the seed is at work everywhere."""
    scenario = read_scenario(small_scenario(), seed=99)
    assert (scenario.seed, scenario.truth.sea.seed, scenario.truth.divers[0].heave.seed) == (99, 99, 99)


def test_problems_all_over_the_file_come_at_once_with_their_lines(small_scenario: Written):
    """Seven slips in one file are seven sentences, in the order of the lines."""
    path = small_scenario(
        {
            "seed = 7": "seeed = 7",
            "hose_ft = 300": "hose_ft = -1",
            "flasks = 2": "flasks = 0",
            "every_s = 0.1": "every_s = 0.25",
            'channel = "supply"': 'channel = "suply"',
            'line = "PNEUMO"\nfrom_s': 'line = "PNUEMO"\nfrom_s',
            'kind = "left_surface" }': "knd = 1 }",
        }
    )
    complaints = "\n".join(_complaints(path))
    for told in (
        f"{path}:3: seeed: unknown key; did you mean seed?",
        "diver[1].hose_ft: -1 is below 0 ft",
        "bank[1].flasks: 0 is below 1",
        "instrument[1].every_s: 0.25 is no multiple of 0.1 s",
        "instrument[2].channel: 'suply' is none of bank, depth, supply; did you mean supply?",
        "fault[1].line: 'PNUEMO' is none of PNEUMO, SUPPLY; did you mean PNEUMO?",
        "press[1].act: set_mark has no field 'knd'",
        "press[1].act: set_mark needs 'kind'",
    ):
        assert told in complaints


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("rate_fsw_min = 60", "", "diver[1].leg[1].rate_fsw_min: missing"),
        ("to_fsw = 2", "to_fsw = 2\nstay_s = 5", "diver[1].leg[1].stay_s: a leg has one of"),
        ("to_fsw = 2\nrate_fsw_min = 60", "", "diver[1].leg[1].to_fsw: a leg has one of"),
        ("to_fsw = 2", "to_fsw = 200", "diver[1].leg[1].to_fsw: ends at 200 s"),
        ("to_s = 2", "to_s = 0.5", "fault[1].to_s: 0.5 is not after from_s = 1"),
        ('name = "SUPPLY"', 'name = "PNEUMO"', "line[2].name: 'PNEUMO' is named twice"),
        ('name = "SUPPLY"', 'name = "../x"', "line[2].name: '../x': only letters"),
        ('transducer = "SUPPLY1"', 'transducer = "S,1"', "instrument[2].transducer: 'S,1': 1 to 20"),
        ("high_fsw = 250", "high_fsw = 0", "instrument[1].high_fsw: 0 is not above low_fsw = 0"),
        ("low_psi = 0", "low_fsw = 0", "instrument[2].low_psi: missing"),
        ("at_s = 0.2", "at_s = 12", "press[1].at_s: 12 is above 3 s"),
        ('by = "Mira Kestrel"', "", "press[1].by: missing"),
        ('"set_mark", diver = "Diver 1"', '"set_mark", diver = "Diver 7"', "no diver is named 'Diver 7'"),
        ('name = "under"', 'name = "under water"', "picture[1].name: 'under water' becomes a file's name"),
        ("08:00:00Z", "08:00:00", "starts_utc: 2031-05-02T08:00:00 must carry its offset"),
        ('"small.station.toml"', '"other.toml"', "station: there is no file other.toml beside the scenario"),
        ('title = "Small"', "title = Small", "not TOML"),
    ],
)
def test_each_slip_is_told(small_scenario: Written, old: str, new: str, told: str):
    """One slip, one sentence that names the key."""
    assert told in "\n".join(_complaints(small_scenario({old: new})))


@pytest.mark.parametrize(
    ("added", "told"),
    [
        (
            '[[fault]]\nkind = "pulled"\nline = "PNEUMO"\nfrom_s = 2\nto_s = 2.5\n',
            "fault[2].from_s: the cable",
        ),
        (
            '[[bank]]\nsupply = "primary"\nstart_psig = 1\nflasks = 1\nfloodable_cuft = 1\n',
            "has a bank already",
        ),
        (
            '[[diver]]\nname = "Diver 1"\nsupply = "x"\nacfm = 1\nset_psig = 9\nhose_ft = 9\n',
            "is named twice",
        ),
        (
            '[[sag]]\ndiver = "Dver 1"\nfrom_s = 1\nfall_s = 1\nhold_s = 1\nrecover_s = 1\ndrop_psi = 1\n',
            "Dver 1",
        ),
        ("[sea]\nwave_height_ft = 99\n", "sea.wave_height_ft: 99 is above 30 ft"),
    ],
)
def test_tables_that_clash_are_told(small_scenario: Written, added: str, told: str):
    """What two tables cannot both say is a problem of the second."""
    assert told in "\n".join(_complaints(small_scenario(added=added)))


def test_a_blow_must_end_after_it_begins(small_scenario: Written):
    """A valve that closes before it opens is a slip."""
    blow = "hose_ft = 300\n[[diver.blow]]\nfrom_s = 2\nto_s = 1\nflow_fsw = 3\n"
    complaints = _complaints(small_scenario({"hose_ft = 300\n": blow}))
    assert any("diver[1].blow[1].to_s: 1 is not after from_s = 2" in line for line in complaints)


@pytest.mark.parametrize(
    ("at_s", "at_ms"), [(0.0, 100), (0.05, 100), (0.1, 100), (0.101, 200), (60.6, 60_600)]
)
def test_an_instant_belongs_to_the_slice_that_ends_after_it(at_s: float, at_ms: int):
    """Nothing is pressed before it happens."""
    assert slice_end_ms(at_s) == at_ms


def test_scenarios_are_found_by_name_and_by_path(small_scenario: Written):
    """The program's own by name, anybody's by path, and a wrong name is told with those there are."""
    assert find_scenario("lock_gate_30min") == SCENARIOS / "lock_gate_30min.toml"
    path = small_scenario()
    assert find_scenario(str(path)) == path
    with pytest.raises(FileFault, match=r"no such file, and no scenario of ours: .*lock_gate_30min"):
        find_scenario("lock_gate_31min")


def test_listing_tells_name_title_and_purpose(small_scenario: Written):
    """Station files beside scenarios are none."""
    path = small_scenario()
    assert list_scenarios(path.parent) == (("small", "Small", "Two lines and a plug for tests."),)
