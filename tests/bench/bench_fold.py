"""Speed of the fold: two divers and a standby, eight gauges at ten readings a second.

Run as a script it prints one JSON object: CPU milliseconds of a simulated second, inputs per second, and
how many times faster than real time that is. Nothing here is a test: figures depend on the machine.
"""

import json
import math
import sys
from time import process_time

from shared.arrivals import PortFault, PortFaultKind
from shared.clock import EPOCH, Instant
from shared.gauges import Channel, Gauge, NmeaXdr, XdrUnit
from shared.readings import Reading
from shared.units import NS_PER_S
from station.core.fold import fold, initial_state
from station.core.inputs import Heard, Input, MarkKind, OperatorEvent, SetMark, Tick
from station.core.settings import DiverSettings, Role, Settings, SupplySettings, Units
from station.core.state import State
from station.table_files import load_books

BOOKS = load_books()

DIVERS = ("Diver 1", "Diver 2", "Standby")
BANKS = ("primary", "secondary")
STEP_NS = NS_PER_S // 10


def bench_settings() -> Settings:
    """A station of two divers, a standby and two banks: eight gauges on four lines."""
    return Settings(
        "Bench",
        "speed",
        "nobody",
        Units.US,
        tuple(
            DiverSettings(
                name,
                name,
                Role.STANDBY if name == "Standby" else Role.DIVER,
                "demand-helmet",
                "primary",
                60.0,
                50,
            )
            for name in DIVERS
        ),
        tuple(SupplySettings(name, name) for name in BANKS),
        tuple(
            Gauge(
                f"{channel.value}-{name}",
                channel,
                name,
                f"line-{name}",
                NmeaXdr(name, XdrUnit.BAR),
                -10,
                5000,
                0.1,
            )
            for channel, name in (
                *((Channel.DEPTH, name) for name in DIVERS),
                *((Channel.SUPPLY, name) for name in DIVERS),
                *((Channel.BANK, name) for name in BANKS),
            )
        ),
    )


def bench_inputs(settings: Settings, seconds: int) -> list[Input]:
    """The whole stream: lines open, both divers leave the surface, then readings and ticks."""
    ports = list(dict.fromkeys(gauge.port for gauge in settings.gauges))
    inputs: list[Input] = [PortFault(EPOCH, port, PortFaultKind.OPENED) for port in ports]
    for name in DIVERS[:2]:
        inputs.append(OperatorEvent(EPOCH, "tender", 0, SetMark(name, 1, MarkKind.LEFT_SURFACE)))
    for step in range(1, seconds * 10 + 1):
        at = Instant(step * STEP_NS)
        for port in ports:
            readings = tuple(
                Reading(gauge.name, at, _value(gauge, step / 10), 0.0)
                for gauge in settings.gauges
                if gauge.port == port
            )
            inputs.append(Heard(at, port, readings, (), b""))
        inputs.append(Tick(at))
    return inputs


def _value(gauge: Gauge, t_s: float) -> float:
    match gauge.channel:
        case Channel.DEPTH:
            deep = 0.0 if gauge.subject == "Standby" else min(55.0, t_s)
            return deep + 0.5 * math.sin(t_s * 1.6) + 0.05 * math.sin(t_s * 37.0)
        case Channel.SUPPLY:
            return 150.0 + math.sin(t_s * 2.1)
        case Channel.BANK:
            return 2400.0 - t_s / 10.0


def run(inputs: list[Input], state: State) -> tuple[State, dict[str, float]]:
    """Fold all inputs; CPU seconds by kind of input."""
    spent = {"Heard": 0.0, "Tick": 0.0, "other": 0.0}
    for arrived in inputs:
        kind = type(arrived).__name__ if isinstance(arrived, Heard | Tick) else "other"
        began = process_time()
        state, _ = fold(state, arrived, state.seq + 1, BOOKS)
        spent[kind] += process_time() - began
    return state, spent


def _whole_s(inputs: list[Input], settings: Settings) -> float:
    began, state = process_time(), initial_state(settings, 0)
    for arrived in inputs:
        state, _ = fold(state, arrived, state.seq + 1, BOOKS)
    return process_time() - began


def bench_fold(seconds: int = 60, times: int = 5) -> dict[str, float]:
    """Figures of a watch of so many simulated seconds, the best of several runs."""
    settings = bench_settings()
    inputs = bench_inputs(settings, seconds)
    whole_s = min(_whole_s(inputs, settings) for _ in range(times))
    _, spent = run(inputs, initial_state(settings, 0))
    counts = {kind: sum(type(arrived).__name__ == kind for arrived in inputs) for kind in ("Heard", "Tick")}
    return {
        "cpu_ms_per_simulated_s": round(whole_s / seconds * 1000, 3),
        "times_real_time": round(seconds / whole_s, 1),
        "inputs_per_s": round(len(inputs) / whole_s),
        "heard_us": round(spent["Heard"] / counts["Heard"] * 1e6, 2),
        "tick_us": round(spent["Tick"] / counts["Tick"] * 1e6, 2),
    }


if __name__ == "__main__":
    sys.stdout.write(json.dumps(bench_fold(), indent=1) + "\n")
