"""Logs written by hand through the real pump and journal: a dive with stops, and one full of malice."""

import shutil
import subprocess
import time
from collections.abc import Callable
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from drivers.decode import hear
from shared.arrivals import PortFault, PortFaultKind, Received
from shared.clock import EPOCH, Instant
from shared.gauges import Calibration, Channel, Gauge, NmeaXdr, XdrUnit
from shared.units import PASCAL_PER_BAR, pascal_from_fsw, pascal_from_psi
from shared.wire.nmea0183 import XdrGroup, xdr_sentence
from station.core.fold import initial_state
from station.core.inputs import (
    Acknowledge,
    Act,
    AmendMark,
    EnterHistory,
    HoseBlown,
    MarkKind,
    NextDive,
    OperatorEvent,
    Remark,
    SetMark,
    StationFact,
    StationFactKind,
    Tick,
    UndoMark,
)
from station.core.settings import DiverSettings, Role, Settings, SupplySettings, Units
from station.log.header import Header
from station.log.journal import Journal
from station.pump import Pump
from station.record import read_record
from station.record.model import Record
from station.table_files import load_books

DIVER = "Diver 1"
STEP_S = 2.0
UTC_EPOCH_NS = 1_935_648_000 * 1_000_000_000  # 2031-05-04T00:00:00Z
MALICE = "../../<b>Robert'); DROP TABLE batch;--"
LONG_WORDS = '=HYPERLINK("x") \u202egnp.exe\x1b[2J ' + "silt " * 4000


def _gauge(channel: Channel, subject: str, name: str) -> Gauge:
    proof = Calibration(on="2031-03-02", due="2031-09-02", by="R. Halloway", certificate="SH-31-0114")
    return Gauge(
        name, channel, subject, f"rehearsal://{name}", NmeaXdr(name, XdrUnit.BAR), -5, 4000, STEP_S, proof
    )


def station(name: str = "Saltholm Lock, gate 3", diver: str = DIVER, units: Units = Units.US) -> Settings:
    """One diver in a demand helmet on the primary, with gauges of depth, supply and bank."""
    return Settings(
        name,
        "sill",
        "Ines Varga",
        units,
        (
            DiverSettings(
                diver, "Tomas Reyne", Role.DIVER, "demand-helmet", "primary", 100.0, 30, "Mira Kestrel"
            ),
        ),
        (SupplySettings("primary", "Bank A"),),
        (
            _gauge(Channel.DEPTH, diver, "PNEUMO"),
            _gauge(Channel.SUPPLY, diver, "SUPPLY"),
            _gauge(Channel.BANK, "primary", "BANK"),
        ),
    )


class Scribe:
    """Writes a log through the real pump: what gauges say every two seconds, and what people press."""

    def __init__(self, path: Path, settings: Settings, mode: str = "live") -> None:
        books = load_books(settings.tables)
        header = Header(
            "0.1.0", mode, "", settings, books.edition, UTC_EPOCH_NS, "boot-1", head_before="ab" * 32
        )
        self.path = path
        self.diver = settings.divers[0].name
        self.journal = Journal.begin(path, header, monotonic=time.monotonic)
        first = initial_state(settings, UTC_EPOCH_NS)
        self.pump = Pump(first, hear, self.journal, lambda *_: None, books)
        self.at_s = 0.0
        self.depth_fsw = 0.0
        self.supply_psig = 240.0
        for gauge in settings.gauges:
            self.pump.step(PortFault(EPOCH, gauge.port, PortFaultKind.OPENED))

    @property
    def now(self) -> Instant:
        """The present instant of the log."""
        return Instant(round(self.at_s * 1e9))

    def act(self, act: Act, by: str = "Mira Kestrel") -> None:
        """Somebody presses something."""
        self.pump.step(OperatorEvent(self.now, by, self.pump.state.seq, act))

    def mark(self, kind: MarkKind, stop: float | None = None, back: int = 0) -> None:
        """Press a mark of the present dive."""
        self.act(SetMark(self.diver, self.pump.state.divers[0].dive, kind, stop, back))

    def fact(self, kind: StationFactKind, value: float | None = None) -> None:
        """The station finds something out about itself."""
        self.pump.step(StationFact(self.now, kind, value))

    def stay(self, seconds: float, silent: bool = False) -> None:
        """So long at the present depth."""
        self.go(self.depth_fsw, seconds, silent)

    def go(self, to_fsw: float, seconds: float, silent: bool = False) -> None:
        """To a depth in so long."""
        start_fsw, steps = self.depth_fsw, round(seconds / STEP_S)
        for step in range(1, steps + 1):
            self.at_s += STEP_S
            self.depth_fsw = start_fsw + (to_fsw - start_fsw) * step / steps
            if not silent:
                self._say("PNEUMO", pascal_from_fsw(self.depth_fsw))
            self._say("SUPPLY", pascal_from_psi(self.supply_psig))
            self._say("BANK", pascal_from_psi(2200 - self.at_s / 10))
            self.pump.step(Tick(self.now))

    def _say(self, name: str, pressure_pa: float) -> None:
        data = xdr_sentence("WI", [XdrGroup("P", f"{pressure_pa / PASCAL_PER_BAR:.4f}", "B", name)])
        self.pump.step(Received(self.now, f"rehearsal://{name}", data))

    def close(self, finished: bool = True) -> Path:
        """Close the log."""
        if finished:
            self.fact(StationFactKind.FINISHED)
        self.journal.close(finished=finished)
        return self.path


