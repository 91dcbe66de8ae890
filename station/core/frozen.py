"""A gauge that keeps sending one value: held for frozen when something says that it should have moved.

A value that stands still proves nothing by itself: a coarse gauge on a diver at work may well do so. What
does (own choices, figures in `station.core.parameters`): the gauge's own noise has stopped; a blow of the
hose did not move it; its diver travels; its bank is drawn on.
"""

from dataclasses import replace

from shared.clock import Instant, seconds_between
from shared.gauges import Channel, Gauge
from shared.units import S_PER_MIN
from station.core.air.numbers import PSI_PER_ATMOSPHERE
from station.core.parameters import Parameters
from station.core.phase import Phase
from station.core.state import DiverState, GaugeState, Sample, State, Stir
from station.core.timekeeping import Holding, phase_after
from station.core.trust import is_heard


def stirred(stir: Stir | None, sample: Sample, p: Parameters) -> Stir:
    """How a gauge's value moves, after one more of its samples."""
    if stir is None:
        return Stir(sample.at, sample.value)
    change = sample.value - stir.value
    if change == 0:
        return stir
    still_s = seconds_between(stir.since, sample.at)
    rose = change > 0
    return Stir(
        sample.at,
        sample.value,
        stir.turns + (rose is not stir.rose),
        rose,
        abs(change) if stir.finest is None else min(stir.finest, abs(change)),
        # A time for which it was held for frozen is no habit of the gauge.
        max(stir.longest_s, still_s) if still_s <= p.frozen_after_s else stir.longest_s,
    )


def with_frozen(
    state: State, gauges: tuple[GaugeState, ...], holdings: dict[str, Holding], flows_scfm: dict[str, float]
) -> tuple[GaugeState, ...]:
    """The gauges at a tick, each with whether it is held for frozen.

    `holdings` are the marks of each diver, `flows_scfm` what is drawn from each supply.
    """
    found = tuple(
        _with(heard, _is_frozen(state, gauge, heard, holdings, flows_scfm))
        for gauge, heard in zip(state.settings.gauges, gauges, strict=True)
    )
    return gauges if found == gauges else found


def _with(heard: GaugeState, frozen: bool) -> GaugeState:
    return heard if heard.frozen is frozen else replace(heard, frozen=frozen)


def _is_frozen(
    state: State,
    gauge: Gauge,
    heard: GaugeState,
    holdings: dict[str, Holding],
    flows_scfm: dict[str, float],
) -> bool:
    stir, p = heard.stir, state.settings.parameters
    if stir is None or not is_heard(heard.trust):
        return False
    still_s = seconds_between(stir.since, state.now)
    if noise_stopped(gauge.channel, stir, still_s, p):
        return True
    if gauge.channel is Channel.BANK:
        return _drawn_psi(state, gauge.subject, flows_scfm, still_s) >= p.frozen_drawn_psi
    if gauge.channel is not Channel.DEPTH:
        return False
    diver = next(each for each in state.divers if each.name == gauge.subject)
    return _unmoved_by_blow(diver, stir, state.now, p) or (
        still_s > p.frozen_after_s and _travels(holdings.get(gauge.subject, ()), stir, state.now, p)
    )


def noise_stopped(channel: Channel, stir: Stir, still_s: float, p: Parameters) -> bool:
    """Whether a fine gauge that was never still has come to rest."""
    finest = p.living_step_fsw if channel is Channel.DEPTH else p.living_step_psi
    if stir.turns < p.living_turns or stir.finest is None or stir.finest > finest:
        return False
    return still_s > max(p.frozen_after_s, p.frozen_times_longest * stir.longest_s)


def _unmoved_by_blow(diver: DiverState, stir: Stir, now: Instant, p: Parameters) -> bool:
    """Whether the hose was blown and the reading stood still from well before it to well after."""
    if diver.hose is None or diver.blown is None:
        return False
    before_s = seconds_between(stir.since, diver.blown.at)
    return min(before_s, seconds_between(diver.blown.at, now)) >= p.frozen_blow_s


def _travels(marks: Holding, stir: Stir, now: Instant, p: Parameters) -> bool:
    """Whether he is on his way by the marks, for long enough, and reads what he read when he set off."""
    if not marks or seconds_between(marks[-1][0].at, now) <= p.frozen_after_s:
        return False
    phase = phase_after(marks)
    return phase is Phase.ASCENDING or (phase is Phase.DESCENDING and stir.value <= p.in_water_fsw)


def _drawn_psi(state: State, supply: str, flows_scfm: dict[str, float], still_s: float) -> float:
    """How far a bank must have fallen by what was drawn while its gauge stood still, in psi."""
    volume = next((each.volume_cuft for each in state.settings.supplies if each.name == supply), None)
    if volume is None:
        return 0.0
    return flows_scfm.get(supply, 0.0) * still_s / S_PER_MIN * PSI_PER_ATMOSPHERE / volume
