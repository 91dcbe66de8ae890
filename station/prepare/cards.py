"""Emergency cards: what the station knows, what is asked of whom, ticked as it is done. Never a treatment."""

from dataclasses import dataclass, replace
from enum import StrEnum

from shared.clock import Instant
from station.prepare.refusal import Refusal


class Known(StrEnum):
    """What a card shows of the station, filled in by the window; a dash where it is not known."""

    CLOCK = "clock"  # since the card was opened
    DEPTH = "depth"
    BOTTOM_TIME = "bottom_time"
    STOPS_DUE = "stops_due"
    STOPS_MISSED = "stops_missed"
    AIR_LEFT = "air_left"
    SUPPLY = "supply"
    STANDBY = "standby"  # who, how dressed
    LAST_VOICE = "last_voice"
    LAST_PULL = "last_pull"
    SURFACE_INTERVAL = "surface_interval"
    OXYGEN_TIME = "oxygen_time"
    LOCKS = "locks"
    NUMBERS = "numbers"  # to call, from the plan
    CHAMBER = "chamber"  # where, from the plan


@dataclass(frozen=True, slots=True)
class CardStep:
    """One thing that is asked of somebody; `why` may be empty where it is plain."""

    key: str
    who: str
    text: str
    why: str
    source: str


@dataclass(frozen=True, slots=True)
class Card:
    """One emergency. `alarms` are the alarms of the catalogue that offer it; `first` stands large.

    `local` says that a local procedure has taken the place of ours.
    """

    key: str
    title: str
    first: str
    alarms: tuple[str, ...]
    knows: tuple[Known, ...]
    steps: tuple[CardStep, ...]
    never: tuple[str, ...]
    source: str
    stands_above: str
    local: bool = False


@dataclass(frozen=True, slots=True)
class Tick:
    """A step that was done: by whom, when."""

    step: str
    by: str
    at: Instant


@dataclass(frozen=True, slots=True)
class OpenedCard:
    """A card in use for a diver, or for the station (`diver` empty)."""

    card: Card
    diver: str
    opened_at: Instant
    opened_by: str
    ticks: tuple[Tick, ...] = ()
    closed_at: Instant | None = None
    closed_by: str = ""
    outcome: str = ""


@dataclass(frozen=True, slots=True)
class OpenCard:
    """A card is opened; it travels whole, so that the record shows what was read."""

    card: Card
    diver: str = ""


@dataclass(frozen=True, slots=True)
class TickCard:
    """A step of an open card is done."""

    card: str
    diver: str
    step: str


@dataclass(frozen=True, slots=True)
class CloseCard:
    """The emergency is over; `outcome` says how."""

    card: str
    diver: str
    outcome: str


Opened = tuple[OpenedCard, ...]


def open_card(opened: Opened, act: OpenCard, by: str, at: Instant) -> Opened | Refusal:
    """The cards with one more open, or why not."""
    if _find(opened, act.card.key, act.diver) is not None:
        return Refusal(f"{act.card.title} is open already")
    return (*opened, OpenedCard(act.card, act.diver, at, by))


def tick_card(opened: Opened, act: TickCard, by: str, at: Instant) -> Opened | Refusal:
    """The cards after a tick, or why it is not taken. Any order: an emergency keeps none."""
    found = _find(opened, act.card, act.diver)
    if found is None:
        return Refusal(f"no card {act.card!r} is open")
    if all(step.key != act.step for step in found.card.steps):
        return Refusal(f"{found.card.title} has no step {act.step!r}")
    if any(tick.step == act.step for tick in found.ticks):
        return Refusal("it is ticked already")
    return _put(opened, found, replace(found, ticks=(*found.ticks, Tick(act.step, by, at))))


def close_card(opened: Opened, act: CloseCard, by: str, at: Instant) -> Opened | Refusal:
    """The cards with one closed, or why not; a card never closes by itself."""
    found = _find(opened, act.card, act.diver)
    if found is None:
        return Refusal(f"no card {act.card!r} is open")
    if not act.outcome.strip():
        return Refusal("how it ended must be said")
    return _put(opened, found, replace(found, closed_at=at, closed_by=by, outcome=act.outcome))


def offered(cards: tuple[Card, ...], alarms: tuple[str, ...]) -> tuple[Card, ...]:
    """The cards that these alarms offer, in the order of the alarms."""
    return tuple(dict.fromkeys(card for alarm in alarms for card in cards if alarm in card.alarms))


def _find(opened: Opened, card: str, diver: str) -> OpenedCard | None:
    return next(
        (each for each in opened if each.card.key == card and each.diver == diver and each.closed_at is None),
        None,
    )


def _put(opened: Opened, old: OpenedCard, new: OpenedCard) -> Opened:
    return tuple(new if each is old else each for each in opened)
