"""What is kept while a log is played: the listener that a playback tells of every state."""

from dataclasses import dataclass, field, replace
from math import nan

import numpy as np

from shared.clock import Instant
from shared.units import NS_PER_S
from station.core.air.supply import banks_of, supply_of
from station.core.facts import AlarmChanged, Fact, Refused
from station.core.inputs import Arrival, ConfigurationChanged, OperatorEvent, StationFact, Tick
from station.core.state import DiverState, Standing, State
from station.core.timekeeping import in_water
from station.plain import Plain, act_to_plain, fact_to_plain
from station.pump import crossed
from station.record.alarm_words import words_of
from station.record.model import AlarmRun, BankTrace, Entry, Floats, PlanStep, Profile

DiveKey = tuple[str, int]
"""A diver's post and the number of his dive."""


@dataclass(slots=True)
class Samples:
    """The rows of one dive, one a station second, in the order of `Profile`."""

    rows: list[tuple[float, float, float, float, float]] = field(default_factory=list)

    def profile(self, from_s: float, to_s: float) -> Profile:
        """The rows from one second to another as arrays."""
        kept = [row for row in self.rows if from_s <= row[0] <= to_s]
        table = np.array(kept, dtype=np.float64).reshape(len(kept), 5)
        return Profile(*(_fixed(table[:, column]) for column in range(5)))


class Gathered:
    """A listener of the playback; afterwards everything that a record is made of."""

    def __init__(self, first: State) -> None:
        self.last = first
        self.ends: dict[DiveKey, tuple[State, DiverState]] = {}
        self.samples: dict[DiveKey, Samples] = {}
        self.least: dict[DiveKey, tuple[float, Instant]] = {}
        self.entries: list[Entry] = []
        self.plan_steps: list[tuple[DiveKey, PlanStep]] = []
        self.runs: list[tuple[DiveKey | None, AlarmRun]] = []
        self._open: dict[tuple[str, str], int] = {}
        self._banks: list[tuple[float, tuple[float, ...]]] = []

    def __call__(self, state: State, arrival: Arrival, facts: tuple[Fact, ...]) -> None:
        """Keep what this step brought."""
        before, self.last = self.last, state
        if isinstance(arrival, Tick):
            self._take_tick(before, state)
        else:
            self._enter(state, arrival, facts)
        if before.divers is not state.divers:
            for diver in state.divers:
                self.ends[diver.name, diver.dive] = (state, diver)
        for fact in facts:
            self._take_fact(state, arrival, fact)

    def banks(self) -> tuple[BankTrace, ...]:
        """The store of each supply over the whole log."""
        at_s = _fixed(np.array([at_s for at_s, _ in self._banks], dtype=np.float64))
        return tuple(
            BankTrace(
                supply.name,
                supply.title,
                at_s,
                _fixed(np.array([row[place] for _, row in self._banks], dtype=np.float64)),
            )
            for place, supply in enumerate(self.last.settings.supplies)
        )

    def _take_tick(self, before: State, state: State) -> None:
        for diver in state.divers:
            if in_water(diver):
                self._take_margin(state, diver)
        if not crossed(before, state, 1):
            return
        at_s = state.now / NS_PER_S
        for diver in state.divers:
            supply = supply_of(state, diver.name)
            shown = (diver.shown_fsw, supply.pressure_psig, supply.required_psig, supply.margin_psi)
            samples = self.samples.setdefault((diver.name, diver.dive), Samples())
            samples.rows.append((at_s, *map(_rounded, shown)))  # type: ignore[arg-type]  # four after one
        self._banks.append((at_s, tuple(_rounded(bank.pressure_psig) for bank in banks_of(state))))

    def _take_margin(self, state: State, diver: DiverState) -> None:
        margin_psi, key = supply_of(state, diver.name).margin_psi, (diver.name, diver.dive)
        if margin_psi is not None and (key not in self.least or margin_psi < self.least[key][0]):
            self.least[key] = (margin_psi, state.now)

    def _enter(self, state: State, arrival: Arrival, facts: tuple[Fact, ...]) -> None:
        told = _told(arrival)
        if told is None:
            return
        by, kind, details = told
        diver = str(details.pop("diver", ""))
        dive = next((each.dive for each in state.divers if each.name == diver), 0)
        refused = "; ".join(fact.reason for fact in facts if isinstance(fact, Refused))
        self.entries.append(Entry(state.seq, arrival.at, by, kind, diver, dive, details, refused))

    def _take_fact(self, state: State, arrival: Arrival, fact: Fact) -> None:
        if isinstance(fact, AlarmChanged):
            self._take_alarm(state, arrival, fact)
            return
        plain = fact_to_plain(fact)
        if isinstance(plain, dict) and plain.pop("fact") == "plan_changed":
            self._take_plan(state, plain)

    def _take_plan(self, state: State, plain: dict[str, Plain]) -> None:
        name = str(plain.pop("diver"))
        dive = next(each.dive for each in state.divers if each.name == name)
        at, rule, sentence = plain.pop("at"), str(plain.pop("rule")), str(plain.pop("sentence"))
        instant = Instant(at) if isinstance(at, int) else state.now
        self.plan_steps.append(((name, dive), PlanStep(state.seq, instant, rule, sentence, plain)))

    def _take_alarm(self, state: State, arrival: Arrival, fact: AlarmChanged) -> None:
        named = (fact.id, fact.subject)
        if fact.standing is Standing.UNACKNOWLEDGED:
            self._open[named] = len(self.runs)
            dive = next(((each.name, each.dive) for each in state.divers if each.name == fact.subject), None)
            self.runs.append((dive, _raised(state, fact)))
            return
        place = self._open.get(named)
        if place is not None:
            dive, run = self.runs[place]
            self.runs[place] = (dive, _moved(run, arrival, fact))


def _told(arrival: Arrival) -> tuple[str, str, dict[str, Plain]] | None:
    """Who did something, what it was by its stored name, its values; None for what lines bring."""
    match arrival:
        case OperatorEvent(by=by, act=act):
            details = _values(act_to_plain(act))
            return by, str(details.pop("act")), details
        case StationFact(kind=kind, value=value, detail=detail):
            return "", kind.value, {"value": value, "detail": detail}
        case ConfigurationChanged(by=by):
            return by, "configuration_changed", {}
        case _:
            return None


def _values(plain: Plain) -> dict[str, Plain]:
    return dict(plain) if isinstance(plain, dict) else {}


def _raised(state: State, fact: AlarmChanged) -> AlarmRun:
    what, action = words_of(fact, state.settings.units)
    return AlarmRun(
        state.seq, fact.id, fact.subject, fact.priority, fact.at, None, "", None, fact.measured, fact.limit,
        what, action,
    )  # fmt: skip


def _moved(run: AlarmRun, arrival: Arrival, fact: AlarmChanged) -> AlarmRun:
    """The run after a later standing: an acknowledgement is somebody's, a return comes by itself."""
    if isinstance(arrival, OperatorEvent) and fact.standing in (Standing.ACKNOWLEDGED, Standing.NORMAL):
        return replace(run, acknowledged_at=fact.at, acknowledged_by=arrival.by)
    if fact.standing in (Standing.RETURNED, Standing.NORMAL):
        return replace(run, returned_at=fact.at)
    return run


def _rounded(value: float | None) -> float:
    """As the log's trace rounds it; NaN where it is not known."""
    return nan if value is None else round(value, 2)


def _fixed(values: Floats) -> Floats:
    """The same values as an array of its own that cannot be written to."""
    fixed = np.ascontiguousarray(values)
    fixed.flags.writeable = False
    return fixed
