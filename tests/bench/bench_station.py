"""What the whole station costs: bytes to state, blocked windows, idle CPU, replay speed, cold start.

    python -P tests/bench/bench_station.py

prints one JSON object. Figures depend on the machine and on what else it does.
"""

import json
import os
import statistics
import subprocess
import sys
import tempfile
import time
import tty
from collections.abc import Callable
from pathlib import Path
from typing import Any

from drivers.clock import SystemClock
from drivers.decode import hear
from drivers.opening import open_port
from drivers.reader import Reader
from shared.clock import EPOCH, seconds_between
from shared.gauges import Channel, Gauge, NmeaXdr, XdrUnit
from shared.units import NS_PER_S
from shared.wire.nmea0183 import XdrGroup, xdr_sentence
from station.arriving import TICK_NS, LiveArrivals
from station.core.fold import initial_state
from station.core.inputs import Arrival, Tick
from station.core.settings import DiverSettings, Role, Settings, SupplySettings, Units
from station.core.state import State
from station.log.header import Header
from station.log.journal import Journal
from station.log.reading import LogReader
from station.panel_link import Listeners, PanelLink
from station.present.looks import Mode
from station.present.status import LogLine
from station.present.view import view
from station.pump import Pump
from station.replaying import NoLedger, Playback
from station.table_files import load_books

SENTENCES = 400
BLOCKED_S = 5
BLOCKS = {
    "sleep": "import sys,time; sys.stdin.readline(); time.sleep({s})",
    "python_loop": "import sys,time; sys.stdin.readline(); e=time.time()+{s}\nwhile time.time()<e: pass",
    # One call into C that does not let go of the interpreter.
    "held_interpreter": "import sys; sys.stdin.readline(); sum(range({s}*60_000_000))",
}

BOOKS = load_books()


def one_gauge(port: str) -> Settings:
    """A station of one diver with one gauge."""
    gauge = Gauge("pneumo", Channel.DEPTH, "Diver 1", port, NmeaXdr("P1", XdrUnit.BAR), -5, 250, 0.1)
    diver = DiverSettings("Diver 1", "A. Body", Role.DIVER, "demand-helmet", "primary", 60.0, 40)
    return Settings("Bench", "", "", Units.US, (diver,), (SupplySettings("primary", "Bank"),), (gauge,))


