"""Whole dives by the tables, from the simulator's bytes to plan, sentence and record; one tick a second."""

from dataclasses import dataclass
from datetime import datetime
from functools import cache

import pytest

from drivers.decode import hear
from shared.arrivals import PortFault, PortFaultKind, Received
from shared.clock import EPOCH, Instant
from shared.gauges import ports_of
from simulators.handheld import Slice, slices
from simulators.scenario_file import find_scenario, read_scenario
from station.compose.known import known_to_rehearsal
from station.config import read_station
from station.core.facts import AlarmChanged, Fact, MarkTaken, PlanChanged, Refused
from station.core.fold import initial_state
from station.core.inputs import Arrival, OperatorEvent, Tick
from station.core.state import State
from station.plain import act_from_plain, fact_from_plain, fact_to_plain, state_from_plain, state_to_plain
from station.present.looks import Mode
from station.present.status import LogLine, Status, status
from station.present.summary import Tally, summary
from station.present.view import view, view_from_plain, view_to_plain
from station.pump import Pump
from station.replaying import NoLedger
from station.table_files import load_books

pytestmark = pytest.mark.dives

NS_PER_MS = 1_000_000
BOOKS = load_books()
LOG = LogLine("in hand", 10**9, 0.0)
OF_THE_TABLES = {"missed-stop", "stop-left-early", "above-stop", "oxygen-too-deep", "beyond-table"}


@dataclass(frozen=True)
class Dived:
    """One status after each press, by its second; every fact; the state and the record at the end."""

    pressed: dict[float, Status]
    facts: list[Fact]
    state: State
    record: str

    def after(self, second: float) -> Status:
        """Diver 1 after the presses of a second."""
        return self.pressed[second]["divers"][0]

    def marks(self) -> list[str]:
        """The marks taken, in order, with the depth of stops."""
        taken = [fact.mark for fact in self.facts if isinstance(fact, MarkTaken)]
        named = ("reached_stop", "left_stop")
        return [f"{m.kind.value} {m.stop_fsw:g}" if m.kind.value in named else m.kind.value for m in taken]

    def changes(self) -> list[PlanChanged]:
        """Every change of a plan."""
        return [fact for fact in self.facts if isinstance(fact, PlanChanged)]

    def alarms(self) -> set[str]:
        """Every alarm that was raised."""
        return {fact.id for fact in self.facts if isinstance(fact, AlarmChanged)}


@cache
def dive(name: str) -> Dived:
    """A scenario dived to its end, once a session."""
    scenario = read_scenario(find_scenario(name))
    settings, _ = read_station(scenario.station_file, known_to_rehearsal())
    epoch_ns = int(datetime.fromisoformat(scenario.starts_utc).timestamp()) * 10**9
    facts: list[Fact] = []
    tally = Tally()

    def publish(state: State, arrival: Arrival, found: tuple[Fact, ...]) -> None:
        facts.extend(found)
        tally(state, arrival, found)

    pump = Pump(initial_state(settings, epoch_ns), hear, NoLedger(), publish, BOOKS)
    for port in ports_of(settings.gauges):
        pump.step(PortFault(EPOCH, port, PortFaultKind.OPENED))
    pressed: dict[float, Status] = {}
    for piece in slices(scenario):
        _take(pump, piece)
        if piece.presses:
            pressed[piece.at_ms / 1000] = status(pump.state, Mode.REHEARSAL, LOG, BOOKS)
    return Dived(pressed, facts, pump.state, summary(pump.state, tally, (), BOOKS))


def _take(pump: Pump, piece: Slice) -> None:
    at = Instant(piece.at_ms * NS_PER_MS)
    for port, data in piece.sent.items():
        pump.step(Received(at, port, data))
    for press in piece.presses:
        act = {key: value for key, value in press.items() if key != "by"}
        pump.step(OperatorEvent(at, press["by"], pump.state.seq, act_from_plain(act)))
    if piece.at_ms % 1000 == 0:
        pump.step(Tick(at))


def _whole(dived: Dived) -> None:
    """Nothing was refused, no stop missed, and everything goes through plain JSON and back."""
    assert not [fact for fact in dived.facts if isinstance(fact, Refused)]
    assert not dived.alarms() & OF_THE_TABLES
    _goes_through_json(dived)


def _goes_through_json(dived: Dived) -> None:
    for fact in dived.changes():
        assert fact_from_plain(fact_to_plain(fact)) == fact
    assert state_from_plain(state_to_plain(dived.state)) == dived.state
    shown = view(dived.state, Mode.REHEARSAL, LOG, BOOKS)
    assert view_from_plain(view_to_plain(shown)) == shown


