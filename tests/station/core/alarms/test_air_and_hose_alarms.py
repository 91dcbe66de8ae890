"""The alarms of hose, gauges and air: raised, with their figures, and cleared. Each entry has a case here."""

from dataclasses import replace

import pytest

from shared.gauges import Calibration, Channel, Gauge, GaugeRole, NmeaXdr, XdrUnit
from station.core.air.numbers import ENDURANCE_MARGIN_SHARE
from station.core.alarms.air_entries import AIR_ENTRIES
from station.core.alarms.watched_air import due_day
from station.core.inputs import (
    EMERGENCY_GAS,
    HoseBlown,
    ManualDepth,
    ManualPressure,
    MarkKind,
    ReadBy,
    ShiftSupply,
)
from station.core.settings import EmergencyGas, SupplyRole
from station.core.state import Standing

ONE = "Diver 1"
LS, RB, LB, RS = (
    MarkKind.LEFT_SURFACE,
    MarkKind.REACHED_BOTTOM,
    MarkKind.LEFT_BOTTOM,
    MarkKind.REACHED_SURFACE,
)
RAISED = (Standing.UNACKNOWLEDGED, Standing.ACKNOWLEDGED)
BANK_CUFT = 6.48
CHECK = Gauge(
    "check", Channel.DEPTH, ONE, "line check", NmeaXdr("C", XdrUnit.BAR), -20, 250, role=GaugeRole.CHECK
)
SHOWN: set[str] = set()
"""The alarms that a case here has raised."""


@pytest.fixture(name="quay")
def _quay(new_watch):
    """A watch with one diver on a hose of 300 ft and two banks, the second a reserve."""

    def begin(*, hose_ft=300.0, more=(), **changed):
        watch = new_watch(names=(ONE,), every_s=0.5, step_s=0.5, more=more)
        settings = watch.settings
        diver = replace(settings.divers[0], hose_ft=hose_ft, emergency_gas=EmergencyGas("72", 2250.0))
        primary, secondary = settings.supplies
        supplies = (
            replace(primary, volume_cuft=BANK_CUFT),
            replace(secondary, volume_cuft=BANK_CUFT, role=SupplyRole.SECONDARY),
        )
        made = type(watch)(
            replace(settings, divers=(diver,), supplies=supplies, **changed), watch.start, watch.step_s
        )
        made.run(2)
        return made

    return begin


def on_bottom(watch, fsw=50.0):
    """Down and marked on the bottom, the hose blown and settled."""
    watch.mark(LS)
    watch.depth(lambda t: min(fsw, t))
    watch.run(fsw + 1)
    watch.depth(fsw)
    watch.run(12)
    watch.mark(RB)
    watch.act(HoseBlown(ONE))
    watch.run(12)
    return watch


def raised(watch, entry, subject=ONE):
    """Whether an alarm stands; noted, so that none is left out."""
    stands = watch.standing(entry, subject) in RAISED
    if stands:
        SHOWN.add(entry)
    return stands


def test_the_blow_is_asked_for_after_its_five_minutes(quay):
    """Blown at the bottom nothing is asked; half a minute after the five minutes it is, until blown again."""
    watch = on_bottom(quay())
    assert not raised(watch, "blow-asked")
    watch.run(315)
    assert not raised(watch, "blow-asked")
    watch.run(10)
    assert raised(watch, "blow-asked")
    watch.act(HoseBlown(ONE))
    watch.run(3)
    assert not raised(watch, "blow-asked")


def test_a_hose_never_blown_below_is_told_more_loudly(quay):
    """Two minutes on the bottom with a hose that was blown on deck only: nothing bounds the depth."""
    watch = quay()
    watch.act(HoseBlown(ONE))
    watch.run(12)
    watch.mark(LS)
    watch.depth(lambda t: min(6.0, t / 5))
    watch.run(70)
    assert raised(watch, "blow-asked")
    assert not raised(watch, "depth-unproven")
    watch.run(90)
    assert raised(watch, "depth-unproven")


