"""Trust in the hose over the course of a dive, step by step."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shared.clock import EPOCH, Instant, after
from station.core.hose.squeeze import true_rise_fsw
from station.core.hose.trace import FlowEdge, flow_edge, is_settled
from station.core.hose.trust import Doubt, HoseSeen, HoseState, HoseTrust, hose_depth, step

HOSE_FT = 300.0


def at(second: float) -> Instant:
    """An instant of the dive."""
    return after(EPOCH, second)


def seen(second: float, reading: float | None, settled: bool = True, **happened) -> HoseSeen:
    """What a step sees, settled unless said otherwise."""
    return HoseSeen(at(second), reading, settled, **happened)


def blown_at(reading: float, second: float = 0) -> HoseState:
    """A hose blown and settled at a reading; its blow was ten seconds before `second` + 10."""
    hose = step(HoseState(), seen(second, reading, blew=True))
    return step(hose, seen(second + 10, reading))


def test_a_hose_goes_in_unproven_and_full() -> None:
    """Before the first blow the reading is the least, bounded by a hose that was full at the surface."""
    hose = step(HoseState(), seen(0, 3.0))
    assert (hose.trust, hose.why, hose.counts) == (HoseTrust.UNPROVEN, Doubt.NEVER_BLOWN, True)
    depth = hose_depth(hose, 3.0, HOSE_FT)
    assert depth.bound_fsw == pytest.approx(3 * (1 + 300 / 33))
    assert depth.for_tables_fsw == depth.bound_fsw


def test_a_steady_reading_never_makes_a_hose_blown() -> None:
    """Only the operator's word does, however still the trace stands."""
    hose = HoseState()
    for second in range(0, 120, 10):
        hose = step(hose, seen(second, 57.0))
    assert hose.trust is HoseTrust.UNPROVEN


def test_a_blow_settles_before_it_counts() -> None:
    """Nothing counts until ten seconds after the blow and a settled reading; then it is blown there."""
    hose = step(HoseState(), seen(100, 61.0, settled=False, blew=True))
    assert (hose.trust, hose.counts) == (HoseTrust.SETTLING, False)
    hose = step(hose, seen(109.9, 57.0))
    assert hose.trust is HoseTrust.SETTLING
    hose = step(hose, seen(110, 57.3, settled=False))
    assert hose.trust is HoseTrust.SETTLING
    hose = step(hose, seen(111, 57.0))
    assert (hose.trust, hose.counts, hose.blown_fsw, hose.why) == (HoseTrust.BLOWN, True, 57.0, None)
    assert hose_depth(hose, 57.2, HOSE_FT).bound_fsw == 57.2


def test_a_blow_that_does_not_settle_is_suspect() -> None:
    """A minute later the valve is not shut or the gauge is at fault; only a new blow clears it."""
    hose = step(HoseState(), seen(0, 60.0, settled=False, blew=True))
    hose = step(hose, seen(60, 62.0, settled=False))
    assert hose.trust is HoseTrust.SETTLING
    hose = step(hose, seen(60.1, 62.0, settled=False))
    assert (hose.trust, hose.why) == (HoseTrust.SUSPECT, Doubt.NOT_SETTLED)
    hose = step(hose, seen(70, 57.0))
    assert hose.trust is HoseTrust.SUSPECT
    assert step(hose, seen(80, 57.0, blew=True)).trust is HoseTrust.SETTLING


@pytest.mark.parametrize(("reading", "trust"), [(57.49, HoseTrust.BLOWN), (57.5, HoseTrust.UNPROVEN)])
def test_half_a_foot_of_rise_unproves(reading: float, trust: HoseTrust) -> None:
    """A reading 0.5 fsw over the blow may hide two feet; 0.49 is let pass."""
    assert step(blown_at(57.0), seen(20, reading)).trust is trust


def test_dust_in_the_reading_does_not_hide_half_a_foot() -> None:
    """57.6 - 57.1 is a hair under a half in floats and counts as one."""
    assert step(blown_at(57.1), seen(20, 57.6)).why is Doubt.ROSE


