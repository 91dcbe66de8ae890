"""The alarms of the tables: bottom time, stops, oxygen, the surface interval. Part of the catalogue."""

from typing import Final

from station.core.alarms import by_table
from station.core.alarms.entry import About, Entry, Figure
from station.core.phase import IN_WATER, Phase
from station.core.state import Priority

_ON_BOTTOM: Final = frozenset({Phase.DESCENDING, Phase.ON_BOTTOM})
_COMING_UP: Final = frozenset({Phase.ASCENDING, Phase.AT_STOP})
_AFTER: Final = frozenset({Phase.SURFACED, Phase.CHAMBER})
_INTERVAL: Final = frozenset({Phase.ASCENDING, Phase.SURFACED})

TABLE_ENTRIES: Final[tuple[Entry, ...]] = (
    Entry(
        "interval-over-seven", About.DIVER, Priority.EMERGENCY, by_table.interval_lost, Figure.SECONDS,
        0, 0, 0, _INTERVAL,
        "surface interval {measured}, longest {limit}",
        "Call the diving medical officer. {subject} to the chamber now.",
        "undressing slow; chamber not ready; ladder or door held up",
        "USN Diving Manual Rev 4, p. 14-7 (5:00); 7:00 from study notes on Rev 6 and 7",
    ),
    Entry(
        "missed-stop", About.DIVER, Priority.EMERGENCY, by_table.missed_stop, Figure.SECONDS,
        0, 0, 0, frozenset({*IN_WATER, *_AFTER}),
        "a stop was passed {measured} ago",
        "Ask {subject} for symptoms. With any: treat. Without: take the card for omitted stops.",
        "blow-up; surfaced without orders; stop forgotten; wrong button",
        "USN Diving Manual Rev 6 and 7, ch. 9, study notes: omitted decompression",
    ),
    Entry(
        "stop-left-early", About.DIVER, Priority.ALARM, by_table.left_early, Figure.SECONDS,
        0, 0, 0, _COMING_UP,
        "left the stop {measured} too early",
        "Bring {subject} back to the stop at once, or take the mark back.",
        "clock misread; wrong button; called up; lost control of depth",
        "USN Diving Manual Rev 6 and 7, ch. 9, study notes; priority own choice",
    ),
    Entry(
        "above-stop", About.DIVER, Priority.ALARM, by_table.above_stop, Figure.DEPTH,
        10, 5, 0, _COMING_UP,
        "at {measured}, the stop is at {limit}",
        "Bring {subject} down to the stop. Time above it does not count.",
        "too light; slack taken in; swell; stop not marked as left",
        "own choice: one foot above for ten seconds",
    ),
    Entry(
        "oxygen-too-deep", About.DIVER, Priority.ALARM, by_table.deep_on_oxygen, Figure.DEPTH,
        3, 3, 0.5, _COMING_UP,
        "on oxygen at {measured}, limit {limit}",
        "Shift {subject} to air. Bring him up to 30 fsw.",
        "oxygen shifted to at the wrong stop; stage lowered; diver heavy",
        "oxygen in the water at 30 fsw and shallower: study notes on Rev 6 and 7; band own choice",
    ),
    Entry(
        "interval-over-five", About.DIVER, Priority.ALARM, by_table.interval_over, Figure.SECONDS,
        0, 0, 0, _INTERVAL,
        "surface interval {measured}, planned {limit}",
        "{subject} to 50 fsw in the chamber: half an oxygen period more.",
        "undressing slow; chamber not ready; ladder or door held up",
        "USN Diving Manual Rev 4, p. 14-7: at most 5 minutes",
    ),
    Entry(
        "beyond-table", About.DIVER, Priority.ALARM, by_table.beyond_table, Figure.SECONDS,
        15, 0, 0, IN_WATER,
        "the tables have no schedule for him",
        "Bring {subject} up. Read the diving manual in force; call the diving medical officer.",
        "too deep or too long for the table; group without a residual time",
        "own choice: nothing is extrapolated",
    ),
    Entry(
        "interval-over-four", About.DIVER, Priority.WARNING, by_table.interval_near, Figure.SECONDS,
        0, 0, 0, _INTERVAL,
        "surface interval {measured}",
        "{subject} into the chamber: a minute is left.",
        "undressing slow; chamber not ready; ladder or door held up",
        "own choice: a minute before the 5:00 of USN Diving Manual Rev 4, p. 14-7",
    ),
    Entry(
        "bottom-over-plan", About.DIVER, Priority.WARNING, by_table.over_plan, Figure.MINUTES,
        0, 0, 0, _ON_BOTTOM,
        "bottom time counts as {measured}, planned {limit}",
        "Order {subject} up, or plan the longer time.",
        "work not finished; clock not watched",
        "29 CFR 1910.422(e), 1910.423; priority own choice",
    ),
    Entry(
        "history-not-entered", About.DIVER, Priority.WARNING, by_table.history_missing, Figure.SECONDS,
        10, 0, 0, IN_WATER,
        "nobody has told what he brings along",
        "Enter the group and the surfacing time of {subject}, or that he has none.",
        "not asked before the dive; dived elsewhere",
        "USN Diving Manual Rev 4, para 9-9.1: residual nitrogen is asked for, never assumed",
    ),
    Entry(
        "late-on-the-way", About.DIVER, Priority.WARNING, by_table.late_on_the_way, Figure.SECONDS,
        0, 0, 0, _COMING_UP,
        "{measured} late on his way up",
        "Ask {subject} what holds him. The plan counts the delay.",
        "ears; fouled hose; stage held; stop not marked as reached",
        "USN Diving Manual Rev 4, p. 14-7, 14-8: a delay of 1:00 is ignored",
    ),
    Entry(
        "row-soon", About.DIVER, Priority.CAUTION, by_table.row_soon, Figure.SECONDS,
        0, 0, 0, _ON_BOTTOM,
        "{measured} to the next row of the table",
        "Order {subject} up now, or accept the next row.",
        "work not finished; clock not watched",
        "own choice: warned two minutes before",
    ),
    Entry(
        "stop-overstayed", About.DIVER, Priority.CAUTION, by_table.overstayed, Figure.SECONDS,
        0, 0, 0, _COMING_UP,
        "the stop has been over for {measured}",
        "Bring {subject} to the next stop, or mark that he has left.",
        "clock not watched; stage held; stop not marked as left",
        "USN Diving Manual Rev 4, p. 14-8: an overstay past 1:00 is a delay",
    ),
)  # fmt: skip
"""In the order of their priority, as the whole catalogue."""