def test_a_blow_that_does_not_settle_is_told(quay):
    """A reading that swings on for a minute after the blow: the valve is not shut."""
    watch = on_bottom(quay())
    watch.depth(lambda t: 50.0 + t / 20)
    watch.act(HoseBlown(ONE))
    watch.run(59)
    assert not raised(watch, "hose-flows")
    watch.run(3)
    assert raised(watch, "hose-flows")


@pytest.mark.parametrize(("apart_fsw", "told"), [(5.0, False), (5.5, True)])
def test_two_gauges_differ_by_more_than_two_per_cent(quay, apart_fsw, told):
    """2 % of 250 fsw are 5: at 5 nothing, beyond it the test is required (46 CFR 197.458)."""
    watch = quay(more=(CHECK,))
    watch.values["check"] = watch.values[f"depth {ONE}"]
    on_bottom(watch)
    watch.values["check"] = 50.0 - apart_fsw
    watch.run(45)
    assert raised(watch, "gauges-differ") is told
    assert watch.diver().gauges_differ is told


def test_the_deeper_of_two_gauges_counts(quay):
    """While they differ the tables take the deeper one."""
    watch = quay(more=(CHECK,))
    watch.values["check"] = 0.0
    on_bottom(watch)
    watch.values["check"] = 58.0
    watch.run(45)
    assert watch.diver().deepest_fsw == 58.0


def test_a_shift_to_a_reserve_ends_the_working_interval(quay):
    """To the secondary, and to his own cylinder, it is told; back on his post it is not."""
    watch = on_bottom(quay())
    for supply in ("secondary", EMERGENCY_GAS):
        watch.act(ShiftSupply(ONE, supply, "primary fails"))
        watch.run(1)
        assert raised(watch, "on-reserve")
    watch.act(ShiftSupply(ONE, "primary", "primary restored"))
    watch.run(6)
    assert not raised(watch, "on-reserve")


def falling(watch, start_psig, psi_min):
    """From now on the primary falls."""
    watch.set(Channel.BANK, "primary", lambda t: start_psig - psi_min * t / 60)


def test_minutes_are_warned_of_with_their_margin_and_alarmed_without(quay):
    """Minutes left against minutes up: the warning comes before the alarm, both with the figures."""
    watch = on_bottom(quay())
    falling(watch, 1000.0, 100.0)
    watch.run(60)
    while not raised(watch, "air-nearly-short", "primary"):
        assert not raised(watch, "air-too-short", "primary")
        watch.run(1)
    alarm = watch.alarm("air-nearly-short", "primary")
    assert alarm.measured >= alarm.limit
    assert alarm.measured <= max(alarm.limit * (1 + ENDURANCE_MARGIN_SHARE), alarm.limit + 2)
    while not raised(watch, "air-too-short", "primary"):
        watch.run(1)
    alarm = watch.alarm("air-too-short", "primary")
    assert alarm.measured < alarm.limit
    watch.mark(RS)
    watch.depth(0.0)
    watch.run(12)
    assert not raised(watch, "air-too-short", "primary")


def test_a_bank_that_no_longer_feeds_the_manifold(quay):
    """At 60 fsw the demand helmet needs 116.7 psig, the flask 200 over it: 316 is too low, 318 is not."""
    watch = on_bottom(quay())
    watch.set(Channel.BANK, "primary", 318.0)
    watch.run(12)
    assert not raised(watch, "bank-low", "primary")
    watch.set(Channel.BANK, "primary", 316.0)
    watch.run(12)
    assert raised(watch, "bank-low", "primary")


def test_a_secondary_that_cannot_bring_everybody_up(quay):
    """Nobody breathes from it, and all the same it must hold the ascent of all."""
    watch = on_bottom(quay())
    watch.set(Channel.BANK, "secondary", 320.0)
    watch.run(15)
    assert raised(watch, "air-not-enough", "secondary")
    assert not raised(watch, "air-not-enough", "primary")


