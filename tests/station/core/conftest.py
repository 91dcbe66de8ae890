"""A watch to drive by hand: two divers and a standby, hand-made readings and ticks, folded one by one."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from typing import Any

import pytest

from shared.arrivals import PortFault, PortFaultKind
from shared.clock import EPOCH, Instant, after, seconds_between
from shared.gauges import Channel, Gauge, NmeaXdr, XdrUnit
from shared.readings import LinkFault, Reading
from station.core.facts import Fact
from station.core.finding import diver_named, gauge_state
from station.core.fold import fold, initial_state
from station.core.inputs import (
    Act,
    Heard,
    Input,
    MarkKind,
    OperatorEvent,
    SetMark,
    StationFact,
    StationFactKind,
    Tick,
    UndoMark,
)
from station.core.parameters import Parameters
from station.core.phase import Phase
from station.core.settings import DiverSettings, History, Role, Settings, SupplySettings, Units
from station.core.state import AlarmState, DiverState, GaugeState, Mark, Standing, State
from station.core.timekeeping import Times, effective_marks, phase_of, times_of
from station.table_files import load_books

Profile = float | Callable[[float], float]
"""A value that stays, or that depends on the seconds since it was set."""

BOOKS = load_books()
CLEAN = History("none")
ONE, TWO, STANDBY = "Diver 1", "Diver 2", "Standby"


def gauge(channel: Channel, subject: str, every_s: float = 0.1) -> Gauge:
    """A gauge on a line of its own, named after what it measures."""
    name = f"{channel.value} {subject}"
    return Gauge(name, channel, subject, f"line {name}", NmeaXdr(name, XdrUnit.BAR), -20, 5000, every_s)


def station(
    names: Iterable[str] = (ONE, TWO, STANDBY),
    *,
    every_s: float = 0.1,
    plan_fsw: float | None = 60.0,
    parameters: Parameters | None = None,
    more: tuple[Gauge, ...] = (),
    history: History | None = CLEAN,
    **settled: Any,
) -> Settings:
    """Divers in demand helmets on the primary, each with a depth and a supply gauge; two banks."""
    names = tuple(names)
    return Settings(
        "Lock gate",
        "gate seal",
        "M. Ost",
        Units.US,
        tuple(
            DiverSettings(
                name,
                f"person {name}",
                Role.STANDBY if name == STANDBY else Role.DIVER,
                "demand-helmet",
                "primary",
                plan_fsw,
                50 if plan_fsw else None,
                history=history,
            )
            for name in names
        ),
        (SupplySettings("primary", "Primary"), SupplySettings("secondary", "Secondary")),
        (
            *(gauge(Channel.DEPTH, name, every_s) for name in names),
            *(gauge(Channel.SUPPLY, name, every_s) for name in names),
            gauge(Channel.BANK, "primary", every_s),
            gauge(Channel.BANK, "secondary", every_s),
            *more,
        ),
        parameters or Parameters(),
        **settled,
    )


@dataclass
class Watch:
    """A fold under hand: what it was given, where it stands, what it found."""

    settings: Settings = field(default_factory=station)
    start: Instant = EPOCH
    step_s: float = 0.1
    inputs: list[Input] = field(default_factory=list)
    facts: list[Fact] = field(default_factory=list)

    def __post_init__(self) -> None:
        """Open every line, put a tick at the start, and let every gauge show calm values from now on."""
        self.state: State = initial_state(self.settings, 0)
        self.values: dict[str, Profile | None] = {
            each.name: {Channel.DEPTH: 0.0, Channel.SUPPLY: 150.0, Channel.BANK: 2400.0}[each.channel]
            for each in self.settings.gauges
        }
        self.set_at: dict[str, Instant] = {}
        self.heard_s: dict[str, float] = {}
        self.give(Tick(self.start))
        for each in self.settings.gauges:
            self.give(PortFault(self.start, each.port, PortFaultKind.OPENED))

    @property
    def now(self) -> Instant:
        """The state's instant."""
        return self.state.now

    def give(self, *inputs: Input) -> tuple[Fact, ...]:
        """Fold these inputs; the facts that they brought."""
        found: list[Fact] = []
        for arrived in inputs:
            self.inputs.append(arrived)
            self.state, facts = fold(self.state, arrived, self.state.seq + 1, BOOKS)
            found.extend(facts)
        self.facts.extend(found)
        return tuple(found)

    def set(self, channel: Channel, subject: str, value: Profile | None) -> None:
        """From now on this gauge shows a value, or is silent (None)."""
        self.values[f"{channel.value} {subject}"] = value
        self.set_at[f"{channel.value} {subject}"] = self.now

    def depth(self, value: Profile | None, subject: str = ONE) -> None:
        """From now on the diver's depth gauge shows this."""
        self.set(Channel.DEPTH, subject, value)

    def supply(self, value: Profile | None, subject: str = ONE) -> None:
        """From now on the diver's supply gauge shows this."""
        self.set(Channel.SUPPLY, subject, value)

    def run(self, seconds: float, step_s: float | None = None) -> tuple[Fact, ...]:
        """Readings at their periods and ticks every `step_s` for so long; the facts found."""
        begin, found = self.now, []
        step_s = self.step_s if step_s is None else step_s
        for step in range(1, round(seconds / step_s) + 1):
            at = after(begin, step * step_s)
            for each in self.settings.gauges:
                value = self.values[each.name]
                since = seconds_between(self.set_at.get(each.name, self.start), at)
                if value is not None and self._due(each, at):
                    shown = value(since) if callable(value) else value
                    found += self.give(Heard(at, each.port, (Reading(each.name, at, shown, shown),), (), b""))
            found += self.give(Tick(at))
        return tuple(found)

    def _due(self, each: Gauge, at: Instant) -> bool:
        """Once a period; half a step of grace for instants that are rounded."""
        at_s = (at - self.start) / 1e9
        if at_s - self.heard_s.get(each.name, -1e9) < each.every_s - 0.05:
            return False
        self.heard_s[each.name] = at_s
        return True

    def act(self, act: Act, *, by: str = "tender", seen: int | None = None) -> tuple[Fact, ...]:
        """Somebody presses something now, having seen the newest state unless told otherwise."""
        return self.give(OperatorEvent(self.now, by, self.state.seq if seen is None else seen, act))

    def mark(
        self,
        kind: MarkKind,
        diver: str = ONE,
        *,
        stop: float | None = None,
        back: int = 0,
        seen: int | None = None,
    ) -> tuple[Fact, ...]:
        """Press a mark of the present dive."""
        return self.act(SetMark(diver, self.diver(diver).dive, kind, stop, back), seen=seen)

    def undo(self, number: int, diver: str = ONE, *, seen: int | None = None) -> tuple[Fact, ...]:
        """Take a mark back."""
        return self.act(UndoMark(diver, number, "wrong button"), seen=seen)

    def fact(self, kind: StationFactKind, value: float | None = None, detail: str = "") -> tuple[Fact, ...]:
        """The station finds something out about itself, now."""
        return self.give(StationFact(self.now, kind, value, detail))

    def fault(self, fault: LinkFault) -> tuple[Fact, ...]:
        """A line carries something wrong, now."""
        return self.give(Heard(self.now, fault.port, (), (fault,), b""))

    def diver(self, name: str = ONE) -> DiverState:
        """The state of a diver."""
        return diver_named(self.state, name)

    def gauge(self, channel: Channel, subject: str = ONE) -> GaugeState:
        """The state of a gauge."""
        return gauge_state(self.state, f"{channel.value} {subject}")

    def phase(self, name: str = ONE) -> Phase:
        """The phase of a diver."""
        return phase_of(self.diver(name))

    def times(self, name: str = ONE) -> Times:
        """The times of a diver."""
        return times_of(self.diver(name), self.now)

    def marks(self, name: str = ONE) -> tuple[Mark, ...]:
        """The effective marks of a diver."""
        return effective_marks(self.diver(name))

    def alarm(self, entry: str, subject: str = ONE) -> AlarmState | None:
        """One alarm, None while it is at rest."""
        return next((a for a in self.state.alarms if (a.id, a.subject) == (entry, subject)), None)

    def standing(self, entry: str, subject: str = ONE) -> Standing:
        """How an alarm stands."""
        alarm = self.alarm(entry, subject)
        return Standing.NORMAL if alarm is None else alarm.standing


@pytest.fixture(name="new_watch", scope="session")
def _new_watch() -> Callable[..., Watch]:
    """Begins watches: keywords are those of `station`, besides the start and the ticks' distance in s."""

    def begin(*, start_s: float = 0.0, step_s: float = 0.1, **options: Any) -> Watch:
        return Watch(station(**options), after(EPOCH, start_s), step_s)

    return begin


@pytest.fixture(name="watch")
def _watch(new_watch: Callable[..., Watch]) -> Watch:
    """A watch at which everything is calm and has been heard for a while, two readings a second."""
    begun = new_watch(every_s=0.5, step_s=0.5)
    begun.run(2)
    return begun


@pytest.fixture(name="on_bottom")
def _on_bottom(watch: Watch) -> Watch:
    """Diver 1 marked as having left the surface and on the bottom at 50 fsw, gauge and marks agreeing."""
    watch.mark(MarkKind.LEFT_SURFACE)
    watch.depth(lambda t: min(50.0, t))
    watch.run(53, step_s=0.5)
    watch.depth(50.0)
    watch.run(12)
    watch.mark(MarkKind.REACHED_BOTTOM)
    return watch
