"""The depth that the minimum is worked for, the margin, its trend, and the banks. Rules G1 and G2."""

import pytest

from shared.gauges import Channel
from station.core.air.supply import banks_of, required_at_fsw, supply_of
from station.core.inputs import MarkKind, PlanDive
from station.core.state import Trust

ONE, TWO, STANDBY = "Diver 1", "Diver 2", "Standby"
LS, RB, LB, RS = (
    MarkKind.LEFT_SURFACE,
    MarkKind.REACHED_BOTTOM,
    MarkKind.LEFT_BOTTOM,
    MarkKind.REACHED_SURFACE,
)


def test_on_deck_the_plan_is_what_counts(watch) -> None:
    """Before he leaves the surface the minimum is that of the planned depth: 60 x 0.445 + 90."""
    supply = supply_of(watch.state, ONE)
    assert supply.required_psig == pytest.approx(116.7)
    assert supply.margin_psi == pytest.approx(33.3)


def test_without_a_plan_the_present_depth_counts(new_watch) -> None:
    """No plan, 19 on the gauge: 20 fsw."""
    watch = new_watch(plan_fsw=None)
    watch.depth(19.0)
    watch.run(12)
    assert required_at_fsw(watch.state, ONE) == 20.0


def test_until_the_bottom_is_left_the_deepest_counts(on_bottom) -> None:
    """He was at 69 and is at 50, planned 60: the minimum is that of 70, with the next band's pressure."""
    on_bottom.depth(69.0)
    on_bottom.run(15)
    on_bottom.depth(50.0)
    on_bottom.run(15)
    assert required_at_fsw(on_bottom.state, ONE) == 70.0
    assert supply_of(on_bottom.state, ONE).required_psig == pytest.approx(70 * 0.445 + 135)


def test_after_leaving_the_present_depth_counts(on_bottom) -> None:
    """On the way up what lies behind is over."""
    on_bottom.mark(LB)
    on_bottom.depth(29.0)
    on_bottom.run(15)
    assert required_at_fsw(on_bottom.state, ONE) == 30.0


def test_a_working_descent_brings_the_deepest_back(on_bottom) -> None:
    """Down again after leaving: he may go where he was."""
    on_bottom.mark(LB)
    on_bottom.depth(29.0)
    on_bottom.run(15)
    on_bottom.depth(45.0)
    on_bottom.run(15)
    assert required_at_fsw(on_bottom.state, ONE) == 60.0


def test_at_the_surface_again_nothing_deeper_lies_ahead(on_bottom) -> None:
    """Surfaced, also when nobody marked the leaving."""
    on_bottom.depth(0.0)
    on_bottom.run(15)
    on_bottom.mark(RS)
    assert required_at_fsw(on_bottom.state, ONE) == 1.0


def test_while_the_gauge_is_silent_the_last_depth_counts(on_bottom) -> None:
    """A lost gauge on the way up leaves the minimum of the last depth known."""
    on_bottom.mark(LB)
    on_bottom.depth(29.0)
    on_bottom.run(15)
    on_bottom.depth(None)
    on_bottom.run(60)
    assert required_at_fsw(on_bottom.state, ONE) == 30.0


@pytest.mark.parametrize(("gauge_fsw", "at_fsw"), [(59.0, 60.0), (59.2, 60.0), (59.3, 61.0)])
def test_a_hundredth_does_not_cost_a_band(on_bottom, gauge_fsw, at_fsw) -> None:
    """59.2 on the gauge is 60 fsw and 90 psi over the bottom; more is 61 and 135. Rule D2."""
    on_bottom.depth(gauge_fsw)
    on_bottom.run(15)
    assert required_at_fsw(on_bottom.state, ONE) == at_fsw


def test_blowing_the_hose_does_not_cost_a_band(on_bottom) -> None:
    """Air flowing for three seconds reads 10 fsw deep at 58: no minimum of a deeper band, no emergency."""
    on_bottom.depth(58.0)
    on_bottom.run(15)
    on_bottom.depth(68.0)
    on_bottom.run(3)
    on_bottom.depth(58.0)
    on_bottom.run(15)
    assert not [f for f in on_bottom.facts if getattr(f, "id", "") == "supply-below-minimum"]


