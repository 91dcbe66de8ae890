"""Numbers to text: rounded once, each with its unit, US and metric."""

import pytest

from station.core.alarms.catalogue import Figure
from station.core.settings import Units
from station.present.figures import (
    clock_digits,
    depth_text,
    figure_text,
    pressure_text,
    rate_text,
    span_text,
)


@pytest.mark.parametrize(
    ("depth_fsw", "us", "metric"),
    # 1 fsw = 0.445 psi (USN Diving Manual Rev 5, Table 8-1) = 3.0682 kPa; 1 msw = 10 kPa: 60 fsw = 18.4 msw.
    [(60.0, "60.0 fsw", "18.4 msw"), (0.0, "0.0 fsw", "0.0 msw"), (-0.04, "0.0 fsw", "0.0 msw")],
)
def test_depth_has_a_tenth_and_its_unit(depth_fsw, us, metric):
    """A depth is told to a tenth in the station's unit; a trace below zero is zero."""
    assert depth_text(depth_fsw, Units.US) == us
    assert depth_text(depth_fsw, Units.METRIC) == metric


@pytest.mark.parametrize(
    ("pressure_psi", "us", "metric"),
    # 1 psi = 0.0689476 bar (NIST SP 811): 147 psi = 10.1 bar.
    [(147.0, "147 psi", "10.1 bar"), (-0.4, "0 psi", "0.0 bar"), (-14.0, "-14 psi", "-1.0 bar")],
)
def test_pressure_has_whole_psi_or_tenths_of_a_bar(pressure_psi, us, metric):
    """A pressure is told in whole psi or tenths of a bar; nothing is told as minus nothing."""
    assert pressure_text(pressure_psi, Units.US) == us
    assert pressure_text(pressure_psi, Units.METRIC) == metric


def test_rate_names_its_unit():
    """A rate says of what, and that it is a minute's."""
    assert rate_text(30.0, Units.US) == "30 fsw a minute"
    assert rate_text(30.0, Units.METRIC) == "9 msw a minute"


def test_span_and_clock():
    """Spans grow their unit; a stopwatch's minutes run on past the hour."""
    assert [span_text(s) for s in (7.9, 60, 3725)] == ["7 s", "1:00 min", "1:02:05 h"]
    assert [clock_digits(s) for s in (0, 61, 3725)] == ["0:00", "1:01", "62:05"]


def test_alarm_figures_say_what_is_not_known():
    """A figure of an alarm that is not known is told in words, never as 0."""
    assert figure_text(Figure.PRESSURE, None, Units.US) == "unknown"
    assert figure_text(Figure.SECONDS, None, Units.US) == "an unknown time"
    assert figure_text(Figure.SECONDS, 0.1, Units.US) == "less than a second"
    assert figure_text(Figure.SECONDS, -3600.0, Units.US) == "1:00:00 h"
