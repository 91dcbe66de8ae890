"""Omitted stops without symptoms: which cards may be laid out; they never act by themselves."""

from dataclasses import dataclass

from .durations import minutes_up
from .parameters import (
    OMITTED_AT_ONCE_S,
    OMITTED_DEEP_FSW,
    OMITTED_SHALLOW_FSW,
    OMITTED_STRETCH,
    OMITTED_WATCH_S,
    SURFACE_INTERVAL_LONGEST_S,
    SURFACE_INTERVAL_S,
    TREATMENT_5_PERIODS,
)


@dataclass(frozen=True, slots=True)
class OmittedCard:
    """One choice: its id in the rule, what it asks for, whether the medical officer comes first.

    A treatment table is a suggestion under the medical officer's number, never an order.
    """

    id: str
    action: str
    medical_officer_first: bool = False


_STRETCH = f"lengthen the 30 and 20-fsw stops {OMITTED_STRETCH:g} times"
_WATCH = OmittedCard(
    "OM-01", f"No stop was missed: watch the diver {minutes_up(OMITTED_WATCH_S)} min at the surface"
)
_BACK_AT_ONCE = OmittedCard(
    "OM-02", "Back to the depth of the stop, 1 min more there, go on with the schedule"
)
_CHAMBER = OmittedCard("OM-03", "Surface decompression in the chamber")
_CHAMBER_LATE = OmittedCard("OM-04", "Surface decompression, half an oxygen period more at 50 fsw")
_WATER = OmittedCard("OM-05", f"Back to the depth of the stop, {_STRETCH}")
_TREAT_5 = OmittedCard("OM-06", "Treatment Table 5 is suggested", medical_officer_first=True)
_TREAT_6_LATE = OmittedCard("OM-06", "Treatment Table 6 is suggested", medical_officer_first=True)
_WATER_LATE = OmittedCard("OM-07", f"Back to the depth of the stop, {_STRETCH}", medical_officer_first=True)
_TREAT_6 = OmittedCard("OM-08", "Treatment Table 6 is suggested", medical_officer_first=True)
_TREAT_6A = OmittedCard("OM-10", "165 fsw, Treatment Table 6A is suggested", medical_officer_first=True)


def omitted_cards(
    deepest_missed_fsw: int | None,
    clock_s: int,
    periods_due: float,
    *,
    symptoms: bool,
    chamber: bool,
    oxygen: bool,
) -> tuple[OmittedCard, ...]:
    """Cards for stops omitted, in the order in which they stand; none with symptoms: treat.

    Rule O1. `clock_s` runs from leaving (or passing) the missed stop to depth in the chamber; `chamber` and
    `oxygen` are what is to hand. Source: USN Diving Manual Rev 6 and 7, ch. 9, study notes [S].
    """
    if symptoms:
        return ()
    if deepest_missed_fsw is None:
        return (_WATCH,)
    if deepest_missed_fsw > OMITTED_SHALLOW_FSW:
        return _deep_cards(deepest_missed_fsw, chamber=chamber, oxygen=oxygen)
    if clock_s < OMITTED_AT_ONCE_S:
        return (_BACK_AT_ONCE,)
    if not chamber:
        return (_WATER if clock_s <= SURFACE_INTERVAL_LONGEST_S else _WATER_LATE,)
    if clock_s <= SURFACE_INTERVAL_S:
        return (_CHAMBER,)
    if clock_s <= SURFACE_INTERVAL_LONGEST_S:
        return (_CHAMBER_LATE,)
    return (_TREAT_5 if periods_due <= TREATMENT_5_PERIODS else _TREAT_6_LATE,)


def _deep_cards(deepest_missed_fsw: int, *, chamber: bool, oxygen: bool) -> tuple[OmittedCard, ...]:
    if chamber:
        return (_TREAT_6A, _TREAT_6) if deepest_missed_fsw > OMITTED_DEEP_FSW else (_TREAT_6,)
    gas = "on oxygen at 30 and 20" if oxygen else "on air"
    return (
        OmittedCard(
            "OM-09", f"To the first stop, follow the schedule, {gas}, {_STRETCH}", medical_officer_first=True
        ),
    )
