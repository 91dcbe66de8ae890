"""The alarm catalogue as data: one entry an alarm. A further alarm is one more entry here.

Sentences are templates over `subject`, `measured` and `limit`; `station.present` fills them in. Dwell,
release and dead bands of published practice are listed in DEVELOPERS.md; those here are our own choice,
shorter than the process industry's because a diver's minute is shorter.
"""

from typing import Final

from station.core.alarms import watched
from station.core.alarms.air_entries import AIR_ENTRIES
from station.core.alarms.entry import ALWAYS, About, Entry, Figure
from station.core.alarms.table_entries import TABLE_ENTRIES
from station.core.phase import IN_WATER, Phase
from station.core.state import Priority

__all__ = ["BY_ID", "ENTRIES", "About", "Entry", "Figure"]

ENTRIES: Final[tuple[Entry, ...]] = (
    Entry(
        "supply-below-minimum", About.DIVER, Priority.EMERGENCY, watched.supply_short, Figure.PRESSURE,
        2, 5, 3, IN_WATER,
        "air {measured}, minimum {limit}",
        "Shift {subject} to the other supply. Stop his work.",
        "bank low; regulator drooping or frozen; valve not full open; hose kinked or leaking",
        "TM 5-4220-225-14, para 2-15; USN Diving Manual Rev 5, Table 8-1; limits by equipment class",
    ),
    Entry(
        "ascent-dangerous", About.DIVER, Priority.EMERGENCY, watched.ascent_dangerous, Figure.RATE,
        3, 5, 5, IN_WATER,
        "ascends at {measured}, limit {limit}",
        "Stop {subject}. Check for blow-up; standby ready.",
        "blow-up; slack taken in too fast; gauge or hose fault",
        "own choice; USN Diving Manual Rev 4, p. 14-7: 20 to 40 fsw/min is a minor variation",
    ),
    Entry(
        "deeper-than-planned", About.DIVER, Priority.ALARM, watched.too_deep, Figure.DEPTH,
        2, 3, 1, IN_WATER,
        "at {measured}, planned {limit}",
        "Bring {subject} up to the planned depth, or plan for the deeper table depth.",
        "scour or hole at the work; plan made for another depth; correction forgotten",
        "USN Diving Manual Rev 4, para 9-9.1; priority own choice",
    ),
    Entry(
        "deep-after-surfacing", About.DIVER, Priority.ALARM, watched.in_water_still, Figure.DEPTH,
        5, 3, 1, frozenset({Phase.SURFACED}),
        "at {measured}, marked at the surface",
        "Take back reached surface if {subject} is still down. Else begin his next dive.",
        "wrong button; went down again; gauge or its hose lowered",
        "own choice: a diver marked as surfaced is not watched",
    ),
    Entry(
        "log-not-durable", About.STATION, Priority.ALARM, watched.log_not_durable, Figure.SECONDS,
        0, 5, 0, ALWAYS,
        "the log is not being written",
        "Keep a written log from now on. Free the disk or change the log's folder.",
        "disk full, slow, read-only or gone",
        "29 CFR 1910.423(d): a record of the dive; priority own choice",
    ),
    Entry(
        "windows-lost", About.STATION, Priority.ALARM, watched.windows_lost, Figure.SECONDS,
        0, 0, 0, ALWAYS,
        "the windows stopped and are being started again",
        "Read the gauges on the panel until the windows are back.",
        "the windows' program failed, or was closed by the system",
        "own choice",
    ),
    Entry(
        "no-sound", About.STATION, Priority.ALARM, watched.no_sound, Figure.SECONDS,
        0, 0, 0, ALWAYS,
        "no alarm can be heard: there is no sound output",
        "Keep somebody at the screen. Plug the horn or the loudspeaker in, then test the sound.",
        "no sound device; device unplugged or taken by another program; horn's line gone",
        "IMO MSC.302(87): failure of the alarm system is an alert; priority own choice",
    ),
    Entry(
        "copy-not-kept", About.STATION, Priority.WARNING, watched.copy_lost, Figure.SECONDS,
        0, 5, 0, ALWAYS,
        "the copy of the log has not been kept for {measured}",
        "Put the second medium back, or make room on it. The log itself is written.",
        "medium pulled out, full, slow or write-protected; folder gone",
        "own choice: the log is whole, and stands on one medium only",
    ),
    Entry(
        "watch-broken", About.STATION, Priority.ALARM, watched.watch_was_broken, Figure.SECONDS,
        0, 0, 0, ALWAYS,
        "was off watch for a time that the clock cannot tell",
        "Set every time from the stopwatch.",
        "the computer's clock was set back while the station was off",
        "46 CFR 197.458 asks for clocks that agree; priority own choice",
    ),
    Entry(
        "depth-not-heard", About.DIVER, Priority.WARNING, watched.depth_silent, Figure.SECONDS,
        0, 1, 0, ALWAYS,
        "depth not heard for {measured}",
        "Read the hand gauge of {subject}. Check his gauge's cable and power.",
        "cable pulled; gauge off; port held by another program; noise on the line",
        "IMO MSC.302(87): failure of a sensor is an alert; 29 CFR 1910.430(g)(1)",
    ),
    Entry(
        "supply-not-heard", About.DIVER, Priority.WARNING, watched.supply_silent, Figure.SECONDS,
        0, 1, 0, ALWAYS,
        "supply pressure not heard for {measured}",
        "Read the panel gauge of {subject}. Check his gauge's cable and power.",
        "cable pulled; gauge off; port held by another program; noise on the line",
        "IMO MSC.302(87): failure of a sensor is an alert",
    ),
    Entry(
        "supply-falling", About.DIVER, Priority.WARNING, watched.supply_failing, Figure.MINUTES,
        5, 10, 1, IN_WATER,
        "air margin gone in {measured} at this fall",
        "Find the cause; make the other supply of {subject} ready.",
        "bank running low; regulator drooping; leak",
        "own choice: warned five minutes before",
    ),
    Entry(
        "ascent-fast", About.DIVER, Priority.WARNING, watched.ascent_fast, Figure.RATE,
        5, 5, 5, IN_WATER,
        "ascends at {measured}, limit {limit}",
        "Slow {subject} down; stop him and let the clock catch up.",
        "slack taken in too fast; diver light; gauge or hose fault",
        "USN Diving Manual Rev 4, p. 14-7 (rate) and p. 9-11 (stop and let the clock catch up)",
    ),
    Entry(
        "descent-fast", About.DIVER, Priority.WARNING, watched.descent_fast, Figure.RATE,
        3, 5, 5, IN_WATER,
        "descends at {measured}, limit {limit}",
        "Slow {subject} down. Check his ears and his over-bottom pressure.",
        "diver heavy or falling; slack given too fast",
        "USN Diving Manual Rev 4, p. 8-28: 75 fsw/min",
    ),
    Entry(
        "start-not-marked", About.DIVER, Priority.WARNING, watched.start_unmarked, Figure.SECONDS,
        2, 0, 0, ALWAYS,
        "left the surface {measured} ago by the trace, not marked",
        "Mark left surface for {subject}. His clock runs from the trace.",
        "press forgotten; gauge under test",
        "29 CFR 1910.422(e): a depth-time profile; own choice",
    ),
    Entry(
        "descent-after-leaving", About.DIVER, Priority.WARNING, watched.bottom_again, Figure.SECONDS,
        2, 0, 0, IN_WATER,
        "goes down again after leaving the bottom: bottom time runs on",
        "Ask what {subject} does. Mark left bottom when he leaves it for good.",
        "called back to the work; left bottom pressed too early",
        "rule of bottom time: USN Diving Manual Rev 4, ch. 9 (leaving the surface to leaving the bottom)",
    ),
    Entry(
        "surface-not-marked", About.DIVER, Priority.WARNING, watched.surface_unmarked, Figure.SECONDS,
        10, 0, 0, IN_WATER,
        "at the surface since {measured} by the trace, not marked",
        "Mark reached surface for {subject}.",
        "press forgotten",
        "USN Diving Manual Rev 4, p. 9-3: the events of a dive; own choice",
    ),
    Entry(
        "clock-stepped", About.STATION, Priority.WARNING, watched.clock_stepped, Figure.SECONDS,
        0, 0, 0, ALWAYS,
        "the computer's clock jumped by {measured}; station time did not",
        "Go on by station time. Compare it with the stopwatch.",
        "clock set by hand or by a time service",
        "46 CFR 197.458(c): clocks that differ by 15 s in 4 h are tested; own choice of 2 s",
    ),
    *TABLE_ENTRIES,
    *AIR_ENTRIES,
)  # fmt: skip
"""Every alarm of the station, the graver first within a priority."""

BY_ID: Final = {entry.id: entry for entry in ENTRIES}
