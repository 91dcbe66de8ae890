"""Calendar days as ISO text ("2031-03-02"), which sorts as it should; tests are due by day, not by hour."""

from calendar import monthrange
from datetime import date
from typing import Final

_MONTHS_A_YEAR: Final = 12


def is_day(text: str) -> bool:
    """Whether the text is a day of the calendar, written in full."""
    try:
        return date.fromisoformat(text).isoformat() == text
    except ValueError:
        return False


def months_after(day: str, months: int) -> str:
    """The same day so many months later, or the last of that month where it has no such day."""
    start = date.fromisoformat(day)
    years, month = divmod(start.month - 1 + months, _MONTHS_A_YEAR)
    year = start.year + years
    last = monthrange(year, month + 1)[1]
    return date(year, month + 1, min(start.day, last)).isoformat()


def days_between(earlier: str, later: str) -> int:
    """Whole days from `earlier` to `later`; negative when they stand the other way round."""
    return (date.fromisoformat(later) - date.fromisoformat(earlier)).days
