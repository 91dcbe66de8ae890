"""The gauges in words: value, raw reading, trust, faults, calibration; lines; log; and what may be chosen."""

from dataclasses import replace

import pytest

from shared.arrivals import PortFaultKind
from shared.clock import EPOCH, after
from shared.gauges import Calibration, Channel, Gauge, GaugeRole, NmeaXdr, XdrUnit
from station.core.decompression.answers import Mode
from station.core.fold import initial_state
from station.core.inputs import RowChoice
from station.core.settings import DiverSettings, EmergencyGas, Role, Settings, SupplySettings, Units
from station.core.state import Gap, GaugeState, LogHealth, PastDive, PortState, Sample, State, Trust
from station.present.choice_board import choices_look
from station.present.gauge_board import gauges_look
from station.present.status import LogLine
from station.table_files import load_books

NOW = after(EPOCH, 3600)
UTC_EPOCH_NS = 1_935_532_800_000_000_000  # 2031-05-03T00:00:00Z
LOG = LogLine("gate.dive", 5210, 0.34)
PORT = "serial:///dev/ttyUSB0?baud=9600"
PROVED = Calibration(0.5, 1.02, "2031-03-02", None, "harbour workshop", "HW-311")


def watch(heard: GaugeState, calibration: Calibration = PROVED, **of_state: object) -> State:
    """A watch with one depth gauge as it was last heard."""
    gauge = Gauge(
        "pneumo-1", Channel.DEPTH, "Diver 1", PORT, NmeaXdr("P1", XdrUnit.BAR), 0, 250, 0.5, calibration
    )
    divers = tuple(
        DiverSettings(
            name, "T. Ask", Role.DIVER, "demand-helmet", "a", emergency_gas=EmergencyGas("80", 2600)
        )
        for name in ("Diver 1", "Diver 2")
    )
    settings = Settings(
        "Gate",
        "seal",
        "M. Ost",
        Units.US,
        divers,
        (SupplySettings("a", "Bank A"), SupplySettings("b", "Bank B")),
        (gauge,),
    )
    state = replace(initial_state(settings, UTC_EPOCH_NS), now=NOW, gauges=(heard,))
    return replace(state, **{"ports": (PortState(PORT, True, after(EPOCH, 5)),), **of_state})


def good(**more: object) -> GaugeState:
    """Heard a tenth of a second ago."""
    return replace(GaugeState("pneumo-1", Trust.GOOD, Sample(after(NOW, -0.1), 58.2), (), 58.2), **more)


def look_of(state: State):
    """The one gauge of a watch."""
    return gauges_look(state, LOG, replayed=False).gauges[0]


def test_a_good_gauge_tells_everything():
    """Value, raw value before calibration, age, period, when and by whom it was proved, when it is due."""
    look = look_of(watch(good()))
    assert (look.measures, look.value, look.trust, look.age, look.period) == (
        "Depth, Diver 1", "58.2 fsw", "good", "0.1 s", "0.5 s",
    )  # fmt: skip
    # true = (shown - 0.5) * 1.02: shown is 58.2 / 1.02 + 0.5.
    assert look.raw == "57.56 fsw"
    assert look.proved == "2 Mar 2031 by harbour workshop, HW-311"
    assert look.due == "2 Sep 2031, 122 days left"
    assert (look.faults, look.last_fault, look.sign, look.due_sign) == ("none", "", None, None)


@pytest.mark.parametrize(
    ("heard", "trust", "value"),
    [
        (good(trust=Trust.STALE), "stale", "---"),
        (good(trust=Trust.LOST), "lost", "---"),
        (good(trust=Trust.SUSPECT), "suspect", "58.2 fsw"),
        (good(frozen=True), "frozen", "58.2 fsw"),
        (GaugeState("pneumo-1"), "lost", "---"),
    ],
)
def test_a_gauge_in_trouble_carries_a_mark(heard, trust, value):
    """Silent ones show dashes; each has its word and a mark, and the summary names it."""
    state = watch(heard)
    look = look_of(state)
    assert (look.trust, look.value) == (trust, value)
    assert look.sign is not None
    assert gauges_look(state, LOG, replayed=False).summary == "in trouble: pneumo-1"


