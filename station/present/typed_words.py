"""What people type into a window, as figures: an interval, a depth, a pressure; what cannot be one is None.

Whether a figure may be taken is the station's to say; here is only what the words mean.
"""

from shared.units import bar_from_psi, msw_from_fsw
from station.core.settings import Units
from station.present.figures import depth_unit, pressure_unit

_MIN_PER_H = 60
_S_PER_MIN = 60


def interval_s_of(text: str) -> int | None:
    """Hours and minutes, "2:45", in seconds; None where it is neither. Minutes stop at 59."""
    hours, colon, minutes = text.strip().partition(":")
    if not colon or len(minutes) != 2 or not _is_count(hours) or not _is_count(minutes):
        return None
    if int(minutes) >= _MIN_PER_H:
        return None
    return (int(hours) * _MIN_PER_H + int(minutes)) * _S_PER_MIN


def number_of(text: str) -> float | None:
    """A figure above or at zero with a point or a comma, None where it is none."""
    whole, point, part = text.strip().replace(",", ".").partition(".")
    if not _is_count(whole) or (point and not _is_count(part)):
        return None
    return float(f"{whole}.{part or '0'}")


def _is_count(text: str) -> bool:
    return text.isascii() and text.isdigit()


def depth_fsw_of(text: str, unit: str) -> float | None:
    """A depth typed in the unit that the station shows, in fsw."""
    typed = number_of(text)
    if typed is None or unit == depth_unit(Units.US):
        return typed
    return typed / msw_from_fsw(1.0)


def pressure_psig_of(text: str, unit: str) -> float | None:
    """A pressure typed in the unit that the station shows, in psig."""
    typed = number_of(text)
    if typed is None or unit == pressure_unit(Units.US):
        return typed
    return typed / bar_from_psi(1.0)
