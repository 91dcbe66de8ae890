"""Numbers that decide something before and after the dive, each with its source.

What a jurisdiction asks (depths, intervals, the hour by the chamber) stands in the profiles instead.
"""

from typing import Final

DUE_SOON_DAYS: Final = 30
"""A test that falls due within so many days is told of. Own choice."""

LOCK_CHECK_MIN: Final = 720
"""A lock that nobody has looked at for longer does not count: once a working day of 12 h. Own choice."""

REPEAT_BACK_S: Final = 10.0
"""A line-pull signal that is not given back within this is sent again. Own choice; that it is sent again:
USN Diving Manual Rev 4, p. 8-24."""

SENDINGS: Final = 2
"""After so many sendings without answer the line is fouled or slack, or the diver is in trouble.
USN Diving Manual Rev 4, p. 8-24: sent, and sent again."""

FIRST_CHECK_MIN: Final = 0
"""The surfaced diver is looked at and asked at once. 29 CFR 1910.423(b)(1): check the diver."""

SECOND_CHECK_MIN: Final = 10
"""He is asked again after ten minutes. Common practice, no source."""

LAST_CHECK_MIN: Final = 60
"""He is asked a last time after an hour, the hour of 29 CFR 1910.423(b)(2)."""

CHECK_GRACE_MIN: Final = 5
"""A check of the surfaced diver that is later than this is missed. Own choice."""