def test_a_rise_stays_until_the_next_blow() -> None:
    """A diver who went down and came back is not believed by that alone."""
    hose = step(blown_at(57.0), seen(20, 58.0))
    hose = step(hose, seen(40, 57.0))
    assert (hose.trust, hose.why) == (HoseTrust.UNPROVEN, Doubt.ROSE)
    hose = step(hose, seen(50, 57.0, blew=True))
    assert step(hose, seen(60, 57.0)).trust is HoseTrust.BLOWN


@pytest.mark.parametrize(("second", "trust"), [(299.9, HoseTrust.BLOWN), (300, HoseTrust.UNPROVEN)])
def test_a_blow_holds_for_five_minutes(second: float, trust: HoseTrust) -> None:
    """Air leaks and umbilicals move: five minutes after the blow it proves nothing."""
    assert step(blown_at(57.0), seen(second, 57.0)).trust is trust


def test_a_silent_gauge_does_not_stop_the_five_minutes() -> None:
    """Time runs on while nothing is heard."""
    assert step(blown_at(57.0), seen(300, None, settled=False)).why is Doubt.OLD


def test_slack_unproves() -> None:
    """Umbilical that was paid out may lie deeper than the reading shows."""
    hose = step(blown_at(57.0), seen(20, 57.0, slack=True))
    assert (hose.trust, hose.why) == (HoseTrust.UNPROVEN, Doubt.SLACK)
    assert hose_depth(hose, 57.3, HOSE_FT).bound_fsw == pytest.approx(57 + 0.3 * (1 + 300 / 90))


def test_slack_while_settling_leaves_no_bound_until_it_settles() -> None:
    """Until the reading has settled no bound can be told; the table takes the reading meanwhile."""
    hose = step(HoseState(), seen(0, 60.0, settled=False, blew=True))
    hose = step(hose, seen(2, 60.0, settled=False, slack=True))
    assert (hose.trust, hose.counts) == (HoseTrust.UNPROVEN, False)
    depth = hose_depth(hose, 60.0, HOSE_FT)
    assert (depth.bound_fsw, depth.for_tables_fsw) == (None, 60.0)
    hose = step(hose, seen(12, 57.0))
    assert (hose.trust, hose.why) == (HoseTrust.UNPROVEN, Doubt.SLACK)
    assert hose_depth(hose, 57.0, HOSE_FT).bound_fsw == 57.0


def test_a_rise_is_told_from_the_least_reading_since_the_blow() -> None:
    """Blown at 57, up to 40, down again: the hose is full of the air of 40."""
    hose = blown_at(57.0)
    hose = step(hose, seen(40, 40.0))
    assert hose.trust is HoseTrust.BLOWN
    hose = step(hose, seen(60, 42.0, settled=False))
    assert (hose.trust, hose.full_at_fsw) == (HoseTrust.UNPROVEN, 40.0)
    true_fsw = 40 + true_rise_fsw(2.0, 40, HOSE_FT)
    bound = hose_depth(hose, 42.0, HOSE_FT).bound_fsw
    assert bound is not None
    assert 42 < true_fsw <= bound


def test_air_that_flows_makes_the_reading_count_for_nothing() -> None:
    """While air flows nothing counts and the least is not moved; back where it was, it is as before."""
    hose = blown_at(57.0)
    hose = step(hose, seen(20, 58.0, settled=False, edge=FlowEdge.OPENED))
    assert (hose.trust, hose.counts) == (HoseTrust.FLOWING, False)
    hose = step(hose, seen(25, 65.0))
    assert hose.trust is HoseTrust.FLOWING
    hose = step(hose, seen(30, 57.4))
    assert (hose.trust, hose.counts, hose.full_at_fsw) == (HoseTrust.BLOWN, True, 57.0)


def test_flow_that_was_shut_off_ends_when_the_reading_settles() -> None:
    """A hose that was squeezed stands deeper after the flow: not proven, for nobody has said so."""
    hose = step(HoseState(), seen(0, 8.0))
    hose = step(hose, seen(10, 30.0, settled=False, edge=FlowEdge.OPENED))
    hose = step(hose, seen(20, 60.0, settled=False, edge=FlowEdge.CLOSED))
    assert hose.trust is HoseTrust.FLOWING
    hose = step(hose, seen(30, 57.0))
    assert (hose.trust, hose.why) == (HoseTrust.UNPROVEN, Doubt.NEVER_BLOWN)


