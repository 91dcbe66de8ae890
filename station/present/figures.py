"""Numbers to text with their unit: the one place where figures are rounded and units chosen."""

from shared.units import bar_from_psi, msw_from_fsw
from station.core.alarms.catalogue import Figure
from station.core.settings import Units


def depth_unit(units: Units) -> str:
    """The unit in which depths are shown."""
    return "fsw" if units is Units.US else "msw"


def pressure_unit(units: Units) -> str:
    """The unit in which pressures are shown."""
    return "psi" if units is Units.US else "bar"


def _digits(value: float, decimals: int) -> str:
    """Rounded once; what rounds to nothing is told without a sign."""
    return f"{round(value, decimals) + 0.0:.{decimals}f}"


def depth_digits(depth_fsw: float, units: Units) -> str:
    """A depth to a tenth, without its unit."""
    return _digits(depth_fsw if units is Units.US else msw_from_fsw(depth_fsw), 1)


def pressure_digits(pressure_psi: float, units: Units) -> str:
    """A pressure in whole psi or tenths of a bar, without its unit."""
    return _digits(pressure_psi, 0) if units is Units.US else _digits(bar_from_psi(pressure_psi), 1)


def shown_depth(depth_fsw: float, units: Units) -> float:
    """A depth in the shown unit, to a tenth: what a drawing needs, so that noise repaints nothing."""
    return round(depth_fsw if units is Units.US else msw_from_fsw(depth_fsw), 1)


def depth_text(depth_fsw: float, units: Units) -> str:
    """A depth with its unit."""
    return f"{depth_digits(depth_fsw, units)} {depth_unit(units)}"


def level_text(depth_fsw: float, units: Units) -> str:
    """The depth of a stop or leg with its unit: whole where the table prints it whole."""
    return f"{shown_depth(depth_fsw, units):g} {depth_unit(units)}"


def pressure_text(pressure_psi: float, units: Units) -> str:
    """A pressure with its unit."""
    return f"{pressure_digits(pressure_psi, units)} {pressure_unit(units)}"


def rate_text(rate_fsw_min: float, units: Units) -> str:
    """A rate of depth with its unit."""
    shown = rate_fsw_min if units is Units.US else msw_from_fsw(rate_fsw_min)
    return f"{_digits(shown, 0)} {depth_unit(units)} a minute"


def span_text(seconds: float) -> str:
    """A span of time: seconds to a minute, then minutes and seconds, then hours."""
    whole = int(seconds)
    if whole < 60:
        return f"{whole} s"
    if whole < 3600:
        return f"{whole // 60}:{whole % 60:02d} min"
    return f"{whole // 3600}:{whole % 3600 // 60:02d}:{whole % 60:02d} h"


def clock_digits(seconds: int) -> str:
    """A running clock in minutes and seconds; minutes run on past the hour, as on a stopwatch."""
    return f"{seconds // 60}:{seconds % 60:02d}"


def figure_text(figure: Figure, value: float | None, units: Units) -> str:
    """A figure of an alarm with its unit; words where it is not known."""
    if value is None:
        return "an unknown time" if figure is Figure.SECONDS else "unknown"
    match figure:
        case Figure.PRESSURE:
            return pressure_text(value, units)
        case Figure.DEPTH:
            return depth_text(value, units)
        case Figure.RATE:
            return rate_text(value, units)
        case Figure.MINUTES:
            return f"{value:.0f} min"
        case Figure.FREE_AIR:
            return f"{value:.0f} scf"
        case Figure.DAYS:
            return f"{value:.0f} days"
        case Figure.SECONDS:
            return span_text(abs(value)) if abs(value) >= 1 else "less than a second"
