"""What is said of a depth that is not simply good: the hose, a second gauge, a reading typed by hand."""

from shared.clock import seconds_between
from shared.gauges import Channel
from shared.units import S_PER_MIN
from station.core.depth import Depth
from station.core.finding import gauge_of, gauge_state
from station.core.hose.trust import Doubt, HoseTrust
from station.core.known_depth import DeepestBy
from station.core.pairing import pair_of
from station.core.phase import IN_WATER, Phase
from station.core.state import DiverState, State, Trust
from station.core.timekeeping import phase_of, times_of
from station.core.typed import typed_age_s
from station.present.figures import depth_digits, span_text

_SUSPICIONS = {
    Doubt.FLOWS_ON: "air still flows, reads deep",
    Doubt.NOT_SETTLED: "does not settle",
    Doubt.GAUGES_DIFFER: "the other gauge differs",
}


def is_blowing(diver: DiverState) -> bool:
    """Whether the hose is being blown or settles after it: expected, and no trouble of the gauge."""
    hose = diver.hose
    return hose is not None and hose.trust in (HoseTrust.FLOWING, HoseTrust.SETTLING)


def caption_of(diver: DiverState, trust: Trust) -> str:
    """What stands over the digits."""
    if trust is Trust.AT_LEAST:
        return "Depth at least"
    if trust is not Trust.SUSPECT:
        return "Depth"
    if is_blowing(diver) and not diver.gauges_differ:
        flows = diver.hose is not None and diver.hose.trust is HoseTrust.FLOWING
        return "Depth, air flows" if flows else "Depth, hose settles"
    return "Depth, suspect"


def doubt_of(state: State, diver: DiverState, depth: Depth, *, short: bool) -> str:
    """Why a depth is not good, and what bounds it; nothing where it is."""
    if depth.trust is Trust.AT_LEAST:
        return _bound(state, depth, short=short)
    if depth.trust is not Trust.SUSPECT:
        return ""
    pair = pair_of(state, state.gauges, diver, state.now)
    if diver.gauges_differ and pair is not None:
        return f"other says {depth_digits(pair.check_fsw, state.settings.units)}"
    if is_blowing(diver):
        return "no depth until it settles"
    gauge = gauge_of(state, Channel.DEPTH, diver.name)
    if gauge is not None and gauge_state(state, gauge.name).frozen:
        return "does not move"
    why = None if diver.hose is None else diver.hose.why
    return "" if why is None else _SUSPICIONS.get(why, "")


def _bound(state: State, depth: Depth, *, short: bool) -> str:
    table = "" if depth.table_fsw is None or short else f", table depth {depth.table_fsw}"
    if depth.bound_fsw is not None:
        return f"at most {depth_digits(depth.bound_fsw, state.settings.units)}{table}"
    if depth.unbounded and depth.max_by is DeepestBy.PLAN:
        return "blow his hose" if short else f"blow his hose{table} by plan"
    return "blow his hose"


def typed_depth(state: State, diver: DiverState) -> tuple[str, str] | None:
    """Whole units and detail of a depth that was typed and is still held; None where there is none.

    It is held for a round and as long again.
    """
    age_s, typed = typed_age_s(state, diver), diver.typed
    if typed is None or age_s is None or age_s > 2 * state.settings.parameters.typed_round_s:
        return None
    digits = depth_digits(float(round(typed.depth_fsw)), state.settings.units)
    who = f"{typed.by}, " if typed.by else ""
    return digits.removesuffix(".0"), f"{who}{span_text(age_s)} old"


def hose_words(state: State, diver: DiverState) -> str:
    """What is asked of a diver's hose: a blow while it is unproven, and one before he leaves the bottom."""
    hose, phase = diver.hose, phase_of(diver)
    if hose is None or phase not in IN_WATER:
        return ""
    if hose.trust is HoseTrust.UNPROVEN and phase is not Phase.DESCENDING:
        return "Blow his hose: he is at least as deep as shown."
    left_s, p = _left_of_plan_s(state, diver), state.settings.parameters
    if phase is not Phase.ON_BOTTOM or left_s is None or not 0 <= left_s <= p.row_warning_s:
        return ""
    fresh = hose.blown_at is not None and seconds_between(hose.blown_at, state.now) <= p.row_warning_s
    return "" if fresh else "Blow his hose before he leaves the bottom."


def _left_of_plan_s(state: State, diver: DiverState) -> float | None:
    """Seconds until he is to leave the bottom by his plan."""
    left_surface = times_of(diver, state.now).left_surface
    if left_surface is None or diver.planned_bottom_min is None:
        return None
    return diver.planned_bottom_min * S_PER_MIN - seconds_between(left_surface, state.now)
