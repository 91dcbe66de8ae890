"""Seconds to the minutes that tables count, and to the words that people read."""

from shared.units import S_PER_MIN


def minutes_up(duration_s: int) -> int:
    """Whole minutes of a duration, always up; exact minutes stay.

    Rule T2: 47:00 is 47, 47:01 is 48. Source: USN Diving Manual Rev 4 Change A, ch. 9 and p. 14-3 [P].
    """
    return -(-duration_s // S_PER_MIN)


def minutes_down(duration_s: int) -> int:
    """Whole minutes of a duration, cut. Rule N1 (surface interval) and A6 (a credit is never rounded up)."""
    return duration_s // S_PER_MIN


def clock_words(duration_s: int) -> str:
    """Minutes and seconds as the tables print them: `172:40`."""
    return f"{duration_s // S_PER_MIN}:{duration_s % S_PER_MIN:02d}"