def test_a_gauge_never_heard_makes_nothing_up():
    """No raw value, no age."""
    look = look_of(watch(GaugeState("pneumo-1")))
    assert (look.raw, look.age) == ("never heard", "never")


def test_faults_are_counted_and_the_last_one_told():
    """As the line gave it."""
    look = look_of(watch(good(faults=12, last_fault="checksum: 3A, not 5C")))
    assert (look.faults, look.last_fault) == ("12", "checksum: 3A, not 5C")


def test_a_calibration_overdue_is_marked_one_without_a_date_is_asked_for():
    """By the written date when that is earlier than six months."""
    late = look_of(watch(good(), Calibration(on="2030-10-01")))
    assert late.due == "1 Apr 2031, overdue by 32 days"
    assert late.due_sign is not None
    written = look_of(watch(good(), replace(PROVED, due="2031-05-04")))
    assert written.due == "4 May 2031, 1 day left"
    undated = look_of(watch(good(), Calibration()))
    assert (undated.proved, undated.due, undated.due_sign) == (
        "not told when", "no date: ask before the dive", None,
    )  # fmt: skip


def test_a_check_gauge_is_named_as_one():
    """Two gauges on one diver are not taken for each other."""
    state = watch(good())
    check = replace(state.settings.gauges[0], role=GaugeRole.CHECK)
    state = replace(state, settings=replace(state.settings, gauges=(check,)))
    assert look_of(state).measures == "Depth, Diver 1, check gauge"


def test_a_line_says_whether_it_is_open_and_what_was_wrong():
    """Open since; closed with what the system said; never open."""
    since = after(EPOCH, 5)
    gone = PortState(PORT, False, since, fault=next(iter(PortFaultKind)), detail="no such device")
    state = watch(good(), ports=(PortState("a", True, since), gone, PortState("b")))
    a_line, closed, never = gauges_look(state, LOG, replayed=False).lines
    assert (a_line.standing, a_line.detail, a_line.sign) == ("open", "since 00:00:05", None)
    assert closed.standing == "closed"
    assert closed.detail.endswith("since 00:00:05. no such device")
    assert closed.sign is not None
    assert (never.standing, never.detail) == ("closed", "never open")


def test_the_log_and_the_watch_are_told():
    """Records, how long ago they were logged, a log that fails or lags, gaps."""

    def told(state: State, *, replayed: bool = False) -> dict[str, str]:
        return {row.caption: row.value for row in gauges_look(state, LOG, replayed=replayed).health}

    assert told(watch(good())) == {
        "Log": "gate.dive", "Records": "5210", "Logged": "0.3 s ago", "Off watch": "never since the start",
    }  # fmt: skip
    assert told(watch(good(), log=LogHealth(failed="disk full")))["Log not written"] == "disk full"
    assert told(watch(good(), log=LogHealth(behind_since=after(NOW, -12))))["Log behind"] == "12 s"
    gap = Gap(after(EPOCH, 100), after(EPOCH, 190), known=True)
    assert told(watch(good(), gaps=(gap,)))["Off watch"] == "1 times, last 00:03:10, 1:30 min"
    assert "Logged" not in told(watch(good()), replayed=True)


def test_what_is_in_force_is_known_to_the_drawer():
    """History, way, row, supply, by whom he is bound; what the station has not is said."""
    books = load_books()
    state = watch(good())
    first = replace(
        state.divers[0], history_known=True, past=(PastDive("H", None),), mode=Mode.AIR_OXYGEN,
        row=RowChoice.NEXT_LONGER,
    )  # fmt: skip
    state = replace(state, divers=(first, state.divers[1]), bound=("Diver 1", "Diver 2"))
    look = choices_look(state, first, books)
    assert (look.history, look.bound) == ("group H", "with Diver 2")
    assert look.in_force(look.modes) == "Air and oxygen"
    assert look.in_force(look.rows) == "Next longer"
    assert look.in_force(look.supplies) == "Bank A"
    assert [option.title for option in look.supplies] == ["Bank A", "Bank B", "His own cylinder"]
    assert {option.value: option.detail for option in look.modes}[
        "chamber"
    ] == "no chamber in the station file"
    assert look.groups == ("none", "not given", *books.tables.groups)
    assert choices_look(state, state.divers[1], books).history == "not entered"
