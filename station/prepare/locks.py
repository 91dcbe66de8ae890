"""Locks on what can kill a diver: who holds the key, when it was looked at, whether it was lifted early."""

from collections.abc import Callable
from dataclasses import dataclass, replace

from shared.clock import Instant, seconds_between
from shared.units import S_PER_MIN
from station.prepare.duties import Blocker
from station.prepare.numbers import LOCK_CHECK_MIN
from station.prepare.plan import DivePlan, Hazard
from station.prepare.refusal import Refusal


@dataclass(frozen=True, slots=True)
class Lock:
    """One lock by its tag number. `divers` are those it protects, empty for everybody in the water.

    `early_for` are the divers who were not reported clear when it was lifted.
    """

    tag: str
    hazard: Hazard
    what: str
    key_holder: str
    divers: tuple[str, ...]
    placed_at: Instant
    placed_by: str
    checked_at: Instant
    checked_by: str
    lifted_at: Instant | None = None
    lifted_by: str = ""
    early_for: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class PlaceLock:
    """A lock is set and its key given to a named person."""

    tag: str
    hazard: Hazard
    what: str
    key_holder: str
    divers: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class CheckLock:
    """Somebody went and looked: the lock is on, the tag is there."""

    tag: str


@dataclass(frozen=True, slots=True)
class HandKey:
    """The key goes to another person."""

    tag: str
    to: str


@dataclass(frozen=True, slots=True)
class ReportClear:
    """The supervisor reports a diver clear of what is locked: at the surface and out, or at a safe place."""

    diver: str


@dataclass(frozen=True, slots=True)
class LiftLock:
    """The lock is taken off. It is a fact from the deck, so it is taken even when it is too early."""

    tag: str


LockAct = PlaceLock | CheckLock | HandKey | ReportClear | LiftLock


@dataclass(frozen=True, slots=True)
class Locks:
    """All locks of the day, and the divers in the water who are reported clear."""

    placed: tuple[Lock, ...] = ()
    clear: tuple[str, ...] = ()

    def find(self, tag: str) -> Lock | None:
        """The lock of this tag that is still on, else the last that bore it."""
        bearing = [lock for lock in self.placed if lock.tag == tag]
        on = [lock for lock in bearing if lock.lifted_at is None]
        return next(reversed(on or bearing), None)


def place_lock(locks: Locks, act: PlaceLock, by: str, at: Instant) -> Locks | Refusal:
    """The locks with one more, or why not."""
    blank = [name for name in ("tag", "what", "key_holder") if not getattr(act, name).strip()]
    if blank:
        return Refusal(f"a lock needs its {', its '.join(blank).replace('_', ' ')}")
    found = locks.find(act.tag)
    if found is not None and found.lifted_at is None:
        return Refusal(f"tag {act.tag} is on {found.what} already")
    lock = Lock(act.tag, act.hazard, act.what, act.key_holder, act.divers, at, by, at, by)
    return replace(locks, placed=(*locks.placed, lock))


def check_lock(locks: Locks, act: CheckLock, by: str, at: Instant) -> Locks | Refusal:
    """The locks after somebody looked at one."""
    return _changed(locks, act.tag, lambda lock: replace(lock, checked_at=at, checked_by=by))


def hand_key(locks: Locks, act: HandKey) -> Locks | Refusal:
    """The locks after a key went to another person."""
    if not act.to.strip():
        return Refusal("a key is held by a named person")
    return _changed(locks, act.tag, lambda lock: replace(lock, key_holder=act.to))


def lift_lock(
    locks: Locks, act: LiftLock, by: str, at: Instant, *, in_water: tuple[str, ...]
) -> Locks | Refusal:
    """The locks after one was lifted; too early when a diver it protects is in the water and not clear."""
    return _changed(
        locks,
        act.tag,
        lambda lock: replace(lock, lifted_at=at, lifted_by=by, early_for=not_clear(locks, lock, in_water)),
    )


def not_clear(locks: Locks, lock: Lock, in_water: tuple[str, ...]) -> tuple[str, ...]:
    """The divers that a lock protects, who are in the water and not reported clear: it must stay on."""
    return tuple(
        diver for diver in in_water if diver not in locks.clear and (not lock.divers or diver in lock.divers)
    )


def report_clear(locks: Locks, act: ReportClear) -> Locks:
    """The locks with a diver reported clear."""
    return locks if act.diver in locks.clear else replace(locks, clear=(*locks.clear, act.diver))


def enters_water(locks: Locks, diver: str) -> Locks:
    """The locks when a diver leaves the surface: he is no longer clear of anything."""
    return replace(locks, clear=tuple(each for each in locks.clear if each != diver))


def lifted_early(locks: Locks, in_water: tuple[str, ...]) -> tuple[Lock, ...]:
    """The alarm's condition: locks that were lifted early and whose divers are in the water, not clear.

    A lock set again on the same thing ends it, and so does a report that the divers are clear.
    """
    on = {lock.what for lock in locks.placed if lock.lifted_at is None}
    return tuple(
        lock
        for lock in locks.placed
        if lock.early_for and lock.what not in on and not_clear(locks, lock, in_water)
    )


def lock_blockers(locks: Locks, plan: DivePlan, now: Instant) -> tuple[Blocker, ...]:
    """Why the locks of a plan don't hold: a hazard without one, or one that nobody has looked at today."""
    on = [
        lock
        for lock in locks.placed
        if lock.lifted_at is None and (not lock.divers or plan.diver in lock.divers)
    ]
    bare = tuple(
        Blocker(f"lock:{hazard}", f"no lock on {hazard}: name key holder and tag")
        for hazard in plan.hazards
        if all(lock.hazard is not hazard for lock in on)
    )
    old = tuple(
        Blocker(
            f"lock:{lock.tag}:old", f"lock {lock.tag} on {lock.what}: not looked at for {LOCK_CHECK_MIN} min"
        )
        for lock in on
        if seconds_between(lock.checked_at, now) > LOCK_CHECK_MIN * S_PER_MIN
    )
    return bare + old


def _changed(locks: Locks, tag: str, change: Callable[[Lock], Lock]) -> Locks | Refusal:
    found = locks.find(tag)
    if found is None or found.lifted_at is not None:
        return Refusal(f"no lock with tag {tag!r} is on")
    return replace(locks, placed=tuple(change(each) if each is found else each for each in locks.placed))
