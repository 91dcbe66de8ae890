"""What the rules of air and hose cost, once a second for every supply and diver: prints a table.

Run by hand: `python tests/bench/bench_air.py`. Not collected by the tests; it holds no limit.
"""

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
    ("content of a bank, both figures", lambda: content_of(40.0, 3000.0, 392.85, 85.0), 20_000),
    ("content of 100,000 pressures", lambda: smaller_scf(40.0, PRESSURES, 392.85, 85.0), 50),
    ("need of three divers with stops", lambda: supply_need(DIVERS, RESERVES["46 CFR 197"]), 5_000),
    ("endurance of a supply", lambda: endurance(2000.0, 392.85, 12.0, 4000.0, 18.0), 20_000),
    ("emergency gas of a diver", lambda: emergency_endurance(2600.0, 120.0, 0.399, 1.4), 20_000),
    (
        "pressure at a diver",
        lambda: pressure_at_diver(192.85, 20.0, BreathingHose(300.0, 0.375), 120.0),
        5_000,
    ),
    ("a step of the hose", lambda: step(HOSE, LATER), 20_000),
)


def main() -> None:
    """Print the best of five runs of each case, in microseconds a call."""
    for title, call, times in CASES:
        best_s = min(Timer(call).repeat(5, times)) / times
        sys.stdout.write(f"{title:36s} {best_s * 1e6:10.2f} us\n")


if __name__ == "__main__":
    main()