def bytes_to_state() -> dict[str, float]:
    """Milliseconds from a write on a pseudo-terminal to the state that holds the reading."""
    master, slave = os.openpty()
    tty.setraw(slave)
    settings = one_gauge(f"serial://{os.ttyname(slave)}?baud=9600")
    clock = SystemClock()
    arrivals = LiveArrivals(clock)
    pump = Pump(initial_state(settings, 0), hear, NoLedger(), lambda *_: None, BOOKS)
    reader = Reader(settings.gauges[0].port, open_port, clock, arrivals.offer, lambda _, e: arrivals.crash(e))
    reader.start()
    took: list[float] = []
    sent = 0.0
    sentence = xdr_sentence("YX", [XdrGroup("P", "0.61363", "B", "P1")])
    for arrival in arrivals:
        before = pump.state.gauges[0].last
        pump.step(arrival)
        if pump.state.gauges[0].last is not before:
            took.append((time.perf_counter() - sent) * 1000)
        if len(took) == SENTENCES:
            break
        if pump.state.ports[0].open and (isinstance(arrival, Tick) or took):
            sent = time.perf_counter()
            os.write(master, sentence)
    reader.stop()
    took.sort()
    return {"p50_ms": took[len(took) // 2], "p99_ms": took[len(took) * 99 // 100]}


def blocked_windows(kind: str) -> dict[str, float]:
    """Worst lateness of a tick's stamp and of a commit while the windows' process is blocked for 5 s."""
    clock = SystemClock()
    arrivals = LiveArrivals(clock)
    settings = one_gauge("serial:///dev/none")
    late: list[float] = []
    waits: list[float] = []
    with tempfile.TemporaryDirectory() as folder:
        header = Header("bench", "live", "", settings, "none", 0, "")
        journal = Journal.begin(Path(folder) / "b.dive", header, monotonic=lambda: clock.now() / NS_PER_S)

        def start() -> subprocess.Popen[bytes]:
            program = BLOCKS[kind].format(s=BLOCKED_S)
            pipe = subprocess.PIPE
            return subprocess.Popen([sys.executable, "-c", program], stdin=pipe, stdout=pipe, stderr=pipe)

        link = PanelLink(start, _deaf())

        def publish(state: State, arrival: Arrival, _: object) -> None:
            if isinstance(arrival, Tick):
                late.append((arrival.at % TICK_NS) / 1e6)
                waits.append(journal.oldest_waiting_s() * 1000)
                link.show(lambda: view(state, Mode.LIVE, LogLine("", 0, None), BOOKS))

        pump = Pump(initial_state(settings, 0), hear, journal, publish, BOOKS)
        link.open()
        for arrival in arrivals:
            pump.step(arrival)
            if pump.state.now > BLOCKED_S * NS_PER_S:
                break
        link.close(0.1)
        journal.close(finished=False)
    return {"worst_stamp_ms": max(late), "worst_commit_wait_ms": max(waits)}


def _deaf() -> Listeners:
    def nothing(*_: object) -> None:
        """Nobody listens."""

    return Listeners(act=nothing, lost=nothing, back=nothing, closed=nothing, trouble=nothing)


def idle_watch() -> dict[str, float]:
    """CPU seconds in a second of a watch without windows, one silent gauge, over ten seconds."""
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "s.toml"
        file.write_text(_station_text("/dev/none"))
        log = str(Path(folder) / "l.dive")
        process = subprocess.Popen(
            _command("watch", str(file), "--headless", "--status", "-", "--log", log),
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
        )
        assert process.stdout is not None
        process.stdout.readline()
        start = _cpu_s(process.pid)
        for _ in range(10):
            process.stdout.readline()
        used = _cpu_s(process.pid) - start
        process.terminate()
        process.wait()
    return {"cpu_share": used / 10}


def _cpu_s(pid: int) -> float:
    fields = Path(f"/proc/{pid}/stat").read_text().rsplit(")", 1)[1].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def _station_text(device: str) -> str:
    return f"""
[station]
name = "Bench"
[[supply]]
name = "primary"
[[diver]]
name = "Diver 1"
person = "A. Body"
equipment = "demand-helmet"
supply = "primary"
[[gauge]]
name = "pneumo"
channel = "depth"
diver = "Diver 1"
port = "serial://{device}?baud=9600"
format = {{ kind = "nmea-xdr", transducer = "P1", unit = "bar" }}
range = {{ low_fsw = -5, high_fsw = 250 }}
"""


def _command(*arguments: str) -> list[str]:
    return [sys.executable, "-P", "-m", "station", *arguments]


def rehearsal_and_replay() -> dict[str, float]:
    """Times over real time of the thirty-minute rehearsal and of its replay, without windows."""
    with tempfile.TemporaryDirectory() as folder:
        log = Path(folder) / "l.dive"
        start = time.perf_counter()
        subprocess.run(
            _command("rehearse", "lock_gate_30min", "--headless", "--log", str(log)),
            check=True,
            stderr=subprocess.DEVNULL,
        )
        rehearsed_s = time.perf_counter() - start
        with LogReader(log) as reader:
            start = time.perf_counter()
            playback = Playback(reader, hear, lambda *_: None)
            while not playback.ended:
                playback.step()
            replayed_s = time.perf_counter() - start
            dive_s = seconds_between(EPOCH, playback.state.now)
    return {"rehearsal_times": dive_s / rehearsed_s, "replay_times": dive_s / replayed_s}


def cold_start() -> dict[str, float]:
    """Seconds from starting the program to the first status line that has a reading, over a real line."""
    took = []
    for _ in range(3):
        master, slave = os.openpty()
        tty.setraw(slave)
        with tempfile.TemporaryDirectory() as folder:
            file = Path(folder) / "s.toml"
            file.write_text(_station_text(os.ttyname(slave)))
            start = time.perf_counter()
            process = subprocess.Popen(
                _command(
                    "watch", str(file), "--headless", "--status", "-", "--log", str(Path(folder) / "l.dive")
                ),
                stdout=subprocess.PIPE,
                stderr=subprocess.DEVNULL,
            )
            assert process.stdout is not None
            for line in process.stdout:
                if json.loads(line)["divers"][0]["depth"]["gauge_fsw"] is not None:
                    break
                os.write(master, xdr_sentence("YX", [XdrGroup("P", "0.61363", "B", "P1")]))
            took.append(time.perf_counter() - start)
            process.terminate()
            process.wait()
        os.close(master)
        os.close(slave)
    return {"median_s": statistics.median(took)}


FIGURES: dict[str, Callable[[], dict[str, float]]] = {
    "bytes_to_state": bytes_to_state,
    "blocked_sleep": lambda: blocked_windows("sleep"),
    "blocked_python_loop": lambda: blocked_windows("python_loop"),
    "blocked_held_interpreter": lambda: blocked_windows("held_interpreter"),
    "idle_watch": idle_watch,
    "whole_dive": rehearsal_and_replay,
    "cold_start": cold_start,
}


def measured() -> dict[str, Any]:
    """Every figure."""
    return {name: figure() for name, figure in FIGURES.items()}


if __name__ == "__main__":
    print(json.dumps(measured(), indent=2))  # noqa: T201 - the script's one output