def test_flow_that_was_shut_and_opened_again_goes_on() -> None:
    """A second opening takes back the closing."""
    hose = step(blown_at(57.0), seen(20, 60.0, settled=False, edge=FlowEdge.OPENED))
    hose = step(hose, seen(21, 60.0, settled=False, edge=FlowEdge.CLOSED))
    hose = step(hose, seen(22, 60.0, settled=False, edge=FlowEdge.OPENED))
    assert step(hose, seen(32, 60.0)).trust is HoseTrust.FLOWING


def test_flow_that_goes_on_is_suspect() -> None:
    """A valve left open reads deep: after a minute it is said."""
    hose = step(blown_at(57.0), seen(20, 60.0, settled=False, edge=FlowEdge.OPENED))
    assert step(hose, seen(80, 65.0)).trust is HoseTrust.FLOWING
    hose = step(hose, seen(80.1, 65.0))
    assert (hose.trust, hose.why, hose.counts) == (HoseTrust.SUSPECT, Doubt.FLOWS_ON, False)


def test_the_operators_word_ends_a_flow() -> None:
    """Blown and the valve closed: from here it settles."""
    hose = step(blown_at(57.0), seen(20, 60.0, settled=False, edge=FlowEdge.OPENED))
    assert step(hose, seen(30, 60.0, blew=True)).trust is HoseTrust.SETTLING


def test_air_let_in_again_while_settling_is_not_taken_for_the_depth() -> None:
    """A valve opened after the blow was marked holds the settling back until it is shut."""
    hose = step(HoseState(), seen(0, 57.0, blew=True))
    hose = step(hose, seen(5, 60.0, settled=False, edge=FlowEdge.OPENED))
    hose = step(hose, seen(15, 65.0))
    assert (hose.trust, hose.blown_fsw) == (HoseTrust.FLOWING, None)
    hose = step(hose, seen(20, 60.0, settled=False, edge=FlowEdge.CLOSED))
    hose = step(hose, seen(30, 57.0))
    assert (hose.trust, hose.blown_fsw) == (HoseTrust.BLOWN, 57.0)


def test_a_gauge_a_little_below_zero_fills_the_hose_at_the_surface() -> None:
    """A zero that is off by 0.4 does not make the surface a rise."""
    hose = blown_at(-0.6)
    assert (hose.trust, hose.full_at_fsw) == (HoseTrust.BLOWN, 0.0)
    assert step(hose, seen(20, 0.0)).trust is HoseTrust.BLOWN


def test_an_edge_of_closing_alone_is_no_flow() -> None:
    """A reading that falls fast without having risen starts nothing."""
    assert step(blown_at(57.0), seen(20, 57.0, edge=FlowEdge.CLOSED)).trust is HoseTrust.BLOWN


def test_gauges_that_differ_make_it_suspect_while_they_do() -> None:
    """A pair that is apart puts both in doubt; together again, it is as before."""
    hose = step(blown_at(57.0), seen(20, 57.0, differ=True))
    assert (hose.trust, hose.why) == (HoseTrust.SUSPECT, Doubt.GAUGES_DIFFER)
    assert hose_depth(hose, 57.0, HOSE_FT).for_tables_fsw == 57.0
    assert step(hose, seen(30, 57.0)).trust is HoseTrust.BLOWN


def test_time_that_runs_back_is_a_mistake() -> None:
    """Steps come in the order of station time."""
    with pytest.raises(ValueError, match="comes after"):
        step(blown_at(57.0), seen(5, 57.0))


def test_equal_hoses_are_equal() -> None:
    """Two hoses that saw the same are the same: a replay can say so."""
    assert blown_at(57.0) == blown_at(57.0)


