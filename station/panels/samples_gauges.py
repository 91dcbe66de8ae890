"""Invented gauges and lines for looking at their window: all well, and in trouble."""

from dataclasses import replace

from station.core.state import Priority
from station.panels import samples
from station.present.figure_looks import Flash, Sign
from station.present.gauge_looks import GaugeLook, GaugesLook, HealthRow, LineLook
from station.present.looks import View

_PORT = "serial:///dev/ttyUSB0?baud=9600"
_PROVED = "2 Mar 2031 by harbour workshop, HW-311"
_DUE = "2 Sep 2031, 123 days left"


def _gauge(name: str, measures: str, value: str, raw: str, line: str = _PORT) -> GaugeLook:
    return GaugeLook(name, measures, line, value, raw, "good", "0.1 s", "0.5 s", "none", "", _PROVED, _DUE)


GAUGES = (
    _gauge("pneumo-1", "Depth, Diver 1", "58.2 fsw", "58.11 fsw"),
    _gauge("pneumo-2", "Depth, Diver 2", "20.2 fsw", "20.16 fsw"),
    _gauge("pneumo-s", "Depth, Standby", "0.0 fsw", "0.02 fsw"),
    _gauge("supply-1", "Supply, Diver 1", "148 psi", "147.62 psig", "socket://192.0.2.17:4001"),
    _gauge("supply-2", "Supply, Diver 2", "132 psi", "132.04 psig", "socket://192.0.2.17:4001"),
    _gauge("supply-s", "Supply, Standby", "151 psi", "150.88 psig", "socket://192.0.2.17:4001"),
    _gauge("bank-a", "Bank, Primary, bank A", "2110 psi", "2109.41 psig", "serial:///dev/ttyUSB1?baud=19200"),
    _gauge(
        "bank-b", "Bank, Secondary, bank B", "2640 psi", "2641.90 psig", "serial:///dev/ttyUSB1?baud=19200"
    ),
)
LINES = (
    LineLook(_PORT, "open", "since 07:13:34"),
    LineLook("socket://192.0.2.17:4001", "open", "since 07:13:35"),
    LineLook("serial:///dev/ttyUSB1?baud=19200", "open", "since 07:13:35"),
)
HEALTH = (
    HealthRow("Log", "lock-gate-3.dive"),
    HealthRow("Records", "61204"),
    HealthRow("Logged", "0.3 s ago"),
    HealthRow("Off watch", "never since the start"),
)


def gauges_well(ground: str = "day") -> View:
    """All heard."""
    look = GaugesLook("8 gauges on 3 lines, all heard", GAUGES, LINES, HEALTH)
    return replace(samples.calm(ground), gauges=look)


def gauges_troubled(ground: str = "night") -> View:
    """One stale, one frozen, one overdue, a line closed, a log that lags."""
    warning, steady = Sign(Priority.WARNING, Flash.FAST), Sign(Priority.WARNING)
    stale = replace(
        GAUGES[1], value="---", trust="stale", age="14 s", faults="12", sign=warning,
        last_fault="checksum: $YXXDR,P,1.6*3A carries 3A, its bytes give 5C",
    )  # fmt: skip
    frozen = replace(GAUGES[4], trust="frozen", sign=steady)
    overdue = replace(
        GAUGES[6], proved="20 Sep 2030 by harbour workshop, HW-207", due="20 Mar 2031, overdue by 43 days",
        due_sign=Sign(Priority.CAUTION),
    )  # fmt: skip
    undated = replace(GAUGES[7], proved="not told when", due="no date: ask before the dive")
    gauges = (GAUGES[0], stale, GAUGES[2], GAUGES[3], frozen, GAUGES[5], overdue, undated)
    closed = LineLook(
        _PORT, "closed", "gone since 08:25:26. /dev/ttyUSB0: no such device", Sign(Priority.WARNING)
    )
    health = (*HEALTH[:3], HealthRow("Log behind", "12 s", Sign(Priority.ALARM)), HEALTH[3])
    look = GaugesLook("in trouble: pneumo-2, supply-2", gauges, (closed, *LINES[1:]), health)
    return replace(samples.emergency(ground), gauges=look)
