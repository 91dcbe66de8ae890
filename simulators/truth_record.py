"""The truth written down for tests: JSON lines, a head, one line a slice, an end.

Format `overbottom-truth/1`::

    {"schema", "scenario", "title", "seed", "starts_utc", "end_ms", "slice_ms",
     "moments": {diver: {name: seconds}}}
    {"at_ms", "divers": {diver: {"depth_fsw", "hose_fsw", "supply_psig"}}, "banks": {supply: psig}}
    {"end": {"at_ms", "complete", "divers": {diver: {"deepest_fsw", "deepest_hose_fsw", "least_supply_psig"}},
     "banks": {supply: psig}}}

Every figure is before any gauge: without range, lag, noise or calibration. `depth_fsw` is the diver's chest,
`hose_fsw` what stands at the upper end of his pneumofathometer hose: waves, an unblown hose and flowing air
are in it. `complete` is false when the rehearsal was left off. Figures are rounded to four decimals.
"""

import json
from typing import Any, Final, TextIO

from shared.conductor import SLICE_MS
from simulators.scenario import Scenario
from simulators.truth.dive import Moment

SCHEMA: Final = "overbottom-truth/1"

_DECIMALS: Final = 4


class TruthRecord:
    """Writes the truth of one rehearsal to an open text file, as it goes."""

    def __init__(self, out: TextIO, scenario: Scenario) -> None:
        self._out = out
        self._end_ms = scenario.end_ms
        self._at_ms = 0
        self._worst: dict[str, dict[str, float]] = {}
        self._banks: dict[str, float] = {}
        self._write(_head(scenario))

    def add(self, moment: Moment) -> None:
        """One slice."""
        divers = {
            diver.name: {
                "depth_fsw": round(diver.depth_fsw, _DECIMALS),
                "hose_fsw": round(diver.hose_fsw, _DECIMALS),
                "supply_psig": round(diver.supply_psig, _DECIMALS),
            }
            for diver in moment.divers
        }
        self._banks = {bank.supply: round(bank.pressure_psig, _DECIMALS) for bank in moment.banks}
        self._at_ms = moment.at_ms
        for name, figures in divers.items():
            self._worst[name] = _worse(self._worst.get(name), figures)
        self._write({"at_ms": moment.at_ms, "divers": divers, "banks": self._banks})

    def finish(self) -> None:
        """The last line: the extremes of every diver, the banks at the end."""
        complete = self._at_ms == self._end_ms
        end = {"at_ms": self._at_ms, "complete": complete, "divers": self._worst, "banks": self._banks}
        self._write({"end": end})
        self._out.flush()

    def _write(self, line: dict[str, Any]) -> None:
        self._out.write(json.dumps(line, separators=(",", ":")) + "\n")


def _head(scenario: Scenario) -> dict[str, Any]:
    return {
        "schema": SCHEMA,
        "scenario": scenario.name,
        "title": scenario.title,
        "seed": scenario.seed,
        "starts_utc": scenario.starts_utc,
        "end_ms": scenario.end_ms,
        "slice_ms": SLICE_MS,
        "moments": {diver.name: dict(diver.moments) for diver in scenario.truth.divers},
    }


def _worse(before: dict[str, float] | None, figures: dict[str, float]) -> dict[str, float]:
    """The extremes so far, with one more slice."""
    now = {
        "deepest_fsw": figures["depth_fsw"],
        "deepest_hose_fsw": figures["hose_fsw"],
        "least_supply_psig": figures["supply_psig"],
    }
    if before is None:
        return now
    return {key: (min if key.startswith("least") else max)(before[key], now[key]) for key in now}
