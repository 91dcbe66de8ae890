"""Entering a table: the equal or next deeper depth, the equal or next longer time, never between."""

from bisect import bisect_left


def table_depth_fsw(max_fsw: float, depths: tuple[int, ...]) -> int | None:
    """Tabulated depth equal to or next deeper than `max_fsw`; None when the table ends above it.

    Rule D4. `depths` ascend. Source: USN Diving Manual Rev 4 Change A, para 9-9.1, p. 9-12 [P].
    """
    place = bisect_left(depths, max_fsw)
    return depths[place] if place < len(depths) else None