@pytest.mark.parametrize("gauge_fsw", [195.0, 401.0])
def test_deeper_than_the_source_there_is_no_figure(on_bottom, gauge_fsw) -> None:
    """A demand helmet deeper than 190 fsw, or a depth beyond the corrections: no minimum, no margin."""
    on_bottom.depth(gauge_fsw)
    on_bottom.run(15)
    supply = supply_of(on_bottom.state, ONE)
    assert (supply.required_psig, supply.margin_psi) == (None, None)
    assert supply.pressure_psig == 150.0


def test_a_supply_of_zero_is_a_number(on_bottom) -> None:
    """Nothing on the gauge is 0 psig and a margin far below, not unknown."""
    on_bottom.supply(0.0)
    on_bottom.run(5)
    supply = supply_of(on_bottom.state, ONE)
    assert (supply.pressure_psig, supply.margin_left_min) == (0.0, None)
    assert supply.margin_psi == pytest.approx(-116.7)


def test_a_silent_supply_has_no_margin(on_bottom) -> None:
    """Silence is no number: no pressure, no margin, no minutes; the last reading stays with its age."""
    on_bottom.supply(None)
    on_bottom.run(10)
    supply = supply_of(on_bottom.state, ONE)
    assert (supply.pressure_psig, supply.margin_psi, supply.margin_left_min) == (None, None, None)
    assert (supply.last_psig, supply.trust) == (150.0, Trust.LOST)


def test_minutes_until_the_margin_is_gone(on_bottom) -> None:
    """At 2 psi a minute a margin of 31.3 lasts a quarter of an hour and more."""
    on_bottom.supply(lambda t: 150 - 2 * t / 60)
    on_bottom.run(60)
    supply = supply_of(on_bottom.state, ONE)
    assert supply.falls_psi_min == pytest.approx(2.0, abs=0.05)
    assert supply.margin_left_min == pytest.approx(supply.margin_psi / 2.0, rel=0.03)


@pytest.mark.parametrize("psi_min", [0.0, 0.3, -2.0])
def test_what_does_not_fall_lasts_for_no_told_time(on_bottom, psi_min) -> None:
    """Steady, rising, or falling less than the noise: no minutes are told."""
    on_bottom.supply(lambda t: 150 - psi_min * t / 60)
    on_bottom.run(90)
    assert supply_of(on_bottom.state, ONE).margin_left_min is None


def test_breathing_makes_no_trend(on_bottom) -> None:
    """A swing of 3 psi every four seconds is no fall."""
    from math import sin  # noqa: PLC0415

    on_bottom.supply(lambda t: 150 + 3 * sin(t * 1.571 + 0.3))
    on_bottom.run(120)
    assert supply_of(on_bottom.state, ONE).falls_psi_min is None


def test_banks_stand_in_the_order_of_the_station(watch) -> None:
    """Each supply with its pressure and trust; one that is silent has no pressure."""
    watch.set(Channel.BANK, "secondary", None)
    watch.run(10)
    primary, secondary = banks_of(watch.state)
    assert (primary.name, primary.title, primary.pressure_psig, primary.trust) == (
        "primary",
        "Primary",
        2400.0,
        Trust.GOOD,
    )
    assert (secondary.pressure_psig, secondary.trust) == (None, Trust.LOST)


def test_each_diver_has_his_own_supply(on_bottom) -> None:
    """A sag of one leaves the other, and the plan of one is his alone."""
    on_bottom.supply(100.0, TWO)
    on_bottom.act(PlanDive(TWO, 30.0, 20))
    on_bottom.run(5)
    assert supply_of(on_bottom.state, TWO).margin_psi == pytest.approx(100 - 103.35)
    assert supply_of(on_bottom.state, ONE).margin_psi == pytest.approx(33.3)
