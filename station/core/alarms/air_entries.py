"""The alarms of hose, gauges and air. Rules D6, D7, D9, G5, G6, O2."""

from typing import Final

from station.core.alarms import watched_air
from station.core.alarms.entry import ALWAYS, About, Entry, Figure
from station.core.phase import IN_WATER
from station.core.state import Priority

AIR_ENTRIES: Final[tuple[Entry, ...]] = (
    Entry(
        "air-too-short", About.SUPPLY, Priority.ALARM, watched_air.air_too_short, Figure.MINUTES,
        5, 10, 1, ALWAYS,
        "lasts {measured}, coming up takes {limit}",
        "Shift to the other supply. Bring everybody up.",
        "bank low; leak; free flow; left the bottom too late",
        "own choice, rule G6; 29 CFR 1910.425(c)(3): air for the dive with its decompression",
    ),
    Entry(
        "bank-low", About.SUPPLY, Priority.ALARM, watched_air.bank_low, Figure.PRESSURE,
        5, 10, 10, ALWAYS,
        "at {measured}, feeds the manifold down to {limit}",
        "Shift to the other supply. Bring everybody up.",
        "bank used up; leak; valve of a flask shut",
        "USN air manual, ch. 8: 200 psi over the manifold stay in a flask; from memory, unverified",
    ),
    Entry(
        "air-nearly-short", About.SUPPLY, Priority.WARNING, watched_air.air_nearly_short, Figure.MINUTES,
        10, 10, 1, ALWAYS,
        "lasts {measured}, coming up takes {limit}",
        "Call everybody up now, while it still covers the ascent.",
        "bank low; leak; free flow; the schedule has grown",
        "own choice, rule G6: a quarter over ascent and stops, two minutes at least",
    ),
    Entry(
        "air-not-enough", About.SUPPLY, Priority.WARNING, watched_air.air_not_enough, Figure.FREE_AIR,
        10, 10, 1, ALWAYS,
        "holds {measured}, bringing everybody up takes {limit} with standby and reserve",
        "Make another supply ready, or call everybody up.",
        "bank low; more divers than planned; the schedule has grown",
        "USN Diving Manual Rev 4, p. 8-18; 46 CFR 197.340; 29 CFR 1910.425(c)",
    ),
    Entry(
        "on-reserve", About.DIVER, Priority.WARNING, watched_air.on_reserve, Figure.SECONDS,
        0, 5, 0, IN_WATER,
        "on a reserve supply for {measured}: his working interval is over",
        "End the work of {subject}. Bring him up.",
        "primary failed; shifted by the supervisor",
        "29 CFR 1910.422(i)(4): the reserve in use ends the working interval",
    ),
    Entry(
        "depth-unproven", About.DIVER, Priority.WARNING, watched_air.depth_unproven, Figure.SECONDS,
        120, 5, 0, IN_WATER,
        "depth not proven: his hose was not blown below the surface",
        "Blow the hose of {subject} and press hose blown. The tables take the planned depth until then.",
        "hose not blown at the bottom; blow not marked",
        "USN Diving Manual Rev 4, p. 8-35: blow again after any descent; time own choice",
    ),
    Entry(
        "hose-flows", About.DIVER, Priority.WARNING, watched_air.hose_flows, Figure.SECONDS,
        0, 5, 0, IN_WATER,
        "his hose has not settled for {measured}: it may read deep",
        "Shut the blow valve of {subject}, let the gauge settle, press hose blown.",
        "valve left open; valve leaks; gauge does not come back",
        "USN Diving Manual Rev 4, p. 8-35 (blow, shut, read); time own choice",
    ),
    Entry(
        "gauges-differ", About.DIVER, Priority.WARNING, watched_air.gauges_apart, Figure.DEPTH,
        10, 10, 1, IN_WATER,
        "his two gauges are {measured} apart, {limit} may be: test required",
        "Blow both hoses of {subject}. Work by the deeper one; test the gauges after the dive.",
        "one gauge out of calibration; one hose not blown, kinked or leaking",
        "29 CFR 1910.430(g)(2) and 46 CFR 197.458: 2 % of full scale",
    ),
    Entry(
        "gauge-frozen", About.GAUGE, Priority.WARNING, watched_air.gauge_frozen, Figure.SECONDS,
        0, 5, 0, ALWAYS,
        "sends one value for {measured} where it should move",
        "Read the hand gauge beside it. Switch the gauge off and on.",
        "gauge hangs; its program repeats itself; its pressure port is shut",
        "IMO MSC.302(87): failure of a sensor is an alert; how it is found own choice",
    ),
    Entry(
        "blow-asked", About.DIVER, Priority.CAUTION, watched_air.blow_asked, Figure.SECONDS,
        30, 1, 0, IN_WATER,
        "may be deeper than shown: his hose is unproven",
        "Blow the hose of {subject}, shut the valve, press hose blown.",
        "went down since the blow; five minutes since it; slack given; never blown",
        "USN Diving Manual Rev 4, p. 8-35; limits own choice, rule D6",
    ),
    Entry(
        "reading-due", About.DIVER, Priority.CAUTION, watched_air.depth_reading_due, Figure.SECONDS,
        60, 1, 0, IN_WATER,
        "depth is to be read by hand, last read {measured} ago",
        "Read the hand gauge of {subject} and type the depth.",
        "no gauge that is heard; the round is over",
        "29 CFR 1910.430(g)(1): a depth gauge readable at the dive location; round own choice",
    ),
    Entry(
        "bank-reading-due", About.SUPPLY, Priority.CAUTION, watched_air.bank_reading_due, Figure.SECONDS,
        60, 1, 0, ALWAYS,
        "pressure is to be read by hand, last read {measured} ago",
        "Read the gauge of the bank and type the pressure.",
        "no gauge that is heard; the round is over",
        "29 CFR 1910.425(c)(3); round own choice",
    ),
    Entry(
        "calibration-overdue", About.GAUGE, Priority.CAUTION, watched_air.calibration_overdue, Figure.DAYS,
        0, 0, 0, ALWAYS,
        "calibration overdue by {measured}",
        "Prove the gauge against a master gauge before the next dive.",
        "last proved more than six months ago",
        "29 CFR 1910.430(g)(2); 46 CFR 197.458: every six months",
    ),
)  # fmt: skip
"""In the order of their priority, as the whole catalogue."""
