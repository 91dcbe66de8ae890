"""Every scenario that comes with the program: sound, told apart, and wired as its station file believes."""

import re
import tomllib
from typing import Any

import pytest

from shared.wire.nmea0183 import Sentence, feed, parse_xdr
from simulators.gauges import measured
from simulators.handheld import Slice, slices
from simulators.scenario import Scenario
from simulators.scenario_file import find_scenario, list_scenarios, read_scenario

NAMES = [name for name, _, _ in list_scenarios()]


@pytest.fixture(scope="module", params=NAMES)
def scenario(request: pytest.FixtureRequest) -> Scenario:
    """Each scenario of the program in turn."""
    return read_scenario(find_scenario(request.param))


def _station(scenario: Scenario) -> dict[str, Any]:
    return tomllib.loads(scenario.station_file.read_text(encoding="utf-8"))


def test_every_scenario_has_a_title_a_purpose_and_a_future_of_its_own():
    """No two look alike in the list, and each purpose is one sentence."""
    listed = list_scenarios()
    assert {"lock_gate_30min", "lock_gate_clean", "line_trouble"} <= set(NAMES)
    assert len({title for _, title, _ in listed}) == len(listed)
    assert all(re.fullmatch(r"[A-Z][^.]+\.", purpose) for _, _, purpose in listed)


def test_every_gauge_of_the_station_file_has_an_instrument_as_it_believes(scenario: Scenario):
    """Port, transducer, channel, subject, unit, period and range agree; and no instrument is left over."""
    believed = {
        (
            gauge["port"],
            gauge["format"]["transducer"],
            gauge["channel"],
            gauge.get("diver", gauge.get("supply")),
            gauge["format"]["unit"],
            round(gauge["every_s"] * 1000),
            *gauge["range"].values(),
        )
        for gauge in _station(scenario)["gauge"]
    }
    built = {
        (
            f"rehearsal://{gauge.line}",
            gauge.transducer,
            gauge.channel.value,
            gauge.subject,
            gauge.unit.value,
            gauge.every_ms,
            gauge.low,
            gauge.high,
        )
        for gauge in scenario.instruments
    }
    assert built == believed


def test_divers_and_supplies_are_those_of_the_station_file(scenario: Scenario):
    """Names agree, and each diver breathes from the supply that the station believes."""
    station = _station(scenario)
    divers = {diver["name"]: diver["supply"] for diver in station["diver"]}
    assert {diver.name: diver.supply for diver in scenario.truth.divers} == divers
    assert [bank.supply for bank in scenario.truth.banks] == [supply["name"] for supply in station["supply"]]


def test_presses_are_made_by_people_of_the_station(scenario: Scenario):
    """Whoever presses is the supervisor or a tender."""
    station = _station(scenario)
    people = {station["station"]["supervisor"], *(diver["tender"] for diver in station["diver"])}
    assert {press.act["by"] for press in scenario.presses} <= people


def test_no_gauge_is_put_under_more_than_it_can_show(scenario: Scenario):
    """Every second of the dive fits the instruments' ranges: nothing is pinned at the end of its scale."""
    for at_ms in range(1000, scenario.end_ms, 1000):
        moment = scenario.truth.at(at_ms)
        assert all(gauge.low <= measured(gauge, moment) < gauge.high for gauge in scenario.instruments)


@pytest.fixture(scope="module")
def long_dive() -> tuple[Scenario, list[Slice]]:
    """The thirty minutes at the lock gate, as slices."""
    scenario = read_scenario(find_scenario("lock_gate_30min"))
    return scenario, list(slices(scenario))


def _diver(piece: Slice) -> tuple[float, float, float]:
    diver = piece.moment.divers[0]
    return diver.depth_fsw, diver.hose_fsw, diver.supply_psig


def test_the_long_dive_stays_within_the_table_depth_of_60(long_dive: tuple[Scenario, list[Slice]]):
    """Bottom between 57.5 and 58.5 fsw of true gauge depth; blows do not lift the median of ten seconds."""
    _, run = long_dive
    bottom = [_diver(piece) for piece in run if 160_000 <= piece.at_ms <= 1_000_000]
    assert all(57.5 <= depth <= 58.5 for depth, _, _ in bottom)
    hoses = [hose for _, hose, _ in bottom]
    medians = [sorted(hoses[start : start + 100])[50] for start in range(0, len(hoses) - 100, 10)]
    assert min(medians) >= 57.5
    assert max(medians) <= 58.5


def test_the_long_dive_surfaces_at_thirty_minutes(long_dive: tuple[Scenario, list[Slice]]):
    """Left surface at 60 s, on the bottom at 58 fsw, surface at 1800 s, 60 s after; presses just behind."""
    scenario, run = long_dive
    moments = dict(scenario.truth.divers[0].moments)
    assert (moments["left_surface"], moments["reached_surface"]) == pytest.approx((60.0, 1800.0))
    assert run[-1].at_ms == 1_860_000
    pressed = {press.act["kind"]: press.at_ms / 1000.0 for press in scenario.presses if "kind" in press.act}
    assert set(pressed) == set(moments)
    assert all(0.0 < pressed[name] - at_s < 1.5 for name, at_s in moments.items())


def test_the_supply_of_the_long_dive_sags_below_what_is_needed_for_twelve_seconds(
    long_dive: tuple[Scenario, list[Slice]],
):
    """Needed 60 x 0.445 + 90 = 116.7 psig (USN Diving Manual Rev 5, table 8-1); else 142 to 150."""
    _, run = long_dive
    low_ms = [piece.at_ms for piece in run if _diver(piece)[2] < 116.7]
    assert (low_ms[-1] - low_ms[0]) / 1000.0 == pytest.approx(12.0, abs=0.5)
    assert len(low_ms) == (low_ms[-1] - low_ms[0]) // 100 + 1
    else_psig = [_diver(piece)[2] for piece in run if not 760_000 <= piece.at_ms <= 778_000]
    assert min(else_psig) >= 142.0
    assert max(else_psig) <= 150.0


def test_a_strict_reader_finds_every_sentence_of_the_clean_dive_sound():
    """No fault: every line of the clean dive is whole sentences of the four kinds of line."""
    run = list(slices(read_scenario(find_scenario("lock_gate_clean"))))
    for port in run[99].sent:
        heard, pending = feed(b"", b"".join(piece.sent.get(port, b"") for piece in run))
        sound = [parse_xdr(sentence) for sentence in heard if isinstance(sentence, Sentence)]
        assert len(sound) == len(heard) > 400
        assert len(pending) < 82
        assert all(isinstance(groups, tuple) for groups in sound)