def test_readings_by_hand_are_asked_for_in_rounds(quay):
    """With the gauge silent a depth is asked for at once, and again when the round of five minutes ends."""
    watch = on_bottom(quay())
    watch.depth(None)
    watch.run(70)
    assert raised(watch, "reading-due")
    watch.act(ManualDepth(ONE, 50.0))
    watch.run(300)
    assert not raised(watch, "reading-due")
    watch.run(65)
    assert raised(watch, "reading-due")


def test_bank_readings_are_asked_for_in_rounds(quay):
    """The same of a bank whose gauge is silent; the typed pressure enters the minutes."""
    watch = on_bottom(quay())
    watch.set(Channel.BANK, "primary", None)
    watch.run(70)
    assert raised(watch, "bank-reading-due", "primary")
    watch.act(ManualPressure(Channel.BANK, "primary", 2000.0))
    watch.run(2)
    assert not raised(watch, "bank-reading-due", "primary")


def test_a_gauge_whose_noise_stops_is_frozen(quay):
    """A fine gauge that was still for half a minute at most sends one value for five times as long: frozen.

    When it moves again the alarm clears.
    """
    watch = on_bottom(quay())
    watch.depth(lambda t: 50.0 + 0.02 * (round(t * 2) % 2))
    watch.run(60)
    watch.depth(50.02)
    watch.run(58)
    assert not raised(watch, "gauge-frozen", f"depth {ONE}")
    watch.run(100)
    assert raised(watch, "gauge-frozen", f"depth {ONE}")
    watch.depth(lambda t: 50.0 + 0.02 * (round(t * 2) % 2))
    watch.run(7)
    assert not raised(watch, "gauge-frozen", f"depth {ONE}")


def test_a_coarse_gauge_may_stand_still(quay):
    """Whole feet on a diver at work: ten minutes of one value prove nothing."""
    watch = on_bottom(quay())
    watch.depth(lambda t: 50.0 + (round(t) % 2))
    watch.run(60)
    watch.depth(50.0)
    watch.run(200)
    assert not raised(watch, "gauge-frozen", f"depth {ONE}")


def test_a_blow_that_does_not_move_the_gauge_shows_that_it_hangs(quay):
    """Blown by the operator's word, and the reading has not moved from before to after."""
    watch = on_bottom(quay())
    watch.run(20)
    assert raised(watch, "gauge-frozen", f"depth {ONE}")


@pytest.mark.parametrize(
    ("on", "due", "last"),
    [
        ("2031-03-02", None, "2031-09-02"),
        ("2031-08-31", None, "2032-02-29"),
        ("2030-08-31", None, "2031-02-28"),
        ("2031-03-02", "2031-06-01", "2031-06-01"),
        ("2031-03-02", "2032-06-01", "2031-09-02"),
        (None, "2031-06-01", "2031-06-01"),
    ],
)
def test_a_calibration_lasts_six_months_at_most(on, due, last):
    """The earlier of what is written and six months; at the end of a shorter month its last day."""
    from datetime import date  # noqa: PLC0415 - only here

    assert date.fromordinal(due_day(on, due, 6)).isoformat() == last


def test_an_overdue_calibration_is_told(quay):
    """The watch begins in 1970: due the day before is overdue by one, due that day is not."""
    for due, told in (("1969-12-31", True), ("1970-01-01", False)):
        gauge = replace(CHECK, calibration=Calibration(due=due))
        watch = quay(more=(gauge,))
        assert raised(watch, "calibration-overdue", "check") is told


def test_a_sounding_needs_no_correction(quay):
    """A hand gauge at 59 and a sounding of 60 both enter the table at 60."""
    for depth_fsw, read_by in ((59.0, ReadBy.HAND_GAUGE), (60.0, ReadBy.SOUNDING)):
        watch = quay(hose_ft=None)
        watch.depth(None)
        watch.run(3)
        watch.mark(LS)
        watch.act(ManualDepth(ONE, depth_fsw, read_by))
        watch.run(1)
        assert watch.diver().deepest_fsw == 59.0


def test_every_alarm_of_air_and_hose_was_raised_here():
    """An entry without a case here fails; stands last."""
    assert {entry.id for entry in AIR_ENTRIES} == SHOWN
