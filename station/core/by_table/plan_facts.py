"""Changes of a plan as facts: each with its rule, old and new side by side. Rule A8."""

from dataclasses import replace

from station.core.books import Books
from station.core.by_table.asked import Change
from station.core.by_table.coming_up import Ascent, ascent_of
from station.core.decompression.answers import NotCovered
from station.core.decompression.ascent import AscentPlan
from station.core.facts import PlanBrief, PlanChanged
from station.core.state import DiverState, State

VOID = "T1"
"""The rule of a correction: a mark was set to another time or taken back."""

_Key = tuple[str, int, str]


def plan_facts(before: State, after: State, books: Books) -> tuple[PlanChanged, ...]:
    """What happened to the divers' plans from the last tick before the one state to the other.

    A reading may have carried the state's instant past a moment that no tick has looked at yet.
    """
    before = replace(before, now=before.ticked)
    found: list[PlanChanged] = []
    for was, diver in zip(before.divers, after.divers, strict=True):
        now = _ascent(after, diver, books)
        if now is None:
            continue
        then = _ascent(before, was, books)
        found.extend(_of_diver(after, diver, then, now))
    return tuple(found)


def _ascent(state: State, diver: DiverState, books: Books) -> Ascent | None:
    found = ascent_of(state, diver, books)
    return None if isinstance(found, NotCovered) else found


def _of_diver(after: State, diver: DiverState, then: Ascent | None, now: Ascent) -> list[PlanChanged]:
    known = [] if then is None else [_key(change) for change in then.found.changes]
    holding = [_key(change) for change in now.found.changes]
    facts = [
        PlanChanged(
            after.now,
            diver.name,
            change.change.rule.id,
            change.change.sentence,
            change.change.delay_min,
            brief_of(now, change.change.old),
            brief_of(now, change.change.new),
        )
        for change in now.found.changes
        if _key(change) not in known
    ]
    if then is not None and not facts and len(holding) < len(known):
        facts.append(
            PlanChanged(
                after.now,
                diver.name,
                VOID,
                "a correction: the change before it does not hold",
                0,
                brief_of(then, then.found.plan or then.found.refused),
                brief_of(now, now.found.plan or now.found.refused),
            )
        )
    return facts


def _key(change: Change) -> _Key:
    """A running delay is the same while it counts the same minutes, and after it has come to its end."""
    return change.change.rule.id, change.change.delay_min, _what(change)


def _what(change: Change) -> str:
    new = change.change.new
    return new.sentence if isinstance(new, NotCovered) else f"{new.entry.added_min}"


def brief_of(ascent: Ascent, plan: AscentPlan | NotCovered | None) -> PlanBrief:
    """A plan in short."""
    if isinstance(plan, AscentPlan):
        found = plan.schedule
        row = f"{found.depth_fsw}/{found.time_min or 'any time'}"
        stops = tuple((stop.depth_fsw, stop.due_s) for stop in plan.due)
        return PlanBrief(row, stops, ascent.at(plan.ends_s))
    return PlanBrief("", (), None, "" if plan is None else plan.sentence)
