"""An exchange on a polled line goes through the pump like any other arrival."""

from drivers.decode import hear
from shared.arrivals import Exchanged
from shared.clock import Instant
from shared.gauges import Channel, Gauge, ModbusRegister, NumberKind, RegisterTable, WireUnit
from shared.wire.modbus_rtu import read_reply, read_request
from station.core.fold import initial_state
from station.core.settings import DiverSettings, Role, Settings, SupplySettings, Units
from station.core.state import State
from station.plain import arrival_from_plain, arrival_to_plain, settings_from_plain, settings_to_plain
from station.pump import Pump
from station.table_files import load_books

LINE = "serial:///dev/ttyUSB0?baud=9600&parity=even"
INPUT = RegisterTable.INPUT
GAUGES = tuple(
    Gauge(
        f"supply-{device}",
        Channel.SUPPLY,
        "Diver 1",
        LINE,
        ModbusRegister(device, INPUT, 0, NumberKind.INT16, WireUnit.PSI),
        0.0,
        300.0,
    )
    for device in (1, 2)
)
SETTINGS = Settings(
    "S",
    "",
    "",
    Units.US,
    (DiverSettings("Diver 1", "A. Reed", Role.DIVER, "mask", "primary"),),
    (SupplySettings("primary", "Bank A"),),
    GAUGES,
)


class Ledger:
    """Records what the pump hands to the log."""

    def __init__(self) -> None:
        self.arrivals: list[object] = []

    def append(self, seq: int, arrival: object) -> None:
        """A primary record."""
        self.arrivals.append((seq, arrival))

    def derive(self, *_: object) -> None:
        """Not looked at here."""

    trace = digest = checkpoint = derive


def exchange(second: int, device: int, reply: bytes) -> Exchanged:
    """A question and what came."""
    asked_at = Instant(second * 10**9)
    return Exchanged(Instant(asked_at + 20_000_000), LINE, asked_at, read_request(device, INPUT, 0, 1), reply)


def pumped(*arrivals: Exchanged) -> tuple[State, Ledger]:
    """The state after these arrivals."""
    ledger = Ledger()
    pump = Pump(initial_state(SETTINGS, 0), hear, ledger, lambda *_: None, load_books())
    for arrival in arrivals:
        pump.step(arrival)
    return pump.state, ledger


def test_an_answer_becomes_the_reading_of_the_gauge_that_was_asked():
    """Logged as it came, before it is decoded; stamped at the first byte of the answer."""
    first, second = exchange(1, 1, read_reply(1, INPUT, (140,))), exchange(2, 2, read_reply(2, INPUT, (95,)))
    state, ledger = pumped(first, second)
    assert ledger.arrivals == [(1, first), (2, second)]
    assert [(gauge.last.value, gauge.last.at) for gauge in state.gauges if gauge.last] == [
        (140.0, first.at),
        (95.0, second.at),
    ]


def test_silence_is_a_fault_of_the_gauge_that_was_asked():
    """Its neighbour on the line keeps a clean record; the last value stays what it was, ageing."""
    state, _ = pumped(exchange(1, 1, read_reply(1, INPUT, (140,))), exchange(2, 1, b""))
    asked, neighbour = state.gauges
    assert (asked.faults, neighbour.faults) == (1, 0)
    assert asked.last is not None
    assert asked.last.value == 140.0
    assert "device 1 does not answer" in asked.last_fault


def test_exchanges_and_their_gauges_come_back_from_the_log():
    """What a replay needs: request, reply and both instants; the format of each gauge under its word."""
    arrival = exchange(1, 1, read_reply(1, INPUT, (0x80FF,)))
    assert arrival_from_plain(arrival_to_plain(arrival)) == arrival
    assert settings_from_plain(settings_to_plain(SETTINGS)) == SETTINGS
