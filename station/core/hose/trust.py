"""Trust in the hose: blown, settling, unproven, flowing or suspect, from one reading to the next. Rule D6.

Only the operator's word makes a hose blown; everything else can only take trust away, until he blows again.
A diver who rises spills air from the open end, so the hose is full at the least reading since the blow (USN
Diving Manual Rev 4 Change A, p. 8-35): what counts is how far the reading stands over that.
"""

from dataclasses import dataclass, replace
from enum import StrEnum

from shared.clock import Instant, seconds_between
from station.core.air.numbers import DUST_DECIMALS
from station.core.hose.numbers import (
    FLOW_BACK_FSW,
    FLOW_LONGEST_S,
    PROVEN_FOR_S,
    SETTLE_LEAST_S,
    SETTLE_LONGEST_S,
    UNPROVEN_RISE_FSW,
)
from station.core.hose.squeeze import bound_fsw
from station.core.hose.trace import FlowEdge


class HoseTrust(StrEnum):
    """How far the reading of a hose may be believed."""

    BLOWN = "blown"  # full of air: the reading is the depth
    SETTLING = "settling"  # just blown: the reading still falls
    UNPROVEN = "unproven"  # water may stand in it: the reading is the least he can be at
    FLOWING = "flowing"  # air runs through it: the reading is too deep
    SUSPECT = "suspect"  # the reading may be wrong either way


class Doubt(StrEnum):
    """Why a hose is not trusted."""

    NEVER_BLOWN = "never_blown"
    ROSE = "rose"
    OLD = "old"
    SLACK = "slack"
    NOT_SETTLED = "not_settled"
    FLOWS_ON = "flows_on"
    GAUGES_DIFFER = "gauges_differ"


@dataclass(frozen=True, slots=True)
class Flow:
    """Air runs through the hose, by its trace: since when, the reading before, whether it was shut off."""

    since: Instant
    before_fsw: float | None
    closed: bool = False


@dataclass(frozen=True, slots=True)
class HoseState:
    """What is known of one hose.

    `blown_at` is the operator's blow, `blown_fsw` the reading that settled after it, None until then.
    `full_at_fsw` is the least reading since; None while it settles, and 0 before the first blow, where the
    hose went into the water full. `doubt` stands until the next blow, `flow` and `differ` while they last.
    `reading_fsw` and `at` are those of the last step.
    """

    blown_at: Instant | None = None
    blown_fsw: float | None = None
    full_at_fsw: float | None = 0.0
    doubt: Doubt | None = Doubt.NEVER_BLOWN
    flow: Flow | None = None
    differ: bool = False
    reading_fsw: float | None = None
    at: Instant | None = None

    @property
    def why(self) -> Doubt | None:
        """Why it is not trusted, the gravest first; None where there is no doubt."""
        if self.differ:
            return Doubt.GAUGES_DIFFER
        return Doubt.FLOWS_ON if self._flows_on else self.doubt

    @property
    def trust(self) -> HoseTrust:
        """How far its reading may be believed now."""
        why = self.why
        if why in (Doubt.GAUGES_DIFFER, Doubt.FLOWS_ON, Doubt.NOT_SETTLED):
            return HoseTrust.SUSPECT
        if self.flow is not None:
            return HoseTrust.FLOWING
        if why is not None:
            return HoseTrust.UNPROVEN
        return HoseTrust.SETTLING if self.blown_fsw is None else HoseTrust.BLOWN

    @property
    def counts(self) -> bool:
        """Whether a reading may enter deepest depth, stop clock and rate: not while air flows or settles.

        Rule D5 [own].
        """
        return self.flow is None and not self._is_settling

    @property
    def _flows_on(self) -> bool:
        if self.flow is None or self.at is None:
            return False
        return seconds_between(self.flow.since, self.at) > FLOW_LONGEST_S

    @property
    def _is_settling(self) -> bool:
        return self.blown_at is not None and self.blown_fsw is None and self.doubt is not Doubt.NOT_SETTLED


@dataclass(frozen=True, slots=True)
class HoseSeen:
    """What one step has seen.

    `reading_fsw` is the median of the last ten seconds, None while the gauge is silent; `settled` is
    `trace.is_settled` of that window; `edge` is `trace.flow_edge` of the newest readings; `blew`: the
    operator says that the hose was blown and the valve closed; `slack`: umbilical was paid out; `differ` is
    `pair.gauges_differ`.
    """

    at: Instant
    reading_fsw: float | None
    settled: bool
    blew: bool = False
    slack: bool = False
    edge: FlowEdge | None = None
    differ: bool = False


