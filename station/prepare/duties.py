"""What falls due on gear by the rules in force, and what keeps an item out of the water."""

from dataclasses import dataclass
from enum import StrEnum

from station.prepare.days import days_between, months_after
from station.prepare.gear import Gear, GearKind, ItemState, Work
from station.prepare.numbers import DUE_SOON_DAYS


@dataclass(frozen=True, slots=True)
class Duty:
    """One row of a profile: this work on these kinds, every so many months, and after repair where it says.

    `every_months` None: before first use and after repair only.
    """

    work: Work
    kinds: tuple[GearKind, ...]
    every_months: int | None
    after_repair: bool
    says: str
    source: str


class DueState(StrEnum):
    """How an item stands to a duty."""

    IN_DATE = "in_date"
    SOON = "soon"
    OVERDUE = "overdue"
    NEVER = "never"
    REPAIRED = "repaired"


HINDERS = frozenset({DueState.OVERDUE, DueState.NEVER, DueState.REPAIRED})
"""An item that stands so cannot be ready."""


@dataclass(frozen=True, slots=True)
class Due:
    """An item against one duty. `on` is the last day that is still good; empty where there is none."""

    serial: str
    title: str
    duty: Duty
    state: DueState
    on: str = ""

    @property
    def sentence(self) -> str:
        """The standing in words."""
        work = self.duty.work.replace("_", " ")
        match self.state:
            case DueState.NEVER:
                return f"{self.title} {self.serial}: no {work} in the register"
            case DueState.REPAIRED:
                return f"{self.title} {self.serial}: {work} due after repair"
            case DueState.OVERDUE:
                return f"{self.title} {self.serial}: {work} was due on {self.on}"
            case _:
                return f"{self.title} {self.serial}: {work} due on {self.on}" if self.on else ""


def due_of(state: ItemState, duties: tuple[Duty, ...], day: str) -> tuple[Due, ...]:
    """How an item stands to every duty that is about its kind, on a day."""
    return tuple(_due(state, duty, day) for duty in duties if state.item.kind in duty.kinds)


def _due(state: ItemState, duty: Duty, day: str) -> Due:
    item = state.item
    # A test that is dated later than today proves nothing today.
    passed = [done.day for done in state.works if done.work is duty.work and done.passed and done.day <= day]
    if not passed:
        return Due(item.serial, item.title, duty, DueState.NEVER)
    last = max(passed)
    if duty.after_repair and last < state.repaired:
        return Due(item.serial, item.title, duty, DueState.REPAIRED)
    if duty.every_months is None:
        return Due(item.serial, item.title, duty, DueState.IN_DATE)
    on = months_after(last, duty.every_months)
    left_days = days_between(day, on)
    if left_days < 0:
        return Due(item.serial, item.title, duty, DueState.OVERDUE, on)
    return Due(
        item.serial, item.title, duty, DueState.SOON if left_days <= DUE_SOON_DAYS else DueState.IN_DATE, on
    )


def due_list(gear: Gear, duties: tuple[Duty, ...], day: str) -> tuple[Due, ...]:
    """All that is overdue or due soon, the most pressing first: the list for the day."""
    found = [
        due
        for state in gear.items
        if not state.retired
        for due in due_of(state, duties, day)
        if due.state is not DueState.IN_DATE
    ]
    return tuple(sorted(found, key=lambda due: (due.on, due.serial, due.duty.work)))


@dataclass(frozen=True, slots=True)
class Blocker:
    """One thing that keeps gear from being ready; `key` stays the same while the reason does."""

    key: str
    what: str
    source: str = ""


def item_blockers(state: ItemState, duties: tuple[Duty, ...], day: str) -> tuple[Blocker, ...]:
    """Why an item is not fit for use today; empty when it is."""
    serial = state.item.serial
    if state.retired:
        return (
            Blocker(f"gear:{serial}:retired", f"{state.item.title} {serial} is retired: {state.retired}"),
        )
    faults = tuple(
        Blocker(f"gear:{serial}:fault:{fault.entry}", f"{state.item.title} {serial}: {fault.what}")
        for fault in state.faults
    )
    dues = tuple(
        Blocker(f"gear:{serial}:{due.duty.work}", due.sentence, due.duty.source)
        for due in due_of(state, duties, day)
        if due.state in HINDERS
    )
    return faults + dues
