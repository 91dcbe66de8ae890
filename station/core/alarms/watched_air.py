"""What the alarms of hose and air watch. Rules D6, D7, D9, G5, G6, O2."""

from datetime import date
from functools import lru_cache

from shared.clock import seconds_between
from shared.gauges import Channel
from shared.units import NS_PER_S
from station.core.air.breathing import is_on_reserve
from station.core.air.endurance import is_short
from station.core.air.numbers import ENDURANCE_MARGIN_SHARE
from station.core.air.supplies import SupplyAir, counts_down
from station.core.alarms.watched import CALM, Sight, Watched
from station.core.finding import diver_named, gauge_of, gauge_state, place_of
from station.core.hose.following import is_unbounded
from station.core.hose.trust import Doubt, HoseTrust
from station.core.pairing import pair_of
from station.core.state import DiverState
from station.core.trust import is_heard
from station.core.typed import depth_is_typed

_S_PER_DAY = 86_400
_UNIX_EPOCH_DAY = date(1970, 1, 1).toordinal()
_MONTHS = 12


def _when(condition: bool, measured: float | None = None, limit: float | None = None) -> Watched:
    return Watched(1.0, measured, limit) if condition else CALM


def _diver(sight: Sight) -> DiverState:
    return diver_named(sight.state, sight.subject)


def _rests(sight: Sight, diver: DiverState) -> bool:
    """Whether he is not on his way: a rate that is not known is taken for none."""
    rate, limit = diver.rate_fsw_min, sight.state.settings.parameters.resting_rate_fsw_min
    return rate is None or abs(rate) < limit


def blow_asked(sight: Sight) -> Watched:
    """Whether his hose is unproven while he rests: it must be blown; seconds since it was."""
    diver = _diver(sight)
    hose = diver.hose
    if hose is None or hose.trust is not HoseTrust.UNPROVEN:
        return CALM
    since_s = None if hose.blown_at is None else seconds_between(hose.blown_at, sight.state.now)
    return _when(_rests(sight, diver), since_s)


def depth_unproven(sight: Sight) -> Watched:
    """Whether nothing bounds his depth while he rests: his hose was never blown below the surface."""
    diver = _diver(sight)
    return _when(is_unbounded(diver) and _rests(sight, diver))


def hose_flows(sight: Sight) -> Watched:
    """Whether air flows through his hose for too long, or its reading does not settle; seconds of it."""
    hose = _diver(sight).hose
    if hose is None or hose.why not in (Doubt.FLOWS_ON, Doubt.NOT_SETTLED):
        return CALM
    since = hose.flow.since if hose.flow is not None else hose.blown_at
    return _when(True, None if since is None else seconds_between(since, sight.state.now))


def gauges_apart(sight: Sight) -> Watched | None:
    """Fsw by which his two depth gauges are further apart than they may be; on his way it is not told."""
    state, diver = sight.state, _diver(sight)
    pair = pair_of(state, state.gauges, diver, state.now)
    if pair is None:
        return None if diver.gauges_differ else CALM
    if not pair.is_steady:
        return None
    return Watched(pair.apart_fsw - pair.limit_fsw, pair.apart_fsw, pair.limit_fsw)


def depth_reading_due(sight: Sight) -> Watched:
    """Seconds by which the round is over in which his depth must be read by hand; at once for the first."""
    state, diver = sight.state, _diver(sight)
    if not depth_is_typed(state, diver):
        return CALM
    if diver.typed is None:
        return _when(True)
    age_s, limit_s = seconds_between(diver.typed.at, state.now), state.settings.parameters.typed_round_s
    return Watched(age_s - limit_s, age_s, float(limit_s))


def on_reserve(sight: Sight) -> Watched:
    """Whether he was shifted to a reserve: his working interval ends; seconds since."""
    diver = _diver(sight)
    if diver.shift is None or not is_on_reserve(sight.state, diver):
        return CALM
    return _when(True, seconds_between(diver.shift.at, sight.state.now))


def _supply(sight: Sight) -> SupplyAir | None:
    return None if sight.air is None else sight.air.supply(sight.subject)


def air_too_short(sight: Sight) -> Watched | None:
    """Minutes by which a supply lasts for less than bringing up those who breathe from it takes."""
    return _endurance(sight, margin=False)