def _dive_with_stops(scribe: Scribe) -> None:
    """100 fsw, 30 minutes, two stops; a mark set to another time, one taken back, a gap, an alarm."""
    scribe.act(EnterHistory(DIVER, "none"), "Ines Varga")
    scribe.act(Remark("", "Contractor: Saltholm Harbour Works, 1 Quay"), "Ines Varga")
    scribe.act(Remark(DIVER, "Visibility: 3 ft"), "Ines Varga")
    scribe.act(Remark(DIVER, "Water temperature: not known, thermometer broken"), "Ines Varga")
    scribe.stay(30)
    scribe.mark(MarkKind.LEFT_SURFACE)
    scribe.go(99, 100)
    scribe.mark(MarkKind.REACHED_BOTTOM)
    scribe.stay(20)
    scribe.act(AmendMark(DIVER, 2, Instant(126 * 10**9), "Pressed late"))
    scribe.act(AmendMark(DIVER, 2, Instant(128 * 10**9), "By the stopwatch"), "Ines Varga")
    scribe.act(HoseBlown(DIVER))
    scribe.stay(280)
    scribe.stay(20, silent=True)
    scribe.supply_psig = 100.0
    scribe.stay(10)
    scribe.act(Acknowledge("supply-below-minimum", DIVER), "Ines Varga")
    scribe.supply_psig = 240.0
    scribe.stay(100)
    scribe.at_s += 60
    scribe.fact(StationFactKind.RESUMED, 60.0)
    for gauge in scribe.pump.state.settings.gauges:
        scribe.pump.step(PortFault(scribe.now, gauge.port, PortFaultKind.OPENED))
    scribe.stay(30 + 28 * 60 - scribe.at_s)
    scribe.mark(MarkKind.LEFT_BOTTOM)
    scribe.act(UndoMark(DIVER, 3, "It did not happen"))
    scribe.stay(60)
    scribe.mark(MarkKind.LEFT_BOTTOM)
    scribe.go(20, 160)
    scribe.mark(MarkKind.REACHED_STOP, 20)
    scribe.stay(180)
    scribe.mark(MarkKind.LEFT_STOP, 20)
    scribe.go(0, 40)
    scribe.mark(MarkKind.REACHED_SURFACE)
    scribe.stay(120)


@pytest.fixture(scope="session")
def stops_log(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A closed log of a dive with a stop, corrections, an alarm and a gap."""
    scribe = Scribe(tmp_path_factory.mktemp("stops") / "stops.dive", station())
    _dive_with_stops(scribe)
    return scribe.close()


@pytest.fixture(scope="session")
def stops(stops_log: Path) -> Record:
    """The record of that log."""
    return read_record(stops_log)


def _short_dive(scribe: Scribe, depth_fsw: float = 30.0) -> None:
    scribe.stay(20)
    scribe.mark(MarkKind.LEFT_SURFACE)
    scribe.go(depth_fsw, 40)
    scribe.mark(MarkKind.REACHED_BOTTOM)
    scribe.stay(60)
    scribe.mark(MarkKind.LEFT_BOTTOM)
    scribe.go(0, 60)
    scribe.mark(MarkKind.REACHED_SURFACE)
    scribe.stay(20)


@pytest.fixture(scope="session")
def short_log(tmp_path_factory: pytest.TempPathFactory) -> Callable[..., Path]:
    """Writes a log of short dives, one after the other, with remarks; closed or broken off."""

    @cache
    def write(
        *remarks: str, dives: int = 1, mode: str = "live", finished: bool = True, **changes: str | Units
    ) -> Path:
        folder = tmp_path_factory.mktemp("short")
        scribe = Scribe(folder / "short.dive", replace(station(), **changes), mode)  # type: ignore[arg-type]
        for remark in remarks:
            scribe.act(Remark(DIVER, remark), "Ines Varga")
        for dive in range(dives):
            if dive:
                scribe.act(NextDive(DIVER))
            _short_dive(scribe, 30.0 + 10 * dive)
        return scribe.close(finished)

    return write


@pytest.fixture(scope="session")
def hostile_log(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A log whose names and remarks try everything that text can try."""
    scribe = Scribe(tmp_path_factory.mktemp("hostile") / "h.dive", station(MALICE, MALICE))
    scribe.act(Remark(scribe.diver, LONG_WORDS), "@SUM(A1)")
    scribe.act(Remark(scribe.diver, "\x00\ud800\uffff\u2028 Visibility: 1 ft"), MALICE)
    _short_dive(scribe)
    for number in range(600):
        scribe.act(Remark(scribe.diver, f"flood {number}"), "-1+1")
    return scribe.close()


@pytest.fixture(scope="session")
def pdf_text() -> Callable[[Path], str]:
    """The text of a PDF, laid out as on its pages; says what to install where the tool is missing."""
    tool = shutil.which("pdftotext")
    assert tool is not None, "pdftotext is missing: ./.ci/libraries tests installs poppler-utils"

    def read(path: Path) -> str:
        done = subprocess.run([tool, "-layout", str(path), "-"], capture_output=True, check=True)
        return done.stdout.decode()

    return read