def test_60_100_on_air_with_a_delay_at_the_bottom_and_one_at_40():
    """2:10 lost at 57 fsw goes to bottom time (60/110), the rest of 3:50 to the first stop: 58 min. A4."""
    dived = dive("stops_60_100")
    assert dived.marks() == [
        "left_surface",
        "reached_bottom",
        "left_bottom",
        "reached_stop 20",
        "left_stop 20",
        "reached_surface",
    ]
    left = dived.after(6060)
    assert left["schedule"]["stops"] == [[20, 42]]
    assert (left["schedule"]["depth_fsw"], left["schedule"]["time_min"]) == (60, 100)
    there = dived.after(6364)
    assert there["ascent"]["stop_left_s"] == 58 * 60
    assert (there["schedule"]["time_min"], there["schedule"]["group"]) == (110, "Z")
    assert [(c.rule, c.delay_min) for c in dived.changes()] == [("A4", 2), ("A4", 3), ("A4", 4)]
    assert (dived.changes()[-1].old.row, dived.changes()[-1].new.row) == ("60/100", "60/110")
    assert "60/110, 57 min at 20, group Z" in dived.record
    assert "rule A4: 3:" in dived.record
    _whole(dived)


def test_120_60_with_oxygen_its_air_break_and_its_loss():
    """14 min at 30, 16 at 20, break, then 18 min left when it is lost: 66 of air by 142 over 39. X1, X2."""
    dived = dive("oxygen_120_60")
    assert dived.after(3660)["schedule"]["stops"] == [[30, 14], [20, 39]]
    waits = dived.after(3834)
    assert waits["ascent"]["waits_for_oxygen"] is True
    assert waits["next"].startswith("Confirm oxygen at 30 fsw")
    assert dived.after(3864)["ascent"]["stop_left_s"] == 14 * 60
    assert dived.after(4724)["ascent"]["stop_left_s"] == (39 + 5) * 60 - 20
    assert dived.after(5964)["ascent"]["stop_left_s"] == 23 * 60
    lost = dived.after(6300)
    assert lost["ascent"]["stop_left_s"] == 66 * 60
    assert [c.rule for c in dived.changes()] == ["X2"]
    assert dived.after(10260)["next"].startswith("Surface at")
    _whole(dived)


@pytest.mark.parametrize(
    ("name", "reached_s", "late", "minutes"),
    [("chamber_in_time", 4044, False, 50), ("chamber_late", 4104, True, 65)],
)
def test_100_60_with_surface_decompression(name: str, reached_s: int, late: bool, minutes: int):
    """No stop in the water: 4:30 is as planned, 5:30 half an oxygen period more at 50 fsw. Rules X4, X5."""
    dived = dive(name)
    assert dived.after(3660)["schedule"]["stops"] == []
    assert dived.after(3660)["schedule"]["chamber_periods"] == 1.5
    assert dived.after(3834)["ascent"]["interval_s"] in (59, 60, 61)
    there = dived.after(reached_s)
    assert there["phase"] == "chamber"
    assert there["ascent"]["stop_left_s"] == (30 if late else 15) * 60
    assert ("interval-over-five" in dived.alarms()) is late
    assert [c.rule for c in dived.changes()] == (["X4"] if late else [])
    ended = dived.after(reached_s + minutes * 60 + 80)
    assert (ended["phase"], ended["surface"]["group"]) == ("done", "Z")
    assert dived.marks()[-4:] == ["reached_chamber", "on_oxygen", "left_chamber", "reached_surface"]
    _whole(dived)


def test_a_pair_of_dives():
    """The second begins in group H with 46 min at 60 fsw: 20 min down count as 66, 60/70, 7 min at 20. N2."""
    dived = dive("two_dives")
    assert dived.after(2574)["surface"]["group"] == "H"
    second = dived.after(5574)["schedule"]
    assert (second["residual_min"], second["equivalent_min"], second["time_min"]) == (46, 66, 70)
    assert second["stops"] == [[20, 7]]
    assert dived.marks().count("left_surface") == 2
    _whole(dived)


def test_a_dive_at_6000_ft():
    """58 fsw count as 72: the rows of 80; 10 min at 20 are taken at 16 fsw. Rule N4."""
    dived = dive("mountain_tank")
    left = dived.after(2760)
    assert (left["schedule"]["depth_fsw"], left["schedule"]["stops"]) == (80, [[20, 10]])
    assert left["ascent"]["next_stop"]["level_fsw"] == 16
    assert dived.after(2842)["next"].startswith("Keep at 16 fsw")
    _whole(dived)


def test_a_blow_up_from_a_stop():
    """No plan any more, the clock since the stop was left, one card, and whom to call. Rule O1."""
    dived = dive("blow_up")
    up_s = max(dived.pressed)
    up = dived.after(up_s)
    cards = up["ascent"]["cards"]
    assert (cards["rule"], cards["deepest_missed_fsw"]) == ("O1", 20)
    assert 10 <= cards["clock_s"] <= 25
    assert [card["id"] for card in cards["cards"]] == ["OM-02"]
    assert "channel 12" in cards["call"]
    assert up["ascent"]["not_covered"]["rule"] == "O1"
    assert up["ascent"]["surface_utc"] is None
    assert {"missed-stop", "above-stop", "ascent-dangerous"} <= dived.alarms()
    assert dived.changes()[-1].rule == "O1"
    _goes_through_json(dived)