STEPS = st.lists(
    st.tuples(
        st.floats(0.1, 60),
        st.none() | st.floats(-1, 190),
        st.booleans(),
        st.booleans(),
        st.sampled_from([None, None, None, FlowEdge.OPENED, FlowEdge.CLOSED]),
        st.booleans(),
    ),
    max_size=30,
)


@given(STEPS)
def test_nothing_but_a_blow_makes_a_hose_blown(steps: list[tuple]) -> None:
    """Whatever is seen, without the operator's word no hose is blown or settling."""
    hose, second = HoseState(), 0.0
    for span, reading, settled, slack, edge, differ in steps:
        second += span
        hose = step(hose, seen(second, reading, settled, slack=slack, edge=edge, differ=differ))
        assert hose.trust not in (HoseTrust.BLOWN, HoseTrust.SETTLING)


@given(STEPS, st.floats(0, 190))
def test_an_unproven_depth_lies_between_reading_and_bound(steps: list[tuple], blown_fsw: float) -> None:
    """After a blow a rise only grows the bound, and the least reading never rises by itself."""
    hose, second = blown_at(blown_fsw), 10.0
    for span, reading, settled, slack, edge, differ in steps:
        second += span
        before = hose.full_at_fsw
        hose = step(hose, seen(second, reading, settled, slack=slack, edge=edge, differ=differ))
        assert before is not None
        assert hose.full_at_fsw is not None
        assert 0 <= hose.full_at_fsw <= before
        if reading is not None:
            assert hose_depth(hose, reading, HOSE_FT).for_tables_fsw >= reading


@given(st.floats(0, 150), st.floats(0, 60), st.floats(50, 600))
def test_a_hidden_descent_is_either_small_or_seen(blown_fsw: float, down_fsw: float, hose_ft: float) -> None:
    """However a blown hose is squeezed, the truth is never deeper than the bound, and while the hose is
    still called blown it hides no more than half a foot shown can stand for.
    """
    low, high = 0.0, down_fsw
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if true_rise_fsw(middle, blown_fsw, hose_ft) < down_fsw else (low, middle)
    reading = blown_fsw + low
    hose = step(blown_at(blown_fsw), seen(30, reading))
    depth = hose_depth(hose, reading, hose_ft)
    if depth.trust is HoseTrust.UNPROVEN:
        assert depth.for_tables_fsw >= blown_fsw + down_fsw - 1e-6
    else:
        assert down_fsw <= true_rise_fsw(0.5, blown_fsw, hose_ft) + 1e-6


@pytest.mark.parametrize(
    ("window", "settled"),
    [
        ([57.0, 57.1, 56.9, 57.0], True),
        ([57.0] * 5 + [57.2] * 5, True),
        ([57.0] * 5 + [57.21] * 5, False),  # on his way down
        ([60.0, 59.0, 58.3, 57.8, 57.5, 57.3], False),  # falling after a blow
        ([56.5, 57.5] * 10, True),  # a short wave
        ([57.0] * 3, False),  # too few to tell
        ([], False),
    ],
)
def test_a_window_settles_when_its_halves_agree(window: list[float], settled: bool) -> None:
    """A wave passes, a drift does not, a handful of readings settles nothing."""
    assert is_settled(window) is settled


@pytest.mark.parametrize(
    ("rise", "span", "edge"),
    [
        (3.0, 1.0, FlowEdge.OPENED),
        (-3.0, 1.0, FlowEdge.CLOSED),
        (1.5, 0.5, FlowEdge.OPENED),
        (1.4, 0.1, None),  # a wave
        (2.0, 1.0, None),  # 120 fsw/min is not over it
        (1.25, 1.0, None),  # a descent at 75 fsw/min
        (-0.7, 1.0, None),  # an ascent at 40 fsw/min
    ],
)
def test_a_jump_that_no_diver_makes_is_the_valve(rise: float, span: float, edge: FlowEdge | None) -> None:
    """Faster than any dive and larger than a wave: the valve was opened or closed."""
    assert flow_edge(rise, span) is edge


def test_a_rise_in_no_time_has_no_rate() -> None:
    """A span of zero is a mistake of the caller."""
    with pytest.raises(ValueError, match="no rate"):
        flow_edge(3.0, 0.0)
