"""Cards for omitted stops and for a chamber that was late: they advise, they never act. Rules O1, X4."""

from dataclasses import dataclass

from shared.units import NS_PER_S
from station.core.by_table.asked import Place
from station.core.by_table.coming_up import Ascent
from station.core.decompression.omitted import OmittedCard, omitted_cards
from station.core.decompression.parameters import SURFACE_INTERVAL_LONGEST_S
from station.core.decompression.surface import interval_verdict
from station.core.state import State

HOLDS_FOR: str = "Only without symptoms; with any symptom: treat."


@dataclass(frozen=True, slots=True)
class Cards:
    """What may be done, `clock_s` after the stop was left, and whom to call. Nothing is done by itself."""

    rule: str
    deepest_missed_fsw: int | None
    clock_s: int
    cards: tuple[OmittedCard, ...]
    call: str


def cards_of(state: State, ascent: Ascent) -> Cards | None:
    """The cards for an ascent at the state's instant; None where nothing was omitted and no chamber is late.

    `chamber` and `oxygen` of the settings are what is to hand.
    """
    found, settings = ascent.found, state.settings
    now_s = (state.now - ascent.left.at) // NS_PER_S
    plan = found.plan or found.first
    periods = plan.schedule.row.chamber_periods if plan is not None and plan.schedule.row else 0.0
    if found.missed is not None:
        clock_s = max(0, now_s - found.missed.clock_s)
        cards = omitted_cards(
            found.missed.depth_fsw,
            clock_s,
            periods,
            symptoms=False,
            chamber=settings.chamber,
            oxygen=settings.oxygen,
        )
        return Cards("O1", found.missed.depth_fsw, clock_s, cards, settings.medical_officer)
    late_s = found.interval_s
    if late_s is None or late_s <= SURFACE_INTERVAL_LONGEST_S or found.place is Place.UP:
        return None
    card = OmittedCard("X4", interval_verdict(late_s, periods).value, medical_officer_first=True)
    return Cards("X4", None, late_s, (card,), settings.medical_officer)
