"""What the rules of air and hose cost, once a second for every supply and diver: prints one JSON object.

Run by hand: `python tests/bench/bench_air.py`. Not collected by the tests; it holds no limit.
"""

import json
import sys
from collections.abc import Callable
from timeit import Timer

import numpy as np

from shared.clock import EPOCH, after
from station.core.air.bank import content_of, smaller_scf
from station.core.air.emergency_gas import emergency_endurance
from station.core.air.endurance import endurance
from station.core.air.need import AscentLeg, Breathing, supply_need
from station.core.air.pressure_drop import BreathingHose, pressure_at_diver
from station.core.air.reserve import RESERVES
from station.core.hose.trust import HoseSeen, HoseState, step

LEGS = (
    AscentLeg(120, 30, 180),
    AscentLeg(30, 30, 1620),
    AscentLeg(30, 20, 20),
    AscentLeg(20, 20, 8500),
    AscentLeg(20, 0, 40),
)
DIVERS = tuple(Breathing(name, 1.4, 120.0, 1800.0, LEGS) for name in ("Diver 1", "Diver 2", "Standby"))
PRESSURES = np.linspace(0.0, 5000.0, 100_000)
HOSE = step(HoseState(), HoseSeen(EPOCH, 57.0, True, blew=True))
LATER = HoseSeen(after(EPOCH, 10), 57.0, True)

CASES: tuple[tuple[str, Callable[[], object], int], ...] = (
    ("content_us", lambda: content_of(40.0, 3000.0, 392.85, 85.0), 20_000),
    ("content_of_100000_us", lambda: smaller_scf(40.0, PRESSURES, 392.85, 85.0), 50),
    ("need_us", lambda: supply_need(DIVERS, RESERVES["46 CFR 197"]), 5_000),
    ("endurance_us", lambda: endurance(2000.0, 392.85, 12.0, 4000.0, 18.0), 20_000),
    ("emergency_gas_us", lambda: emergency_endurance(2600.0, 120.0, 0.399, 1.4), 20_000),
    (
        "pressure_at_diver_us",
        lambda: pressure_at_diver(192.85, 20.0, BreathingHose(300.0, 0.375), 120.0),
        5_000,
    ),
    ("hose_step_us", lambda: step(HOSE, LATER), 20_000),
)


def measured() -> dict[str, float]:
    """The best of five runs of each case, in microseconds a call."""
    return {name: round(min(Timer(call).repeat(5, times)) / times * 1e6, 2) for name, call, times in CASES}


if __name__ == "__main__":
    sys.stdout.write(json.dumps(measured(), indent=1) + "\n")