@dataclass(frozen=True, slots=True)
class HoseDepth:
    """A depth as a hose shows it: the reading, and what it cannot hide more than.

    `bound_fsw` is the reading itself while the hose is believed, and None where no bound can be told.
    """

    reading_fsw: float
    bound_fsw: float | None
    trust: HoseTrust

    @property
    def for_tables_fsw(self) -> float:
        """The gauge depth that a table takes: the bound, the reading where there is none."""
        return self.reading_fsw if self.bound_fsw is None else self.bound_fsw


def step(hose: HoseState, seen: HoseSeen) -> HoseState:
    """The hose after one step. Rule D6 [own].

    A blow clears every doubt and starts the settling. Raises ValueError when time runs back.
    """
    if hose.at is not None and seen.at < hose.at:
        raise ValueError(f"a step of the hose at {seen.at} ns comes after one at {hose.at} ns")
    if seen.blew:
        hose = HoseState(blown_at=seen.at, full_at_fsw=None, doubt=None)
    else:
        hose = replace(hose, flow=_flow(hose, seen))
    hose = _followed(_settled(hose, seen), seen)
    doubt = _doubt(hose, seen) if hose.doubt is None else hose.doubt
    reading = hose.reading_fsw if seen.reading_fsw is None else seen.reading_fsw
    return replace(hose, doubt=doubt, differ=seen.differ, reading_fsw=reading, at=seen.at)


def _flow(hose: HoseState, seen: HoseSeen) -> Flow | None:
    """The flow after a step: begun by its edge, over when the reading has settled at or near what it was."""
    flow = hose.flow
    if flow is None:
        return Flow(seen.at, hose.reading_fsw) if seen.edge is FlowEdge.OPENED else None
    if seen.edge is not None:
        flow = replace(flow, closed=seen.edge is FlowEdge.CLOSED)
    if not seen.settled or seen.reading_fsw is None:
        return flow
    is_back = flow.before_fsw is not None and seen.reading_fsw <= flow.before_fsw + FLOW_BACK_FSW
    return None if flow.closed or is_back else flow


def _settled(hose: HoseState, seen: HoseSeen) -> HoseState:
    """The hose with the reading that it settled at after the blow, once there is one."""
    if hose.blown_at is None or hose.blown_fsw is not None or hose.flow is not None:
        return hose
    if not seen.settled or seen.reading_fsw is None:
        return hose
    if seconds_between(hose.blown_at, seen.at) < SETTLE_LEAST_S:
        return hose
    return replace(hose, blown_fsw=seen.reading_fsw, full_at_fsw=max(seen.reading_fsw, 0.0))


def _followed(hose: HoseState, seen: HoseSeen) -> HoseState:
    """The hose with its least reading followed: a diver who rises spills air, so it is full there."""
    if hose.full_at_fsw is None or seen.reading_fsw is None:
        return hose
    return replace(hose, full_at_fsw=min(hose.full_at_fsw, max(seen.reading_fsw, 0.0)))


def _doubt(hose: HoseState, seen: HoseSeen) -> Doubt | None:
    """The doubt that a step raises about a hose that had none."""
    if _rise_fsw(hose, seen) >= UNPROVEN_RISE_FSW:
        return Doubt.ROSE
    if seen.slack:
        return Doubt.SLACK
    if hose.blown_at is None:
        return None
    age_s = seconds_between(hose.blown_at, seen.at)
    if hose.blown_fsw is None and age_s > SETTLE_LONGEST_S:
        return Doubt.NOT_SETTLED
    return Doubt.OLD if age_s >= PROVEN_FOR_S else None


def _rise_fsw(hose: HoseState, seen: HoseSeen) -> float:
    """How far the reading stands over the depth at which the hose is full; 0 where that cannot be told."""
    if hose.full_at_fsw is None or hose.flow is not None or seen.reading_fsw is None:
        return 0.0
    return round(seen.reading_fsw - hose.full_at_fsw, DUST_DECIMALS)


def hose_depth(hose: HoseState, reading_fsw: float, hose_ft: float) -> HoseDepth:
    """A reading of the hose as a depth, with its bound while the hose is unproven. Rule D6 [own].

    `hose_ft` is the length of hose from gauge to diver, taken to hang straight.
    """
    trust = hose.trust
    if trust is not HoseTrust.UNPROVEN:
        return HoseDepth(reading_fsw, reading_fsw, trust)
    if hose.full_at_fsw is None:
        return HoseDepth(reading_fsw, None, trust)
    return HoseDepth(reading_fsw, bound_fsw(reading_fsw, hose.full_at_fsw, hose_ft), trust)