def air_nearly_short(sight: Sight) -> Watched | None:
    """The same with the margin of rule G6, and at least two minutes."""
    return _endurance(sight, margin=True)


def _endurance(sight: Sight, *, margin: bool) -> Watched | None:
    supply = _supply(sight)
    if supply is None or supply.needed_min is None or not supply.breathing:
        return CALM
    left_min = supply.left.left_min
    if left_min is None or not counts_down(supply):
        return None if supply.pressure.psig is None else CALM
    needed_min = float(supply.needed_min)
    if not margin:
        return Watched(needed_min - left_min, left_min, needed_min)
    least = needed_min + sight.state.settings.parameters.least_air_margin_min
    limit_min = max(least, needed_min * (1 + ENDURANCE_MARGIN_SHARE))
    excess = limit_min - left_min
    return Watched(excess if excess > 0 or not is_short(left_min, needed_min) else 1.0, left_min, needed_min)


def bank_low(sight: Sight) -> Watched | None:
    """Psi by which a supply stands below what feeds the manifold of those bound to it."""
    supply = _supply(sight)
    if supply is None or supply.least_psig is None:
        return CALM
    psig = supply.pressure.psig
    return None if psig is None else Watched(supply.least_psig - psig, psig, supply.least_psig)


def air_not_enough(sight: Sight) -> Watched | None:
    """Scf by which a supply holds less than bringing up takes, with standby and reserve."""
    supply = _supply(sight)
    if supply is None or supply.need is None:
        return CALM
    usable, needed = supply.usable_scf, float(supply.need.total_scf)
    if usable is None:
        return None if supply.pressure.psig is None else CALM
    return Watched(needed - usable, usable, needed)


def bank_reading_due(sight: Sight) -> Watched:
    """Seconds by which the round is over in which a bank without a gauge that is heard must be read."""
    state, supply = sight.state, _supply(sight)
    if supply is None or supply.needed_min is None or supply.settings.volume_cuft is None:
        return CALM
    gauge = gauge_of(state, Channel.BANK, sight.subject)
    if gauge is not None and is_heard(gauge_state(state, gauge.name).trust):
        return CALM
    limit_s = float(state.settings.parameters.typed_round_s)
    if not supply.pressure.typed or supply.pressure.age_s is None:
        return _when(True)
    return Watched(supply.pressure.age_s - limit_s, supply.pressure.age_s, limit_s)


def gauge_frozen(sight: Sight) -> Watched:
    """Whether a gauge keeps sending one value where it should have moved; seconds since it did."""
    heard = gauge_state(sight.state, sight.subject)
    since_s = None if heard.stir is None else seconds_between(heard.stir.since, sight.state.now)
    return _when(heard.frozen, since_s)


def calibration_overdue(sight: Sight) -> Watched:
    """Days by which a gauge's calibration is overdue; one without a date is for the readiness to ask."""
    state = sight.state
    calibration = state.settings.gauges[place_of(state, sight.subject)].calibration
    due = due_day(calibration.on, calibration.due, state.settings.parameters.calibration_months)
    if due is None:
        return CALM
    today = (state.utc_epoch_ns + state.now) // (_S_PER_DAY * NS_PER_S) + _UNIX_EPOCH_DAY
    return Watched(float(today - due), float(today - due), 0.0)


@lru_cache(maxsize=256)
def due_day(on: str | None, due: str | None, months: int) -> int | None:
    """The last day of a calibration as an ordinal: the earlier of what is written and six months.

    46 CFR 197.458. Six months after 31 August is 28 February; None without a date.
    """
    days = [] if due is None else [date.fromisoformat(due).toordinal()]
    if on is not None:
        proved = date.fromisoformat(on)
        years, month = divmod(proved.month - 1 + months, _MONTHS)
        days.append(_on_or_before(proved.year + years, month + 1, proved.day))
    return min(days, default=None)


def _on_or_before(year: int, month: int, day: int) -> int:
    """The ordinal of a day of a month, of its last day where it has none so late."""
    following = date(year + month // _MONTHS, month % _MONTHS + 1, 1).toordinal()
    return min(date(year, month, 1).toordinal() + day - 1, following - 1)
